package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// StaggeredWithin is less than how far apart two gaps, each in one rail, are meant as one
// gap, in metres (12 in). Common practice, no source.
const StaggeredWithin = 0.3048

// Staggered is one gap whose two rails are cut at different places. Between the cuts
// the one rail belongs to one side and the other rail to the other.
type Staggered struct {
	Way   int32 // the cut that stands for the whole gap
	Other int32 // the cut of the other rail, which from then on parts nothing
	// Offset is how far apart the two cuts are, in metres.
	Offset float64
	// Gaps are the gaps of Way and of Other.
	Gaps [2]int32
	// near is the spot at Way that lies between the cuts, far the one beyond Other.
	near, far int32
}

// wholeGaps gives a circuit in which every staggered gap is one gap in both rails, at
// the one of its cuts where blocks are meant to meet, else at the first. Conductors stay
// as they are: rails are cut where they are cut. A feeder or a bond between the cuts hangs
// on both sides, so that such a pair stays two.
func wholeGaps(c *circuit.Circuit, meant *Meant, ways *adjacency) (*circuit.Circuit, []Staggered) {
	f := &staggerFinder{c: c, ways: ways}
	pairs := f.pairs()
	if len(pairs) == 0 {
		return c, nil
	}
	whole := *c
	whole.Ways = slices.Clone(c.Ways)
	for i := range pairs {
		s := &pairs[i]
		if isMeantBound(c, meant, &c.Ways[s.Other]) && !isMeantBound(c, meant, &c.Ways[s.Way]) {
			s.turnRound(c)
		}
		g := s.Gaps[0]
		w := &whole.Ways[s.Way]
		w.Metal, w.Gaps = [2]circuit.Metal{circuit.Open, circuit.Open}, [2]int32{g, g}
		o := &whole.Ways[s.Other]
		o.Kind, o.Metal, o.Gaps = circuit.WayJoint, [2]circuit.Metal{circuit.Joined, circuit.Joined}, [2]int32{-1, -1}
	}
	return &whole, pairs
}

// turnRound lets the other cut stand for the gap.
func (s *Staggered) turnRound(c *circuit.Circuit) {
	w, o := &c.Ways[s.Way], &c.Ways[s.Other]
	s.near, s.far = o.A+o.B-s.far, w.A+w.B-s.near
	s.Way, s.Other = s.Other, s.Way
	s.Gaps[0], s.Gaps[1] = s.Gaps[1], s.Gaps[0]
}

// staggerFinder looks for gaps in one rail that belong together.
type staggerFinder struct {
	c    *circuit.Circuit
	ways *adjacency
	hung map[int32]bool // spots where a feeder or a bond hangs
}

// pairs lists the gaps in one rail that make one gap by twos, the nearest first taken,
// in the order of their first cuts.
func (f *staggerFinder) pairs() []Staggered {
	var found []Staggered
	for i := range f.c.Ways {
		w := &f.c.Ways[i]
		if !insulatedHalf(f.c, w) {
			continue
		}
		for _, near := range [2]int32{w.A, w.B} {
			if s, ok := f.partner(int32(i), near); ok && s.Other > s.Way {
				found = append(found, s)
			}
		}
	}
	slices.SortStableFunc(found, func(x, y Staggered) int {
		return cmp.Or(cmp.Compare(x.Offset, y.Offset), cmp.Compare(x.Way, y.Way), cmp.Compare(x.Other, y.Other))
	})
	taken := map[int32]bool{}
	out := slices.DeleteFunc(found, func(s Staggered) bool {
		if taken[s.Way] || taken[s.Other] {
			return true
		}
		taken[s.Way], taken[s.Other] = true, true
		return false
	})
	slices.SortFunc(out, func(x, y Staggered) int { return cmp.Compare(x.Way, y.Way) })
	return out
}

// insulatedHalf reports whether an insulated gap cuts one rail of a way.
func insulatedHalf(c *circuit.Circuit, w *circuit.Way) bool {
	return isHalfGap(w) && insulatedRails(c, w) == 1
}

// cutRail is the rail of a half gap that is cut, and its gap.
func cutRail(w *circuit.Way) (layout.Rail, int32) {
	r := wholeRail(w).Other()
	return r, w.Gaps[r]
}

// partner walks from a half gap along plain track to the next, which must cut the other
// rail.
func (f *staggerFinder) partner(way, near int32) (Staggered, bool) {
	w := &f.c.Ways[way]
	cut, gap := cutRail(w)
	if near == w.B && w.Turned {
		cut = cut.Other()
	}
	s := Staggered{Way: way, Other: -1, Gaps: [2]int32{gap, -1}, near: near}
	at, from := near, way
	for s.Offset < StaggeredWithin-1e-9 {
		around := f.ways.of(at)
		if f.hangs(at) || len(around) != 2 {
			return s, false
		}
		from = around[0] + around[1] - from
		v := &f.c.Ways[from]
		if insulatedHalf(f.c, v) && from != way {
			other, g := cutRail(v)
			if at == v.B && v.Turned {
				other = other.Other()
			}
			s.Other, s.Gaps[1], s.far = from, g, v.A+v.B-at
			return s, other != cut
		}
		if (v.Kind != circuit.WayTrack && v.Kind != circuit.WayJoint) || v.A == v.B {
			return s, false
		}
		if v.Turned {
			cut = cut.Other()
		}
		s.Offset += v.Length
		at = v.A + v.B - at
	}
	return s, false
}

// hangs reports whether a feeder or a bond hangs at a spot.
func (f *staggerFinder) hangs(spot int32) bool {
	if f.hung == nil {
		f.hung = map[int32]bool{}
		for _, s := range f.c.FeederSpot {
			f.hung[s] = true
		}
		for _, w := range bondWires(f.c) {
			f.hung[w.spots[0]], f.hung[w.spots[1]] = true, true
		}
	}
	return f.hung[spot]
}

// beyondStagger gives, for a spot between the two cuts of a staggered gap, the spot where
// both rails of its side begin.
func beyondStagger(list []Staggered, spot int32) int32 {
	for i := range list {
		if list[i].near == spot {
			return list[i].far
		}
	}
	return spot
}

// WholeSpot is, for a spot between the two cuts of a staggered gap, the one where both
// rails of its side begin; any other spot is itself.
func (t *Trace) WholeSpot(spot int32) int32 { return beyondStagger(t.Staggered, spot) }
