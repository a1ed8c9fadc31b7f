package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// buildBuses makes the buses; what they hang from, lie beside and run below is resolved
// when all are known.
func (r *reader) buildBuses() {
	for _, rec := range r.byThing[busThing] {
		b := layout.Bus{
			Entry: rec.entry(), Legs: layout.Legs(max(0, rec.word("legs")-1)), Wire: rec.wire("wire"), Length: rec.length("length"),
			Laid: value[layout.Laid](rec, "laid"), Returns: noTap(), Use: layout.BusUse(max(0, rec.word("use")-1)),
		}
		r.lay.Buses = append(r.lay.Buses, b)
	}
	for i, rec := range r.byThing[busThing] {
		b := &r.lay.Buses[i]
		if raw, ok := get[rawPlace](rec, "to"); ok && raw.text.s != "open" {
			b.Returns, _ = r.tap(rec.unit, raw)
			r.needLegs(b.Returns, b.Legs, raw.text)
		}
		for _, p := range value[[]pair[quantity.Length]](rec, "beside") {
			other, ok := r.lookup(busThing, rec.unit, p.key)
			if ok && other == int32(i) {
				r.blamef(p.key, "a bus does not lie beside itself")
				continue
			}
			if ok {
				b.Beside = append(b.Beside, layout.Beside{Bus: other, Spacing: p.value})
			}
		}
	}
}

// needLegs reports a tap on a bus that lacks a leg of those wanted.
func (r *reader) needLegs(t layout.Tap, legs layout.Legs, at text) {
	for _, l := range legsOf(legs) {
		if !r.needLeg(t, l, at) {
			return
		}
	}
}
