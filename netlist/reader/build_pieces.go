package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// buildPieces makes every track and piece with its ends; what they meet comes later.
func (r *reader) buildPieces() {
	l := r.lay
	for i, rec := range r.byThing[pieceThing] {
		id := layout.PieceID(i)
		l.Pieces = append(l.Pieces, layout.Piece{Name: rec.full, Pos: rec.place().pos})
		p := &l.Pieces[id]
		switch rec.section {
		case trackSection:
			p.Kind, p.Index = layout.TrackPiece, int32(len(l.Tracks))
			l.Tracks = append(l.Tracks, r.track(rec, id))
		case turnoutSection:
			p.Kind, p.Index = layout.TurnoutPiece, int32(len(l.Turnouts))
			l.Turnouts = append(l.Turnouts, r.turnout(rec, id))
		case threeWaySection:
			p.Kind, p.Index = layout.ThreeWayPiece, int32(len(l.ThreeWays))
			l.ThreeWays = append(l.ThreeWays, r.threeWay(rec, id))
		case crossingSection, slipSection:
			p.Kind, p.Index = layout.CrossingPiece, int32(len(l.Crossings))
			l.Crossings = append(l.Crossings, r.crossing(rec, id))
		case turntableSection:
			p.Kind, p.Index = layout.TurntablePiece, int32(len(l.Turntables))
			l.Turntables = append(l.Turntables, r.turntable(rec, id))
		case transferTableSection:
			p.Kind, p.Index = layout.TransferTablePiece, int32(len(l.TransferTables))
			l.TransferTables = append(l.TransferTables, r.transferTable(rec, id))
		}
		p.Ends = r.ends(rec, id)
	}
	r.tracks = make([]trackState, len(l.Tracks))
	for i, rec := range r.byThing[pieceThing] {
		r.settings(rec, layout.PieceID(i))
	}
}

// pieceRecord is the entry of a piece.
func (r *reader) pieceRecord(p layout.PieceID) *record { return r.byThing[pieceThing][p] }

func facing(names []string, f layout.Facing) []layout.End {
	ends := make([]layout.End, len(names))
	for i, n := range names {
		ends[i] = layout.End{Name: n, Facing: f, Joint: layout.NoEnd, Dead: layout.Unjoined}
	}
	return ends
}

// ends are the ends of a piece, in the order of language.md section 2.
func (r *reader) ends(rec *record, id layout.PieceID) []layout.End {
	l := r.lay
	p := &l.Pieces[id]
	switch p.Kind {
	case layout.TrackPiece:
		return append(facing([]string{"start"}, layout.AtStart), facing([]string{"end"}, layout.AtEnd)...)
	case layout.TurnoutPiece:
		return append(facing([]string{"points"}, layout.AtStart), facing(legNames(l.Turnouts[p.Index].Hand), layout.AtEnd)...)
	case layout.ThreeWayPiece:
		return append(facing([]string{"points"}, layout.AtStart), facing([]string{"left", "straight", "right"}, layout.AtEnd)...)
	case layout.CrossingPiece:
		ends := facing([]string{"a", "b", "c", "d"}, layout.AtEnd)
		ends[0].Facing, ends[3].Facing = layout.AtStart, layout.AtStart
		return ends
	case layout.TurntablePiece:
		return facing(keysOf(value[[]pair[quantity.Angle]](rec, "tracks")), layout.AtEnd)
	default:
		a := facing(keysOf(value[[]pair[quantity.Length]](rec, "a")), layout.AtStart)
		return append(a, facing(keysOf(value[[]pair[quantity.Length]](rec, "b")), layout.AtEnd)...)
	}
}

func keysOf[T any](ps []pair[T]) []string {
	names := make([]string, len(ps))
	for i := range ps {
		names[i] = ps[i].key.s
	}
	return names
}

// legNames are the legs of a turnout in the order of its ends.
func legNames(h layout.Hand) []string {
	switch h {
	case layout.HandWye:
		return []string{"left", "right"}
	case layout.HandCurvedLeft, layout.HandCurvedRight:
		return []string{"inner", "outer"}
	default:
		return []string{"straight", "curved"}
	}
}

// endOf finds an end of a piece by name. When the piece's own ends are in doubt, because
// its hand or its tracks were not understood, any likely name is taken.
func (r *reader) endOf(p layout.PieceID, name string) (int32, bool) {
	for i := range r.lay.Pieces[p].Ends {
		if r.lay.Pieces[p].Ends[i].Name == name {
			return int32(i), true
		}
	}
	if r.lay.Pieces[p].Kind == layout.TurnoutPiece && r.endsInDoubt(p) {
		switch name {
		case "straight", "left", "inner":
			return 1, true
		case "curved", "right", "outer":
			return 2, true
		}
	}
	return -1, false
}

// endsInDoubt reports whether the names of a piece's ends are not known for a mistake
// that was reported.
func (r *reader) endsInDoubt(p layout.PieceID) bool {
	rec := r.pieceRecord(p)
	if rec.bad {
		return true
	}
	for _, name := range []string{"hand", "tracks", "a", "b"} {
		if _, has := rec.section.index[name]; has {
			if v := rec.find(name); v == nil || !v.ok {
				return true
			}
		}
	}
	return false
}

// endNamesOf are the ends of a piece, for `expected:`.
func (r *reader) endNamesOf(p layout.PieceID) []string {
	ends := r.lay.Pieces[p].Ends
	names := make([]string, len(ends))
	for i := range ends {
		names[i] = ends[i].Name
	}
	return names
}

// pieceEnd finds an end of a piece and reports one that is not there.
func (r *reader) pieceEnd(p layout.PieceID, end text) (layout.EndRef, bool) {
	if e, ok := r.endOf(p, end.s); ok {
		return layout.EndRef{Piece: p, End: e}, true
	}
	if r.lay.Pieces[p].Kind == layout.TrackPiece && startsMeasure(end.s) {
		r.blamef(end, "a place is `%s @ %s`", r.pieceName(p), end.s)
		return layout.NoEnd, false
	}
	if !r.endsInDoubt(p) {
		names := r.endNamesOf(p)
		r.blame(end, problem{message: r.pieceName(p) + " has no such end", expected: listed(names), nearest: r.nearest(end.s, names)})
	}
	return layout.NoEnd, false
}
