package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var foulingPointUnwatched = rule.Rule{
	ID:       "fouling-point-unwatched",
	Severity: finding.Caution,
	Title:    "the rail before a turnout's clearance point is not seen by the turnout's detector",
	Doc: rule.Doc{
		What:    "A detector sees a turnout, and on one of its legs, nearer than where vehicles clear the other leg (`clear-at`), begins rail that it does not see: the watched rail alone is cut there, or the rail beyond gets its leg past the detector with some setting. Where a whole block ends there, `gap-short-of-fouling-point` says so instead. A leg without `clear-at` is not looked at.",
		Why:     "A vehicle that stands there fouls the other track while the turnout shows clear.",
		Fix:     "Move the cut out to the clearance point, or feed that rail through the turnout's detector.",
		Example: "turnouts:\n  T1: {hand: left, at: main @ 6 ft, via: points to straight, clear-at: {curved: 8 in}}\ngaps:\n  siding: [{at: 2 in, rails: left}]   # the watched rail of the siding",
	},
	Sources: []string{"geometry: the clearance point is the layout's own", "electrical necessity: a detector sees the current that goes through it"},
}

func init() { foulingPointUnwatched.Check = checkFoulingPointUnwatched }

func checkFoulingPointUnwatched(c *rule.Case) {
	type legOf struct {
		turnout *layout.Turnout
		end     int32
	}
	var legs []legOf
	var spots []int32
	var metres []float64
	for i := range c.L.Turnouts {
		t := &c.L.Turnouts[i]
		for leg, clear := range t.ClearAt {
			if _, _, told := gapInFoul(c, t, leg); told || !clear.Known() {
				continue
			}
			end := int32(leg) + 1
			legs = append(legs, legOf{t, end})
			spots = append(spots, c.C.EndSpot[t.Piece][end])
			metres = append(metres, clear.Hi)
		}
	}
	for i, f := range c.T.Fouls(spots, metres) {
		if f == nil || !f.Unseen {
			continue
		}
		piece := &c.L.Pieces[legs[i].turnout.Piece]
		place := c.SpotPlace(f.Spot)
		settings := c.Settings(f.Settings)
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      piece.Pos,
			Place:    place,
			Settings: settings,
			Message: fmt.Sprintf("from %s, %s out on the %s leg of %s, %s does not see the rail%s, and vehicles clear the other leg only %s out",
				place.Text, rule.Length("", f.Metres).Text, piece.Ends[legs[i].end].Name, piece.Name, c.DetectorName(f.Detectors[0]), whenSet(settings), rule.Length("", metres[i]).Text),
			Why:     "the turnout shows clear while a vehicle is in the way",
			Train:   "a vehicle between that place and the clearance point",
			Numbers: []finding.Number{{Name: "seen from the turnout's leg", Text: rule.Length("", f.Metres).Text, SI: f.Metres, Unit: "m", Limit: "at least " + rule.Length("", metres[i]).Text, Source: "clear-at, yours"}},
			Fix:     fmt.Sprintf("cut the rail at the clearance point instead, or feed it there through %s", c.DetectorName(f.Detectors[0])),
		})
	}
}
