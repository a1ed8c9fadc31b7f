package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// joinPairs reads `joins`: pairs of ends that meet without track between.
func (r *reader) joinPairs(u *unit, n *tree.Node) {
	if n == nil || n.IsEmpty() || n.Bad && n.Kind == tree.Scalar {
		return
	}
	const want = "a list of pairs such as [[T1 curved, X1 a]]"
	pairs := n.List()
	if len(pairs) == 2 && pairs[0].Kind == tree.Scalar && pairs[1].Kind == tree.Scalar {
		pairs = []*tree.Node{n} // one pair without its outer brackets
	}
	for _, pair := range pairs {
		if pair.Kind != tree.List || len(pair.Items) != 2 {
			if !pair.Bad {
				r.blame(nodeText(pair), problem{message: "a join is a pair of ends", expected: want})
			}
			r.doubt.ends++
			continue
		}
		var ends [2]layout.EndRef
		ok := true
		for i, item := range pair.Items {
			t, fine := r.scalar(item, &key{name: "joins", kind: kind{noun: want}})
			if fine {
				ends[i], fine = r.endRef(u, t)
			} else {
				r.doubt.ends++
			}
			ok = ok && fine && r.joinable(ends[i], t)
		}
		if !ok {
			continue
		}
		if ends[0] == ends[1] {
			r.blame(nodeText(pair), problem{message: "an end cannot meet itself"})
			continue
		}
		r.join(ends[0], ends[1], nodeText(pair.Items[0]))
	}
}

// joinable reports a track's end in `joins`, which only another module may name: a
// track says itself what it meets.
func (r *reader) joinable(e layout.EndRef, t text) bool {
	if r.lay.Pieces[e.Piece].Kind != layout.TrackPiece || r.end(e).Dead == layout.Joined {
		return true // join reports an end that is taken
	}
	if _, isExposed := r.exposed[e]; isExposed && r.otherSide(e).said == layout.NoEnd {
		return true
	}
	r.blamef(t, "%s says itself what it meets", r.pieceName(e.Piece))
	return false
}

// openEnd is an end of a piece that no track joins.
type openEnd struct {
	piece layout.PieceID
	ends  []int32
}

// closeEnds settles the ends that meet nothing: a module's own ends stay open, and any
// other end of a piece is reported, unless mistakes told before may be why they are open.
func (r *reader) closeEnds() {
	var open []openEnd
	n := 0
	for p := range r.lay.Pieces {
		id := layout.PieceID(p)
		ends := r.openEnds(id)
		if len(ends) > 0 && !r.doubt.pieces[id] && !r.endsInDoubt(id) {
			open = append(open, openEnd{id, ends})
			n += len(ends)
		}
	}
	if r.blind || r.doubt.anything || n <= r.doubt.ends {
		return
	}
	for _, o := range open {
		r.reportOpen(o.piece, o.ends)
	}
}

// openEnds are the ends of a piece that should meet something and do not.
func (r *reader) openEnds(p layout.PieceID) []int32 {
	piece := &r.lay.Pieces[p]
	var open []int32
	for e := range piece.Ends {
		end := &piece.Ends[e]
		x, isExposed := r.exposed[layout.EndRef{Piece: p, End: int32(e)}]
		switch {
		case end.Dead == layout.Joined:
		case isExposed && x.unit == r.units[0]:
			end.Dead, end.Pos = layout.ModuleEnd, x.name.pos
		case piece.Kind != layout.TrackPiece:
			end.Pos = piece.Pos
			open = append(open, int32(e))
		}
	}
	return open
}

// reportOpen reports ends of a piece that no track joins: each, or all at once when the
// piece meets nothing at all.
func (r *reader) reportOpen(p layout.PieceID, open []int32) {
	rec, name := r.pieceRecord(p), r.pieceName(p)
	if len(open) == len(r.lay.Pieces[p].Ends) {
		r.blamef(rec.place(), "no track joins %s", name)
		return
	}
	for _, e := range open {
		r.blamef(rec.place(), "no track joins %s %s", name, r.lay.Pieces[p].Ends[e].Name)
	}
}
