package reports

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"gapwise/netlist/source"
)

// Text writes views for people: lines of at most Width cells, severity words and the
// verdict marked by colour where Colour is set. Colour never says what words do not.
type Text struct {
	Out    io.Writer
	Width  int
	Colour bool
}

// safety closes every check.
const safety = "Read SAFETY.md before you power up. This program knows what the file says; it has not seen the layout."

// Check writes one view; nothing for a file that could not be read. Where several files are
// checked, named puts the file before the verdict. The error is the writer's.
func (t Text) Check(v *View, named bool) error {
	var b bytes.Buffer
	if v.Verdict == CannotRead {
		if len(v.problems) > 0 {
			t.problems(&b, v)
		}
		return t.flush(&b)
	}
	t.headline(&b, v, named)
	t.findings(&b, v)
	t.fixPlan(&b, v.Plan)
	t.questions(&b, v)
	if err := t.tables(&b, v); err != nil {
		return err
	}
	t.notChecked(&b, v)
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}

// Recap writes the verdict of each of several files.
func (t Text) Recap(views []*View) error {
	var b bytes.Buffer
	b.WriteByte('\n')
	for _, v := range views {
		t.headline(&b, v, true)
	}
	return t.flush(&b)
}

func (t Text) flush(b *bytes.Buffer) error {
	_, err := t.Out.Write(b.Bytes())
	return err
}

func (t Text) headline(b *bytes.Buffer, v *View, named bool) {
	loud, rest := v.headline()
	before := ""
	if named {
		before = source.Safe(v.File) + ": "
	}
	t.marked(b, before, loud, "", rest, verdictColours[v.Verdict])
}

// hang is how far the further lines of a message are indented.
const hang = 4

// marked writes a paragraph that begins with before, loud in its colour, and after, none
// of them broken, so that one line can be searched for.
func (t Text) marked(b *bytes.Buffer, before, loud, after, text string, colour string) {
	loud, after = source.Safe(loud), source.Safe(after)
	taken := cells(before) + cells(loud) + cells(after) + 1
	lines := wrap(text, taken-hang, t.Width-hang)
	b.WriteString(before + t.paint(colour, loud) + after)
	if lines[0] != "" {
		b.WriteString(" " + lines[0])
	}
	b.WriteByte('\n')
	for _, line := range lines[1:] {
		b.WriteString(strings.Repeat(" ", hang) + line + "\n")
	}
}

// paragraph writes a text behind a label, its further lines under the first.
func (t Text) paragraph(b *bytes.Buffer, label, text string) {
	indent := cells(label)
	blanks := strings.Repeat(" ", indent)
	for i, line := range wrap(text, 0, t.Width-indent) {
		if i == 0 {
			b.WriteString(label + line + "\n")
			continue
		}
		b.WriteString(blanks + line + "\n")
	}
}

// heading starts a part of a report.
func heading(b *bytes.Buffer, text string) { fmt.Fprintf(b, "\n%s\n", text) }
