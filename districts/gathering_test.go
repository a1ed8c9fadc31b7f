package districts_test

import (
	"math"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

func moving(tr *districts.Trace) *districts.Gatherings {
	return tr.Gatherings(districts.Draws{
		Train:  func(x *layout.Train) quantity.Current { return x.Current },
		Load:   func(x *layout.Load) quantity.Current { return x.Draws },
		Moving: true,
	})
}

// yard is a lead with two stubs behind a breaker, off a main.
const yard = `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
supplies: {wall: {volts: 18 V, rating: 6 A}}
boosters: {one: {supply: wall, volts: 15 V, trips-at: 5 A}}
breakers: {yard: {from: ring @ 1 ft, trips-at: 3 A}}
buses:
  ring: {from: booster one, wire: 14 AWG, length: 44 ft}
  yard: {from: breaker yard, wire: 14 AWG, length: 20 ft}
tracks:
  M: {from: end, to: T1 points, length: 20 ft}
  N: {from: T1 straight, to: end, length: 6 ft}
  L: {from: T1 curved, to: T2 points, length: 4 ft}
  Y: {from: T2 straight, to: end, length: 5 ft}
  Z: {from: T2 curved, to: end, length: 4 ft}
turnouts:
  T1: {hand: right}
  T2: {hand: left}
gaps:
  L: [1 ft]
feeders:
  M: {3 ft: ring @ 3 ft}
  L: {2 ft: yard @ 2 ft}
`

// gathered is what can gather behind a source, by name.
func gathered(t *testing.T, text, source string) districts.Gathering {
	t.Helper()
	tr := trace(t, text)
	for s := range tr.C.Sources {
		if tr.C.Sources[s].Name == source {
			return moving(tr).Of(int32(s))
		}
	}
	t.Fatalf("no %s", source)
	return districts.Gathering{}
}

// TestRoom measures the yard by hand: 3 ft of lead, 1 ft of turnout, 5 and 4 ft of stubs; the
// longest walk is from the gap to the end of Y, never from stub to stub.
func TestRoom(t *testing.T) {
	r := gathered(t, yard, "breaker yard").Room
	feet := func(m float64) float64 { return math.Round(m/0.3048*1e6) / 1e6 }
	if feet(r.Metres) != 13 || feet(r.Longest) != 9 || r.Entrances != 1 || !r.Open || len(r.Blocks) != 0 {
		t.Errorf("%g ft, longest walk %g ft, %d entrances, blocks %v, open %t", feet(r.Metres), feet(r.Longest), r.Entrances, r.Blocks, r.Open)
	}
	all := gathered(t, yard, "booster one").Room
	if feet(all.Metres) != 41 || feet(all.Longest) != 31 || all.Entrances != 0 {
		t.Errorf("behind the booster %g ft, longest walk %g ft, %d entrances", feet(all.Metres), feet(all.Longest), all.Entrances)
	}
}

// TestRoomOfALoop: on a ring of track a walk has no end, so that only its length bounds trains.
func TestRoomOfALoop(t *testing.T) {
	r := gathered(t, power+"tracks:\n  R: {closed: yes, length: 20 ft}\nfeeders:\n  R: {3 ft: ring @ 2 ft}\n", "booster one").Room
	if r.Longest != r.Metres || math.Abs(r.Metres-20*0.3048) > 1e-9 {
		t.Errorf("longest walk %g m of %g m", r.Longest, r.Metres)
	}
}

// TestGathering counts trains in the yard.
func TestGathering(t *testing.T) {
	for _, c := range []struct {
		name, more string
		amps       float64
		trains     int
	}{
		{"two fit, one more over the gap", "trains: {ore: {length: 6 ft, current: 1 A, at-once: 5}}", 3, 3},
		{"too long for the longest walk", "trains: {ore: {length: 10 ft, current: 1 A, at-once: 5}}", 1, 1},
		{"the short end of a range fits", "trains: {ore: {length: 2 .. 10 ft, current: 0.5 .. 1 A, at-once: 5}}", 5, 5},
		{"two move at once", "trains: {ore: {length: 2 ft, current: 1 A, at-once: 5}}\noperations: {at-once: 2}", 2, 2},
		{"one moves in each block", "trains: {ore: {length: 2 ft, current: 1 A, at-once: 5}}\nblocks:\n  whole: {covers: [L @ 1 ft .. end, T2, Y, Z]}", 1, 1},
		{"some track in no block", "trains: {ore: {length: 2 ft, current: 1 A, at-once: 5}}\nblocks:\n  some: {covers: [T2, Y, Z]}", 5, 5},
		{"trains that stay out", "trains: {ore: {length: 2 ft, current: 1 A, at-once: 5}, car: {length: 1 ft, current: 0.2 A}}\nblocks:\n  whole: {covers: [L @ 1 ft .. end, T2, Y, Z], trains: car}", 0.2, 1},
		{"standing loads on rail and wire", "loads:\n  - {at: Y @ 2 ft, draws: 0.3 A}\n  - {at: yard @ 4 ft, draws: 0.1 A}\n  - {at: ring @ 4 ft, draws: 2 A}", 0.4, 0},
	} {
		g := gathered(t, yard+c.more+"\n", "breaker yard")
		if math.Abs(g.Amps-c.amps) > 1e-9 || len(g.Trains) != c.trains {
			t.Errorf("%s: %g A by %d trains, want %g A by %d", c.name, g.Amps, len(g.Trains), c.amps, c.trains)
		}
	}
	g := gathered(t, yard+"trains: {ore: {length: 2 ft}, car: {current: 1 A}}\nloads:\n  - {at: Y @ 2 ft}\n", "breaker yard")
	if len(g.Unknown) != 1 || len(g.Loads) != 1 || g.Amps != 1 || g.Heaviest != 1 {
		t.Errorf("unknown trains %v, loads %v, %g A, heaviest %d", g.Unknown, g.Loads, g.Amps, g.Heaviest)
	}
}

// TestGuardsAbove walks up from the yard's bus, by both positions of a changeover.
func TestGuardsAbove(t *testing.T) {
	tr := trace(t, power+`breakers:
  main: {from: ring @ 1 ft}
  side: {from: ring @ 2 ft}
in-line:
  old: {from: breaker main, kind: fuse, leg: A}
changeovers:
  pick: {positions: {one: in-line old, two: breaker side, off: nothing}}
tracks:
  M: {from: end, to: end, length: 6 ft}
feeders:
  M: {3 ft: ring @ 3 ft}
`)
	var got []string
	for _, g := range tr.GuardsAbove(layout.Source{Kind: layout.FromChangeover}) {
		if g.InLine >= 0 {
			got = append(got, "in-line "+tr.C.Layout.InLines[g.InLine].Name)
		} else {
			got = append(got, tr.C.Sources[g.Source].Name)
		}
	}
	want := []string{"in-line old", "breaker main", "booster one", "breaker side"}
	if len(got) != len(want) {
		t.Fatalf("%q, want %q", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
