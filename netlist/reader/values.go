package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

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

func (rec *record) length(name string) quantity.Length { return value[quantity.Length](rec, name) }

func (rec *record) current(name string) quantity.Current { return value[quantity.Current](rec, name) }

func (rec *record) resistance(name string) quantity.Resistance {
	return value[quantity.Resistance](rec, name)
}

func (rec *record) time(name string) quantity.Time { return value[quantity.Time](rec, name) }

func (rec *record) volts(name string) quantity.Voltage { return value[quantity.Voltage](rec, name) }

func (rec *record) wire(name string) quantity.Wire { return value[quantity.Wire](rec, name) }

func (rec *record) yesNo(name string) layout.YesNo { return value[layout.YesNo](rec, name) }

func (rec *record) word(name string) int { return value[int](rec, name) }

func (rec *record) text(name string) string { return value[text](rec, name).s }

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
