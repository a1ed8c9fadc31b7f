package reports

import (
	"strings"
	"unicode/utf8"

	"github.com/clipperhouse/displaywidth"

	"gapwise/netlist/source"
)

// cells is how many cells of a terminal a text takes.
func cells(s string) int { return displaywidth.String(s) }

// wrap makes a text safe for a terminal and breaks it at blanks into lines of at most
// width cells, the first of them shorter by taken. A number stays with its unit and a
// place with its measure where they fit on a line; what is longer than a line is cut.
func wrap(text string, taken, width int) []string {
	width = max(width, leastColumn)
	var lines []string
	line, room := "", width-taken
	for _, piece := range pieces(source.Safe(text)) {
		switch {
		case line != "" && cells(line)+1+cells(piece) <= room:
			line += " " + piece
			continue
		case line != "" || (taken > 0 && len(lines) == 0 && cells(piece) > room):
			lines, line, room = append(lines, line), "", width
		}
		for cells(piece) > room {
			head := cut(piece, room)
			lines, room = append(lines, strings.TrimRight(head, " ")), width
			piece = strings.TrimLeft(piece[len(head):], " ")
		}
		line = piece
	}
	return append(lines, line)
}

// cut is as much of the start of a text as fits into width cells, and at least one
// character of it; up to a blank where there is one.
func cut(text string, width int) string {
	g := displaywidth.StringGraphemes(text)
	taken, end, blank := 0, 0, 0
	for g.Next() {
		if taken += g.Width(); taken > width && end > 0 {
			break
		}
		end += len(g.Value())
		if g.Value() == " " {
			blank = end
		}
	}
	if blank > 0 && end < len(text) {
		return text[:blank]
	}
	return text[:end]
}

// pieces are the words of a text, with words that belong together in one.
func pieces(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if n := len(out); n > 0 && belongs(out[n-1], word) {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// belongs reports whether a word is to stand on the line of what comes before it: "ft"
// behind "4", "8 in" behind "4 ft", "1/2" behind "6", "@" and what it measures, "A" behind "leg".
func belongs(before, word string) bool {
	last := before[strings.LastIndexByte(before, ' ')+1:]
	bare := strings.TrimRight(word, ").,;:")
	switch {
	case word == "@" || last == "@":
		return true
	case last == "leg":
		return bare == "A" || bare == "B"
	case isUnit(bare):
		return startsWithDigit(strings.TrimLeft(last, "(-"))
	case startsWithDigit(word):
		return last == "ft" || (startsWithDigit(last) && strings.Contains(word, "/"))
	}
	return false
}

func isUnit(s string) bool {
	switch s {
	case "ft", "in", "m", "mm", "cm", "A", "V", "W", "s", "ms", "Ω", "mΩ", "kΩ", "%", "AWG", "mm²", "µF", "°C":
		return true
	}
	return false
}

func startsWithDigit(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return r >= '0' && r <= '9'
}
