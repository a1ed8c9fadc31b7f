package difference

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// oval is a closed track with a siding on it. Tracks, then what is on them, are the parts that differ.
const oval = `gapwise: 1
layout: Oval
defaults:
  track:   {rail: code 83 nickel silver}
  turnout: {hand: right, length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap:     {rails: both, kind: insulated}
  joint:   {kind: soldered}
  feeder:  {wire: 20 AWG, length: 10 in}
supplies:
  one: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: one, volts: 15 V, trips-at: 5 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 60 ft}
`

const closed = `
tracks:
  ring: {closed: yes, length: 40 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {at: ring @ 4 ft, via: points to straight}
  T2: {hand: left, at: ring @ 14 ft, via: straight to points}
gaps:
  ring: [10 ft, {at: 30 ft, rails: left}]
feeders:
  ring: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft, 20 ft: main @ 20 ft, 35 ft: main @ 35 ft}
blocks:
  west: {covers: ring @ 30 ft .. 10 ft}
`

// TestRings: a closed track that was cut, with or without a turnout put in, is known again, with what lies on it; and
// the mirror.
func TestRings(t *testing.T) {
	for _, c := range []struct {
		name, after string
		want        []string
	}{
		{"cut in two", `
tracks:
  ring: {from: east end, to: east start, length: 18 ft}
  east: {from: ring end, to: ring start, length: 22 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {at: ring @ 4 ft, via: points to straight}
  T2: {hand: left, at: ring @ 14 ft, via: straight to points}
gaps:
  ring: [10 ft]
  east: [{at: 12 ft, rails: left}]
feeders:
  ring: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft}
  east: {A: left, 2 ft: main @ 20 ft, 17 ft: main @ 35 ft}
blocks:
  west: {covers: [east @ 12 ft .. 22 ft, ring @ 0 .. 10 ft]}
`, []string{"piece split ring>ring+east"}},
		{"cut elsewhere, no name kept, one half turned", `
tracks:
  M: {from: N start, to: N end, length: 18 ft}
  N: {from: M start, to: M end, length: 22 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {at: M @ 9 ft, via: points to straight}
  T2: {hand: left, at: N @ 20 ft, via: points to straight}
gaps:
  M: [15 ft]
  N: [{at: 5 ft, rails: right}]
feeders:
  M: {A: left, 7 ft: main @ 2 ft, 13 ft: main @ 8 ft}
  N: {A: right, 15 ft: main @ 20 ft, 0 ft: main @ 35 ft}
blocks:
  west: {covers: [N @ 0 .. 5 ft, M @ 0 .. 15 ft]}
`, []string{"piece split ring>M+N turned"}},
		{"a turnout put in", `
tracks:
  ring: {from: west end, to: T9 points, length: 25 ft}
  west: {from: T9 straight, to: ring start, length: 14 ft}
  up: {from: T9 curved, to: end, length: 5 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {at: ring @ 4 ft, via: points to straight}
  T2: {hand: left, at: ring @ 14 ft, via: straight to points}
  T9: {}
gaps:
  ring: [10 ft]
  west: [{at: 4 ft, rails: left}]
feeders:
  ring: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft, 20 ft: main @ 20 ft}
  west: {A: left, 9 ft: main @ 35 ft}
blocks:
  west: {covers: [west @ 4 ft .. 14 ft, ring @ 0 .. 10 ft]}
`, []string{"piece split ring>ring+west", "piece added >up", "piece added >T9"}},
		{"a turnout put in, and longer", `
tracks:
  ring: {from: west end, to: T9 points, length: 25 ft}
  west: {from: T9 straight, to: ring start, length: 17 ft}
  up: {from: T9 curved, to: end, length: 5 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {at: ring @ 4 ft, via: points to straight}
  T2: {hand: left, at: ring @ 14 ft, via: straight to points}
  T9: {}
gaps:
  ring: [10 ft]
  west: [{at: 4 ft, rails: left}]
feeders:
  ring: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft, 20 ft: main @ 20 ft}
  west: {A: left, 9 ft: main @ 35 ft}
blocks:
  west: {covers: [west @ 4 ft .. 14 ft, ring @ 0 .. 10 ft]}
`, []string{
			"piece split ring>ring+west; length: 40 ft (12.19 m) > 43 ft (13.11 m)", "piece added >up", "piece added >T9",
		}},
		{"cut at the turnouts that stand on it", `
tracks:
  M: {from: T1 straight, to: T2 straight, length: 9 ft}
  N: {from: T2 points, to: T1 points, length: 29 ft}
  S: {from: T1 curved, to: T2 curved, length: 8 ft}
turnouts:
  T1: {}
  T2: {hand: left}
gaps:
  M: [5 ft]
  N: [{at: 15 ft, rails: left}]
feeders:
  M: {A: left, 3 ft: main @ 8 ft}
  N: {A: left, 5 ft: main @ 20 ft, 20 ft: main @ 35 ft, 27 ft: main @ 2 ft}
blocks:
  west: {covers: [N @ 15 ft .. end, T1, M @ 0 .. 5 ft]}
`, []string{
			"piece split ring>M+N", "piece changed T1>T1; via: points to straight > not said", "piece changed T2>T2; via: straight to points > not said",
			"block changed west>west; covers: ring @ 30 ft .. 10 ft > N @ 15 ft .. end, T1, M @ 0 .. 5 ft",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, after := read(t, oval+closed), read(t, oval+c.after)
			there, back := Compare(before, after), Compare(after, before)
			if got := told(there); strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
			tally := map[string]int{}
			for i := range there.Entries {
				tally[fmt.Sprint(there.Entries[i].Kind, there.Entries[i].Fate)]++
			}
			for i := range back.Entries {
				tally[fmt.Sprint(back.Entries[i].Kind, back.Entries[i].Fate.Mirror())]--
			}
			for what, n := range tally {
				if n != 0 {
					t.Errorf("%d more %s there than back:\n%s", n, what, strings.Join(told(back), "\n"))
				}
			}
			for _, l := range []*Difference{Compare(before, before), Compare(after, after)} {
				if !l.Empty() {
					t.Errorf("differs from itself: %s", told(l))
				}
			}
		})
	}
}

// TestAtTheCut: what stands where a track was cut for a turnout stands there still.
func TestAtTheCut(t *testing.T) {
	before := changed(t, "12 ft: main @ 12 ft}", "8 ft: main @ 8 ft}", "M1: [4 ft]", "M1: [4 ft, {at: 9 ft, rails: left}]")
	for _, c := range []struct{ name, edit, to string }{
		{"typed at the track", "M1: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft}", ""},
		{"typed at the turnout", "M1: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft}", "M1: {A: left, 2 ft: main @ 2 ft}\n  T2: {A: left, points: main @ 8 ft}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			after := before
			for _, edit := range [][2]string{
				{"M1: {from: end, to: T1 points, length: 20 ft}", "M1: {from: end, to: T2 points, length: 8 ft}\n  M9: {from: T2 straight, to: T1 points, length: 11 ft}\n  S2: {from: T2 curved, to: end, length: 3 ft}"},
				{"  T1: {}", "  T1: {}\n  T2: {length: 1 ft}"},
				{"M1: [4 ft, {at: 9 ft, rails: left}]", "M1: [4 ft]\n  M9: [{at: 0 ft, rails: left}]"},
			} {
				after = strings.Replace(after, edit[0], edit[1], 1)
			}
			if c.to != "" {
				after = strings.Replace(after, c.edit, c.to, 1)
			}
			want := "piece split M1>M1+M9\npiece added >S2\npiece added >T2"
			if got := strings.Join(told(Compare(read(t, before), read(t, after))), "\n"); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// cutRing writes the closed oval cut at some feet into parts, some of them typed from their other end.
func cutRing(cuts []int, turned []bool) string {
	const round = 40
	n := len(cuts)
	name := func(i int) string { return fmt.Sprint("part", i%n) }
	length := func(i int) int { return (cuts[(i+1)%n]-cuts[i]+round-1)%round + 1 }
	end := func(i int, far bool) string {
		if far != turned[i%n] {
			return name(i) + " end"
		}
		return name(i) + " start"
	}
	at := func(foot int) (part int, there int) {
		for i := range n {
			if off := (foot - cuts[i] + round) % round; off < length(i) {
				if turned[i] {
					return i, length(i) - off
				}
				return i, off
			}
		}
		return -1, 0
	}
	tracks, gaps, feeders := "tracks:\n", "gaps:\n", "feeders:\n"
	for i := range n {
		from, to := end(i+n-1, true), end(i+1, false)
		rails, leg := "left", "left"
		if turned[i] {
			from, to, rails, leg = to, from, "right", "right"
		}
		tracks += fmt.Sprintf("  %s: {from: %s, to: %s, length: %d ft}\n", name(i), from, to, length(i))
		if part, there := at(30); part == i {
			gaps += fmt.Sprintf("  %s: [{at: %d ft, rails: %s}]\n", name(i), there, rails)
		}
		var list []string
		for _, foot := range []int{2, 8, 20, 35} {
			if part, there := at(foot); part == i {
				list = append(list, fmt.Sprintf("%d ft: main @ %d ft", there, foot))
			}
		}
		if len(list) > 0 {
			feeders += fmt.Sprintf("  %s: {A: %s, %s}\n", name(i), leg, strings.Join(list, ", "))
		}
	}
	return oval + tracks + gaps + feeders
}

// TestCutAnywhere: however a closed track is cut and its parts are typed, it is split, and nothing else differs.
func TestCutAnywhere(t *testing.T) {
	whole := oval + "tracks:\n  ring: {closed: yes, length: 40 ft}\ngaps:\n  ring: [{at: 30 ft, rails: left}]\nfeeders:\n  ring: {A: left, 2 ft: main @ 2 ft, 8 ft: main @ 8 ft, 20 ft: main @ 20 ft, 35 ft: main @ 35 ft}\n"
	rapid.Check(t, func(r *rapid.T) {
		cuts := rapid.SliceOfNDistinct(rapid.IntRange(0, 39), 2, 5, rapid.ID).Draw(r, "cuts")
		turned := rapid.SliceOfN(rapid.Bool(), len(cuts), len(cuts)).Draw(r, "turned")
		slices.Sort(cuts)
		before, after := read(t, whole), read(t, cutRing(cuts, turned))
		for _, d := range []*Difference{Compare(before, after), Compare(after, before)} {
			if len(d.Entries) != 1 || d.Entries[0].Fate != Split && d.Entries[0].Fate != Joined || len(d.Entries[0].Changes) > 0 {
				r.Fatalf("%s", strings.Join(told(d), "\n"))
			}
		}
	})
}
