package reader

import (
	"strings"
	"unicode/utf8"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// text is a stretch of typed text that knows its place. shift is 1 while an opening
// quote stands between pos and the first character.
type text struct {
	s     string
	pos   source.Pos
	width int
	shift int
}

func nodeText(n *tree.Node) text {
	return newText(n.Text, n.Pos, n.Width)
}

func keyText(f *tree.Field) text {
	return newText(f.Key, f.KeyPos, f.KeyWidth)
}

func newText(s string, pos source.Pos, width int) text {
	t := text{s: s, pos: pos, width: width}
	if width == utf8.RuneCountInString(s)+2 {
		t.shift = 1
	}
	return t
}

// cut is t.s[from:to] with its own place.
func (t text) cut(from, to int) text {
	if from == 0 && to == len(t.s) {
		return t
	}
	skip := t.shift + utf8.RuneCountInString(t.s[:from])
	return t.part(skip, utf8.RuneCountInString(t.s[from:to]), t.s[from:to])
}

// part is s, width characters that stand skip characters behind t's place. What would
// end behind t is put back into it.
func (t text) part(skip, width int, s string) text {
	skip = min(max(skip, 0), t.width-1)
	width = max(1, min(width, t.width-skip))
	p := t.pos
	p.Col += int32(skip)
	return text{s: s, pos: p, width: width}
}

// trim cuts the blanks round t.
func (t text) trim() text {
	from := len(t.s) - len(strings.TrimLeft(t.s, " "))
	to := max(from, len(strings.TrimRight(t.s, " ")))
	return t.cut(from, to)
}

// words splits t at blanks.
func (t text) words() []text {
	var ws []text
	from := -1
	for i := 0; i <= len(t.s); i++ {
		blank := i == len(t.s) || t.s[i] == ' '
		switch {
		case !blank && from < 0:
			from = i
		case blank && from >= 0:
			ws = append(ws, t.cut(from, i))
			from = -1
		}
	}
	return ws
}

// around splits t at the first sep; ok is false when there is none.
func (t text) around(sep string) (before, after text, ok bool) {
	i := strings.Index(t.s, sep)
	if i < 0 {
		return t, text{}, false
	}
	return t.cut(0, i).trim(), t.cut(i+len(sep), len(t.s)).trim(), true
}

// tidy is t's text with single blanks, for canonical names of places.
func (t text) tidy() string { return strings.Join(strings.Fields(t.s), " ") }
