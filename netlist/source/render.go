package source

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
)

// maxMessage is how many cells of a message, a list of expected words or a name are
// printed.
const maxMessage = 400

// Render prints problems by position, each once: file:line:col and the message, the
// line with a caret under the place, and what was expected and what is nearest where
// that is known. Everything from the layout is made safe for a terminal. The error is
// the writer's.
func (fs Files) Render(w io.Writer, ps []Problem) error {
	out := bufio.NewWriter(w)
	var lines *lineReader
	file := int32(-1)
	for _, p := range inOrder(ps) {
		if p.Pos.File < 0 || int(p.Pos.File) >= len(fs) {
			fmt.Fprintf(out, "%s\n", shown(p.Message))
			writeHints(out, p)
			continue
		}
		if p.Pos.File != file {
			file = p.Pos.File
			lines = newLineReader(fs[file])
		}
		name := Safe(fs[file].Name)
		if p.Pos.IsValid() {
			fmt.Fprintf(out, "%s:%d:%d: %s\n", name, p.Pos.Line, p.Pos.Col, shown(p.Message))
			writeExcerpt(out, lines, p)
		} else {
			fmt.Fprintf(out, "%s: %s\n", name, shown(p.Message))
		}
		writeHints(out, p)
	}
	return out.Flush()
}

func writeExcerpt(out io.Writer, lines *lineReader, p Problem) {
	if !lines.seek(p.Pos.Line) {
		return
	}
	at, _ := lines.column(p.Pos.Col)
	text, before, under := excerpt(lines.text(), at, max(1, p.Width))
	number := fmt.Sprintf("%5d", p.Pos.Line)
	fmt.Fprintf(out, "%s | %s\n", number, text)
	fmt.Fprintf(out, "%s | %s%s\n", strings.Repeat(" ", len(number)),
		strings.Repeat(" ", before), strings.Repeat("^", under))
}

func writeHints(out io.Writer, p Problem) {
	if p.Expected != "" {
		fmt.Fprintf(out, "  expected: %s\n", shown(p.Expected))
	}
	if p.Nearest != "" {
		fmt.Fprintf(out, "  nearest: %s\n", shown(p.Nearest))
	}
}

func shown(s string) string { return keepStart(Safe(s), maxMessage) }

// inOrder sorts by position, keeps the order of problems at one place, and drops those
// that say the same again.
func inOrder(ps []Problem) []Problem {
	sorted := slices.Clone(ps)
	slices.SortStableFunc(sorted, func(a, b Problem) int {
		switch {
		case a.Pos.Before(b.Pos):
			return -1
		case b.Pos.Before(a.Pos):
			return 1
		}
		return 0
	})
	seen := make(map[Problem]bool, len(sorted))
	return slices.DeleteFunc(sorted, func(p Problem) bool {
		again := seen[p]
		seen[p] = true
		return again
	})
}
