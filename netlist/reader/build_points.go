package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// bonds makes the wires from rail to rail.
func (r *reader) bonds() {
	for _, rec := range r.byThing[bondThing] {
		b := layout.Bond{Entry: rec.entry(), Wire: rec.wire("wire"), Length: rec.length("length")}
		from, okFrom := r.pointOf(rec, "from")
		to, okTo := r.pointOf(rec, "to")
		rails, ok := get[[]int](rec, "rails")
		if !okFrom || !okTo || !ok {
			r.names[bondThing].lost = true
			continue
		}
		b.From, b.To = from, to
		if len(rails) == 0 {
			b.Both = true
		} else {
			b.Rails = [2]layout.Rail{layout.Rail(rails[0] - 1), layout.Rail(rails[1] - 1)}
		}
		r.lay.Bonds = append(r.lay.Bonds, b)
	}
}

// pointOf resolves a place where something hangs on the rails, which a body's edge is not.
func (r *reader) pointOf(rec *record, name string) (layout.Place, bool) {
	raw, ok := get[rawPlace](rec, name)
	if !ok {
		return layout.Place{}, false
	}
	s, ok := r.spotOf(rec.unit, raw)
	if ok && s.edge {
		r.besideBody(raw.text, s)
		return s.place, false
	}
	if ok {
		r.hanging = append(r.hanging, onRail{place: s.place, at: raw.text})
	}
	return s.place, ok
}

// buildPoints makes terminators and loads, which hang on rails or on a bus.
func (r *reader) buildPoints() {
	for _, rec := range r.byThing[terminatorThing] {
		t := layout.Terminator{Entry: rec.entry(), Resistance: rec.resistance("resistance"), Capacitance: value[quantity.Capacitance](rec, "capacitance")}
		var ok bool
		if t.OnRail, t.Place, t.Tap, ok = r.point(rec); ok {
			r.lay.Terminators = append(r.lay.Terminators, t)
		}
	}
	for _, rec := range r.byThing[loadThing] {
		l := layout.Load{
			Entry: rec.entry(), Resistance: rec.resistance("resistance"), Capacitance: value[quantity.Capacitance](rec, "capacitance"),
			Draws: rec.current("draws"), Inrush: rec.current("inrush"), Kind: rec.text("kind"),
		}
		var ok bool
		if l.OnRail, l.Place, l.Tap, ok = r.point(rec); ok {
			r.lay.Loads = append(r.lay.Loads, l)
		}
	}
}

// point resolves an `at` that is a place on rails or a tap on a bus.
func (r *reader) point(rec *record) (onRail bool, p layout.Place, t layout.Tap, ok bool) {
	p, t = noPlace, noTap()
	raw, ok := get[rawPlace](rec, "at")
	if !ok {
		return false, p, t, false
	}
	_, isPiece := r.known(pieceThing, rec.unit, raw.name.s)
	_, isBus := r.known(busThing, rec.unit, raw.name.s)
	switch kind := raw.kind.s; {
	case kind == "bus" || kind == "" && isBus && !isPiece:
		t, ok = r.tap(rec.unit, raw)
		if ok {
			r.needLegs(t, layout.LegsBoth, raw.text)
		}
		return false, p, t, ok
	case kind == "" && isBus && isPiece && raw.along && r.isTrack(rec.unit, raw.name.s):
		r.blamef(raw.text, "track %s or bus %s?", raw.name.s, raw.name.s)
		return false, p, t, false
	}
	p, ok = r.pointOf(rec, "at")
	return true, p, t, ok
}

// isTrack reports whether a name is a track's.
func (r *reader) isTrack(u *unit, name string) bool {
	p, ok := r.known(pieceThing, u, name)
	return ok && r.lay.Pieces[p].Kind == layout.TrackPiece
}
