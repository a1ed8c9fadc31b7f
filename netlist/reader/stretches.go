package reader

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// stretch resolves one stretch, all but its `gap` bounds. The other result is the block
// it names, -1 when it names rail.
func (r *reader) stretch(u *unit, raw rawStretch) (layout.Stretch, int32, bool) {
	s := layout.Stretch{Piece: -1, GapFromIndex: -1, GapToIndex: -1, RouteFrom: -1, RouteTo: -1, Text: raw.text.tidy(), Pos: raw.text.pos}
	if raw.block {
		b, ok := r.lookup(blockThing, u, raw.name)
		return s, b, ok
	}
	id, ok := r.lookup(pieceThing, u, raw.name)
	if !ok {
		return s, -1, false
	}
	s.Piece = layout.PieceID(id)
	piece := &r.lay.Pieces[id]
	switch {
	case raw.route.s != "":
		ok = r.route(&s, raw.route)
	case raw.bounds == nil:
		s.Whole = true
		if piece.Kind == layout.TrackPiece {
			s.From = quantity.Length{Value: quantity.Value{State: quantity.Known}}
			s.To = r.lay.Tracks[piece.Index].Length
		}
	case piece.Kind != layout.TrackPiece:
		r.blame(raw.text, problem{message: raw.name.s + " is no track; name it whole", expected: raw.name.s})
		ok = false
	default:
		ok = r.bounded(&s, *raw.bounds)
	}
	return s, -1, ok
}

// route resolves `a-c` of a piece.
func (r *reader) route(s *layout.Stretch, t text) bool {
	ends := r.lay.Pieces[s.Piece].Ends
	if kind := r.lay.Pieces[s.Piece].Kind; kind == layout.TurnoutPiece || kind == layout.CrossingPiece {
		var words []string
		for _, route := range r.routes(s.Piece) {
			a, b := ends[route[0]].Name, ends[route[1]].Name
			words = append(words, a+"-"+b)
			if t.s == a+"-"+b || t.s == b+"-"+a {
				s.RouteFrom, s.RouteTo = route[0], route[1]
				return true
			}
		}
		if !r.endsInDoubt(s.Piece) && !r.pieceRecord(s.Piece).excused("slip") {
			r.blame(t, problem{message: "no such route on " + r.pieceName(s.Piece), expected: listed(words), nearest: r.nearest(t.s, words)})
		}
		return false
	}
	r.blamef(t, "%s has no routes", r.pieceName(s.Piece))
	return false
}

// bounded resolves the measured bounds of a stretch of track.
func (r *reader) bounded(s *layout.Stretch, b bounds) bool {
	s.GapFrom, s.GapTo = b.from.word == "gap", b.to.word == "gap"
	okFrom, okTo := true, true
	if !s.GapFrom {
		s.From, okFrom = r.bound(s.Piece, b.from)
	}
	if !s.GapTo {
		s.To, okTo = r.bound(s.Piece, b.to)
	}
	if !okFrom || !okTo {
		return false
	}
	tr := &r.lay.Tracks[r.lay.Pieces[s.Piece].Index]
	if s.GapFrom || s.GapTo || !s.From.Known() || !s.To.Known() {
		return true
	}
	switch length := s.To.Hi - s.From.Lo; {
	case length > touching:
	case length > -touching:
		r.blame(b.text, problem{message: "a stretch has some length; this is one place"})
		return false
	case !tr.Closed && r.pieceRecord(s.Piece).excused("closed"):
		return false
	case !tr.Closed:
		r.blamef(b.text, "a stretch rises; %s .. %s?", b.to.text.s, b.from.text.s)
		return false
	}
	return true
}

// bound resolves one measured bound, which may not be inside a body.
func (r *reader) bound(track layout.PieceID, w where) (quantity.Length, bool) {
	at, ok := r.measure(track, w)
	if !ok {
		return at, false
	}
	if s, body := r.onTrack(track, at, w.fromEnd); body != nil {
		r.insideBody(w.text, s.place, body)
		return at, false
	}
	return at, true
}

// gapOn is an insulated gap by its place on a track, in metres from the start.
type gapOn struct {
	at    float64
	index int32
}

// gapsOnTracks lists the insulated gaps of each track by place, those at its ends and
// at the edges of bodies on it included.
func (r *reader) gapsOnTracks() [][]gapOn {
	type placeOn struct {
		track int32
		at    float64
	}
	at := map[layout.EndRef][]placeOn{}
	note := func(e layout.EndRef, t int32, x float64) {
		at[r.meets.joint(e)] = append(at[r.meets.joint(e)], placeOn{t, x})
	}
	for t := range r.lay.Tracks {
		tr := &r.lay.Tracks[t]
		note(layout.EndRef{Piece: tr.Piece, End: 0}, int32(t), 0)
		if !tr.Closed && tr.Length.Known() {
			note(layout.EndRef{Piece: tr.Piece, End: 1}, int32(t), tr.Length.Mid())
		}
		for i := range tr.Stands {
			s := &tr.Stands[i]
			note(layout.EndRef{Piece: s.Piece, End: s.First}, int32(t), s.At.Mid())
			note(layout.EndRef{Piece: s.Piece, End: s.Second}, int32(t), s.At.Mid()+s.Length.Mid())
		}
	}
	gaps := make([][]gapOn, len(r.lay.Tracks))
	for i := range r.lay.Gaps {
		g := &r.lay.Gaps[i]
		if g.Kind != layout.Insulated {
			continue
		}
		if g.Place.End < 0 {
			t := r.lay.Pieces[g.Place.Piece].Index
			gaps[t] = append(gaps[t], gapOn{g.Place.At.Mid(), int32(i)})
			continue
		}
		for _, p := range at[r.meets.joint(layout.EndRef{Piece: g.Place.Piece, End: g.Place.End})] {
			gaps[p.track] = append(gaps[p.track], gapOn{p.at, int32(i)})
		}
	}
	for t := range gaps {
		slices.SortStableFunc(gaps[t], func(a, b gapOn) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.index, b.index)) })
		gaps[t] = slices.CompactFunc(gaps[t], func(a, b gapOn) bool { return max(a.at-b.at, b.at-a.at) <= touching })
	}
	return gaps
}
