package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// maxEntries bounds how many entries one layout may have, rows expanded.
const maxEntries = 100_000

// decodeNamed reads a section of {name: entry}.
func (r *reader) decodeNamed(u *unit, s *section, f *tree.Field) {
	if f.Value.Kind != tree.Map {
		r.names[s.thing].lost = true
		if !f.Value.Bad {
			r.blame(nodeText(f.Value), problem{message: "`" + s.name + "` is a map of names", expected: "such as {NAME: {...}}"})
		}
		return
	}
	for i := range f.Value.Fields {
		e := &f.Value.Fields[i]
		name := keyText(e)
		valid := r.checkName(name, s.kindWord())
		if !valid {
			r.names[s.thing].lost = true
		}
		rec := &record{section: s, unit: u, name: name, full: u.prefix + name.s, node: e.Value, index: -1, bad: true, vals: make([]val, len(s.keys))}
		if r.isMap(e, s) {
			rec = r.record(u, s, e.Value, name)
			r.refuseOthers(rec)
		}
		r.add(rec, valid)
	}
}

// add gives an entry its index and, if it is to be called by it, its name. One whose
// name clashes is left out.
func (r *reader) add(rec *record, called bool) {
	s := rec.section
	index := int32(len(r.byThing[s.thing]))
	if called && !r.register(s.thing, rec.unit, rec.name, index) {
		return
	}
	rec.index = index
	r.byThing[s.thing] = append(r.byThing[s.thing], rec)
}

// decodeList reads a section that is a list of entries.
func (r *reader) decodeList(u *unit, s *section, f *tree.Field) {
	for _, item := range f.Value.List() {
		if item.Kind != tree.Map {
			if !item.Bad {
				r.blame(nodeText(item), problem{message: s.noun + " is a map of keys", expected: listed(s.keyNames())})
			}
			continue
		}
		rec := r.record(u, s, item, text{})
		if s != neverTogetherSection {
			r.refuseOthers(rec)
		}
		rec.name = rec.given()
		r.nameInDoubt(rec)
		rec.full = u.prefix + rec.name.s
		r.add(rec, rec.name.s != "")
	}
}

// nameInDoubt notes an entry whose name may be missing because of a mistake.
func (r *reader) nameInDoubt(rec *record) {
	if rec.name.s == "" && rec.excused("name") {
		r.names[rec.section.thing].lost = true
	}
}

// given is the name under the key `name`, placed at the entry's first key when there is
// none.
func (rec *record) given() text {
	if t, ok := get[text](rec, "name"); ok {
		return t
	}
	t := nodeText(rec.node)
	if len(rec.node.Fields) > 0 {
		t = keyText(&rec.node.Fields[0])
	}
	t.s = ""
	return t
}

// decodeSingle reads a section that is one map of keys.
func (r *reader) decodeSingle(u *unit, s *section, f *tree.Field) {
	if !r.isMap(f, s) {
		return
	}
	rec := r.record(u, s, f.Value, keyText(f))
	r.refuseOthers(rec)
	if s == stockSection {
		r.lay.Stock.Bus = r.addStock(r.lay.Stock.Bus, value[[]layout.StockWire](rec, "bus"))
		r.lay.Stock.Feeder = r.addStock(r.lay.Stock.Feeder, value[[]layout.StockWire](rec, "feeder"))
		return
	}
	if o := &r.lay.Operations; o.Said {
		r.blamef(keyText(f), "`operations` again; first at %s", r.line(o.Pos, f.KeyPos))
		return
	}
	r.lay.Operations = layout.Operations{
		Said: true, AtOnce: rec.word("at-once"), Pickup: rec.length("pickup"),
		Wheels: layout.Wheels(rec.word("wheels")), Pos: f.KeyPos,
	}
}
