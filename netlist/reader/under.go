package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// underBuses resolves what each bus says it runs below.
func (r *reader) underBuses() {
	for i, rec := range r.byThing[busThing] {
		b := &r.lay.Buses[i]
		for _, raw := range value[[]rawUnder](rec, "under") {
			u := layout.Under{Bus: -1, Block: -1}
			if raw.at != nil {
				var ok bool
				if u.At, ok = r.station(b, *raw.at); !ok {
					continue
				}
				u.AtKnown = true
			}
			for _, rs := range raw.stretches {
				var ok bool
				u.Stretch, u.Block, ok = r.stretch(rec.unit, rs)
				if ok && (rs.bounds == nil || r.gapBounds(&u.Stretch, *rs.bounds, -1)) {
					b.Under = append(b.Under, u)
				}
			}
		}
	}
}

// station is a place, or a run from one place to another, along a bus.
func (r *reader) station(b *layout.Bus, t text) (quantity.Length, bool) {
	if !isRange(t) {
		w, ok := r.parseWhere(t)
		if !ok {
			return quantity.Length{}, false
		}
		return r.onBus(b, w)
	}
	bs, ok := r.parseBounds(t, false)
	if !ok {
		return quantity.Length{}, false
	}
	from, okFrom := r.onBus(b, bs.from)
	to, okTo := r.onBus(b, bs.to)
	if !okFrom || !okTo {
		return from, false
	}
	if !from.Known() || !to.Known() {
		from.State = quantity.Unknown
		return from, true
	}
	if to.Hi < from.Lo {
		r.blamef(t, "a stretch rises; %s .. %s?", bs.to.text.s, bs.from.text.s)
		return from, false
	}
	from.Hi, from.Text, from.Pos = to.Hi, t.tidy(), t.pos
	return from, true
}

func (r *reader) onBus(b *layout.Bus, w where) (quantity.Length, bool) {
	at, ok := along(w, b.Length)
	if !ok {
		r.blame(w.text, problem{message: beyond(b.Name, w, "bus "+b.Name, b.Length)})
	}
	return at, ok
}
