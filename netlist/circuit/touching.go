package circuit

import "gapwise/netlist/layout"

// touching is how near two places are one, in metres: less than anybody measures.
const touching = 1e-6

// sameJoint says that a body's edge is the joint at another end, with no rail between:
// the next body's edge, or the end of the track the body stands on. Turned tells that
// the two ends' walks name the rails the other way round.
type sameJoint struct {
	end    layout.EndRef
	turned bool
}

// touchingEdges finds the body edges that touch a track's end or the next body. What
// stands at such an edge belongs to the joint it is one with.
func (b *builder) touchingEdges() {
	b.same = map[layout.EndRef]sameJoint{}
	for t := range b.l.Tracks {
		tr := &b.l.Tracks[t]
		n := len(tr.Stands)
		if n == 0 {
			continue
		}
		start, end := layout.EndRef{Piece: tr.Piece, End: 0}, layout.EndRef{Piece: tr.Piece, End: 1}
		if s := &tr.Stands[0]; s.At.Mid() <= touching {
			b.same[firstOf(s)] = sameJoint{start, b.turnsOver(firstOf(s), false)}
		}
		for i := range tr.Stands[:n-1] {
			s, next := &tr.Stands[i], &tr.Stands[i+1]
			if near(s.At.Mid()+s.Length.Mid(), next.At.Mid()) {
				b.same[secondOf(s)] = sameJoint{firstOf(next), b.turnsOver(secondOf(s), true) != b.turnsOver(firstOf(next), false)}
			}
		}
		last, first, length := &tr.Stands[n-1], &tr.Stands[0], tr.Length.Mid()
		edge := last.At.Mid() + last.Length.Mid()
		switch {
		case !tr.Length.Known():
		case near(edge, length):
			b.same[secondOf(last)] = sameJoint{end, b.turnsOver(secondOf(last), true)}
		case tr.Closed && n > 1 && near(edge, length+first.At.Mid()):
			b.same[secondOf(last)] = sameJoint{firstOf(first), b.turnsOver(secondOf(last), true) != b.turnsOver(firstOf(first), false)}
		}
	}
}

func near(x, y float64) bool { return x-y <= touching && y-x <= touching }

func firstOf(s *layout.Stand) layout.EndRef  { return layout.EndRef{Piece: s.Piece, End: s.First} }
func secondOf(s *layout.Stand) layout.EndRef { return layout.EndRef{Piece: s.Piece, End: s.Second} }

// turnsOver reports whether a ruler's rails turn over at an end of a body on it: start
// when the ruler goes on from there, not when it comes to it.
func (b *builder) turnsOver(body layout.EndRef, start bool) bool {
	facing := layout.AtEnd
	if start {
		facing = layout.AtStart
	}
	return b.l.Pieces[body.Piece].Ends[body.End].Facing == facing
}

// jointOf is the end that stands for the joint at e, and whether that end's own walk
// names the rails the other way round.
func (b *builder) jointOf(e layout.EndRef) (layout.EndRef, bool) {
	if s, found := b.same[e]; found {
		return s.end, s.turned
	}
	return e, false
}
