package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorOnWrongLeg = rule.Rule{
	ID:       wrongLeg,
	Severity: finding.Caution,
	Title:    "a detector watches one leg, and the block is parted in the other",
	Doc: rule.Doc{
		What:    "A gap where a detector's block ends cuts one rail, and it is the rail of the leg that the detector does not watch; or what hangs from the detector's wire takes the leg that the detector lets pass.",
		Why:     "The watched leg goes on past the gap, or past the detector, so it sees trains beyond its block, or none.",
		Fix:     "Cut the rail of the leg that the detector watches, or put the detector into the other leg.",
		Example: "detectors:\n  D1: {from: main @ 1 ft, leg: A}\ngaps:\n  M1: [{at: 4 ft, rails: B}]",
	},
	Sources: []string{"electrical necessity: a detector sees the current of its own leg"},
}

func init() { detectorOnWrongLeg.Check = checkDetectorOnWrongLeg }

func checkDetectorOnWrongLeg(c *rule.Case) {
	d := c.T.Detection()
	for i := range c.T.DetectorTies {
		if t := &c.T.DetectorTies[i]; detectorTieRule(c, d, t) == c.Rule.ID && !bypassExplained(c, t) {
			c.Report(wrongRailCut(c, d, t))
		}
	}
	for i := range d.Reach {
		if r := &d.Reach[i]; len(r.Feeders) == 0 && len(r.OtherLeg) > 0 {
			c.Report(wrongLegTaken(c, int32(i), r.OtherLeg))
		}
	}
}

// wrongRailCut tells of a gap that leaves the watched rail whole.
func wrongRailCut(c *rule.Case, d *districts.Detection, t *districts.Tie) finding.Finding {
	w := &c.C.Ways[t.Cut]
	whole := layout.Left
	if w.Metal[layout.Left] == circuit.Open {
		whole = layout.Right
	}
	detector := max(t.Classes[0], t.Classes[1])
	leg := c.L.Detectors[detector].Leg
	place := c.WayPlace(t.Cut)
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      c.WayPos(t.Cut),
		Place:    place,
		Message: fmt.Sprintf("the gap at %s cuts the %s rail, of %s; %s watches %s, whose rail goes on to what %s sees",
			place.Text, c.RailWord(whole.Other()), c.LegWord(leg.Other()), c.DetectorName(detector), c.LegWord(leg), c.DetectorName(min(t.Classes[0], t.Classes[1]))),
		Why:     "the detector sees trains beyond the gap, or misses part of a train's current",
		Witness: c.TieWitness(t),
		Fix:     fmt.Sprintf("cut the %s rail there, too or instead", c.RailWord(whole)),
		Mends:   append(wrongRailMends(c, t.Cut, whole), otherLegMends(c, detector)...),
	}
	switch other := d.DetectorOfOther(t); {
	case c.T.CommonDeclared(t.Cut):
		f.Mends = moveLegMends(c, d, pairOf(t.Classes))
		f.Fix = fmt.Sprintf("put the detectors into %s: the rail of %s is declared common, and a detector in it sees every block along it", c.LegWord(leg.Other()), c.LegWord(leg))
	case other >= 0:
		f.Fix = fmt.Sprintf("cut both rails there: the gap suits %s, which watches %s, and not %s", c.DetectorName(other), c.LegWord(leg.Other()), c.DetectorName(detector))
	}
	return f
}

// wrongLegTaken tells of a detector whose wire feeds rails by the leg that it lets pass.
func wrongLegTaken(c *rule.Case, detector int32, feeders []int32) finding.Finding {
	x := &c.L.Detectors[detector]
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      x.Pos,
		Place:    finding.Place{Text: c.DetectorName(detector)},
		Message:  fmt.Sprintf("%s watches %s, and what hangs from its wire takes %s alone (%s)", c.DetectorName(detector), c.LegWord(x.Leg), c.LegWord(x.Leg.Other()), feedersText(c, feeders)),
		Why:      "no current of these rails goes through the detector, so it sees no train",
		Witness:  c.WitnessTo(c.C.FeederSpot[feeders[0]], c.LegRail(feeders[0], x.Leg.Other())),
		Fix:      fmt.Sprintf("put the detector into %s (`leg: %s`), or take %s from its wire", c.LegWord(x.Leg.Other()), x.Leg.Other(), c.LegWord(x.Leg)),
		Mends:    append(otherLegMends(c, detector), takeLegMends(c, detector, feeders)...),
	}
}
