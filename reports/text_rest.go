package reports

import (
	"bytes"

	"gapwise/netlist/source"
)

// problems writes the mistakes of a layout, each at its place, and how many there are.
func (t Text) problems(b *bytes.Buffer, v *View) {
	v.files.Render(b, v.problems)
	loud, rest := v.headline()
	b.WriteByte('\n')
	t.marked(b, source.Safe(v.File)+": ", loud, "", rest, verdictColours[v.Verdict])
}

// questions writes what is asked about a layout: no mistakes, but perhaps slips.
func (t Text) questions(b *bytes.Buffer, v *View) {
	if len(v.questions) == 0 {
		return
	}
	heading(b, "Is this meant?")
	v.files.Render(b, v.questions)
}

// notChecked lists what the check left open, and why.
func (t Text) notChecked(b *bytes.Buffer, v *View) {
	if len(v.NotChecked) == 0 {
		return
	}
	heading(b, "Not checked")
	for i := range v.NotChecked {
		n := &v.NotChecked[i]
		text := n.What + ": " + n.Why
		if n.Incomplete {
			text = "gave up: " + text
		}
		if n.Line > 0 {
			text += " (" + spotText(&n.Spot) + ")"
		}
		t.paragraph(b, "- ", text)
	}
}
