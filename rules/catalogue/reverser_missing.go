package catalogue

import (
	"fmt"
	"strings"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reverserMissing = rule.Rule{
	ID:       rule.ReverserMissing,
	Severity: finding.Fault,
	Title:    "a reversing loop is gapped but no reverser feeds a section of it",
	Doc: rule.Doc{
		What:    "Track returns to where it began with its rails changed over. It is cut by gaps, but every section between them is fed in a fixed sense, so somewhere a gap has leg A on one side and leg B on the other.",
		Why:     "Every train that crosses that gap joins leg A to leg B with its first metal wheel.",
		Fix:     "Feed one section between two gaps, longer than the longest train, through a reverser.",
		Example: "tracks:\n  HA: {from: T10 curved, to: T11 straight, length: 41 ft}\n  HB: {from: T12 curved, to: T11 curved, length: 43 ft}   # two lines that join at both ends, all fed in a fixed sense",
	},
	CannotAccept: true,
	Sources:      []string{"topology: a loop of track in which left becomes right"},
}

func init() { reverserMissing.Check = checkReverserMissing }

func checkReverserMissing(c *rule.Case) {
	for _, w := range c.T.Polarity.WrongGaps {
		id, ring := c.GapRule(w)
		if id != c.Rule.ID {
			continue
		}
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(w),
			Place:    c.WayPlace(w),
			Message:  fmt.Sprintf("the line through %s turns its rails over on the way round, and no reverser feeds any section of it: wheels on %s join leg A to leg B", ringText(c, ring), c.WayPlace(w).Text),
			Why:      "every train that crosses this gap shorts the booster",
			Train:    "a metal wheel on the gap",
			Numbers:  loopNumbers(c, ring),
			Witness:  c.BothSides(w),
		}
		f.Mends, f.Candidates = sectionMends(c, ring)
		f.Fix = "feed a section of this loop, between two gaps, through a reverser instead of its present feed"
		if best := strings.TrimPrefix(f.Candidates[0], throughReverser); best != f.Candidates[0] {
			f.Fix = "feed " + best + " through a reverser instead of its present feed"
			f.Candidates = f.Candidates[1:]
		}
		f.Candidates = append(f.Candidates, "no train turns round here, and the file is wrong: a `via` or the ends of a track are mistyped; walk it with `gapwise trace --route`")
		c.Report(f)
	}
}
