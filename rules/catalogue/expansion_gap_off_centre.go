package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/districts"
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
	for _, run := range districts.Lines(c.L, func(t *layout.Track) bool { return t.Straight == layout.Yes }) {
		if run.Length >= longStraight {
			offCentre(c, &run)
		}
	}
}

// offCentre tells of one straight, which may be typed as several tracks end to end.
func offCentre(c *rule.Case, run *districts.Line) {
	only, n, at := -1, 0, 0.0
	for _, r := range run.Tracks {
		for g := range c.L.Gaps {
			gap := &c.L.Gaps[g]
			if gap.Kind == layout.Expansion && gap.Place.Piece == c.L.Tracks[r.Track].Piece && gap.Place.End < 0 {
				only, at = g, r.At(c.L, gap.Place.At.Mid())
				n++
			}
		}
	}
	length := run.Length
	if n != 1 || (at >= length/4 && at <= 3*length/4) {
		return
	}
	c.Report(finding.Finding{
		Severity: c.PracticeSeverity(),
		Pos:      c.L.Gaps[only].Pos,
		Place:    c.GapPlace(int32(only)),
		Message:  fmt.Sprintf("the expansion gap of the straight %s is %s along it, not near the middle", c.L.Tracks[run.Tracks[0].Track].Name, rule.Length("", at).Text),
		Why:      "the longer side pushes on the curve beyond it instead of into the gap",
		Numbers:  []finding.Number{{Name: "gap", Text: rule.Length("", at).Text, SI: at, Unit: "m", Limit: fmt.Sprintf("%s to %s", rule.Length("", length/4).Text, rule.Length("", 3*length/4).Text), Source: rule.CommonPractice}},
		Fix:      "move the gap towards the middle, or cut a second one",
		Mends:    centreMends(c, int32(only), run),
	})
}
