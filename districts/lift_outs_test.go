package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"
)

// TestLiveApproaches takes a gate out between two tracks and lists what stays live within 2
// ft of the opening, worked out by hand.
func TestLiveApproaches(t *testing.T) {
	for _, c := range []struct{ name, gaps, feeders, want string }{
		{"no gap", "{}", "M1: {5 ft: main @ 5 ft}, G: {1 ft: gate @ 1 ft}, M2: {5 ft: main @ 9 ft}", "M1 from 0 ft, M2 from 0 ft"},
		{"fed from behind the plug, between gaps", "{M1: [8 ft], M2: [2 ft]}", "M1: {5 ft: main @ 5 ft, 9 ft: gate @ 2 ft}, G: {1 ft: gate @ 1 ft}, M2: {1 ft: gate @ 3 ft, 5 ft: main @ 9 ft}", "-"},
		{"fed from behind the plug, one gap too near", "{M1: [9 ft], M2: [2 ft]}", "M1: {5 ft: main @ 5 ft, 9 ft 6 in: gate @ 2 ft}, G: {1 ft: gate @ 1 ft}, M2: {1 ft: gate @ 3 ft, 5 ft: main @ 9 ft}", "M1 from 1 ft"},
		{"cut off, but fed past the plug", "{M1: [8 ft]}", "M1: {5 ft: main @ 5 ft, 9 ft: main @ 6 ft}, G: {1 ft: gate @ 1 ft}, M2: {5 ft: gate @ 5 ft}", "M1 from 0 ft"},
	} {
		tr := trace(t, `gapwise: 1
layout: Test
defaults:
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
plugs: {gate: {from: main @ 8 ft, legs: straight}}
buses:
  main: {from: booster one, wire: 14 AWG, length: 44 ft}
  gate: {from: plug gate, wire: 14 AWG, length: 9 ft}
tracks:
  M1: {from: end, to: G start, length: 10 ft}
  G:  {from: M1 end, to: M2 start, length: 2 ft, lift-out: yes}
  M2: {from: G end, to: end, length: 10 ft}
gaps: `+c.gaps+`
feeders: {`+c.feeders+`}
`)
		got := names(tr.LiveApproaches(2*0.3048), func(a districts.LiftOutApproach) string {
			return fmt.Sprintf("%s from %s", tr.C.Layout.Pieces[tr.C.Spots[a.Spot].Piece].Name, inFeet(a.Metres))
		})
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
