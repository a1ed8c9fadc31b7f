package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var loopGapMissingEnd = rule.Rule{
	ID:       rule.LoopGapMissingEnd,
	Severity: finding.Fault,
	Title:    "a reversing loop is gapped at one end only",
	Doc: rule.Doc{
		What:    "A reversing loop has a gap at one end of what should be its section, and none at the other.",
		Why:     "The section is not cut off: its rails reach both legs, at once or as soon as a wheel stands on the one gap there is.",
		Fix:     "Cut both rails at the other end too, further from the first gap than the longest train is long, and feed the section through a reverser.",
		Example: "gaps:\n  BL: [8 in]   # a balloon loop with a gap at its start only",
	},
	Sources:      []string{"topology: a reversing section is parted at every end"},
	CannotAccept: true,
}

func init() { loopGapMissingEnd.Check = checkLoopGapMissingEnd }

func checkLoopGapMissingEnd(c *rule.Case) {
	for i := range c.T.Ties {
		t := &c.T.Ties[i]
		if c.TieRule(t) != c.Rule.ID {
			continue
		}
		place, where := c.CutPlace(t)
		c.Report(finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(t.Cut),
			Place:    place,
			Message:  fmt.Sprintf("the reversing section of %s has no gap at this end: nothing parts it from %s %s", c.SourceName(freeFirst(c, t.Classes)), c.SourceName(freeLast(c, t.Classes)), where),
			Why:      "in at least one position of the reverser, the rail joins leg A to leg B",
			Witness:  c.TieWitness(t),
			Fix:      "cut both rails " + where + ", further from the section's other gap than the longest train is long" + apartTest(c, [2]int32{freeFirst(c, t.Classes), freeLast(c, t.Classes)}),
			Mends:    tieMends(c, t),
		})
	}
	for _, w := range c.T.Polarity.WrongRails {
		id, ring := c.RailRule(w)
		if id != c.Rule.ID {
			continue
		}
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(w),
			Place:    c.WayPlace(w),
			Message:  fmt.Sprintf("the reversing loop through %s has a gap at %s and none at the other end", ringText(c, ring), c.WayPlace(ring.Gaps[0]).Text),
			Why:      "the rails of the loop reach both legs at once",
			Numbers:  loopNumbers(c, ring),
			Witness:  ringWitness(c, ring),
			Fix:      "cut both rails at the other end too, further from the first gap than the longest train is long, and feed what lies between through a reverser" + shortTest,
		}
		f.Mends, f.Candidates = sectionMends(c, ring)
		c.Report(f)
	}
	for _, w := range c.T.Polarity.WrongGaps {
		id, ring := c.GapRule(w)
		if id != c.Rule.ID {
			continue
		}
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(w),
			Place:    c.WayPlace(w),
			Message:  fmt.Sprintf("the reversing loop through %s has this one gap only, and a wheel that bridges it joins leg A to leg B", ringText(c, ring)),
			Why:      "every train that crosses the gap shorts the booster",
			Train:    "a metal wheel on the gap",
			Numbers:  loopNumbers(c, ring),
			Witness:  c.BothSides(w),
			Fix:      "cut both rails at a second place, further from this gap than the longest train is long, and feed what lies between through a reverser",
		}
		f.Mends, f.Candidates = sectionMends(c, ring)
		c.Report(f)
	}
}

// freeFirst is the one of two sources whose phase is free; freeLast the other.
func freeFirst(c *rule.Case, s [2]int32) int32 {
	if s[0] >= 0 && c.C.Sources[s[0]].Free {
		return s[0]
	}
	return s[1]
}

func freeLast(c *rule.Case, s [2]int32) int32 { return s[0] + s[1] - freeFirst(c, s) }
