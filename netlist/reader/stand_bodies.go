package reader

import (
	"slices"

	"gapwise/netlist/layout"
)

// body is one stand of a piece on a track, with where it was typed.
type body struct {
	stand layout.Stand
	at    text
	name  string
}

// standBodies puts turnouts, crossings and slips on the rulers they say they stand on.
func (r *reader) standBodies() {
	for p := range r.lay.Pieces {
		rec := r.pieceRecord(layout.PieceID(p))
		if _, may := rec.section.index["via"]; may {
			r.standPiece(layout.PieceID(p), rec)
		}
	}
	for t := range r.lay.Tracks {
		r.settleBodies(int32(t))
	}
}

// standPiece reads the `at` and `via` of one piece.
func (r *reader) standPiece(p layout.PieceID, rec *record) {
	if rec.excused("at") || rec.excused("via") {
		r.doubt.add(p)
		return
	}
	if !rec.set("at") {
		if rec.set("via") {
			r.blame(rec.find("via").key, problem{message: "`via` without `at`", expected: "`at:` with a place such as M4 @ 6 ft 2 in"})
			r.doubt.add(p)
		}
		return
	}
	if !r.stand(p, rec) {
		r.doubt.add(p)
	}
}

// stand puts a piece on one track, or a crossing on two; false when any part of it was
// not understood.
func (r *reader) stand(p layout.PieceID, rec *record) bool {
	places, vias := value[[]rawPlace](rec, "at"), value[[]rawVia](rec, "via")
	at := rec.at("at")
	if !rec.set("via") {
		r.blame(at, problem{message: "which way? e.g. " + r.someWay(p), expected: "`via:` with " + listed(r.ways(p))})
		return false
	}
	if len(places) != len(vias) {
		r.blame(rec.at("via"), problem{message: "as many ways as places, in their order"})
		return false
	}
	if most := r.mostStands(p); len(places) > most {
		r.blame(at, problem{message: "a turnout stands on one track, a crossing on two at most"})
		return false
	}
	ok := true
	for i := range places {
		ok = r.standOn(p, rec, places[i], vias[i]) && ok
	}
	return ok
}

func (r *reader) mostStands(p layout.PieceID) int {
	if r.lay.Pieces[p].Kind == layout.CrossingPiece {
		return 2
	}
	return 1
}

// ways are the routes through a piece, by the ends they join.
func (r *reader) routes(p layout.PieceID) [][2]int32 {
	if r.lay.Pieces[p].Kind == layout.TurnoutPiece {
		return [][2]int32{{0, 1}, {0, 2}}
	}
	routes := [][2]int32{{0, 2}, {3, 1}}
	switch r.lay.Crossings[r.lay.Pieces[p].Index].Slip {
	case layout.SlipAB:
		routes = append(routes, [2]int32{0, 1})
	case layout.SlipDC:
		routes = append(routes, [2]int32{3, 2})
	case layout.SlipBoth:
		routes = append(routes, [2]int32{0, 1}, [2]int32{3, 2})
	}
	return routes
}

// ways are the routes in words, both directions.
func (r *reader) ways(p layout.PieceID) []string {
	var ways []string
	ends := r.lay.Pieces[p].Ends
	for _, route := range r.routes(p) {
		a, b := ends[route[0]].Name, ends[route[1]].Name
		ways = append(ways, a+" to "+b, b+" to "+a)
	}
	return ways
}

func (r *reader) someWay(p layout.PieceID) string { return r.ways(p)[0] }

// standOn puts a piece on one track.
func (r *reader) standOn(p layout.PieceID, rec *record, raw rawPlace, via rawVia) bool {
	first, okFirst := r.endOf(p, via.from.s)
	second, okSecond := r.endOf(p, via.to.s)
	isRoute := okFirst && okSecond && slices.ContainsFunc(r.routes(p), func(route [2]int32) bool {
		return route == [2]int32{first, second} || route == [2]int32{second, first}
	})
	if !isRoute {
		if !r.endsInDoubt(p) && !rec.excused("slip") {
			ways := r.ways(p)
			r.blame(via.text, problem{message: "no such route on " + r.pieceName(p), expected: listed(ways), nearest: r.nearest(joined(via.text.words()), ways)})
		}
		return false
	}
	if !raw.along {
		r.blame(raw.text, problem{message: "a body stands on a track", expected: "a place such as M4 @ 6 ft 2 in"})
		return false
	}
	id, ok := r.lookup(pieceThing, rec.unit, raw.name)
	if !ok {
		return false
	}
	on := layout.PieceID(id)
	if r.lay.Pieces[on].Kind != layout.TrackPiece {
		r.blamef(raw.name, "%s is no track; a body stands on a track", raw.name.s)
		return false
	}
	length := rec.length("length")
	if !length.Known() {
		if !rec.excused("length") {
			r.blame(raw.text, problem{message: "how long is " + r.pieceName(p) + "? its `length` is taken from " + r.pieceName(on)})
		}
		return false
	}
	at, ok := r.measure(on, raw.where)
	if !ok || !r.sure(raw.where, false) {
		return false
	}
	for _, e := range [2]int32{first, second} {
		if r.end(layout.EndRef{Piece: p, End: e}).Dead == layout.Joined {
			r.taken(layout.EndRef{Piece: p, End: e}, via.text)
			return false
		}
	}
	for _, e := range [2]int32{first, second} {
		end := r.end(layout.EndRef{Piece: p, End: e})
		end.Joint, end.Dead, end.Pos = layout.EndRef{Piece: on, End: -1}, layout.Joined, raw.text.pos
	}
	if r.lay.Pieces[p].Kind == layout.TurnoutPiece {
		r.lay.Turnouts[r.lay.Pieces[p].Index].OnTrack = on
	}
	t := &r.tracks[r.lay.Pieces[on].Index]
	t.bodies = append(t.bodies, body{
		stand: layout.Stand{Piece: p, First: first, Second: second, At: at, Length: length, Pos: raw.text.pos},
		at:    raw.text, name: r.pieceName(p),
	})
	return true
}
