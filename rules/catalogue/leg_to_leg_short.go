package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var legToLegShort = rule.Rule{
	ID:       rule.LegToLegShort,
	Severity: finding.Fault,
	Title:    "metal joins both legs of one source",
	Doc: rule.Doc{
		What:    "A path of rail, wire or bond leads from leg A to leg B of one source without a gap between, and neither a crossed feeder, a reversing loop nor track work explains it.",
		Why:     "The booster is shorted from the moment it is switched on.",
		Fix:     "Follow the path that the finding gives, rail by rail, and part it where a rail of one leg meets a rail of the other.",
		Example: "bonds:\n  - {from: M1 @ 2 ft, to: M1 @ 4 ft, rails: [left, right]}",
	},
	Sources:      []string{"electrical necessity: a short circuit"},
	CannotAccept: true,
}

func init() { legToLegShort.Check = checkLegToLegShort }

func checkLegToLegShort(c *rule.Case) {
	for i := range c.T.Conflicts {
		x := &c.T.Conflicts[i]
		if id, _ := c.ConflictRule(x); id != c.Rule.ID {
			continue
		}
		at := x.Cause[0]
		place := c.Culprit(x.Cause)
		c.Report(finding.Finding{
			Severity: finding.Fault,
			Pos:      c.C.Conductors[at].Pos,
			Place:    place,
			Message:  fmt.Sprintf("%s meets %s at %s", c.Terminal(x.From), c.Terminal(x.To), place.Text),
			Why:      "the booster is shorted as soon as it is switched on",
			Settings: c.Settings(x.Settings),
			Witness:  c.WitnessFrom(x.From, x.Path),
			Fix:      "part the path where it passes from a rail of one leg to a rail of the other" + shortTest,
			Mends:    pathBondMends(c, x),
		})
	}
	for _, w := range c.T.Polarity.WrongRails {
		if id, _ := c.RailRule(w); id != c.Rule.ID {
			continue
		}
		c.Report(finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(w),
			Place:    c.WayPlace(w),
			Message:  "the rails are fed the opposite way round on either side of " + c.WayPlace(w).Text + ", and nothing parts them",
			Why:      "the booster is shorted as soon as it is switched on",
			Witness:  c.BothSides(w),
			Fix:      "find which side is wired the wrong way round, or cut both rails between",
		})
	}
	if c.T.ConflictsCut {
		c.LeaveOpen("further shorts", "more causes were found than are listed; mend these and check again", c.C.Sources[0].Pos)
	}
}
