package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"
)

// TestOppositeOver looks at the gap on the curved leg of a left-hand turnout in both its
// settings, worked out by hand from the wiring table of the language: behind a frog that
// is one with the legs the rail from the frog follows the blades.
func TestOppositeOver(t *testing.T) {
	for _, c := range []struct{ name, wiring, gap, want string }{
		{"power-routing, set for the leg and against it", "power-routing", "{at: 10 in, rails: right}", "10 in: straight A over B, curved agrees"},
		{"power-routing, cut in the rail that is whole", "power-routing", "{at: 10 in, rails: left}", "10 in: straight agrees, curved agrees"},
		{"a dead frog", "dead-frog", "10 in", "10 in: straight agrees, curved agrees"},
		{"an expansion gap is none", "power-routing", "{at: 10 in, kind: expansion, joint: cut}", "none"},
	} {
		tr := trace(t, railPlan("{kind: soldered}", `tracks: {M1: {from: end, to: T1 points, length: 5 ft}, M2: {from: T1 straight, to: end, length: 5 ft}, M3: {from: T1 curved, to: end, length: 5 ft}}
turnouts: {T1: {hand: left, wiring: `+c.wiring+`}}
gaps: {T1: [{at: straight, rails: inner}], M3: [`+c.gap+`]}
feeders: {M1: {1 ft: main @ 1 ft}, M2: {3 ft: main @ 9 ft}, M3: {3 ft: main @ 12 ft}}
`))
		turnout := tr.C.Layout.Turnouts[0].Piece
		got := "none"
		if g, ok := tr.GapOnLeg(tr.C.EndSpot[turnout][2]); ok {
			got = fmt.Sprintf("%.0f in:", g.Metres/0.0254)
			d := tr.C.PieceDevice[turnout]
			for p, word := range tr.C.Devices[d].Positions {
				near, far, opposite := tr.OppositeOver(g, districts.Setting{Device: d, Position: int16(p)})
				says := " agrees"
				if opposite {
					says = fmt.Sprintf(" %s over %s", near.Leg, far.Leg)
				}
				if p > 0 {
					got += ","
				}
				got += " " + word + says
			}
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
