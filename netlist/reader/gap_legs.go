package reader

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// told is a place on a track at which a feeder says which rail has leg A.
type told struct {
	at    float64
	aRail layout.Rail
}

// gapLegs finds which rail is meant by `rails: A` and `rails: B`, from the nearest
// feeder of the same track.
func (r *reader) gapLegs() {
	var byPiece map[layout.PieceID][]told
	for i := range r.lay.Gaps {
		g := &r.lay.Gaps[i]
		if g.Rails != layout.RailOfA && g.Rails != layout.RailOfB {
			continue
		}
		if byPiece == nil {
			byPiece = r.tellings()
		}
		rail, ok := r.railOfA(g.Place, byPiece)
		if !ok && !r.mayLack(feederThing, g.Place.Piece) {
			leg := layout.RailSetWords[g.Rails]
			r.blame(r.gapAt[i], problem{message: "no feeder of this track tells which rail has leg " + leg, expected: "left, right or both"})
		}
		if g.Rails == layout.RailOfB {
			rail = rail.Other()
		}
		g.Rails = oneRail(rail)
	}
}

// tellings are the feeders of each piece, by place.
func (r *reader) tellings() map[layout.PieceID][]told {
	m := map[layout.PieceID][]told{}
	for i := range r.lay.Feeders {
		f := &r.lay.Feeders[i]
		if f.Place.At.Known() || f.Place.End >= 0 {
			m[f.Place.Piece] = append(m[f.Place.Piece], told{f.Place.At.Mid(), f.ARail})
		}
	}
	for p := range m {
		slices.SortStableFunc(m[p], func(a, b told) int { return cmp.Compare(a.at, b.at) })
	}
	return m
}

// railOfA is the rail of leg A at a place, by the walk of the place's piece.
func (r *reader) railOfA(p layout.Place, byPiece map[layout.PieceID][]told) (layout.Rail, bool) {
	piece := &r.lay.Pieces[p.Piece]
	if piece.Kind == layout.TrackPiece {
		return nearestTold(byPiece[p.Piece], p.At.Mid(), r.ringLength(p.Piece))
	}
	if own := byPiece[p.Piece]; len(own) > 0 {
		return nearestTold(own, 0, 0)
	}
	here := layout.EndRef{Piece: p.Piece, End: p.End}
	there := r.end(here).Joint
	switch {
	case there.Piece < 0:
		return 0, false
	case there.End < 0:
		return r.railOfAOnRuler(here, there.Piece, byPiece)
	case r.lay.Pieces[there.Piece].Kind != layout.TrackPiece:
		return 0, false
	}
	at := 0.0
	if there.End == 1 {
		at = r.lay.Tracks[r.lay.Pieces[there.Piece].Index].Length.Mid()
	}
	rail, ok := nearestTold(byPiece[there.Piece], at, 0)
	if r.end(here).Facing == r.end(there).Facing {
		rail = rail.Other()
	}
	return rail, ok
}

// railOfAOnRuler is the rail of leg A at the edge of a body that stands on a track.
func (r *reader) railOfAOnRuler(here layout.EndRef, track layout.PieceID, byPiece map[layout.PieceID][]told) (layout.Rail, bool) {
	for _, s := range r.lay.Tracks[r.lay.Pieces[track].Index].Stands {
		if s.Piece != here.Piece || s.First != here.End && s.Second != here.End {
			continue
		}
		at, second := s.At.Mid(), s.Second == here.End
		if second {
			at += s.Length.Mid()
		}
		rail, ok := nearestTold(byPiece[track], at, r.ringLength(track))
		if (r.end(here).Facing == layout.AtStart) == second {
			rail = rail.Other()
		}
		return rail, ok
	}
	return 0, false
}

// ringLength is the length of a closed track, 0 for any other.
func (r *reader) ringLength(track layout.PieceID) float64 {
	if t := &r.lay.Tracks[r.lay.Pieces[track].Index]; t.Closed {
		return t.Length.Mid()
	}
	return 0
}

// nearestTold is what the nearest of the feeders says; two as near as each other must
// agree. Ring is the length round a closed track.
func nearestTold(list []told, at, ring float64) (layout.Rail, bool) {
	best, found, agreed := 0.0, false, true
	var rail layout.Rail
	try := func(t told, distance float64) {
		distance = max(distance, -distance)
		switch {
		case !found || distance < best-touching:
			best, found, agreed, rail = distance, true, true, t.aRail
		case distance <= best+touching && t.aRail != rail:
			agreed = false
		}
	}
	i, _ := slices.BinarySearchFunc(list, at, func(t told, at float64) int { return cmp.Compare(t.at, at) })
	for j := max(0, i-2); j < min(len(list), i+2); j++ {
		try(list[j], list[j].at-at)
	}
	if ring > 0 && len(list) > 0 {
		try(list[0], list[0].at+ring-at)
		try(list[len(list)-1], list[len(list)-1].at-ring-at)
	}
	return rail, found && agreed
}
