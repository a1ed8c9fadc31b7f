package circuit

import "gapwise/netlist/layout"

// bumpers names every bumper that may join its rails: cast metal does, until a load of
// known resistance at its place says otherwise.
func (b *builder) bumpers() {
	for id := range b.l.Pieces {
		p := &b.l.Pieces[id]
		for e := range p.Ends {
			if p.Ends[e].Dead == layout.Bumper && !b.bumperMeasured(layout.PieceID(id), int32(e)) {
				b.leaveOut("whether the bumper at "+p.Name+" "+p.Ends[e].Name+" joins its rails", "cast metal does; measure it, and say so under `loads` (kind: bumper, resistance)", p.Ends[e].Pos)
			}
		}
	}
}

// bumperMeasured reports whether a load at an end of a piece has a known resistance.
func (b *builder) bumperMeasured(p layout.PieceID, end int32) bool {
	for i := range b.l.Loads {
		x := &b.l.Loads[i]
		if !x.OnRail || x.Place.Piece != p || !x.Resistance.Known() {
			continue
		}
		if x.Place.End == end || (b.l.Pieces[p].Kind == layout.TrackPiece && b.placeAt(x.Place) == b.endAt(p, end)) {
			return true
		}
	}
	return false
}

// endAt is the ruler reading of a track's end.
func (b *builder) endAt(p layout.PieceID, end int32) float64 {
	if end == 0 {
		return 0
	}
	return b.l.Tracks[b.l.Pieces[p].Index].Length.Mid()
}
