package districts_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/districts"
)

// railPlan is one booster and the tracks, joints and feeders given.
func railPlan(joint, rest string) string {
	return `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: ` + joint + `
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
buses:
  main: {from: booster one, wire: 14 AWG, length: 44 ft}
` + rest
}

func partText(tr *districts.Trace, p districts.RailPart) string {
	return fmt.Sprintf("%s %s %s..%s", tr.C.Layout.Tracks[p.Track].Name, [2]string{"left", "right"}[p.Rail], inFeet(p.From), inFeet(p.To))
}

func lengthText(tr *districts.Trace, r districts.RailLength) string {
	return sorted(r.Parts, func(p districts.RailPart) string { return partText(tr, p) }) + " " + [3]string{"none", "maybe", "fed"}[r.Feeder]
}

// TestRailLengths lists rail between loose joints, worked out by hand.
func TestRailLengths(t *testing.T) {
	for _, c := range []struct {
		name, joint, rest string
		want              []string
	}{
		{
			"a row of default joints, one of them named as soldered", "{kind: plain, every: 3 ft}",
			"tracks: {M1: {from: end, to: end, length: 12 ft}}\njoints: {M1: [{at: 6 ft, rails: left, kind: soldered}]}\nfeeders: {M1: {4 ft: main @ 1 ft}}\n",
			[]string{
				"M1 left 0 ft..3 ft none", "M1 right 0 ft..3 ft none", "M1 left 3 ft..9 ft fed", "M1 right 3 ft..6 ft fed",
				"M1 right 6 ft..9 ft none", "M1 left 9 ft..12 ft none", "M1 right 9 ft..12 ft none",
			},
		},
		{
			"joints of unknown kind", "{kind: unknown, every: 3 ft}",
			"tracks: {M1: {from: end, to: end, length: 6 ft}}\nfeeders: {M1: {4 ft: main @ 1 ft}}\n",
			[]string{"M1 left 0 ft..3 ft maybe", "M1 right 0 ft..3 ft maybe", "M1 left 3 ft..6 ft fed", "M1 right 3 ft..6 ft fed"},
		},
		{
			"a soldered turnout with jumpers joins its legs, over its plain end it does not", "{kind: soldered}",
			"tracks: {M1: {from: end, to: T1 points, length: 3 ft}, M2: {from: T1 straight, to: end, length: 3 ft}, M3: {from: T1 curved, to: end, length: 3 ft}}\nturnouts: {T1: {hand: left}}\njoints: {T1: [{at: curved, kind: plain}]}\nfeeders: {M1: {1 ft: main @ 1 ft}}\n",
			[]string{"M1 left 0 ft..3 ft, M2 left 0 ft..3 ft fed", "M1 right 0 ft..3 ft, M2 right 0 ft..3 ft fed", "M3 left 0 ft..3 ft none", "M3 right 0 ft..3 ft none"},
		},
		{
			"a bond over a gap, and a feeder that may be broken", "{kind: soldered}",
			"tracks: {M1: {from: end, to: end, length: 9 ft}}\ngaps: {M1: [3 ft, 6 ft]}\nbonds: [{from: M1 @ 2 ft, to: M1 @ 4 ft, rails: both}]\nfeeders: {M1: {1 ft: main @ 1 ft, 8 ft: {from: main @ 8 ft, broken: unknown}}}\n",
			[]string{"M1 left 0 ft..6 ft fed", "M1 right 0 ft..6 ft fed", "M1 left 6 ft..9 ft maybe", "M1 right 6 ft..9 ft maybe"},
		},
		{
			"a lift-out is never soldered, a sliding joint neither", "{kind: soldered}",
			"tracks: {M1: {from: end, to: M2 start, length: 3 ft}, M2: {from: M1 end, to: end, length: 6 ft, lift-out: yes}}\ngaps: {M2: [{at: 3 ft, kind: expansion, joint: sliding}]}\nfeeders: {M1: {1 ft: main @ 1 ft}}\n",
			[]string{"M1 left 0 ft..3 ft fed", "M1 right 0 ft..3 ft fed", "M2 left 0 ft..3 ft none", "M2 right 0 ft..3 ft none", "M2 left 3 ft..6 ft none", "M2 right 3 ft..6 ft none"},
		},
	} {
		tr := trace(t, railPlan(c.joint, c.rest))
		var got []string
		for _, r := range tr.RailLines().Lengths() {
			got = append(got, lengthText(tr, r))
		}
		if g, w := sorted(got, same), sorted(c.want, same); g != w {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, g, w)
		}
	}
}

func same(s string) string { return s }

// TestRuns lists rail that cannot move, worked out by hand: the joint of unknown kind at 8 ft
// parts it or not.
func TestRuns(t *testing.T) {
	tr := trace(t, railPlan("{kind: soldered}", `tracks: {M1: {from: end, to: M2 end, length: 14 ft}, M2: {from: end, to: M1 end, length: 3 ft}}
joints: {M1: [{at: 2 ft, kind: soldered}, {at: 5 ft, rails: right, kind: plain}, {at: 8 ft, kind: unknown}]}
gaps: {M1: [{at: 12 ft, kind: expansion, joint: bonded}]}
feeders: {M1: {1 ft: main @ 1 ft}}
`))
	for holds, want := range map[bool]string{
		false: "M1 left 0 ft..8 ft, M1 left 12 ft..14 ft, M2 right 0 ft..3 ft, M1 left 8 ft..12 ft, M1 right 0 ft..5 ft, M1 right 12 ft..14 ft, M2 left 0 ft..3 ft, M1 right 5 ft..8 ft, M1 right 8 ft..12 ft",
		true:  "M1 left 0 ft..12 ft, M1 left 12 ft..14 ft, M2 right 0 ft..3 ft, M1 right 0 ft..5 ft, M1 right 12 ft..14 ft, M2 left 0 ft..3 ft, M1 right 5 ft..12 ft",
	} {
		if got := sorted(tr.RailLines().Runs(func(int32) bool { return true }, holds), func(run []districts.RailPart) string {
			return sorted(run, func(p districts.RailPart) string { return partText(tr, p) })
		}); got != want {
			t.Errorf("unknown joints hold %v: %s\nwant %s", holds, got, want)
		}
	}
}

// TestFarFromFeeders measures along rails and turnouts, worked out by hand.
func TestFarFromFeeders(t *testing.T) {
	for _, c := range []struct{ name, rest, want string }{
		{
			"the middle between two feeders and the end beyond the second",
			"tracks: {M1: {from: end, to: end, length: 20 ft}}\nfeeders: {M1: {3 ft: main @ 1 ft, 15 ft: main @ 8 ft}}\n",
			"M1 left 6 ft..12 ft up to 6 ft at 9 ft; M1 right 6 ft..12 ft up to 6 ft at 9 ft; M1 left 18 ft..20 ft up to 5 ft at 20 ft; M1 right 18 ft..20 ft up to 5 ft at 20 ft",
		},
		{
			"a feeder of one leg feeds one rail",
			"tracks: {M1: {from: end, to: end, length: 10 ft}}\nfeeders: {M1: {3 ft: main @ 1 ft, 8 ft: {from: main @ 8 ft, rails: left}}}\n",
			"M1 right 6 ft..10 ft up to 7 ft at 10 ft",
		},
		{
			"through a turnout and a joint where left becomes right",
			"tracks: {M1: {from: end, to: T1 points, length: 3 ft}, M2: {from: T1 straight, to: M3 end, length: 1 ft}, M3: {from: end, to: M2 end, length: 1 ft}, M4: {from: T1 curved, to: end, length: 1 ft}}\nturnouts: {T1: {hand: left}}\nfeeders: {M1: {2 ft: main @ 1 ft}}\n",
			"M3 left 0 ft..1 ft up to 4 ft at 0 ft; M3 right 0 ft..1 ft up to 4 ft at 0 ft",
		},
		{
			"a bond counts as nothing, dead rail and a broken feeder not at all",
			"tracks: {M1: {from: end, to: end, length: 12 ft}}\ngaps: {M1: [8 ft]}\nbonds: [{from: M1 @ 3 ft, to: M1 @ 6 ft, rails: both}]\nfeeders: {M1: {1 ft: main @ 1 ft, 10 ft: {from: main @ 3 ft, broken: yes}}}\n",
			"M1 left 4 ft..5 ft up to 3.5 ft at 4.5 ft; M1 right 4 ft..5 ft up to 3.5 ft at 4.5 ft; M1 left 7 ft..8 ft up to 4 ft at 8 ft; M1 right 7 ft..8 ft up to 4 ft at 8 ft",
		},
	} {
		tr := trace(t, railPlan("{kind: soldered}", c.rest))
		var got []string
		for _, x := range tr.FarFromFeeders(3 * 0.3048) {
			got = append(got, fmt.Sprintf("%s up to %s at %s", sorted(x.Parts, func(p districts.RailPart) string { return partText(tr, p) }), inFeet(x.Farthest), inFeet(x.At)))
		}
		if g := strings.Join(got, "; "); g != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, g, c.want)
		}
	}
}

// TestLoneFeeds asks what one break stops, worked out by hand.
func TestLoneFeeds(t *testing.T) {
	for _, c := range []struct{ name, rest, want string }{
		{
			"two feeders from two places, and one alone beyond a gap",
			"tracks: {M1: {from: end, to: end, length: 12 ft}}\ngaps: {M1: [8 ft]}\nblocks: {B1: {covers: M1 @ 8 ft .. end}}\nfeeders: {M1: {1 ft: {from: main @ 1 ft, name: f1}, 6 ft: {from: main @ 6 ft, name: f2}, 10 ft: {from: main @ 9 ft, name: f3}}}\n",
			"f3: 4 ft in 1",
		},
		{
			"two feeders from one place",
			"tracks: {M1: {from: end, to: end, length: 12 ft}}\nfeeders: {M1: {1 ft: {from: main @ 6 ft, name: f1}, 6 ft: {from: main @ 6 ft, name: f2}}}\n",
			"f1, f2: 12 ft in 0",
		},
		{
			"the second feeder may be broken",
			"tracks: {M1: {from: end, to: end, length: 5 ft}}\nfeeders: {M1: {1 ft: {from: main @ 1 ft, name: f1}, 4 ft: {from: main @ 6 ft, name: f2, broken: unknown}}}\n",
			"f1: 5 ft in 0",
		},
		{
			"the leg of a power-routing turnout is fed by its blade too",
			"tracks: {M1: {from: end, to: T1 points, length: 5 ft}, M2: {from: T1 straight, to: end, length: 5 ft}, M3: {from: T1 curved, to: end, length: 5 ft}}\nturnouts: {T1: {hand: left, wiring: power-routing}}\ngaps: {T1: [{at: straight, rails: inner}]}\nfeeders: {M1: {1 ft: {from: main @ 1 ft, name: f1}, 3 ft: {from: main @ 3 ft, name: f2}}, M2: {3 ft: {from: main @ 9 ft, name: f3}, 4 ft: {from: main @ 12 ft, name: f4}}}\n",
			"",
		},
	} {
		tr := trace(t, railPlan("{kind: soldered}", c.rest))
		var got []string
		for _, x := range tr.LoneFeeds() {
			got = append(got, fmt.Sprintf("%s: %s in %d", names(x.Feeders, func(f int32) string { return tr.C.Layout.Feeders[f].Name }), inFeet(x.Length), len(x.Blocks)))
		}
		if g := strings.Join(got, "; "); g != c.want {
			t.Errorf("%s: %q, want %q", c.name, g, c.want)
		}
	}
}
