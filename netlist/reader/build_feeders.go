package reader

import (
	"gapwise/netlist/layout"
)

// feeders makes the feeders of one entry.
func (r *reader) feeders(e *railEntry, rw row) {
	rec := e.rec
	f := layout.Feeder{
		ARail: layout.Rail(rec.word("A") - 1), Rails: layout.BothRails,
		Wire: rec.wire("wire"), Length: rec.length("length"), Broken: rec.noUnless("broken"),
	}
	if w := rec.word("rails"); w > 0 {
		f.Rails = layout.RailSet(w)
	}
	taps, ok := r.feederTaps(e, f, rw)
	if !ok {
		r.lostEntry(e)
	}
	for i, s := range rw.spots {
		one := f
		var fine bool
		if one.Entry, one.Row, fine = r.member(e, i, len(rw.spots), rw.step > 0, int32(len(r.lay.Feeders))); !fine {
			return
		}
		if s.edge {
			r.besideBody(e.at, s)
			return
		}
		one.Place = s.place
		one.From = [2]layout.Tap{noTap(), noTap()}
		for l := range taps {
			if i < len(taps[l]) {
				one.From[l] = taps[l][i]
			}
		}
		r.lay.Feeders = append(r.lay.Feeders, one)
		r.feederAt = append(r.feederAt, e.at)
	}
}

// besideBody asks on which side of a body's edge something hangs.
func (r *reader) besideBody(t text, s spot) {
	name := r.pieceName(s.place.Piece)
	r.blamef(t, "on which side of the edge of %s? e.g. %s %s", name, name, r.lay.Pieces[s.place.Piece].Ends[s.place.End].Name)
}

// uses reports whether a feeder has a wire from leg l.
func uses(f layout.Feeder, l layout.Leg) bool {
	rail := f.ARail
	if l == layout.B {
		rail = rail.Other()
	}
	return f.Rails == layout.BothRails || f.Rails == oneRail(rail)
}

// tapOf is where a feeder's leg is tapped: its own key, or `from`.
type tapOf struct {
	leg layout.Leg
	v   *val
	own bool
}

// tapKeys finds where each leg of a feeder is tapped, and reports legs it does not have
// and taps that nobody said.
func (r *reader) tapKeys(rec *record, f layout.Feeder) (taps []tapOf, ok bool) {
	ok = true
	for l, name := range [2]string{"A-from", "B-from"} {
		leg, v := layout.Leg(l), rec.find(name)
		switch {
		case uses(f, leg) && v != nil:
			taps = append(taps, tapOf{leg, v, true})
		case uses(f, leg):
			taps = append(taps, tapOf{leg, rec.find("from"), false})
		case v != nil:
			r.blame(v.key, problem{message: "this feeder has no leg " + leg.String() + "; it is on one rail"})
			ok = false
		}
	}
	if !ok || rec.excused("from") || rec.excused("A-from") || rec.excused("B-from") {
		return taps, ok
	}
	for _, t := range taps {
		if t.v != nil {
			continue
		}
		message := "where does leg " + t.leg.String() + " come from?"
		if len(taps) == 1 || taps[0].v == nil && taps[1].v == nil {
			message = "`from` is missing"
		}
		r.blame(rec.place(), problem{message: message, expected: "a tap such as ring @ 20 ft"})
		return taps, false
	}
	return taps, true
}

// feederTaps resolves the taps of both legs for each member of a row.
func (r *reader) feederTaps(e *railEntry, f layout.Feeder, rw row) (taps [2][]layout.Tap, ok bool) {
	keys, ok := r.tapKeys(e.rec, f)
	var shared []layout.Tap // from `from`, whose mistakes are told once
	tried := false
	for _, k := range keys {
		if k.v == nil || !k.v.ok {
			ok = false
			continue
		}
		t, _ := k.v.data.(text)
		list, fine := shared, true
		if k.own || !tried {
			list, fine = r.tapRow(e.rec.unit, t, len(rw.spots), rw.step)
		}
		if !k.own {
			shared, tried = list, true
		}
		ok = ok && fine
		taps[k.leg] = list
		if len(list) > 0 && !r.needLeg(list[0], k.leg, t) && !k.own {
			break
		}
	}
	return taps, ok
}

// needLeg reports a tap on a bus that does not carry the leg.
func (r *reader) needLeg(t layout.Tap, l layout.Leg, at text) bool {
	if t.Bus < 0 || r.lay.Buses[t.Bus].Legs.Carries(l) {
		return true
	}
	r.blamef(at, "%s carries no leg %s here", r.lay.Buses[t.Bus].Name, l)
	return false
}
