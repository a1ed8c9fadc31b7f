package reader

import "testing"

// `gap` is the nearest insulated gap going out from the other bound.
func TestGapBounds(t *testing.T) {
	const text = `tracks:
  M1: {from: end, to: end, length: 20 ft}
  M2: {from: T1 straight, to: end, length: 10 ft}
  M3: {from: T1 points, to: end, length: 10 ft}
  S1: {from: T1 curved, to: end, length: 10 ft}
  S2: {from: T2 curved, to: end, length: 10 ft}
  R1: {closed: yes, length: 30 ft}
turnouts:
  T1: {hand: left}
  T2: {hand: left, at: M2 @ 5 ft, via: points to straight}
gaps:
  M1: [{at: 3 ft, rails: left}, {at: 6 ft, kind: expansion, joint: cut}, 9 ft, 15 ft]
  T1: [straight]
  T2: [points]
  R1: [4 ft, 20 ft]
`
	for covers, want := range map[string]string{
		"M1 @ 0 .. gap":      "M1 @ 0 .. gap = 0.00 .. 3.00 ft, gaps -1 0",
		"M1 @ 3 ft .. gap":   "M1 @ 3 ft .. gap = 3.00 .. 9.00 ft, gaps -1 2",
		"M1 @ gap .. 14 ft":  "M1 @ gap .. 14 ft = 9.00 .. 14.00 ft, gaps 2 -1",
		"M1 @ gap .. end":    "M1 @ gap .. end = 15.00 .. 20.00 ft, gaps 3 -1",
		"M1 @ gap .. 2 ft":   "M1 @ gap .. 2 ft = 0.00 .. 2.00 ft, gaps -1 -1",
		"M1 @ 16 ft .. gap":  "M1 @ 16 ft .. gap = 16.00 .. 20.00 ft, gaps -1 -1",
		"M2 @ gap .. gap":    "M2 @ gap .. gap = 0.00 .. 5.00 ft, gaps 4 5",
		"M2 @ 7 ft .. gap":   "M2 @ 7 ft .. gap = 7.00 .. 10.00 ft, gaps -1 -1",
		"R1 @ 25 ft .. gap":  "R1 @ 25 ft .. gap = 25.00 .. 4.00 ft, gaps -1 6",
		"R1 @ gap .. 2 ft":   "R1 @ gap .. 2 ft = 20.00 .. 2.00 ft, gaps 7 -1",
		"R1 @ 10 ft .. gap":  "R1 @ 10 ft .. gap = 10.00 .. 20.00 ft, gaps -1 7",
		"R1 @ 28 ft .. 2 ft": "R1 @ 28 ft .. 2 ft = 28.00 .. 2.00 ft, gaps -1 -1",
		"M3":                 "M3 = 0.00 .. 10.00 ft, gaps -1 -1",
	} {
		l := sound(t, header+common+text+"blocks:\n  B1: {covers: "+covers+"}\n")
		if got := coverLine(l.Blocks[0].Covers[0]); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// It stays out of what another block claims between two measures, though not out of what
// another claims by a gap.
func TestGapBoundsAndClaims(t *testing.T) {
	l := sound(t, header+common+`tracks:
  M1: {from: end, to: end, length: 20 ft}
  R1: {closed: yes, length: 30 ft}
gaps:
  M1: [15 ft]
  R1: [14 ft]
blocks:
  B1: {covers: M1 @ 8 .. 12 ft}
  B2: {covers: [M1 @ 0 .. gap, M1 @ gap .. end]}
  B3: {covers: M1 @ gap .. 14 ft}
  B4: {covers: [R1 @ 25 ft .. 1 ft, R1 @ 5 .. 6 ft]}
  B5: {covers: [R1 @ gap .. 4 ft, R1 @ 7 ft .. gap, R1 @ 20 ft .. gap]}
`)
	want := `M1 @ 0 .. gap = 0.00 .. 8.00 ft, gaps -1 -1
M1 @ gap .. end = 15.00 .. 20.00 ft, gaps 0 -1
`
	if got := lines(l.Blocks[1].Covers, coverLine); got != want {
		t.Errorf("B2:\n%swant:\n%s", got, want)
	}
	if got, want := coverLine(l.Blocks[2].Covers[0]), "M1 @ gap .. 14 ft = 12.00 .. 14.00 ft, gaps -1 -1"; got != want {
		t.Errorf("B3: %s, want %s", got, want)
	}
	want = `R1 @ gap .. 4 ft = 1.00 .. 4.00 ft, gaps -1 -1
R1 @ 7 ft .. gap = 7.00 .. 14.00 ft, gaps -1 1
R1 @ 20 ft .. gap = 20.00 .. 25.00 ft, gaps -1 -1
`
	if got := lines(l.Blocks[4].Covers, coverLine); got != want {
		t.Errorf("B5:\n%swant:\n%s", got, want)
	}
}
