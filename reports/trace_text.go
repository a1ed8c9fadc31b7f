package reports

import (
	"bytes"
	"strings"
)

// Lines writes a trace: heads at the margin with a blank line above, the rest indented,
// each wrapped under its own first word.
func (t Text) Lines(lines []Line) error {
	var b bytes.Buffer
	for i, l := range lines {
		if l.Head && i > 0 {
			b.WriteByte('\n')
		}
		indent := strings.Repeat("  ", l.Indent)
		number, rest := numbered(l.Text)
		t.paragraph(&b, indent+number, rest)
	}
	return t.flush(&b)
}

// numbered parts a leading step number ("12  ") from the text behind it, so that the text
// hangs beside it.
func numbered(text string) (number, rest string) {
	before, after, found := strings.Cut(text, "  ")
	if !found || strings.Trim(before, "0123456789") != "" {
		return "", text
	}
	return before + "  ", after
}
