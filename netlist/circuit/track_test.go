package circuit_test

import (
	"testing"

	"gapwise/netlist/layout"
)

// body is a turnout that stands on a track; its third end has a track of its own.
func body(name, at, via, other string) string {
	return "  " + name + ": {hand: right, length: 6 in, wiring: dead-frog, jumpers: yes, at: " + at + ", via: " + via + "}\n" +
		"tracks:\n  leg-" + name + ": {from: " + name + " " + other + ", to: end, length: 1 ft}\n"
}

// The rails of a track, from its start to its end, both rails.
func TestTrackRails(t *testing.T) {
	const gap = "defaults: {gap: {kind: insulated, rails: both}, joint: {kind: soldered}}\n"
	const open = "tracks: {M: {from: end, to: end, length: 10 ft}}\n"
	const ring = "  M: {closed: yes, length: 20 ft}\n"
	for _, tt := range []struct {
		name, text  string
		left, right string
	}{
		{"nothing on it", open, "0..10", "0..10"},
		{"two feeders", power + open + "feeders: {M: {A: left, 2 ft: ring @ 1 ft, 9 ft: ring @ 2 ft}}", "0..2 2..9 9..10", "0..2 2..9 9..10"},
		{"two feeders at one place", power + open + "feeders: {M: {A: left, 2 ft: [ring @ 1 ft, ring @ 2 ft]}}", "0..2 2..10", "0..2 2..10"},
		{"feeders at its ends", power + open + "feeders: {M: {A: left, start: ring @ 1 ft, end: ring @ 2 ft}}", "0..10", "0..10"},
		{"gap in both rails", gap + open + "gaps: {M: [4 ft]}", "0..4 |0 4..10", "0..4 |0 4..10"},
		{"gap in the left rail", gap + open + "gaps: {M: [{at: 4 ft, rails: left}]}", "0..4 |0 4..10", "0..4 = 4..10"},
		{"gap in the right rail", gap + open + "gaps: {M: [{at: 4 ft, rails: right}]}", "0..4 = 4..10", "0..4 |0 4..10"},
		{"gap listed rail by rail", gap + open + "gaps: {M: [{at: 4 ft, rails: left}, {at: 4 ft, rails: right}]}", "0..4 |0 4..10", "0..4 |1 4..10"},
		{"gaps side by side", gap + open + "gaps: {M: [{at: 4 ft, rails: left}, {at: 4 ft 1 in, rails: right}]}", "0..4 |0 4..4.083 = 4.083..10", "0..4 = 4..4.083 |1 4.083..10"},
		{
			"gap in the rail of leg A", power + gap + open + "feeders: {M: {A: right, 2 ft: ring @ 1 ft}}\ngaps: {M: [{at: 4 ft, rails: A}, {at: 5 ft, rails: B}]}",
			"0..2 2..4 = 4..5 |1 5..10", "0..2 2..4 |0 4..5 = 5..10",
		},
		{"gap measured from the end", gap + open + "gaps: {M: [4 ft from end]}", "0..6 |0 6..10", "0..6 |0 6..10"},
		{"a row of gaps", gap + open + "gaps: {M: [{at: 2 .. 9 ft, every: 3 ft}]}", "0..2 |0 2..5 |1 5..8 |2 8..10", "0..2 |0 2..5 |1 5..8 |2 8..10"},
		{"gap bridged by a lamp", power + gap + open + "in-line: {lamp: {from: ring @ 1 ft, kind: lamp, leg: A}}\ngaps: {M: [{at: 4 ft, rails: left, bridged-by: lamp}]}", "0..4 ?0 4..10", "0..4 = 4..10"},
		{
			"expansion gaps", open + "gaps: {M: [{at: 2 ft, kind: expansion, rails: both, joint: cut}, {at: 4 ft, kind: expansion, rails: both, joint: sliding}, {at: 6 ft, kind: expansion, rails: left, joint: bonded}]}",
			"0..2 |0 2..4 ?1 4..6 =2 6..10", "0..2 |0 2..4 ?1 4..6 = 6..10",
		},
		{
			"joint in each rail", open + "joints: {M: [{at: 3 ft, kind: soldered}, {at: 5 ft, kind: plain}, {at: 7 ft, rails: left, kind: unknown}, {at: 8 ft, rails: right, kind: unknown}]}",
			"0..3 = 3..5 = 5..7 ? 7..8 = 8..10", "0..3 = 3..5 = 5..7 = 7..8 ? 8..10",
		},
		{"plain joiners that nobody trusts", open + "joints: {M: [{at: 5 ft, rails: left, kind: plain}]}\npractice: [joiners-not-trusted]", "0..5 ? 5..10", "0..5 = 5..10"},
		{"joint and gap at one place", gap + open + "joints: {M: [{at: 5 ft, kind: unknown}]}\ngaps: {M: [{at: 5 ft, rails: left}]}", "0..5 ? |0 5..10", "0..5 ? = 5..10"},

		{"ring", "tracks:\n" + ring, "0..20", "0..20"},
		{"ring with a body", "turnouts:\n" + body("T", "M @ 5 ft", "points to straight", "curved") + ring, "0..5 [T] 5.5..20", "0..5 [T] 5.5..20"},
		{"ring with a body across the start", "turnouts:\n" + body("T", "M @ 19 ft 9 in", "points to straight", "curved") + ring, "0.25..19.75 [T]", "0.25..19.75 [T]"},
		{"ring with a body up to the start", "turnouts:\n" + body("T", "M @ 19 ft 6 in", "points to straight", "curved") + ring, "0..19.5 [T]", "0..19.5 [T]"},
		{"ring with a body from the start", "turnouts:\n" + body("T", "M @ 0", "points to straight", "curved") + ring, "[T] 0.5..20", "[T] 0.5..20"},

		{"bodies at stations", "turnouts:\n" + body("T", "M @ 2 ft", "points to straight", "curved") + "  M: {from: end, to: end, length: 10 ft}\n", "0..2 [T] 2.5..10", "0..2 [T] 2.5..10"},
		{"gap between a body and the end", gap + "turnouts:\n" + body("T", "M @ 2 ft", "curved to points", "straight") + "  M: {from: end, to: end, length: 10 ft}\ngaps: {M: [4 ft]}", "0..2 [T] 2.5..4 |0 4..10", "0..2 [T] 2.5..4 |0 4..10"},

		{"length in a range", gap + "tracks: {M: {from: end, to: end, length: 10 .. 11 ft}}\ngaps: {M: [10 ft 9 in]}", "0..10.5 |0", "0..10.5 |0"},
		{"length unknown", gap + "tracks: {M: {from: end, to: end, length: unknown}}\ngaps: {M: [4 ft, {at: 7 ft, rails: left}]}", "0..4 |0 4..7 |1", "0..4 |0 4..7 ="},
		{"ring of unknown length", gap + "turnouts:\n" + body("T", "M @ 5 ft", "points to straight", "curved") + "  M: {closed: yes, length: unknown}\ngaps: {M: [8 ft]}", "0..5 [T] 5.5..8 |0", "0..5 [T] 5.5..8 |0"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := build(t, head+tt.text)
			m := c.Layout.Pieces[piece(t, c, "M")].Index
			for rail, want := range []string{tt.left, tt.right} {
				if got := trackText(c, m, layout.Rail(rail)); got != want {
					t.Errorf("%s rail\n got: %s\nwant: %s", railWord[rail], got, want)
				}
			}
		})
	}
}

// What hangs on a rail, at whichever spot.
func TestFeederSpots(t *testing.T) {
	c := build(t, head+power+`defaults: {gap: {kind: insulated, rails: both}, feeder: {A: left}}
turnouts:
`+body("T", "M @ 2 ft", "points to straight", "curved")+`  M: {from: end, to: end, length: 10 ft}
  U: {from: end, to: end, length: unknown}
feeders:
  M: {start: ring @ 1 ft, 1 ft: ring @ 1 ft, 8 ft: ring @ 1 ft, 2 in from end: ring @ 1 ft, end: ring @ 1 ft}
  T: {points: ring @ 2 ft, curved: ring @ 3 ft}
  U: {3 ft: ring @ 4 ft, end: ring @ 5 ft}
gaps: {U: [6 ft], M: [9 ft]}
`)
	var got string
	for i, f := range c.Layout.Feeders {
		got += f.Place.Text + ": " + spotText(c, c.FeederSpot[i]) + "\n"
	}
	check(t, got, `
M @ start: M @ 0
M @ 1 ft: M @ 1
M @ 8 ft: M @ 8
M @ 2 in from end: M @ 9.833
M @ end: M @ 10
T points: T points
T curved: T curved
U @ 3 ft: U @ 3
U @ end: U @ 6
`)
	u := c.Layout.Pieces[piece(t, c, "U")].Index
	if last, want := c.FeederSpot[len(c.FeederSpot)-1], c.TrackSpots[u][3]; last != want {
		t.Errorf("the feeder at the end of U is at spot %d, want %d behind the gap", last, want)
	}
	if got, want := trackText(c, u, layout.Left), "0..3 3..6 |0"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// A feeder at the end of a track is on the track's side of a body that touches it.
func TestFeederAtTouchingBody(t *testing.T) {
	c := build(t, head+power+`turnouts:
`+body("T", "M @ 0", "points to straight", "curved")+`  M: {from: end, to: end, length: 10 ft}
feeders:
  M: {A: left, start: ring @ 1 ft, 5 ft: ring @ 2 ft}
`)
	if got, want := c.FeederSpot[0], c.TrackSpots[c.Layout.Pieces[piece(t, c, "M")].Index][0]; got != want {
		t.Errorf("the feeder is at spot %d (%s), want %d", got, spotText(c, got), want)
	}
}

func TestUnknownLengthIsSaid(t *testing.T) {
	c := build(t, head+power+`defaults: {gap: {kind: insulated, rails: both}}
tracks:
  U: {from: end, to: end, length: unknown}
feeders:
  U: {A: left, 3 ft: ring @ 4 ft, 2 in from end: ring @ 5 ft}
gaps: {U: [8 in from end]}
`)
	check(t, notModelled(c), `
11: where U @ 2 in from end is: it is measured from the end of a track whose length is unknown
12: where U @ 8 in from end is: it is measured from the end of a track whose length is unknown
9: how far U runs: its length is unknown; its rails are laid as far as what stands on them
`)
	if c.FeederSpot[0] < 0 || c.FeederSpot[1] >= 0 {
		t.Errorf("feeders stand at %v", c.FeederSpot)
	}
	if got, want := trackText(c, 0, layout.Left), "0..3 |0"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
