package reader

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/layout"
)

// gapsAt reads a layout and prints its gaps.
func gapsAt(t *testing.T, text string) string {
	t.Helper()
	l := sound(t, header+common+text)
	return lines(l.Gaps, gapLine(l))
}

func TestPlaceSpellings(t *testing.T) {
	got := gapsAt(t, `tracks:
  M1: {from: end, to: end, length: 10 ft}
  M2: {from: end, to: end, length: 3 m}
gaps:
  M1: [0, end, 1' 6", 8 in from end, 7 ft .. 7 ft 6 in]
  M2: [50 cm, 3 m, 250 cm]
`)
	want := `M1 @ 0: M1 start both
M1 @ end: M1 end both
M1 @ 1' 6": M1 @ 0.457 both
M1 @ 8 in from end: M1 @ 2.845 both
M1 @ 7 ft .. 7 ft 6 in: M1 @ 2.134 both
M2 @ 50 cm: M2 @ 0.500 both
M2 @ 3 m: M2 end both
M2 @ 250 cm: M2 @ 2.500 both
`
	if got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
}

// A place on a track of uncertain length, measured from its end, is as uncertain.
func TestFromEndOfRange(t *testing.T) {
	l := sound(t, header+common+`tracks:
  M1: {from: end, to: end, length: 9 .. 10 ft}
  M2: {from: end, to: end, length: unknown}
gaps:
  M1: [1 .. 1.5 ft from end]
  M2: [1 ft from end, 50 ft]
`)
	if g := l.Gaps[0].Place; !metres(g.At, 7.5*ft, 9*ft) || !g.FromEnd || g.Text != "M1 @ 1 .. 1.5 ft from end" {
		t.Errorf("%+v", g)
	}
	if g := l.Gaps[1].Place; g.At.Known() || !g.At.Said() || !g.FromEnd {
		t.Errorf("%+v", g)
	}
	if g := l.Gaps[2].Place; !metres(g.At, 50*ft, 50*ft) {
		t.Errorf("%+v", g)
	}
}

// A body's edge is the joint there, named by the walk of the body: T2 stands the other
// way round, so the ruler's left rail is its right.
func TestBodyEdges(t *testing.T) {
	got := gapsAt(t, `tracks:
  M1: {from: end, to: end, length: 10 ft}
  S1: {from: T1 curved, to: end, length: 3 ft}
  S2: {from: T2 curved, to: end, length: 3 ft}
turnouts:
  T1: {hand: left, at: M1 @ 2 ft, via: points to straight}
  T2: {hand: left, at: M1 @ 6 ft, via: straight to points}
gaps:
  M1: [{at: 2 ft, rails: left}, {at: 2 ft 11 in, rails: left}, {at: 6 ft, rails: left}, {at: 83 in, rails: left}]
  T1: [{at: curved, rails: inner}, {at: straight, rails: right}]
`)
	want := `M1 @ 2 ft: T1 points left
M1 @ 2 ft 11 in: T1 straight left
M1 @ 6 ft: T2 straight right
M1 @ 83 in: T2 points right
T1 curved: T1 curved right
T1 straight: T1 straight right
`
	if got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
}

// All names of one joint are one place.
func TestOnePlaceManyNames(t *testing.T) {
	for _, c := range []struct{ name, gaps, want string }{
		{"joint by its two sides, like ends", "M2: [{at: start, rails: left}]\n  T3: [{at: points, rails: right}]", "two gaps at one place; the other at line 20"},
		{"joint by its two sides, other rail", "M2: [{at: start, rails: left}]\n  T3: [{at: points, rails: left}]", ""},
		{"like ends, one word", "M1: [{at: end, rails: left}]\n  T3: [{at: straight, rails: left}]", ""},
		{"unlike ends, one word", "S3: [{at: start, rails: left}]\n  T3: [{at: curved, rails: left}]", "two gaps at one place; the other at line 20"},
		{"ring's end and start", "R1: [{at: 0, rails: left}, {at: end, rails: left}]", "two gaps at one place; the other at line 20"},
		{"ring's full length", "R1: [{at: 20 ft, rails: left}, {at: start, rails: right}]", ""},
		{"touching bodies", "T1: [{at: straight, rails: left}]\n  T2: [{at: points, rails: left}]", "two gaps at one place; the other at line 20"},
		{"body at a track's start", "M3: [{at: start, rails: left}]\n  T1: [{at: points, rails: left}]", "two gaps at one place; the other at line 20"},
		{"body at a track's start, other rail", "M3: [{at: start, rails: left}]\n  T1: [{at: points, rails: right}]", ""},
		{"body at a track's end", "M3: [{at: end, rails: left}]\n  T2: [{at: straight, rails: both}]", "two gaps at one place; the other at line 20"},
	} {
		got := messages(t, header+common+`tracks:
  M1: {from: end, to: T3 straight, length: 3 ft}
  M2: {from: T3 points, to: end, length: 3 ft}
  M3: {from: end, to: end, length: 22 in}
  S1: {from: T1 curved, to: end, length: 3 ft}
  S2: {from: T2 curved, to: end, length: 3 ft}
  S3: {from: T3 curved, to: end, length: 3 ft}
  R1: {closed: yes, length: 20 ft}
turnouts:
  T1: {hand: left, at: M3 @ 0, via: points to straight}
  T2: {hand: left, at: M3 @ 11 in, via: points to straight}
  T3: {hand: left}
gaps:
  `+c.gaps+"\n")
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A feeder at a track's end is on the track, at a piece's end on the piece; elsewhere it
// may stand neither on a gap nor on a body's edge.
func TestFeederSides(t *testing.T) {
	const tracks = `tracks:
  M1: {from: T1 straight, to: end, length: 10 ft}
  M2: {from: T1 points, to: end, length: 3 ft}
  S1: {from: T1 curved, to: end, length: 3 ft}
  S2: {from: T2 curved, to: end, length: 3 ft}
turnouts:
  T1: {hand: left}
  T2: {hand: left, at: M1 @ 2 ft, via: points to straight}
gaps:
  M1: [start, {at: 5 ft, rails: left}]
`
	l := sound(t, header+power+common+tracks+"feeders:\n  M1: {start: ring @ 1 ft}\n  T1: {straight: ring @ 1 ft}\n  T2: {points: ring @ 2 ft}\n")
	var got []string
	for _, f := range l.Feeders {
		got = append(got, fmt.Sprint(l.Pieces[f.Place.Piece].Name, f.Place.End))
	}
	if s := strings.Join(got, " "); s != "M10 T11 T20" {
		t.Errorf("feeders at %s", s)
	}
	for place, want := range map[string]string{
		"2 ft":       "on which side of the edge of T2? e.g. T2 points",
		"2 ft 11 in": "on which side of the edge of T2? e.g. T2 straight",
		"60 in":      "on which side of the gap? e.g. M1 @ 5 ft 1 in",
		"2 ft 1 in":  "M1 @ 2 ft 1 in is inside T2",
		"5 ft 1 in":  "",
	} {
		if got := messages(t, header+power+common+tracks+"feeders:\n  M1: {"+place+": ring @ 3 ft}\n"); got != want {
			t.Errorf("%s: %q, want %q", place, got, want)
		}
	}
	for what, text := range map[string]string{
		"a bond": "bonds:\n  - {from: M1 @ 5 ft, to: M2 @ 1 ft, rails: both}\n",
		"a load": "loads:\n  - {at: M1 @ 5 ft, kind: lamp}\n",
	} {
		if got, want := messages(t, header+power+common+tracks+text), "on which side of the gap? e.g. M1 @ 5 ft 1 in"; got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
}

// Measures that overlap leave two orders open; a body's may not.
func TestUncertainOrders(t *testing.T) {
	l := sound(t, header+power+common+`tracks:
  M1: {from: end, to: end, length: 10 ft}
gaps:
  M1: [3 ft .. 3 ft 8 in, 6 ft]
joints:
  M1: [{at: 6 ft 1 in, kind: plain}]
feeders:
  M1: {3 ft 6 in: ring @ 3 ft, 3 ft 7 in .. 4 ft: ring @ 4 ft, 3 ft 9 in: ring @ 4 ft}
`)
	got := lines(l.UncertainOrders, func(u layout.UncertainOrder) string {
		return fmt.Sprint(u.Track, u.First, u.Second)
	})
	want := "0{0 0}{2 0}\n0{0 0}{2 1}\n0{2 2}{2 1}\n"
	if strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(want, " ", "") {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
}
