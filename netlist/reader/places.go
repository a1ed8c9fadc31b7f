package reader

import (
	"slices"
	"sort"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// mostDoubt is how uncertain a measured place may be, in metres: 12 in.
const mostDoubt = 12 * inch

// plus adds two lengths, ranges and all; unknown if either is.
func plus(a, b quantity.Length) quantity.Length {
	if !a.Known() || !b.Known() {
		return quantity.Length{Value: quantity.Value{State: quantity.Unknown}}
	}
	a.Lo, a.Hi = a.Lo+b.Lo, a.Hi+b.Hi
	return a
}

// measure is a place on a track in metres from its start. A measure from the end of a
// track of unknown length is unknown. Past the end is reported.
func (r *reader) measure(track layout.PieceID, w where) (quantity.Length, bool) {
	tr := &r.lay.Tracks[r.lay.Pieces[track].Index]
	at, ok := along(w, tr.Length)
	if !ok {
		r.blame(w.text, problem{message: beyond(tr.Name, w, "track "+tr.Name, tr.Length)})
	}
	return at, ok
}

// beyond says that a place is past the end of what it is measured along, or past the start
// where it is measured from the end.
func beyond(name string, w where, what string, length quantity.Length) string {
	side := "end"
	if w.fromEnd {
		side = "start"
	}
	return name + " @ " + w.text.tidy() + " is beyond the " + side + " of " + what + " (" + length.Text + ")"
}

// along turns a typed place on anything of some length into metres from its start.
func along(w where, length quantity.Length) (quantity.Length, bool) {
	at := w.measure
	at.Text, at.Pos = w.text.tidy(), w.text.pos
	switch {
	case w.word == "start":
		at.State, at.Lo, at.Hi = quantity.Known, 0, 0
		return at, true
	case w.word == "end":
		at.State, at.Lo, at.Hi = length.State, length.Lo, length.Hi
		if !length.Known() {
			at.State = quantity.Unknown
		}
		return at, true
	case !length.Known():
		if w.fromEnd {
			at.State, at.Lo, at.Hi = quantity.Unknown, 0, 0
		}
		return at, true
	case w.measure.Lo > length.Hi+touching:
		return at, false
	case w.fromEnd:
		at.Lo, at.Hi = max(0, length.Lo-w.measure.Hi), max(0, length.Hi-w.measure.Lo)
	}
	return at, true
}

// sure reports a place whose measure leaves more than 12 in of doubt. Row says that the
// entry may be meant as one.
func (r *reader) sure(w where, mayBeRow bool) bool {
	doubt := w.measure.Hi - w.measure.Lo
	if !w.measure.Known() || doubt <= mostDoubt+touching {
		return true
	}
	message := spell(doubt, w.text.s) + " of doubt"
	if mayBeRow {
		message += "; a row? add `every`"
	}
	r.blame(w.text, problem{message: message, expected: "a measure within 12 in"})
	return false
}

// spot is a resolved place. Turned says that its rails are named against the walk of
// the piece it came to lie on, because it was typed on a track and is a body's edge.
type spot struct {
	place  layout.Place
	edge   bool
	turned bool
}

// bodyOf finds the body of a track that holds a place, or whose edge it is.
type held struct {
	stand  *layout.Stand
	inside bool
	end    int32 // of the body, when the place is its edge
	second bool
}

func (r *reader) heldBy(track layout.PieceID, at quantity.Length) (held, bool) {
	tr := &r.lay.Tracks[r.lay.Pieces[track].Index]
	n := len(tr.Stands)
	if n == 0 || !at.Known() {
		return held{}, false
	}
	next := sort.Search(n, func(i int) bool { return tr.Stands[i].At.Mid() > at.Mid()+touching })
	for i := max(0, next-2); i < min(n, next+1); i++ {
		if h, ok := holds(&tr.Stands[i], at); ok {
			return h, true
		}
	}
	if tr.Closed && tr.Length.Known() {
		return holds(&tr.Stands[n-1], plus(at, tr.Length))
	}
	return held{}, false
}

// holds compares a place with one body.
func holds(s *layout.Stand, at quantity.Length) (held, bool) {
	end := plus(s.At, s.Length)
	near := func(a, b quantity.Length) bool {
		return a.Hi-b.Lo <= touching && b.Hi-a.Lo <= touching
	}
	switch {
	case near(at, s.At):
		return held{stand: s, end: s.First}, true
	case near(at, end):
		return held{stand: s, end: s.Second, second: true}, true
	case at.Lo > s.At.Hi && at.Hi < end.Lo:
		return held{stand: s, inside: true, end: -1}, true
	}
	return held{}, false
}

// onTrack is the place at on a track: its end, a body's edge, or rail between.
func (r *reader) onTrack(track layout.PieceID, at quantity.Length, fromEnd bool) (spot, *layout.Stand) {
	tr := &r.lay.Tracks[r.lay.Pieces[track].Index]
	p := layout.Place{Piece: track, End: -1, At: at, FromEnd: fromEnd, Text: tr.Name + " @ " + at.Text, Pos: at.Pos}
	h, isHeld := r.heldBy(track, at)
	switch {
	case isHeld && h.inside:
		return spot{place: p}, h.stand
	case at.Known() && at.Hi <= touching:
		p.End = 0
	case tr.Length.Known() && at.Known() && at.Lo >= tr.Length.Hi-touching, at.Text == "end":
		p.End = 1
		if tr.Closed {
			p.End = 0
		}
	case isHeld:
		p.Piece, p.End = h.stand.Piece, h.end
		atStart := r.lay.Pieces[p.Piece].Ends[h.end].Facing == layout.AtStart
		return spot{place: p, edge: true, turned: atStart == h.second}, nil
	}
	return spot{place: p}, nil
}

// spotOf resolves a place typed as `M1 @ 4 ft` or `T3 points`.
func (r *reader) spotOf(u *unit, raw rawPlace) (spot, bool) {
	if k := raw.kind.s; k != "" && k != "slip" && k != "piece" && !slices.Contains(pieceWords, k) {
		r.blame(raw.kind, problem{message: "a place is on a track or piece", expected: "a place such as M1 @ 4 ft or T3 points"})
		return spot{}, false
	}
	id, ok := r.lookup(pieceThing, u, raw.name)
	if !ok {
		return spot{}, false
	}
	return r.spotOn(layout.PieceID(id), raw, false)
}

// spotOn resolves a place on a known piece. InGroup says that its entry could be a row.
func (r *reader) spotOn(p layout.PieceID, raw rawPlace, inGroup bool) (spot, bool) {
	piece := &r.lay.Pieces[p]
	if !raw.along {
		if raw.end.s == "" {
			r.blame(raw.text, problem{message: "where on " + raw.name.s + "?", expected: r.somePlaces(p)})
			return spot{}, false
		}
		e, ok := r.pieceEnd(p, raw.end)
		if !ok {
			return spot{}, false
		}
		return r.atEnd(e, raw.text, piece.Name+" "+raw.end.s), true
	}
	if piece.Kind != layout.TrackPiece {
		r.blame(raw.text, problem{message: raw.name.s + " is no track; its places are its ends", expected: listed(r.endNamesOf(p))})
		return spot{}, false
	}
	at, ok := r.measure(p, raw.where)
	if !ok || !r.sure(raw.where, inGroup) {
		return spot{}, false
	}
	s, body := r.onTrack(p, at, raw.where.fromEnd)
	s.place.Pos = raw.text.pos
	if body != nil {
		r.insideBody(raw.text, s.place, body)
		return s, false
	}
	return s, true
}

// insideBody reports a place inside a turnout or crossing.
func (r *reader) insideBody(t text, p layout.Place, body *layout.Stand) {
	name := r.pieceName(body.Piece)
	r.blame(t, problem{message: p.Text + " is inside " + name, expected: "an end of it, such as " + name + " " + r.lay.Pieces[body.Piece].Ends[body.First].Name})
}

// somePlaces says how places on a piece are typed.
func (r *reader) somePlaces(p layout.PieceID) string {
	if r.lay.Pieces[p].Kind == layout.TrackPiece {
		return "a place such as " + r.pieceName(p) + " @ 1 ft"
	}
	return listed(r.endNamesOf(p))
}

// atEnd is the joint at a piece's end. Both ends of a ring are its start.
func (r *reader) atEnd(e layout.EndRef, t text, canonical string) spot {
	p := layout.Place{Piece: e.Piece, End: e.End, Text: canonical, Pos: t.pos}
	if piece := &r.lay.Pieces[e.Piece]; piece.Kind == layout.TrackPiece {
		tr := &r.lay.Tracks[piece.Index]
		p.At = quantity.Length{Value: quantity.Value{State: quantity.Known, Pos: t.pos}}
		if tr.Closed {
			p.End = 0
		}
		if p.End == 1 {
			p.At.Value = tr.Length.Value
			if !tr.Length.Known() {
				p.At.State = quantity.Unknown
			}
		}
	}
	return spot{place: p}
}
