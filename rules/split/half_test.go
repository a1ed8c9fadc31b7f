package split

import (
	"strings"
	"testing"

	"gapwise/netlist/layout"
)

// halfCut is a line with gaps for detection in one rail, and one in both.
const halfCut = `gapwise: 1
layout: Half cut
defaults:
  track: {rail: code 83 nickel silver}
  gap: {rails: both, kind: insulated, fill: styrene}
  joint: {kind: soldered}
  feeder: {A: left, wire: 20 AWG, length: 8 in}
supplies: {wall: {volts: 18 V, rating: 6 A, listed: yes}}
boosters: {main: {supply: wall, volts: 15 V, inside: 0.1 Ω, rating: 3 A, trips-at: 3 A, trip-time: 40 ms}}
operations: {at-once: 4, wheels: metal}
trains: {goods: {length: 1.2 m, current: 1.1 A, at-once: 4}}
tracks: {P: {from: end, to: end, length: 16 m}}
gaps: {P: [{at: 4 m, rails: left}, 8 m, {at: 12 m, rails: left}]}
detectors: {D1: {from: bb @ 1 m, leg: A, senses: current, drop: 0.7 V, sees: 12 kΩ}}
buses:
  bb: {from: booster main, wire: 12 AWG, laid: twisted, length: 16 m}
  w1: {from: detector D1, legs: A, wire: 16 AWG, length: 8 m, beside: {bb: 0 in}}
feeders:
  P:
    1 m: {from: bb @ 1 m, A-from: w1 @ 1 m}
    3 m: {from: bb @ 3 m, A-from: w1 @ 3 m}
    5 .. 15 m: {every: 2 m, from: bb @ 5 m}
blocks: {a1: {covers: P @ 0 .. 4 m, detector: D1}, a2: {covers: P @ 4 .. 8 m}, a3: {covers: P @ 8 .. 12 m}, a4: {covers: P @ 12 m .. end}}
`

// TestHalfCut: a gap in one rail becomes one in both by a cut in the other, and is a new cut.
func TestHalfCut(t *testing.T) {
	ask := usual()
	ask.Ratings, ask.With = []float64{1.5}, Boosters
	a := divide(t, read(t, halfCut), ask)
	if len(a.Districts) != 4 || a.Terms[0].Value != 2 || len(a.Cuts) != 2 {
		t.Fatalf("%d districts, %v, %v", len(a.Districts), a.Terms, a.Cuts)
	}
	for _, c := range a.Cuts {
		if c.Rails != layout.RightRail {
			t.Errorf("%s: %v", c.Text, c.Rails)
		}
	}
	if len(a.Brought) > 0 {
		t.Error(a.Brought)
	}
	texts, err := a.plan.w.Texts()
	if err != nil {
		t.Fatal(err)
	}
	if want := "{at: 12 m, rails: left}, {at: 4 m, rails: right, kind: insulated}, {at: 12 m, rails: right, kind: insulated}]"; !strings.Contains(string(texts[0]), want) {
		t.Errorf("%s\nwant %s", texts[0], want)
	}
}
