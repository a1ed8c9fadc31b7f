package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// record is one decoded map of keys: an entry, or a part of one.
type record struct {
	section *section
	unit    *unit
	name    text   // as typed; no text for what has no name
	full    string // with its module's prefix
	index   int32  // into the layout's slice of its kind
	vals    []val  // parallel to section.keys
	others  []tree.Field
	node    *tree.Node
	// beside are keys that hold for a group this record is in; copied is what `like`
	// names. Both come behind the record's own keys.
	beside, copied *record
	misspelt       map[string]bool // keys that unknown ones were nearest to
	bad            bool            // a mistake that may have taken keys away was reported
}

// val is what stands under one key.
type val struct {
	set, ok bool
	key     text
	node    *tree.Node
	data    any
}

// record decodes the map n by a section's table. Keys that the table does not have are
// reported, unless the section collects them.
func (r *reader) record(u *unit, s *section, n *tree.Node, name text) *record {
	rec := &record{section: s, unit: u, name: name, full: u.prefix + name.s, node: n, index: -1, bad: n.Bad, vals: make([]val, len(s.keys))}
	for i := range n.Fields {
		f := &n.Fields[i]
		at, known := s.index[f.Key]
		if !known {
			rec.others = append(rec.others, *f)
			continue
		}
		k := &s.keys[at]
		v := val{set: true, key: keyText(f), node: f.Value}
		v.data, v.ok = r.value(k, f)
		rec.vals[at] = v
	}
	return rec
}

// value decodes one field.
func (r *reader) value(k *key, f *tree.Field) (any, bool) {
	if f.Value.Bad && f.Value.Kind == tree.Scalar {
		return nil, false
	}
	if f.Value.IsEmpty() {
		r.blame(keyText(f), problem{message: "no value; " + k.needs()})
		return nil, false
	}
	data, ok := k.kind.decode(r, k, f.Value)
	if !ok && !k.kind.partial {
		return nil, false
	}
	return data, ok
}

// needs is what to say is missing where a key has no value.
func (k *key) needs() string {
	if len(k.words) > 0 {
		return orList(k.words)
	}
	return k.kind.noun
}

// refuseOthers reports the keys that the section does not have.
func (r *reader) refuseOthers(rec *record) {
	for i := range rec.others {
		r.unknownKey(rec, &rec.others[i])
	}
}

// unknownKey reports a key that no table has, and remembers what it may have been.
func (r *reader) unknownKey(rec *record, f *tree.Field) {
	names := rec.section.keyNames()
	p := problem{message: "unknown key in " + rec.section.noun, expected: listed(names), nearest: r.nearest(f.Key, names)}
	r.blame(keyText(f), p)
	rec.excuse(p.nearest)
}

// excuse keeps a key from being called missing.
func (rec *record) excuse(name string) {
	if name == "" {
		return
	}
	if rec.misspelt == nil {
		rec.misspelt = map[string]bool{}
	}
	rec.misspelt[name] = true
}

// find is the value of a key: the record's own, its group's, the copied entry's, or the
// default of its file; nil when nobody said.
func (rec *record) find(name string) *val {
	i, ok := rec.section.index[name]
	if !ok {
		return nil
	}
	k := &rec.section.keys[i]
	for from := rec; from != nil; from = from.copied {
		if v := &from.vals[i]; v.set && (from == rec || !k.own) {
			return v
		}
		if g := from.beside; g != nil && g.vals[i].set && (from == rec || !k.own) {
			return &g.vals[i]
		}
	}
	if k.own || rec.section.defaults == "" {
		return nil
	}
	for u := rec.unit; u != nil; u = u.outer {
		if d := u.defaults[rec.section.defaults]; d != nil && d.vals[i].set {
			return &d.vals[i]
		}
		if !k.lent {
			break
		}
	}
	return nil
}

// borrowed reports whether a value found for rec is a default of a file that includes
// rec's own.
func (rec *record) borrowed(v *val) bool {
	for u := rec.unit.outer; u != nil; u = u.outer {
		if d := u.defaults[rec.section.defaults]; d != nil && within(d.vals, v) {
			return true
		}
	}
	return false
}

// set reports whether a key was typed, copied or has a default, well or badly.
func (rec *record) set(name string) bool { return rec.find(name) != nil }

// failed reports whether a key was typed and not understood.
func (rec *record) failed(name string) bool {
	v := rec.find(name)
	return v != nil && !v.ok || rec.misspelt[name]
}

// require reports the required keys that nobody said.
func (r *reader) require(rec *record) bool {
	ok := true
	for i := range rec.section.keys {
		k := &rec.section.keys[i]
		if !k.required {
			continue
		}
		switch v := rec.find(k.name); {
		case v != nil && v.ok:
		case v != nil || rec.misspelt[k.name] || rec.inDoubt():
			ok = false
		default:
			ok = false
			r.blame(rec.place(), problem{message: k.missing(), expected: k.askedFor()})
		}
	}
	return ok
}

// inDoubt reports whether keys may be missing, of the record or of what it copies,
// because of a mistake that was reported.
func (rec *record) inDoubt() bool {
	for c := rec; c != nil; c = c.copied {
		if c.bad {
			return true
		}
	}
	return false
}

func (k *key) askedFor() string {
	if k.ask != "" {
		return ""
	}
	return k.expected()
}

// place is where the record is blamed as a whole: its name, or its first key.
func (rec *record) place() text {
	if rec.name.pos.IsValid() {
		return rec.name
	}
	return nodeText(rec.node)
}

// get is a key's decoded value, false when it is unsaid or was not understood.
func get[T any](rec *record, name string) (T, bool) {
	v := rec.find(name)
	if v == nil {
		var none T
		return none, false
	}
	data, ok := v.data.(T)
	return data, ok && v.ok
}

// value is a key's decoded value, of a list what was understood, or the zero value.
func value[T any](rec *record, name string) T {
	v, _ := get[T](rec, name)
	return v
}

func (rec *record) length(name string) quantity.Length   { return value[quantity.Length](rec, name) }
func (rec *record) current(name string) quantity.Current { return value[quantity.Current](rec, name) }
func (rec *record) resistance(name string) quantity.Resistance {
	return value[quantity.Resistance](rec, name)
}
func (rec *record) time(name string) quantity.Time     { return value[quantity.Time](rec, name) }
func (rec *record) volts(name string) quantity.Voltage { return value[quantity.Voltage](rec, name) }
func (rec *record) wire(name string) quantity.Wire     { return value[quantity.Wire](rec, name) }
func (rec *record) yesNo(name string) layout.YesNo     { return value[layout.YesNo](rec, name) }
func (rec *record) word(name string) int               { return value[int](rec, name) }
func (rec *record) text(name string) string            { return value[text](rec, name).s }

// entry is what every entry of the layout begins with.
func (rec *record) entry() layout.Entry {
	e := layout.Entry{Name: rec.full, Label: rec.text("label"), Pos: rec.place().pos}
	if rec.name.s == "" {
		e.Name = ""
	}
	return e
}

// pos is where a key's value stands, or the record itself.
func (rec *record) pos(name string) source.Pos {
	if v := rec.find(name); v != nil {
		return nodeText(v.node).pos
	}
	return rec.place().pos
}

// at is the text under a key, for blame; the record's own place when it is unsaid.
func (rec *record) at(name string) text {
	v := rec.find(name)
	if v == nil {
		return rec.place()
	}
	if v.node.Kind == tree.Scalar {
		return nodeText(v.node)
	}
	return v.key
}
