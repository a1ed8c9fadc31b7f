package difference

import (
	"fmt"

	"gapwise/netlist/layout"
)

// chain is plain track joined end to end, however many entries it is typed in, from one terminal to the other.
type chain struct {
	links []link
	ends  [2]terminal
	ring  bool
}

// link is one track of a chain, backwards where the walk meets its end first.
type link struct {
	track     int32
	backwards bool
}

// terminal is where a chain ends: at track work, or Piece -1 and dead.
type terminal struct {
	at   layout.EndRef
	dead layout.EndKind
}

// findChains parts all tracks into chains, in the order of the file.
func (s *side) findChains() {
	l := s.l
	s.chainOf = make([]int32, len(l.Tracks))
	for t := range s.chainOf {
		s.chainOf[t] = -1
	}
	for t := range l.Tracks {
		if s.chainOf[t] >= 0 {
			continue
		}
		id := int32(len(s.chains))
		s.chainOf[t] = id
		c := chain{links: []link{{int32(t), false}}}
		if c.ends[1], c.ring = s.follow(id, int32(t), 1, &c.links); !c.ring {
			var back []link
			c.ends[0], _ = s.follow(id, int32(t), 0, &back)
			for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
				back[i], back[j] = back[j], back[i]
			}
			for i := range back {
				back[i].backwards = !back[i].backwards
			}
			c.links = append(back, c.links...)
		}
		s.chains = append(s.chains, c)
	}
}

// follow walks on from an end of a track to what ends its chain.
func (s *side) follow(id, track int32, end int32, links *[]link) (to terminal, ring bool) {
	for {
		e := &s.l.Pieces[s.l.Tracks[track].Piece].Ends[end]
		if e.Joint.Piece < 0 {
			return terminal{layout.NoEnd, e.Dead}, false
		}
		p := &s.l.Pieces[e.Joint.Piece]
		if p.Kind != layout.TrackPiece {
			return terminal{at: e.Joint}, false
		}
		if s.chainOf[p.Index] >= 0 {
			return terminal{layout.NoEnd, layout.Joined}, s.chainOf[p.Index] == id
		}
		track, end = p.Index, 1-e.Joint.End
		s.chainOf[track] = id
		*links = append(*links, link{track, end == 0})
	}
}

// length of a chain in metres; ok is false when one of its tracks has none.
func (s *side) length(links []link) (metres float64, ok bool) {
	ok = true
	for _, k := range links {
		v := s.l.Tracks[k.track].Length
		metres, ok = metres+v.Mid(), ok && v.Known()
	}
	return metres, ok
}

// terminalToken is what a terminal is called; matched tells that it is track work known in both layouts.
func (s *side) terminalToken(t terminal) (token string, matched bool) {
	if t.at.Piece < 0 {
		return fmt.Sprintf("dead %d", t.dead), false
	}
	return s.endToken(t.at), s.pair[KindPiece][t.at.Piece] >= 0
}

// turnedRound is the same chain walked the other way.
func (c chain) turnedRound() chain {
	out := chain{ends: [2]terminal{c.ends[1], c.ends[0]}, ring: c.ring}
	for i := len(c.links) - 1; i >= 0; i-- {
		out.links = append(out.links, link{c.links[i].track, !c.links[i].backwards})
	}
	return out
}

// routes are the ends of track work that a train reaches from one of its ends.
func (s *side) routes(e layout.EndRef) []layout.EndRef {
	p := &s.l.Pieces[e.Piece]
	var to []int32
	switch p.Kind {
	case layout.TurnoutPiece, layout.ThreeWayPiece:
		if e.End != layout.TurnoutPoints {
			to = []int32{layout.TurnoutPoints}
			break
		}
		for i := 1; i < len(p.Ends); i++ {
			to = append(to, int32(i))
		}
	case layout.CrossingPiece:
		to = []int32{(e.End + 2) % 4}
	}
	out := make([]layout.EndRef, len(to))
	for i, end := range to {
		out[i] = layout.EndRef{Piece: e.Piece, End: end}
	}
	return out
}

// body is the length of track work along a train's way, in metres.
func (s *side) body(p layout.PieceID) float64 {
	i := s.l.Pieces[p].Index
	switch s.l.Pieces[p].Kind {
	case layout.TurnoutPiece:
		return s.l.Turnouts[i].Length.Mid()
	case layout.ThreeWayPiece:
		return s.l.ThreeWays[i].Length.Mid()
	case layout.CrossingPiece:
		return s.l.Crossings[i].Length.Mid()
	default:
		return 0
	}
}
