package reports

import (
	"bytes"
	"fmt"
	"strings"
)

// fixPlan writes what to do, in working order, and what stays.
func (t Text) fixPlan(b *bytes.Buffer, p *FixPlan) {
	if p == nil {
		return
	}
	if len(p.Steps) > 0 {
		heading(b, fmt.Sprintf("What to do, in working order (%s)", p.Work.text()))
		t.paragraph(b, "", "Power off and plugged out before the first step, and on again only after the last, when a meter agrees. For saw and iron: SAFETY.md.")
		for i := range p.Steps {
			s := &p.Steps[i]
			t.paragraph(b, fmt.Sprintf("%2d. ", s.Step), s.Text)
			t.paragraph(b, "    ", "mends "+strings.Join(s.Mends, "; "))
		}
	}
	heading(b, "After that")
	switch {
	case len(p.Left) == 0 && len(p.Steps) == 0:
		t.paragraph(b, "", "Nothing needs mending.")
	case len(p.Left) == 0:
		t.paragraph(b, "", "The copy with all steps done was read and checked again whole: no fault and no caution.")
	default:
		t.paragraph(b, "", fmt.Sprintf("The copy with all steps done was read and checked again whole. %s and %s stay:",
			counted(p.Faults, "fault", "faults"), counted(p.Cautions, "caution", "cautions")))
	}
	for i := range p.Left {
		l := &p.Left[i]
		t.paragraph(b, "- ", fmt.Sprintf("%s %s at %s: %s; %s", l.Severity, l.Rule, l.Place.Text, l.Message, l.Why))
	}
	if !p.Complete {
		t.paragraph(b, "", "Gave up: the bound on work was reached before every change was tried.")
	}
}
