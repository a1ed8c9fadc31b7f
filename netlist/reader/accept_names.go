package reader

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// targetThings are what an acceptance may point at by name alone, with the words that
// may stand before it.
var targetThings = []struct {
	thing thing
	kind  layout.TargetKind
	words []string
}{
	{pieceThing, layout.TargetPiece, append([]string{"piece", "slip"}, pieceWords...)},
	{busThing, layout.TargetBus, nil},
	{boosterThing, layout.TargetDevice, nil},
	{breakerThing, layout.TargetDevice, nil},
	{reverserThing, layout.TargetDevice, nil},
	{detectorThing, layout.TargetDevice, nil},
	{inLineThing, layout.TargetDevice, nil},
	{changeoverThing, layout.TargetDevice, nil},
	{plugThing, layout.TargetDevice, nil},
	{supplyThing, layout.TargetDevice, nil},
	{cabThing, layout.TargetDevice, nil},
	{blockThing, layout.TargetBlock, nil},
	{districtThing, layout.TargetDistrict, nil},
	{trainThing, layout.TargetOther, nil},
	{bondThing, layout.TargetOther, nil},
	{loadThing, layout.TargetOther, nil},
	{terminatorThing, layout.TargetOther, nil},
	{commonThing, layout.TargetOther, nil},
}

// nameTarget resolves a name, with or without the word for its kind.
func (r *reader) nameTarget(u *unit, kind string, name text, indexes []railIndex) (layout.Target, bool) {
	var fits []string
	found := layout.Target{Index: -1, Place: noPlace}
	var all []string
	lost := false
	for _, t := range targetThings {
		word := thingWords[t.thing]
		if kind != "" && kind != word && !slices.Contains(t.words, kind) {
			continue
		}
		all = append(all, r.candidates(t.thing, u)...)
		lost = lost || r.names[t.thing].lost
		i, ok := r.known(t.thing, u, name.s)
		if !ok {
			continue
		}
		rec := r.byThing[t.thing][i]
		found = layout.Target{Kind: t.kind, Index: i, Place: noPlace, Text: word + " " + rec.full, Pos: rec.place().pos}
		if t.thing == pieceThing {
			found.Text = rec.full
		}
		fits = append(fits, word+" "+name.s)
	}
	if kind == "" {
		for j := range indexes {
			want := &indexes[j]
			all = append(all, r.candidates(want.thing, u)...)
			lost = lost || r.names[want.thing].lost
			if i, ok := r.known(want.thing, u, name.s); ok && i != rowIndex {
				found = want.target(i)
				fits = append(fits, thingWords[want.thing]+" "+name.s)
			}
		}
	}
	switch {
	case len(fits) == 1:
		return found, true
	case len(fits) > 1:
		r.blame(name, problem{message: orList(fits) + "?"})
	case lost || r.blind || r.lostNames[name.s]:
	case kind != "":
		r.blame(name, problem{message: "no " + kind + " " + name.s, nearest: r.nearest(name.s, all)})
	default:
		r.blame(name, problem{message: "nothing here is called " + name.s, nearest: r.nearest(name.s, all)})
	}
	return found, false
}

// placeTarget resolves `M1 @ 4 ft`, `T9 straight` or a tap. A place must have something
// at it: a gap, a feeder, a rail joint, or the end of a piece.
func (r *reader) placeTarget(u *unit, t text, kind string, rest text, indexes []railIndex) (layout.Target, bool) {
	raw, ok := r.parsePlace(rest)
	if !ok {
		return layout.Target{}, false
	}
	_, isPiece := r.known(pieceThing, u, raw.name.s)
	if bus, isBus := r.known(busThing, u, raw.name.s); isBus && raw.along && (kind == "bus" || kind == "" && !isPiece) {
		tap, ok := r.tapAt(bus, raw.where, rest)
		return layout.Target{Kind: layout.TargetBus, Index: bus, Place: noPlace, Text: "bus " + tap.Text, Pos: r.lay.Buses[bus].Pos}, ok
	}
	s, ok := r.spotOf(u, raw)
	if !ok {
		return layout.Target{}, false
	}
	var found []layout.Target
	lost := false
	near := ""
	for j := range indexes {
		want := &indexes[j]
		lost = lost || r.names[want.thing].lost
		if i := r.at(s.place, want); i >= 0 {
			found = append(found, want.target(i))
		} else if near == "" {
			near = r.nearestOn(s.place, want)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], true
	case len(found) > 1 || s.place.End >= 0:
		return layout.Target{Kind: layout.TargetPlace, Index: -1, Place: s.place, Text: s.place.Text, Pos: r.placePos(s.place)}, true
	case !lost:
		r.blame(t, problem{message: "nothing at " + s.place.Text, nearest: near})
	}
	return layout.Target{}, false
}

// noPlace is the place of what stands at none.
var noPlace = layout.Place{Piece: -1, End: -1}

// placePos is where the piece that a place lies on was typed.
func (r *reader) placePos(p layout.Place) source.Pos { return r.lay.Pieces[p.Piece].Pos }
