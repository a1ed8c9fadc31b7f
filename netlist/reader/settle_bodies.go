package reader

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// settleBodies puts the bodies of a track in order, and reports those that overlap or
// reach past its end.
func (r *reader) settleBodies(t int32) {
	tr := &r.lay.Tracks[t]
	bodies := r.tracks[t].bodies
	slices.SortStableFunc(bodies, func(a, b body) int { return cmp.Compare(a.stand.At.Mid(), b.stand.At.Mid()) })
	for i := range bodies {
		b := &bodies[i]
		tr.Stands = append(tr.Stands, b.stand)
		if i > 0 {
			r.apart(tr, &bodies[i-1], b, 0)
		}
		if !tr.Length.Known() {
			continue
		}
		over := b.stand.At.Hi + b.stand.Length.Hi - tr.Length.Lo
		switch {
		case over <= touching:
		case !tr.Closed:
			r.blamef(b.at, "%s reaches past the end of %s", b.name, tr.Name)
		case i == len(bodies)-1 && len(bodies) > 1:
			r.apart(tr, b, &bodies[0], tr.Length.Lo)
		case i == len(bodies)-1 && over > b.stand.At.Lo:
			r.blamef(b.at, "%s is longer than %s", b.name, tr.Name)
		}
	}
	r.meetBodies(t)
}

// touching is how near two places are one, in metres: less than anybody measures.
const touching = 1e-6

// apart reports two bodies, a before b, that share rail or may; round is a ring's length
// when b lies beyond its start.
func (r *reader) apart(tr *layout.Track, a, b *body, round float64) {
	start, end := b.stand.At, plus(a.stand.At, a.stand.Length)
	switch {
	case start.Lo+round >= end.Hi-touching:
	case start.Hi+round < end.Lo-touching:
		r.blamef(b.at, "%s and %s share %s @ %s", a.name, b.name, tr.Name, start.Text)
	default:
		r.blamef(b.at, "%s and %s may share rail; measure closer", a.name, b.name)
	}
}

// meetBodies makes one joint of body edges that touch, and of those at the track's ends.
func (r *reader) meetBodies(t int32) {
	tr := &r.lay.Tracks[t]
	same := func(x, y quantity.Length) bool {
		return x.Lo == x.Hi && y.Lo == y.Hi && x.Lo-y.Lo <= touching && y.Lo-x.Lo <= touching
	}
	n := len(tr.Stands)
	for i := range tr.Stands {
		s := &tr.Stands[i]
		end := plus(s.At, s.Length)
		switch {
		case i+1 < n && same(end, tr.Stands[i+1].At):
			r.meets.join(layout.EndRef{Piece: s.Piece, End: s.Second}, layout.EndRef{Piece: tr.Stands[i+1].Piece, End: tr.Stands[i+1].First}, true)
		case tr.Length.Known() && same(end, tr.Length):
			r.meets.join(layout.EndRef{Piece: s.Piece, End: s.Second}, layout.EndRef{Piece: tr.Piece, End: 1}, false)
		case tr.Closed && n > 1 && tr.Length.Known() && same(end, plus(tr.Length, tr.Stands[0].At)):
			r.meets.join(layout.EndRef{Piece: s.Piece, End: s.Second}, layout.EndRef{Piece: tr.Stands[0].Piece, End: tr.Stands[0].First}, true)
		}
		if s.At.Known() && s.At.Hi == 0 {
			r.meets.join(layout.EndRef{Piece: s.Piece, End: s.First}, layout.EndRef{Piece: tr.Piece, End: 0}, false)
		}
	}
}
