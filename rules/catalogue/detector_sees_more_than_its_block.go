package catalogue

import (
	"fmt"
	"strings"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorSeesMoreThanItsBlock = rule.Rule{
	ID:       "detector-sees-more-than-its-block",
	Severity: finding.Caution,
	Title:    "a detector also sees a block that it is not meant for",
	Doc: rule.Doc{
		What:    "Behind a detector that is meant for one block hangs another block too, parted by gaps: by feeders from the same wire, behind a breaker that hangs from the detector, or behind a second detector in series.",
		Why:     "A train in the other block shows in this one.",
		Fix:     "Hang the other block, its breaker or its detector from the bus ahead of this detector, or name this detector under both blocks.",
		Example: "detectors:\n  D1: {from: harbour @ 4 ft, leg: A}\n  D2: {from: D1-wire @ 2 ft, leg: A}   # sees its block behind D1\nblocks:\n  B1: {covers: M1 @ 0 .. 6 ft, detector: D1}\n  B2: {covers: M1 @ 6 ft .. end, detector: D2}",
	},
	Sources: []string{"electrical necessity: all current of what hangs behind a detector goes through it"},
}

func init() {
	detectorSeesMoreThanItsBlock.Check = checkDetectorSeesMoreThanItsBlock
}

func checkDetectorSeesMoreThanItsBlock(c *rule.Case) {
	d := c.T.Detection()
	for _, m := range d.MoreThanMeant() {
		var own, more []string
		for _, b := range m.Own {
			own = append(own, c.BlockName(b))
		}
		feeder := int32(-1)
		for _, b := range m.More {
			if c.DiffersFromMeant(b) {
				continue // where it ends is told first
			}
			more = append(more, c.BlockName(b))
			if feeder < 0 {
				feeder = c.T.Zones.List[c.T.ZoneOf(b)].Feeders[0]
			}
		}
		if feeder < 0 {
			continue
		}
		x := &c.L.Detectors[m.Detector]
		f := finding.Finding{
			Severity: finding.Caution,
			Pos:      x.Pos,
			Place:    finding.Place{Text: c.DetectorName(m.Detector)},
			Message:  fmt.Sprintf("%s is meant for %s and also sees %s", c.DetectorName(m.Detector), strings.Join(own, ", "), strings.Join(more, ", ")),
			Why:      "a train there shows in " + own[0],
			Witness:  c.WitnessTo(c.C.FeederSpot[feeder], c.LegRail(feeder, x.Leg)),
			Fix:      fmt.Sprintf("hang %s from ahead of %s, or write `detector: %s` there too if one light for all is meant", more[0], c.DetectorName(m.Detector), x.Name),
			Mends:    aheadMends(c, d, m.Detector, m.More),
		}
		if inner := d.Reach[m.Detector].Detectors; len(inner) > 0 {
			f.Fix = fmt.Sprintf("hang %s from ahead of %s", c.DetectorName(inner[0]), c.DetectorName(m.Detector))
		}
		for _, inner := range d.Reach[m.Detector].Detectors {
			f.Also = append(f.Also, c.DetectorName(inner)+" hangs behind it")
		}
		c.Report(f)
	}
}
