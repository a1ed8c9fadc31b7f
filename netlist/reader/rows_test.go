package reader

import (
	"testing"

	"gapwise/netlist/layout"
)

func TestRows(t *testing.T) {
	l := sound(t, header+power+common+`tracks:
  M1: {from: end, to: end, length: 20 ft}
  R1: {closed: yes, length: 30 ft}
feeders:
  M1:
    2 .. 9 ft: {every: 3 ft, from: ring @ 3 ft, A-from: ring @ 20 .. 14 ft, name: f}
    11 .. 17 ft: {every: 3 ft, from: ring @ 40 .. 30 ft}
  R1:
    28 ft .. 3 ft: {every: 2 ft, from: ring @ 1 ft}
gaps:
  M1: [{at: 10 ft 6 in from end .. 2 ft from end, every: 4 ft, rails: left}]
joints:
  M1: [{at: 1 .. 20 ft, every: 6 ft, kind: plain, rails: right}]
`)
	want := `M1 @ 2 ft: ring @ 20 ft | ring @ 3 ft f-1
M1 @ 5 ft: ring @ 17 ft | ring @ 6 ft f-2
M1 @ 8 ft: ring @ 14 ft | ring @ 9 ft f-3
M1 @ 11 ft: ring @ 40 ft | ring @ 40 ft
M1 @ 14 ft: ring @ 35 ft | ring @ 35 ft
M1 @ 17 ft: ring @ 30 ft | ring @ 30 ft
R1 @ 28 ft: ring @ 1 ft | ring @ 1 ft
R1 @ 30 ft: ring @ 3 ft | ring @ 3 ft
R1 @ 2 ft: ring @ 5 ft | ring @ 5 ft
`
	if got := lines(l.Feeders, feederLine); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if f := l.Feeders[7]; f.Place.End != 0 || f.Row != (layout.Row{Number: 2, Count: 3}) {
		t.Errorf("the ring's end is its start: %+v", f.Place)
	}
	want = "M1 @ 10 ft 6 in from end: M1 @ 2.896 left\nM1 @ 13 ft 6 in: M1 @ 4.115 left\nM1 @ 17 ft 6 in: M1 @ 5.334 left\n"
	if got := lines(l.Gaps, gapLine(l)); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if j := l.Joints; len(j) != 4 || j[3].Place.Text != "M1 @ 19 ft" || j[3].Rails != layout.RightRail || j[3].Kind != layout.Plain {
		t.Errorf("joints: %+v", j)
	}
}

// A default `every` makes rows of stretches only: a place stays a place, and a range
// within 12 in an uncertain measure.
func TestDefaultEvery(t *testing.T) {
	l := sound(t, header+`defaults:
  joint: {kind: plain, every: 3 ft}
tracks:
  M1: {from: end, to: end, length: 20 ft}
joints:
  M1: [{at: 1 ft}, {at: 15 ft .. 15 ft 6 in}, {at: 2 .. 9 ft}]
`)
	if len(l.Joints) != 5 || l.Joints[1].Row.Count != 0 || l.Joints[4].Place.Text != "M1 @ 8 ft" || !metres(l.Joints[1].Place.At, 15*ft, 15.5*ft) {
		t.Errorf("%+v", l.Joints)
	}
	if !metres(l.Tracks[0].JointEvery, 3*ft, 3*ft) {
		t.Errorf("%+v", l.Tracks[0].JointEvery)
	}
}

// Metric rows are named in metric.
func TestMetricRow(t *testing.T) {
	l := sound(t, header+common+`tracks:
  M1: {from: end, to: end, length: 4 m}
gaps:
  M1: [{at: 25 cm .. 3.5 m, every: 1.125 m}]
`)
	want := "M1 @ 25 cm: M1 @ 0.250 both\nM1 @ 1.375 m: M1 @ 1.375 both\nM1 @ 2.5 m: M1 @ 2.500 both\n"
	if got := lines(l.Gaps, gapLine(l)); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
}
