package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// A long straight is one of at least longStraight; its middle half is near the middle.
// Common practice, no source.
const longStraight = 1.8288 // 6 ft

var expansionGapOffCentre = rule.Rule{
	ID:       "expansion-gap-off-centre",
	Severity: finding.Caution,
	Practice: "expansion-gap-mid-straight",
	Title:    "the expansion gap of a long straight is not near its middle",
	Doc: rule.Doc{
		What:    "A straight track of 6 ft (1.83 m) or more has one expansion gap, and it lies outside the middle half of the straight.",
		Why:     "The longer side pushes on the curve beyond it instead of into the gap.",
		Fix:     "Move the gap towards the middle, or cut a second one.",
		Example: "tracks:\n  M3: {from: T3 straight, to: T8 points, length: 12 ft, straight: yes}\ngaps:\n  M3: [{at: 1 ft, kind: expansion, joint: sliding}]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { expansionGapOffCentre.Check = checkExpansionGapOffCentre }

func checkExpansionGapOffCentre(c *rule.Case) {
	for t := range c.L.Tracks {
		tr := &c.L.Tracks[t]
		length := tr.Length.Mid()
		if tr.Straight != layout.Yes || length < longStraight {
			continue
		}
		only, n := -1, 0
		for g := range c.L.Gaps {
			gap := &c.L.Gaps[g]
			if gap.Kind == layout.Expansion && gap.Place.Piece == tr.Piece && gap.Place.End < 0 {
				only = g
				n++
			}
		}
		if n != 1 {
			continue
		}
		at := c.L.Gaps[only].Place.At.Mid()
		if at >= length/4 && at <= 3*length/4 {
			continue
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      c.L.Gaps[only].Pos,
			Place:    c.GapPlace(int32(only)),
			Message:  fmt.Sprintf("the expansion gap of the straight %s is at %s, not near the middle", tr.Name, rule.Length("", at).Text),
			Why:      "the longer side pushes on the curve beyond it instead of into the gap",
			Numbers:  []finding.Number{{Name: "gap", Text: rule.Length("", at).Text, SI: at, Unit: "m", Limit: fmt.Sprintf("%s to %s", rule.Length("", length/4).Text, rule.Length("", 3*length/4).Text), Source: rule.CommonPractice}},
			Fix:      "move the gap towards the middle, or cut a second one",
		})
	}
}
