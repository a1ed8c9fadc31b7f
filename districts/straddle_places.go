package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// place lists what wheels join at a way: the rails on either side of it where they are not one net. A frog
// that carries another leg than the rail it stands for shorts by itself, and is found as such.
func (s *straddler) place(way int32) {
	w := &s.c.Ways[way]
	if s.t.Cut[way] {
		return // a gap yet to be cut, whose place is not known
	}
	var own []Setting
	if w.Device >= 0 {
		own = thrown(s.c, Setting{w.Device, w.Position})
	}
	for r := range layout.Rail(2) {
		across := r
		if w.Turned {
			across = r.Other()
		}
		s.pair(way, s.c.Spots[w.A].Node[r], s.c.Spots[w.B].Node[across], own)
	}
}

// pair adds two nodes that wheels join at a way, unless metal does so in its own setting.
func (s *straddler) pair(way, x, y int32, own []Setting) {
	a, b := s.g.nets.Of[x], s.g.nets.Of[y]
	if a == b || slices.Contains(s.metal([]int32{a}, own), b) {
		return
	}
	s.pairs[way] = append(s.pairs[way], [2]int32{a, b})
}

// metal lists the nets that are one metal with some in settings, through nets without a leg.
func (s *straddler) metal(nets []int32, settings []Setting) []int32 {
	out := slices.Clone(nets)
	if len(settings) == 0 {
		return out
	}
	for n := 0; n < len(out); n++ {
		if len(s.g.nets.labels[out[n]]) > 0 && n >= len(nets) {
			continue
		}
		for _, i := range s.g.touch[out[n]] {
			k := &s.c.Conductors[i]
			if other := s.g.other(i, out[n]); slices.Contains(settings, Setting{k.Device, k.Position}) && !slices.Contains(out, other) {
				out = append(out, other)
			}
		}
	}
	return out
}

// starts reports whether wheels join anything at a way.
func (s *straddler) starts(way int32) bool { return len(s.pairs[way]) > 0 }

// bridgedAt is how far into a way, walked from one of its spots, lies what wheels bridge, in metres: the
// edge of a pit lies at the track's end, what is inside track work is taken to lie in the middle.
func bridgedAt(w *circuit.Way, from int32) float64 {
	if w.Kind != circuit.WayPit {
		return w.Length / 2
	}
	if from == w.A {
		return w.Length
	}
	return 0
}

// unsureLength reports whether the length of a way is not known.
func (s *straddler) unsureLength(w *circuit.Way) bool {
	l := s.c.Layout
	p := &l.Pieces[w.Piece]
	switch {
	case w.Kind == circuit.WayJoint || w.Kind == circuit.WayCut:
		return s.pastUnknownEnd(w.A) || s.pastUnknownEnd(w.B)
	case w.Kind != circuit.WayThrough:
		return false
	case p.Kind == layout.TurnoutPiece:
		return !l.Turnouts[p.Index].Length.Known()
	case p.Kind == layout.CrossingPiece:
		return !l.Crossings[p.Index].Length.Known()
	case p.Kind == layout.ThreeWayPiece:
		return !l.ThreeWays[p.Index].Length.Known()
	default:
		return false
	}
}

// pastUnknownEnd reports whether a spot is the end of a track whose length is unknown.
func (s *straddler) pastUnknownEnd(spot int32) bool {
	x := &s.c.Spots[spot]
	p := &s.c.Layout.Pieces[x.Piece]
	return p.Kind == layout.TrackPiece && !s.c.Layout.Tracks[p.Index].Length.Known() && s.c.EndSpot[x.Piece][1] == spot
}
