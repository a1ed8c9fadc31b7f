package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railOneLegOnly = rule.Rule{
	ID:       "rail-one-leg-only",
	Severity: finding.Caution,
	Title:    "one rail of a stretch is fed and the other is not",
	Doc: rule.Doc{
		What:    "A feeder reaches one rail of a stretch of track and nothing reaches the other, in any setting of track work.",
		Why:     "There is no circuit, so trains stop there.",
		Fix:     "Feed the other rail too, or bond it to its neighbour.",
		Example: "feeders:\n  M1: {2 ft: {from: main @ 2 ft, A: left, rails: left}}   # the only feeder there",
	},
	Sources: []string{"electrical necessity: a circuit needs both rails"},
}

func init() { railOneLegOnly.Check = checkRailOneLegOnly }

func checkRailOneLegOnly(c *rule.Case) {
	for i := range c.T.DeadRuns {
		r := &c.T.DeadRuns[i]
		if (r.State[0] == districts.Dead) == (r.State[1] == districts.Dead) {
			continue
		}
		if open, pos := unknownFeed(c, r); open != "" {
			c.LeaveOpen("whether both rails of "+runText(c, r)+" are fed", open, pos)
			continue
		}
		dead := layout.Left
		if r.State[layout.Left] != districts.Dead {
			dead = layout.Right
		}
		pos, place := runPlace(c, r)
		first := c.C.Ways[r.Ways[0]].A
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      pos,
			Place:    place,
			Message:  fmt.Sprintf("the %s rail of %s is dead: only the %s rail is fed", c.RailWord(dead), runText(c, r), c.RailWord(dead.Other())),
			Why:      "there is no circuit without the other rail, so trains stop there",
			Numbers:  []finding.Number{rule.Length("track with one rail fed", r.Length)},
			Witness:  append(c.WitnessTo(first, dead.Other()), boundSteps(c, r)...),
			Fix:      fmt.Sprintf("feed the %s rail there too, or bond it to its neighbour%s", c.RailWord(dead), liveTest),
			Mends:    deadMends(c, r),
		})
	}
}
