package reader

import (
	"testing"

	"gapwise/netlist/layout"
)

// `rails: A` is the rail that the nearest feeder of the track says.
func TestRailOfLeg(t *testing.T) {
	const text = `tracks:
  M1: {from: T1 straight, to: end, length: 20 ft}
  M2: {from: T1 points, to: end, length: 5 ft}
  S1: {from: T1 curved, to: end, length: 5 ft}
  S2: {from: T2 curved, to: end, length: 5 ft}
  R1: {closed: yes, length: 20 ft}
turnouts:
  T1: {hand: right}
  T2: {hand: left, at: M1 @ 11 ft, via: straight to points}
feeders:
  M1: {2 ft: ring @ 2 ft, 18 ft: {from: ring @ 18 ft, A: right}}
  M2: {1 ft: ring @ 1 ft}
  R1: {1 ft: {from: ring @ 1 ft, A: right}, 12 ft: ring @ 12 ft}
gaps:
`
	for _, c := range []struct {
		gap  string
		want layout.RailSet
	}{
		{"M1: [{at: 9 ft, rails: A}]", layout.LeftRail},
		{"M1: [{at: 9 ft, rails: B}]", layout.RightRail},
		{"M1: [{at: 12 ft, rails: A}]", layout.RightRail},
		{"M1: [{at: start, rails: A}]", layout.LeftRail},
		{"M1: [{at: end, rails: A}]", layout.RightRail},
		{"T1: [{at: straight, rails: A}]", layout.LeftRail},
		{"T1: [{at: points, rails: A}]", layout.RightRail},  // M2 starts where T1 starts: turned over
		{"T2: [{at: straight, rails: A}]", layout.LeftRail}, // T2 stands the other way round on M1
		{"R1: [{at: 18 ft, rails: A}]", layout.RightRail},   // 3 ft round through the start
		{"R1: [{at: 9 ft, rails: A}]", layout.LeftRail},
	} {
		l := sound(t, header+power+common+text+"  "+c.gap+"\n")
		if got := l.Gaps[0].Rails; got != c.want {
			t.Errorf("%s: %s, want %s", c.gap, layout.RailSetWords[got], layout.RailSetWords[c.want])
		}
	}
	for gap, want := range map[string]string{
		"M1: [{at: 10 ft, rails: A}]":    "no feeder of this track tells which rail has leg A", // as near to one as to the other
		"S1: [{at: 1 ft, rails: B}]":     "no feeder of this track tells which rail has leg B",
		"T1: [{at: curved, rails: A}]":   "no feeder of this track tells which rail has leg A",
		"T1: [{at: points, rails: out}]": "no such rails",
	} {
		if got := messages(t, header+power+common+text+"  "+gap+"\n"); got != want {
			t.Errorf("%s: %q, want %q", gap, got, want)
		}
	}
}

// The rail from the frog is the inner rail of each leg.
func TestInnerRail(t *testing.T) {
	for _, c := range []struct {
		hand, leg, rails string
		want             layout.RailSet
	}{
		{"right", "straight", "inner", layout.RightRail},
		{"right", "curved", "inner", layout.LeftRail},
		{"right", "curved", "outer", layout.RightRail},
		{"left", "straight", "inner", layout.LeftRail},
		{"left", "curved", "inner", layout.RightRail},
		{"wye", "left", "inner", layout.RightRail},
		{"wye", "right", "inner", layout.LeftRail},
		{"curved-left", "inner", "inner", layout.RightRail},
		{"curved-left", "outer", "inner", layout.LeftRail},
		{"curved-right", "inner", "inner", layout.LeftRail},
		{"curved-right", "outer", "outer", layout.LeftRail},
	} {
		legs := map[string][2]string{"wye": {"left", "right"}, "curved-left": {"inner", "outer"}, "curved-right": {"inner", "outer"}}[c.hand]
		if legs[0] == "" {
			legs = [2]string{"straight", "curved"}
		}
		l := sound(t, header+common+`tracks:
  M1: {from: T1 points, to: end, length: 5 ft}
  M2: {from: T1 `+legs[0]+`, to: end, length: 5 ft}
  M3: {from: T1 `+legs[1]+`, to: end, length: 5 ft}
turnouts:
  T1: {hand: `+c.hand+`}
gaps:
  T1: [{at: `+c.leg+`, rails: `+c.rails+`}]
`)
		if got := l.Gaps[0].Rails; got != c.want {
			t.Errorf("%s %s, %s: %s", c.hand, c.leg, c.rails, layout.RailSetWords[got])
		}
	}
	l := sound(t, header+common+`tracks:
  M1: {from: W points, to: end, length: 5 ft}
  M2: {from: W left, to: end, length: 5 ft}
  M3: {from: W straight, to: end, length: 5 ft}
  M4: {from: W right, to: end, length: 5 ft}
three-ways:
  W: {construction: symmetric, wiring: dead-frog}
gaps:
  W: [{at: left, rails: inner}, {at: right, rails: inner}]
`)
	if l.Gaps[0].Rails != layout.RightRail || l.Gaps[1].Rails != layout.LeftRail {
		t.Errorf("three-way: %+v", l.Gaps)
	}
}
