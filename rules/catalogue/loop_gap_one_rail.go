package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var loopGapOneRail = rule.Rule{
	ID:       rule.LoopGapOneRail,
	Severity: finding.Fault,
	Title:    "a gap of a reversing loop is cut in one rail only",
	Doc: rule.Doc{
		What:    "One end of a reversing section has a gap in one rail, and the other rail goes on.",
		Why:     "When the reverser changes over, the whole rail joins the section to the opposite leg outside: a short that no reverser can clear.",
		Fix:     "Cut the other rail too, opposite the first cut.",
		Example: "gaps:\n  BL: [8 in, {at: 12 ft 10 in, rails: left}]",
	},
	Sources:      []string{"topology: both rails change legs in a reversing section, so both must be parted at both ends"},
	CannotAccept: true,
}

func init() { loopGapOneRail.Check = checkLoopGapOneRail }

func checkLoopGapOneRail(c *rule.Case) {
	report := func(way int32, f finding.Finding) {
		w := &c.C.Ways[way]
		whole := layout.Left
		if w.Metal[layout.Left] == circuit.Open {
			whole = layout.Right
		}
		f.Severity = finding.Fault
		f.Pos = c.WayPos(way)
		f.Place = c.WayPlace(way)
		f.Message = fmt.Sprintf("the gap of the reversing loop at %s is cut in the %s rail only; the %s rail goes on", f.Place.Text, c.RailWord(whole.Other()), c.RailWord(whole))
		f.Why = "whichever way the loop is switched, one setting joins leg A to leg B through that rail"
		f.Fix = fmt.Sprintf("cut the %s rail there too (drop `rails: %s`)", c.RailWord(whole), [2]string{"left", "right"}[whole.Other()])
		f.Mends = append(wholeGapMends(c, way), f.Mends...)
		c.Report(f)
	}
	for i := range c.T.Ties {
		if t := &c.T.Ties[i]; c.TieRule(t) == c.Rule.ID {
			report(t.Cut, finding.Finding{Witness: c.TieWitness(t)})
		}
	}
	for _, w := range c.T.Polarity.WrongRails {
		if id, ring := c.RailRule(w); id == c.Rule.ID {
			mends, _ := sectionMends(c, ring)
			report(w, finding.Finding{Witness: ringWitness(c, ring), Mends: mends})
		}
	}
}
