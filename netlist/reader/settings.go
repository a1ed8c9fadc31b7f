package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// settings resolves what a piece says about its own settings: contacts, clear points,
// and what throws with it.
func (r *reader) settings(rec *record, id layout.PieceID) {
	l := r.lay
	p := &l.Pieces[id]
	switch p.Kind {
	case layout.TurnoutPiece:
		t := &l.Turnouts[p.Index]
		t.FrogGets = r.contacts(rec, id, nil)
		for _, c := range value[[]pair[quantity.Length]](rec, "clear-at") {
			if e, ok := r.leg(id, c.key); ok {
				t.ClearAt[e.End-1] = c.value
			}
		}
		t.ThrowsWith = r.thrownWith(rec, id)
		r.needsTap(rec, t)
	case layout.ThreeWayPiece:
		l.ThreeWays[p.Index].FrogGets = r.contacts(rec, id, []string{"left-frog", "middle-frog", "right-frog"})
	case layout.CrossingPiece:
		l.Crossings[p.Index].FrogGets = r.contacts(rec, id, []string{"west", "east", "north", "south"})
	}
}

// leg finds a leg of a turnout.
func (r *reader) leg(id layout.PieceID, t text) (layout.EndRef, bool) {
	e, ok := r.pieceEnd(id, t)
	if ok && e.End == layout.TurnoutPoints {
		r.blame(t, problem{message: "points is no leg", expected: listed(r.endNamesOf(id)[1:])})
		return layout.NoEnd, false
	}
	return e, ok
}

// contacts resolves a contact map. Frogs are the names of the piece's frogs, nil when it
// has one.
func (r *reader) contacts(rec *record, id layout.PieceID, frogs []string) []layout.ContactMap {
	var maps []layout.ContactMap
	blamed := map[string]bool{}
	for _, g := range value[[]rawGets](rec, "frog-gets") {
		if frogs != nil && !slices.Contains(frogs, g.frog.s) {
			if !blamed[g.frog.s] {
				blamed[g.frog.s] = true
				r.blame(g.frog, problem{message: "no such frog", expected: listed(frogs), nearest: r.nearest(g.frog.s, frogs)})
			}
			continue
		}
		setting, ok := r.setting(id, g.setting)
		if !ok {
			continue
		}
		maps = append(maps, layout.ContactMap{Frog: g.frog.s, Setting: setting, Gets: g.gets, Pos: g.text.pos})
	}
	return maps
}

// needsTap reports contacts that give a leg of a bus where no bus is named.
func (r *reader) needsTap(rec *record, t *layout.Turnout) {
	if rec.set("frog-from") || rec.excused("frog-from") {
		r.needsContacts(rec, t)
		return
	}
	for _, g := range value[[]rawGets](rec, "frog-gets") {
		if g.gets == layout.GetsLegA || g.gets == layout.GetsLegB {
			r.blame(g.text, problem{message: "leg " + g.text.s + " of which bus?", expected: "`frog-from:` with a tap such as main @ 22 ft"})
			return
		}
	}
}

// needsContacts reports a bus for a frog that no contacts connect to one of its legs.
func (r *reader) needsContacts(rec *record, t *layout.Turnout) {
	v := rec.find("frog-from")
	if v == nil || !v.ok || rec.excused("frog-gets") || rec.excused("wiring") {
		return
	}
	onContacts := t.Wiring.FrogFrom == layout.FrogFromContacts
	if !onContacts && v != &rec.vals[rec.section.index["frog-from"]] {
		return // a default or a copy that does not apply
	}
	gets := value[[]rawGets](rec, "frog-gets")
	for _, g := range gets {
		if onContacts && (g.gets == layout.GetsLegA || g.gets == layout.GetsLegB || g.gets == layout.GetsUnknown) {
			return
		}
	}
	ends := r.lay.Pieces[t.Piece].Ends
	p := problem{
		message:  "which leg of this bus does the frog get?",
		expected: "`frog-gets: {" + ends[1].Name + ": A, " + ends[2].Name + ": B}`, or the other way round, or no `frog-from`",
	}
	switch {
	case !onContacts:
		p = problem{message: "the frog of " + t.Name + " has no contacts to connect it to a bus", expected: "a wiring with contacts, such as switched-frog, or no `frog-from`"}
	case len(gets) > 0:
		p.message = "no contact gives the frog a leg of this bus"
	}
	r.blame(v.key, p)
}

// setting finds the word of a setting: a leg, a route, or a leg as a route from the
// points. A route may be named from either end.
func (r *reader) setting(id layout.PieceID, t text) (string, bool) {
	words := r.lay.SettingWords(id)
	if w, ok := settingWord(words, t.s); ok {
		return w, true
	}
	if !r.endsInDoubt(id) && !r.pieceRecord(id).excused("slip") {
		r.blame(t, problem{message: r.pieceName(id) + " has no such setting", expected: listed(words), nearest: r.nearest(t.s, words)})
	}
	return "", false
}

func settingWord(words []string, s string) (string, bool) {
	if slices.Contains(words, s) {
		return s, true
	}
	if from, to, isRoute := strings.Cut(s, "-"); isRoute {
		if turned := to + "-" + from; slices.Contains(words, turned) {
			return turned, true
		}
		if from == "points" && slices.Contains(words, to) {
			return to, true
		}
		if to == "points" && slices.Contains(words, from) {
			return from, true
		}
	}
	return "", false
}

// thrownWith finds the turnout that this one is thrown together with; -1 when none.
func (r *reader) thrownWith(rec *record, id layout.PieceID) layout.PieceID {
	t, ok := get[text](rec, "throws-with")
	if !ok {
		return -1
	}
	other, ok := r.lookup(pieceThing, rec.unit, t)
	if !ok {
		return -1
	}
	o := layout.PieceID(other)
	switch {
	case o == id:
		r.blamef(t, "%s cannot throw with itself", t.s)
	case r.lay.Pieces[o].Kind != layout.TurnoutPiece:
		r.blamef(t, "%s is no turnout", t.s)
	case !r.legsPair(id, o):
		if !r.endsInDoubt(o) && !r.endsInDoubt(id) {
			r.blamef(t, "%s and %s have no legs of one name", r.pieceName(id), r.pieceName(o))
		}
	default:
		return o
	}
	return -1
}

// legsPair reports whether the legs of two turnouts pair: by name, or by order where one
// is a wye.
func (r *reader) legsPair(a, b layout.PieceID) bool {
	x, y := r.lay.Pieces[a].Ends[1].Name, r.lay.Pieces[b].Ends[1].Name
	return x == y || x == "left" || y == "left"
}
