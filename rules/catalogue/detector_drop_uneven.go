package catalogue

import (
	"fmt"
	"strings"

	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// unevenShare is how much of the volts may differ from one block to the next, in per cent. Common practice, no source: a
// train's change of speed is seen by everybody.
const unevenShare = 10.0

var detectorDropUneven = rule.Rule{
	ID:       "detector-drop-uneven",
	Severity: finding.Caution,
	Title:    "trains change speed from block to block, because detectors drop volts in some",
	Doc: rule.Doc{
		What:    "Neighbouring blocks of one booster whose volts differ by more than a tenth, because a detector drops volts before one of them and none, or a smaller one, before the other. What only the widest of typed or usual drops would do is listed as not checked. Said once for each detector.",
		Why:     "Trains lurch and lights dim at every such gap.",
		Fix:     "Detectors of one kind before all blocks, a kind that drops less, or diodes of the same drop before the blocks without.",
		Example: "detectors:\n  D1: {from: main @ 4 ft, leg: A, drop: 1.4 V, sees: 12 kΩ}   # on 12 V, and no detector before its neighbours",
	},
	Sources: []string{"the drops in the layout; a tenth: " + rule.CommonPractice},
}

func init() { detectorDropUneven.Check = checkDetectorDropUneven }

func checkDetectorDropUneven(c *rule.Case) {
	told := map[string]bool{}
	unsure, first := 0, int32(-1)
	for _, h := range c.Power.Heads {
		if !h.Known() {
			continue
		}
		for _, u := range h.Unevens() {
			limit := unevenShare / 100 * h.Volts.Hi
			if u.Volts.Lo <= limit {
				if u.Volts.Hi > limit {
					if unsure++; unsure == 1 {
						first = u.Way
					}
				}
				continue
			}
			var names []string
			zone := &c.T.Zones.List[c.T.Zones.Of[u.Far]]
			for _, d := range zone.Detectors {
				names = append(names, c.L.Detectors[d].Name)
			}
			who := strings.Join(names, ", ")
			if len(names) == 0 || told[who] {
				continue
			}
			told[who] = true
			place := c.WayPlace(u.Way)
			volts := rule.RangeText(u.Volts, quantity.FormatVoltage)
			c.Report(finding.Finding{
				Severity: finding.Caution,
				Pos:      c.L.Detectors[zone.Detectors[0]].Pos,
				Place:    place,
				Message:  fmt.Sprintf("the track behind detector %s has %s less than its neighbour over the gap at %s", who, volts, place.Text),
				Why:      "trains lurch and lights dim at the gap",
				Numbers:  []finding.Number{{Name: "difference", Text: volts, SI: u.Volts.Lo, Unit: "V", Limit: fmt.Sprintf("at most %s of %s, %s", quantity.FormatPercent(unevenShare), quantity.FormatVoltage(h.Volts.Hi), quantity.FormatVoltage(limit)), Source: rule.CommonPractice}},
				Fix:      "put a detector of the same drop, or diodes of that drop, before the neighbour too, or use detectors that drop less",
				Mends:    evenMends(c, zone.Detectors, limit),
			})
		}
	}
	if unsure > 0 {
		what := fmt.Sprintf("whether trains change speed at %d gaps, the first at %s", unsure, c.WayPlace(first).Text)
		if unsure == 1 {
			what = "whether trains change speed at the gap at " + c.WayPlace(first).Text
		}
		c.LeaveOpen(what, "a detector there does not say its `drop`, or says a wide range", c.WayPos(first))
	}
}
