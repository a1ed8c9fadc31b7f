package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapUnfilled = rule.Rule{
	ID:       "gap-unfilled",
	Severity: finding.Caution,
	Practice: "gaps-filled",
	Title:    "an insulated gap is not filled",
	Doc: rule.Doc{
		What:    "An insulated gap is said to be filled with nothing. Owners glue 0.040 in (1 mm) styrene into the cut, or use insulated joiners, so that it cannot close.",
		Why:     "Rail creeps and benchwork shrinks: an open cut closes in a warm, dry room, and the short is hard to find.",
		Fix:     "Glue a piece of 0.040 in (1 mm) styrene into the gap and file it to the rail.",
		Example: "gaps:\n  M1: [{at: 4 ft, fill: none}]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { gapUnfilled.Check = checkGapUnfilled }

func checkGapUnfilled(c *rule.Case) {
	unsaid, first := 0, -1
	for i := range c.L.Gaps {
		g := &c.L.Gaps[i]
		if g.Kind != layout.Insulated {
			continue
		}
		switch g.Fill {
		case "none":
			c.Report(finding.Finding{
				Severity: c.PracticeSeverity(),
				Pos:      g.Pos,
				Place:    c.GapPlace(int32(i)),
				Message:  fmt.Sprintf("the insulated gap at %s is not filled", c.GapPlace(int32(i)).Text),
				Why:      "it can close when rail creeps or the benchwork shrinks",
				Fix:      "glue a piece of 0.040 in (1 mm) styrene into it",
				Mends:    fillMends(c, int32(i)),
			})
		case "", "unknown":
			if unsaid == 0 {
				first = i
			}
			unsaid++
		}
	}
	if unsaid > 0 && c.Listed(c.Rule.Practice) {
		c.LeaveOpen(fmt.Sprintf("whether %d insulated gaps are filled, the first at %s", unsaid, c.GapPlace(int32(first)).Text), "the layout does not say (`fill`)", c.L.Gaps[first].Pos)
	}
}
