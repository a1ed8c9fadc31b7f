package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapBeyondFoulingPoint = rule.Rule{
	ID:       "gap-beyond-fouling-point",
	Severity: finding.Caution,
	Title:    "vehicles stand on a turnout's gap where opposite legs meet",
	Doc: rule.Doc{
		What:    "The gap on a leg of a turnout lies farther out than where vehicles on that leg clear the other (`clear-at`), and with the turnout set for the other leg the rail inside the gap carries the opposite of the rail outside it, as behind the frog of a power-routing turnout. A leg without `clear-at` is not looked at.",
		Why:     "A vehicle that stands there, rightly clear of the other track, joins the two legs with its wheels as soon as the turnout is thrown against it.",
		Fix:     "Cut the gap between the turnout and the clearance point, where nothing may stand.",
		Example: "turnouts:\n  T1: {hand: left, wiring: power-routing, clear-at: {curved: 6 in}}\ngaps:\n  spur: [{at: 10 in, rails: right}]   # spur runs from T1 curved",
	},
	Sources: []string{"topology of the turnout's contacts; the clearance point is the layout's own"},
}

func init() { gapBeyondFoulingPoint.Check = checkGapBeyondFoulingPoint }

func checkGapBeyondFoulingPoint(c *rule.Case) {
	for i := range c.L.Turnouts {
		t := &c.L.Turnouts[i]
		for leg, clear := range t.ClearAt {
			if !clear.Known() {
				continue
			}
			end := int32(leg) + 1
			g, ok := c.T.GapOnLeg(c.C.EndSpot[t.Piece][end])
			if !ok || g.Metres <= clear.Lo+1e-6 {
				continue
			}
			set := districts.Setting{Device: c.C.PieceDevice[t.Piece], Position: int16(1 - leg)}
			near, far, opposite := c.T.OppositeOver(g, set)
			if !opposite {
				continue
			}
			reportBeyondFouling(c, t, end, g, set, near, far)
		}
	}
}

func reportBeyondFouling(c *rule.Case, t *layout.Turnout, end int32, g districts.LegGap, set districts.Setting, near, far districts.Label) {
	piece := &c.L.Pieces[t.Piece]
	clear := t.ClearAt[end-1]
	place := c.WayPlace(g.Way)
	c.Report(finding.Finding{
		Severity: finding.Caution,
		Pos:      c.WayPos(g.Way),
		Place:    place,
		Message: fmt.Sprintf("the gap at %s lies %s out on the %s leg of %s, beyond its clearance point: with %s, wheels on the gap join %s to %s",
			place.Text, rule.Length("", g.Metres).Text, piece.Ends[end].Name, piece.Name, c.Setting(set.Device, set.Position), c.Terminal(near), c.Terminal(far)),
		Why:      "a vehicle may stand there, and it shorts the booster when the turnout is set against it",
		Settings: []string{c.Setting(set.Device, set.Position)},
		Train:    "metal wheels on the gap",
		Numbers:  []finding.Number{{Name: "gap from the turnout's leg", Text: rule.Length("", g.Metres).Text, SI: g.Metres, Unit: "m", Limit: "at most " + rule.Length("", clear.Lo).Text, Source: "clear-at, yours"}},
		Witness:  []finding.Step{{Text: "gap at " + place.Text, Pos: c.WayPos(g.Way)}, {Text: "turnout " + piece.Name, Pos: piece.Pos}},
		Fix:      fmt.Sprintf("cut the gap less than %s from %s %s", rule.Length("", clear.Lo).Text, piece.Name, piece.Ends[end].Name),
		Mends:    foulingMends(c, &g, end, clear.Lo/4, clear.Lo),
	})
}
