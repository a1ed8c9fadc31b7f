package reader

import "gapwise/netlist/layout"

func (r *reader) end(e layout.EndRef) *layout.End { return &r.lay.Pieces[e.Piece].Ends[e.End] }

// join makes one joint of two ends, or reports that one of them is taken.
func (r *reader) join(a, b layout.EndRef, typed text) bool {
	for _, e := range [2]layout.EndRef{b, a} {
		if d := r.end(e).Dead; d == layout.Joined {
			r.taken(e, typed)
			r.doubt.add(a.Piece)
			r.doubt.add(b.Piece)
			return false
		}
	}
	for _, e := range [2][2]layout.EndRef{{a, b}, {b, a}} {
		end := r.end(e[0])
		end.Joint, end.Dead = e[1], layout.Joined
		if r.lay.Pieces[e[0].Piece].Kind != layout.TrackPiece || !end.Pos.IsValid() {
			end.Pos = typed.pos
		}
	}
	r.lay.Joins = append(r.lay.Joins, layout.Join{Ends: [2]layout.EndRef{a, b}, Pos: typed.pos})
	r.meets.join(a, b, true)
	return true
}

// taken reports an end that is joined already.
func (r *reader) taken(e layout.EndRef, typed text) {
	end := r.end(e)
	by := end.Joint.Piece
	if r.endsInDoubt(e.Piece) {
		return
	}
	r.blamef(typed, "already joined to %s at %s", r.pieceName(by), r.line(end.Pos, typed.pos))
	r.doubt.add(e.Piece)
	r.doubt.ends++ // what was meant may be another piece
}
