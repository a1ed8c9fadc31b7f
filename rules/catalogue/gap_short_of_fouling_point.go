package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapShortOfFoulingPoint = rule.Rule{
	ID:       "gap-short-of-fouling-point",
	Severity: finding.Caution,
	Title:    "a detected turnout's block ends before vehicles clear it",
	Doc: rule.Doc{
		What:    "A turnout lies in a detected block, and the gap that ends the block on a leg lies nearer to the turnout than where vehicles on that leg clear the other (`clear-at`); beyond it another detector watches, or none. A leg without `clear-at` is not looked at.",
		Why:     "A vehicle that stands beyond the gap fouls the other track while the turnout's block shows clear.",
		Fix:     "Move the gap out to the clearance point.",
		Example: "turnouts:\n  T1: {hand: left, at: main @ 6 ft, via: points to straight, clear-at: {curved: 8 in}}\ngaps:\n  siding: [2 in]   # siding runs from T1 curved, and its block has a detector of its own",
	},
	Sources: []string{"geometry: the clearance point is the layout's own"},
}

func init() { gapShortOfFoulingPoint.Check = checkGapShortOfFoulingPoint }

func checkGapShortOfFoulingPoint(c *rule.Case) {
	for i := range c.L.Turnouts {
		t := &c.L.Turnouts[i]
		piece := &c.L.Pieces[t.Piece]
		for leg, clear := range t.ClearAt {
			end := int32(leg) + 1
			g, watching, ok := gapInFoul(c, t, leg)
			if !ok {
				continue
			}
			place := c.WayPlace(g.Way)
			c.Report(finding.Finding{
				Severity: finding.Caution,
				Pos:      c.WayPos(g.Way),
				Place:    place,
				Message: fmt.Sprintf("the gap at %s lies %s out on the %s leg of %s, and vehicles clear the other leg only %s out: what stands between fouls %s and %s does not see it",
					place.Text, rule.Length("", g.Metres).Text, piece.Ends[end].Name, piece.Name, rule.Length("", clear.Hi).Text, piece.Name, c.DetectorName(watching[0])),
				Why:     "the turnout shows clear while a vehicle is in the way",
				Train:   "a vehicle between the gap and the clearance point",
				Numbers: []finding.Number{{Name: "gap from the turnout's leg", Text: rule.Length("", g.Metres).Text, SI: g.Metres, Unit: "m", Limit: "at least " + rule.Length("", clear.Hi).Text, Source: "clear-at, yours"}},
				Fix:     fmt.Sprintf("move the gap out by %s", rule.Length("", clear.Hi-g.Metres).Text),
				Mends:   foulingMends(c, &g, end, clear.Hi, clear.Hi+rule.Stub),
			})
		}
	}
}

// gapInFoul is the gap on a leg of a turnout nearer to it than where vehicles clear the other leg, where what is watched changes from one block
// as wired to another, and the detectors that watch the turnout's side of it.
func gapInFoul(c *rule.Case, t *layout.Turnout, leg int) (g districts.LegGap, watching []int32, ok bool) {
	clear := t.ClearAt[leg]
	g, ok = c.T.GapOnLeg(c.C.EndSpot[t.Piece][leg+1])
	if !clear.Known() || !ok || g.Metres >= clear.Hi-1e-6 {
		return g, nil, false
	}
	w := &c.C.Ways[g.Way]
	inside, outside := c.T.Zones.Of[g.Near], c.T.Zones.Of[w.A+w.B-g.Near]
	watching = c.T.Zones.List[inside].Detectors
	if inside == outside || len(watching) == 0 || slices.Equal(watching, c.T.Zones.List[outside].Detectors) {
		return g, nil, false
	}
	// Where the other rail is cut first, the detector sees on to where its own is.
	foul := c.T.Fouls([]int32{c.C.EndSpot[t.Piece][leg+1]}, []float64{clear.Hi})[0]
	return g, watching, foul == nil || foul.Unseen
}
