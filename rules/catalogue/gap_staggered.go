package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// shortestPickup is taken for the shortest pick-up base of a layout that says none, in
// metres (1 in). Common practice, no source.
const shortestPickup = 0.0254

var gapStaggered = rule.Rule{
	ID:       "gap-staggered",
	Severity: finding.Caution,
	Title:    "the two rails of one gap are cut too far apart",
	Doc: rule.Doc{
		What:    "Two gaps, each in one rail, that lie less than 12 in (305 mm) apart with no feeder between are taken for one gap. Where that gap parts two districts or what two detectors see, and its cuts lie farther apart than the shortest pick-up base (`operations: pickup`, else 1 in, 25 mm), it is reported. Cuts that lie nearer are one gap to every rule.",
		Why:     "Between the cuts one rail belongs to one side and the other rail to the other: an engine that stands there takes its current across both districts, trips neither of their breakers as it should, and is seen by the wrong detector.",
		Fix:     "Cut the second rail opposite the first, or within the shortest pick-up base of it.",
		Example: "gaps:\n  M1: [{at: 12 ft, rails: left}, {at: 12 ft 6 in, rails: right}]",
	},
	Sources: []string{"geometry: what picks up current within less than the offset never stands wholly between the cuts; that two cuts within 12 in are one gap is " + rule.CommonPractice},
}

func init() { gapStaggered.Check = checkGapStaggered }

func checkGapStaggered(c *rule.Case) {
	if len(c.T.Staggered) == 0 {
		return
	}
	limit, whose := shortestPickup, rule.CommonPractice
	if p := c.L.Operations.Pickup; p.Known() {
		limit, whose = p.Lo, "the shortest pick-up base, yours"
	}
	sides := c.T.Sides()
	for i := range c.T.Staggered {
		s := &c.T.Staggered[i]
		if s.Offset <= limit+1e-6 {
			continue
		}
		near, far, parts := partedBy(c, s, sides)
		if !parts {
			continue
		}
		a, b := &c.L.Gaps[s.Gaps[0]], &c.L.Gaps[s.Gaps[1]]
		offset := rule.Length("", s.Offset).Text
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      a.Pos,
			Place:    c.GapPlace(s.Gaps[0]),
			Message: fmt.Sprintf("the gap between %s and %s is cut at two places %s apart: the %s rail at %s, the %s rail at %s",
				near, far, offset, c.RailWord(cutIn(a)), c.GapPlace(s.Gaps[0]).Text, c.RailWord(cutIn(b)), c.GapPlace(s.Gaps[1]).Text),
			Why:     "an engine that stands between the two cuts takes one leg from either side",
			Train:   "an engine between the two cuts",
			Numbers: []finding.Number{{Name: "between the cuts", Text: offset, SI: s.Offset, Unit: "m", Limit: "at most " + rule.Length("", limit).Text, Source: whose}},
			Witness: []finding.Step{{Text: "gap at " + c.GapPlace(s.Gaps[0]).Text, Pos: a.Pos}, {Text: "gap at " + c.GapPlace(s.Gaps[1]).Text, Pos: b.Pos}},
			Fix:     "cut both rails at one place",
			Mends:   oneGapMends(c, s.Gaps),
		})
	}
}

// partedBy names what a staggered gap parts, its first side first; not so where it parts
// nothing that matters.
func partedBy(c *rule.Case, s *districts.Staggered, sides *districts.Sides) (near, far string, parts bool) {
	w := &c.C.Ways[s.Way]
	x, y := sides.Source[sides.Of[w.A]], sides.Source[sides.Of[w.B]]
	if x < 0 || y < 0 {
		return "", "", false
	}
	if x != y {
		return c.SourceName(x), c.SourceName(y), true
	}
	p, q := &c.T.Zones.List[c.T.Zones.Of[w.A]], &c.T.Zones.List[c.T.Zones.Of[w.B]]
	if slices.Equal(p.Detectors, q.Detectors) {
		return "", "", false
	}
	return detectedBy(c, p), detectedBy(c, q), true
}

func detectedBy(c *rule.Case, z *districts.Zone) string {
	if len(z.Detectors) == 0 {
		return "track without a detector"
	}
	return "what " + c.DetectorName(z.Detectors[0]) + " sees"
}

// cutIn is the rail that a gap in one rail cuts.
func cutIn(g *layout.Gap) layout.Rail {
	if g.Rails == layout.RightRail {
		return layout.Right
	}
	return layout.Left
}
