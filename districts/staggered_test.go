package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"
)

// staggerPlan is a line from booster one to booster two with the gaps given, and more
// entries after them.
func staggerPlan(gaps, more string) string {
	return `gapwise: 1
layout: Test
defaults:
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
  two: {supply: wall, volts: 15 V}
buses:
  near: {from: booster one, wire: 14 AWG, length: 44 ft}
  far:  {from: booster two, wire: 14 AWG, length: 44 ft}
tracks:
  M1: {from: end, to: M2 end, length: 10 ft}
  M2: {from: end, to: M1 end, length: 10 ft}
gaps: ` + gaps + `
feeders:
  M1: {2 ft: near @ 6 ft}
  M2: {2 ft: {from: far @ 2 ft, A: right}` + more + `}
`
}

// TestStaggered says of pairs of one-rail gaps whether they are one gap, as which rails are
// metal on which side: worked out by hand. M1 and M2 meet end to end, so that left
// becomes right on the way.
func TestStaggered(t *testing.T) {
	for _, c := range []struct {
		name, gaps, more string
		want             string // offset in inches and the ties of the two boosters
	}{
		{"an inch apart on one track", "{M1: [{at: 5 ft, rails: left}, {at: 5 ft 1 in, rails: right}]}", "", "1 in, 0 ties"},
		{"over the joint of like ends", "{M1: [{at: 9 ft 10 in, rails: left}], M2: [{at: 9 ft 10 in, rails: left}]}", "", "4 in, 0 ties"},
		{"the same rail twice over that joint", "{M1: [{at: 9 ft 10 in, rails: left}], M2: [{at: 9 ft 10 in, rails: right}]}", "", "none, 1 ties"},
		{"the same rail twice", "{M1: [{at: 5 ft, rails: left}, {at: 5 ft 1 in, rails: left}]}", "", "none, 1 ties"},
		{"a foot apart", "{M1: [{at: 5 ft, rails: left}, {at: 6 ft, rails: right}]}", "", "none, 1 ties"},
		{"a feeder between", "{M2: [{at: 5 ft, rails: left}, {at: 5 ft 4 in, rails: right}]}", ", 5 ft 2 in: {from: far @ 5 ft, A: right}", "none, 1 ties"},
		{"one of them an expansion gap", "{M1: [{at: 5 ft, rails: left}, {at: 5 ft 1 in, rails: right, kind: expansion, joint: cut}]}", "", "none, 1 ties"},
		{"the nearer of two", "{M1: [{at: 5 ft, rails: left}, {at: 5 ft 6 in, rails: right}, {at: 5 ft 8 in, rails: left}]}", "", "2 in, 0 ties"},
	} {
		tr := trace(t, staggerPlan(c.gaps, c.more))
		got := "none"
		if len(tr.Staggered) > 0 {
			got = names(tr.Staggered, func(s districts.Staggered) string { return fmt.Sprintf("%.0f in", s.Offset/0.0254) })
		}
		if got = fmt.Sprintf("%s, %d ties", got, len(tr.Ties)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestStaggeredStandsAtTheBound looks which of two cuts stands for the gap: the one where
// blocks are meant to meet.
func TestStaggeredStandsAtTheBound(t *testing.T) {
	for bound, want := range map[string]string{"5 ft": "5 ft", "5 ft 10 in": "5.83 ft"} {
		tr := trace(t, staggerPlan("{M1: [{at: 5 ft, rails: left}, {at: 5 ft 10 in, rails: right}]}\nblocks: {one: {covers: M1 @ 0 .. "+bound+"}, two: {covers: [M1 @ "+bound+" .. end, M2]}}", ""))
		if got := names(tr.Staggered, func(s districts.Staggered) string { return inFeet(tr.C.Spots[tr.C.Ways[s.Way].A].At) }); got != want {
			t.Errorf("with a bound at %s the gap stands at %s", bound, got)
		}
		if len(tr.Differences) > 0 {
			t.Errorf("with a bound at %s the blocks differ: %+v", bound, tr.Differences)
		}
	}
}

// TestStaggeredSectionIsMeasuredInside takes a reversing section whose gaps are each cut in
// two places 6 in apart: what a train must fit into lies between the inner cuts.
func TestStaggeredSectionIsMeasuredInside(t *testing.T) {
	tr := trace(t, `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
reversers:
  loop: {from: main @ 9 ft, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 44 ft}
  loop: {from: reverser loop, wire: 14 AWG, length: 44 ft}
tracks:
  M1: {from: end, to: T1 points, length: 5 ft}
  BL: {from: T1 straight, to: T1 curved, length: 20 ft}
turnouts:
  T1: {hand: left}
gaps:
  BL: [{at: 2 ft, rails: left}, {at: 2 ft 6 in, rails: right}, {at: 18 ft, rails: right}, {at: 18 ft 6 in, rails: left}]
feeders:
  M1: {2 ft: main @ 2 ft}
  BL: {10 ft: loop @ 2 ft}
`)
	if len(tr.Ties) > 0 || len(tr.Reversing) != 1 {
		t.Fatalf("%d ties, %d sections", len(tr.Ties), len(tr.Reversing))
	}
	if got := inFeet(tr.Reversing[0].Through); got != "15.5 ft" {
		t.Errorf("the section holds %s, want 15.5 ft", got)
	}
}
