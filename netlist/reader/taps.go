package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

func noTap() layout.Tap { return layout.Tap{Bus: -1} }

// tap resolves a place on a bus.
func (r *reader) tap(u *unit, raw rawPlace) (layout.Tap, bool) {
	if raw.name.s == "unknown" && !raw.along && raw.end.s == "" {
		return layout.Tap{Bus: -1, Unknown: true, Text: "unknown", Pos: raw.text.pos}, true
	}
	if raw.kind.s != "" && raw.kind.s != "bus" {
		r.blame(raw.kind, problem{message: "a tap is on a bus", expected: "a tap such as ring @ 20 ft"})
		return noTap(), false
	}
	if !raw.along {
		r.tapWithoutPlace(u, raw)
		return noTap(), false
	}
	bus, ok := r.lookup(busThing, u, raw.name)
	if !ok {
		return noTap(), false
	}
	return r.tapAt(bus, raw.where, raw.text)
}

// tapWithoutPlace reports a bus without a place on it, or something that is no bus.
func (r *reader) tapWithoutPlace(u *unit, raw rawPlace) {
	_, isBus := r.known(busThing, u, raw.name.s)
	switch {
	case isBus && raw.end.s == "":
		r.blamef(raw.text, "where on bus %s? e.g. %s @ 3 ft", raw.name.s, raw.name.s)
	case raw.end.s != "" || raw.kind.s != "":
		r.blame(raw.text, problem{message: "a tap is on a bus", expected: "a tap such as ring @ 20 ft"})
	default:
		r.unknownName(busThing, u, raw.name)
	}
}

// tapAt is a measured place on a bus.
func (r *reader) tapAt(bus int32, w where, t text) (layout.Tap, bool) {
	b := &r.lay.Buses[bus]
	at, ok := along(w, b.Length)
	if !ok {
		r.blame(t, problem{message: beyond(b.Name, w, "bus "+b.Name, b.Length)})
		return noTap(), false
	}
	if !r.sure(w, false) {
		return noTap(), false
	}
	return layout.Tap{Bus: bus, At: at, Text: b.Name + " @ " + at.Text, Pos: t.pos}, true
}

// tapRow resolves a tap for each of n members of a row: it steps as the row does, or is
// spread evenly when two places were typed.
func (r *reader) tapRow(u *unit, t text, n int, step float64) ([]layout.Tap, bool) {
	if n == 0 {
		return nil, true
	}
	before, after, isTap := t.around("@")
	if step > 0 && isTap && isRange(after) {
		return r.spreadTaps(u, t, before, after, n)
	}
	raw, ok := r.parsePlace(t)
	if !ok {
		return nil, false
	}
	first, ok := r.tap(u, raw)
	if !ok {
		return nil, false
	}
	taps := make([]layout.Tap, n)
	for i := range taps {
		taps[i] = first
		if i == 0 || first.Unknown || !first.At.Known() {
			continue
		}
		b := &r.lay.Buses[first.Bus]
		taps[i].At.Lo += float64(i) * step
		taps[i].At.Hi += float64(i) * step
		taps[i].At.Text = spell(taps[i].At.Lo, first.At.Text)
		taps[i].Text = b.Name + " @ " + taps[i].At.Text
		if b.Length.Known() && taps[i].At.Lo > b.Length.Hi+touching {
			last := where{text: text{s: spell(first.At.Lo+float64(n-1)*step, first.At.Text)}}
			r.blame(t, problem{message: beyond(b.Name, last, "bus "+b.Name, b.Length), expected: "taps within it; they step as the row does, and this is its last"})
			return nil, false
		}
	}
	return taps, true
}

// spreadTaps spreads n taps from the first place to the last.
func (r *reader) spreadTaps(u *unit, t, before, after text, n int) ([]layout.Tap, bool) {
	names := before.words()
	if len(names) == 2 && names[0].s == "bus" {
		names = names[1:]
	}
	if len(names) != 1 || !isReference(names[0].s) {
		r.blame(before, problem{message: "before the @ belongs one name", expected: "a tap such as ring @ 20 ft"})
		return nil, false
	}
	bus, ok := r.lookup(busThing, u, names[0])
	if !ok {
		return nil, false
	}
	b, ok := r.parseBounds(after, false)
	if !ok {
		return nil, false
	}
	first, okFirst := r.tapAt(bus, b.from, t)
	last, okLast := r.tapAt(bus, b.to, t)
	if !okFirst || !okLast {
		return nil, false
	}
	taps := make([]layout.Tap, n)
	for i := range taps {
		share := 0.0
		if n > 1 {
			share = float64(i) / float64(n-1)
		}
		taps[i] = first
		taps[i].At = between(first.At, last.At, share)
		taps[i].At.Text = spell(taps[i].At.Lo, after.s)
		taps[i].Text = r.lay.Buses[bus].Name + " @ " + taps[i].At.Text
	}
	return taps, true
}

// between is the length a share of the way from a to b.
func between(a, b quantity.Length, share float64) quantity.Length {
	if !a.Known() || !b.Known() {
		return quantity.Length{Value: quantity.Value{State: quantity.Unknown, Pos: a.Pos}}
	}
	a.Lo += (b.Lo - a.Lo) * share
	a.Hi += (b.Hi - a.Hi) * share
	if a.Lo > a.Hi {
		a.Lo, a.Hi = a.Hi, a.Lo
	}
	return a
}
