package difference

import (
	"math"
	"strconv"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// laid says where a track lies on its line. A line is a ruler that both layouts share: a track and what
// it became, laid so that one reading is one place. Metres along the line are offset + x, or, backwards,
// offset + length - x.
type laid struct {
	line           int32 // -1: the other layout has nothing like it
	offset, length float64
	backwards      bool
	round          float64 // metres after which the line comes back to its start, 0 if it does not
}

// along is a reading of a track, a range perhaps, on its line.
func (k laid) along(lo, hi float64) (float64, float64) {
	if k.backwards {
		lo, hi = k.length-hi, k.length-lo
	}
	lo, hi = k.offset+lo, k.offset+hi
	if k.round > 0 {
		at := onRound(lo, k.round)
		lo, hi = at, hi+at-lo
	}
	return lo, hi
}

// spot is a place in words both layouts share: token names a line, or a joint at track work, and
// lo .. hi are metres along the line. Turned says that left and right there are exchanged against the line.
type spot struct {
	token  string
	lo, hi float64
	state  quantity.State
	turned bool
	round  float64 // as the line's
	text   string
}

// samePlace is how far two readings of one place may differ, in metres: what sums of lengths lose.
const samePlace = 1e-6

func (p spot) same(q spot) bool {
	return p.token == q.token && p.state == q.state && p.between(p.lo, q.lo) <= samePlace && p.between(p.hi, q.hi) <= samePlace
}

// between is how far two readings of the line lie apart, the shorter way where there are two.
func (p spot) between(x, y float64) float64 {
	m := math.Abs(x - y)
	if p.round > 0 {
		m = min(m, math.Abs(p.round-m))
	}
	return m
}

// apart is how far two places of one line lie apart, in metres; along is false when they lie on none together.
func (p spot) apart(q spot) (metres float64, along bool) {
	if p.token != q.token {
		return 0, false
	}
	return math.Round(p.between((p.lo+p.hi)/2, (q.lo+q.hi)/2)/samePlace) * samePlace, true
}

// spotOf is a place of the layout.
func (s *side) spotOf(p layout.Place) spot {
	if p.Piece < 0 {
		return spot{token: "nowhere", text: p.Text}
	}
	piece := &s.l.Pieces[p.Piece]
	if p.End >= 0 {
		return s.endSpot(layout.EndRef{Piece: p.Piece, End: p.End})
	}
	if piece.Kind != layout.TrackPiece {
		return spot{token: s.token(KindPiece, int32(p.Piece)), text: piece.Name}
	}
	out := s.trackSpot(piece.Index, p.At.Lo, p.At.Hi)
	out.state = p.At.State
	out.text = piece.Name + " @ " + p.At.Both()
	if !p.At.Known() {
		out.token, out.text = out.token+p.Text, p.Text
	}
	return out
}

// trackSpot is a reading of a track.
func (s *side) trackSpot(track int32, lo, hi float64) spot {
	k := s.on[track]
	out := spot{token: s.lineToken(track), state: quantity.Known, turned: k.backwards, round: k.round}
	if k.line < 0 {
		out.lo, out.hi = lo, hi
		return out
	}
	out.lo, out.hi = k.along(lo, hi)
	return out
}

// endSpot is the joint at an end of a piece. One joint has two ends: track work's counts, so that track exchanged
// beyond it does not move the joint. The track's counts where only it is in the other layout: there it is plain track still.
func (s *side) endSpot(e layout.EndRef) spot {
	end := &s.l.Pieces[e.Piece].Ends[e.End]
	out := spot{text: s.endText(e)}
	turned := false
	if at := end.Joint; at.Piece >= 0 && s.isTrack(at.Piece) != s.isTrack(e.Piece) {
		track, work := e, at
		if s.isTrack(at.Piece) {
			track, work = at, e
		}
		counts := work
		if s.pair[KindPiece][work.Piece] < 0 && s.on[s.l.Pieces[track.Piece].Index].line >= 0 {
			counts = track
		}
		if counts != e {
			turned = s.l.Pieces[at.Piece].Ends[at.End].Facing == end.Facing
			e = counts
		}
	}
	if !s.isTrack(e.Piece) {
		out.token, out.turned = s.endToken(e), turned
		return out
	}
	track := s.l.Pieces[e.Piece].Index
	at := 0.0
	if e.End == 1 {
		at = s.l.Tracks[track].Length.Mid()
	}
	text := out.text
	out = s.trackSpot(track, at, at)
	out.text, out.turned = text, out.turned != turned
	return out
}

// lineToken is what the line under a track is called.
func (s *side) lineToken(track int32) string {
	if line := s.on[track].line; line >= 0 {
		return "line " + strconv.Itoa(int(line))
	}
	return "line of " + s.token(KindPiece, int32(s.l.Tracks[track].Piece))
}

// rail is a rail at a place as seen along its line.
func (p spot) rail(r layout.Rail) layout.Rail {
	if p.turned {
		return r.Other()
	}
	return r
}

// rails are the rails of a gap, joint or feeder as seen along the line.
func (p spot) rails(r layout.RailSet) layout.RailSet {
	switch {
	case p.turned && r == layout.LeftRail:
		return layout.RightRail
	case p.turned && r == layout.RightRail:
		return layout.LeftRail
	default:
		return r
	}
}
