package reader

import (
	"math"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// maxRow is how many places one row may have.
const maxRow = 1000

// row is where the members of one entry stand: one place, or several when it is a row.
type row struct {
	spots []spot
	step  float64 // metres between members; 0 for a single place
}

// spots resolves where an entry of a group stands on its piece.
func (r *reader) spots(e *railEntry, p layout.PieceID) (row, bool) {
	piece := &r.lay.Pieces[p]
	every := e.rec.find("every")
	if piece.Kind != layout.TrackPiece {
		if e.rec.vals[e.rec.section.index["every"]].set {
			r.blame(e.rec.find("every").key, problem{message: "a row needs a track; " + piece.Name + " has ends"})
			return row{}, false
		}
		end, ok := r.pieceEndHere(e, p)
		if !ok {
			return row{}, false
		}
		return row{spots: []spot{r.atEnd(end, e.at, piece.Name+" "+e.at.s)}}, true
	}
	typedEvery := every != nil && !e.rec.isDefault(every)
	if every != nil && !every.ok && isRange(e.at) {
		return row{}, false
	}
	if typedEvery && !isRange(e.at) {
		r.blame(e.at, problem{message: "a row is from .. to", expected: "a stretch such as 2 .. 34 ft"})
		return row{}, false
	}
	if every != nil && isRange(e.at) {
		return r.rowOf(e, p, every, typedEvery)
	}
	if isRange(e.at) && every == nil && e.rec.excused("every") {
		return row{}, false
	}
	w, ok := r.parseWhere(e.at)
	if !ok {
		return row{}, false
	}
	s, ok := r.spotOn(p, rawPlace{along: true, where: w, text: e.at}, true)
	return row{spots: []spot{s}}, ok
}

// noPlace reports whether an entry's place is a word that is no end of the piece.
func (r *reader) noPlace(e *railEntry, p layout.PieceID) bool {
	if !isName(e.at.s) || startsMeasure(e.at.s) {
		return false
	}
	_, isEnd := r.endOf(p, e.at.s)
	return !isEnd
}

// pieceEndHere finds the end that a group's key names. A key that is nearer to a word of
// the group than to an end is called an unknown key.
func (r *reader) pieceEndHere(e *railEntry, p layout.PieceID) (layout.EndRef, bool) {
	if end, ok := r.endOf(p, e.at.s); ok {
		return layout.EndRef{Piece: p, End: end}, true
	}
	if r.endsInDoubt(p) {
		return layout.NoEnd, false
	}
	names := r.endNamesOf(p)
	if near := r.nearest(e.at.s, feederGroupWords); e.rec.section == feederSection && near != "" && r.nearest(e.at.s, names) == "" {
		r.blame(e.at, problem{message: "unknown key in " + feederSection.noun, expected: listed(feederGroupWords), nearest: near})
		return layout.NoEnd, false
	}
	return r.pieceEnd(p, e.at)
}

// rowOf expands a row. With a default `every` only, a range within 12 in is an uncertain
// measure and no row.
func (r *reader) rowOf(e *railEntry, p layout.PieceID, every *val, typed bool) (row, bool) {
	tr := &r.lay.Tracks[r.lay.Pieces[p].Index]
	b, ok := r.parseBounds(e.at, false)
	if !ok {
		return row{}, false
	}
	from, okFrom := r.measure(p, b.from)
	to, okTo := r.measure(p, b.to)
	if !okFrom || !okTo {
		return row{}, false
	}
	if !from.Known() || !to.Known() {
		if !r.pieceRecord(p).excused("length") {
			r.blame(e.at, problem{message: "the length of " + tr.Name + " is unknown; say where the row ends"})
		}
		return row{}, false
	}
	length := to.Lo - from.Hi
	switch {
	case length < -touching && tr.Closed && tr.Length.Known():
		length += tr.Length.Lo
	case length < -touching:
		r.blamef(e.at, "a row rises; %s .. %s?", b.to.text.s, b.from.text.s)
		return row{}, false
	}
	if !typed && length <= mostDoubt+touching {
		s, ok := r.spotOn(p, rawPlace{along: true, where: where{measure: quantity.Length{Value: quantity.Value{
			Lo: from.Lo, Hi: to.Hi, State: quantity.Known, Text: e.at.s, Pos: e.at.pos,
		}}, text: e.at}, text: e.at}, true)
		return row{spots: []spot{s}}, ok
	}
	step, _ := every.data.(quantity.Length)
	switch n := length/step.Lo + 1; {
	case !step.Known() || step.Lo != step.Hi:
		r.blame(nodeText(every.node), problem{message: "a row needs one exact distance", expected: "a length such as 8 ft"})
		return row{}, false
	case n >= maxRow+1:
		r.blamef(e.at, "over the bound, %d places in a row", maxRow)
		return row{}, false
	}
	return r.members(e, p, b.from.fromEnd, from, step.Lo, int(math.Floor(length/step.Lo+touching))+1)
}

// members places the n members of a row.
func (r *reader) members(e *railEntry, p layout.PieceID, fromEnd bool, from quantity.Length, step float64, n int) (row, bool) {
	tr := &r.lay.Tracks[r.lay.Pieces[p].Index]
	out := row{step: step}
	split := false
	for i := range n {
		at := from
		if i > 0 {
			at.Lo, at.Hi = from.Lo+float64(i)*step, from.Hi+float64(i)*step
			if tr.Closed && tr.Length.Known() && at.Lo > tr.Length.Hi+touching {
				at.Lo, at.Hi = at.Lo-tr.Length.Lo, at.Hi-tr.Length.Lo
			}
			at.Text = spell(at.Lo, e.at.s)
		}
		at.Pos = e.at.pos
		s, body := r.onTrack(p, at, fromEnd && i == 0)
		if body != nil {
			if !split {
				r.blamef(e.at, "%s %d falls on %s; split the row", thingWords[e.rec.section.thing], i+1, r.pieceName(body.Piece))
				split = true
			}
			continue
		}
		out.spots = append(out.spots, s)
	}
	return out, true
}
