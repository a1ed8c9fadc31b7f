package format

import (
	"gapwise/netlist/reader"
	"gapwise/netlist/tree"
)

// shape is how a section of a file is laid out.
type shape uint8

const (
	notASection shape = iota // a part of an entry
	named                    // {name: entry}
	list                     // a list of entries
	groups                   // {piece: places or entries}
	feeders                  // {piece: {place: tap or entries}}
	single                   // one entry
)

// shapes are those of the language's sections.
var shapes = map[string]shape{
	"tracks": named, "turnouts": named, "three-ways": named, "crossings": named, "slips": named, "turntables": named, "transfer-tables": named,
	"supplies": named, "boosters": named, "cabs": named, "breakers": named, "reversers": named, "detectors": named, "in-line": named,
	"changeovers": named, "plugs": named, "buses": named, "blocks": named, "districts": named, "trains": named,
	"never-together": list, "common-rail": list, "bonds": list, "commons": list, "terminators": list, "loads": list, "accept": list,
	"gaps": groups, "joints": groups, "feeders": feeders,
	"operations": single, "stock": single,
}

// table is what is documented about the keys of one kind of entry.
type table struct {
	section string
	rank    map[string]int    // where in the documented order a key stands
	takes   map[string]string // what its value is, in the reference's words
}

// tables are those of all sections and parts of entries, by name; defaultTables are those of
// the keys under `defaults`.
var tables, defaultTables = func() (m, defaults map[string]*table) {
	m, defaults = map[string]*table{}, map[string]*table{}
	for _, s := range reader.Reference() {
		t := &table{section: s.Name, rank: map[string]int{}, takes: map[string]string{}}
		for i, k := range s.Keys {
			t.rank[k.Name], t.takes[k.Name] = i, k.Value
		}
		t.rank["like"] = -1
		m[s.Name] = t
		if s.Defaults != "" {
			defaults[s.Defaults] = t
		}
	}
	return m, defaults
}()

// visitor is told of what it knows in a file: maps whose keys have an order, places that are
// keys of a map, and single values with what they are.
type visitor struct {
	entry func(n *tree.Node, t *table)
	place func(n *tree.Node, f *tree.Field)
	value func(n *tree.Node, takes string)
}

// Values that the reference calls text or leaves to the section, and one that several places name.
const (
	takesWhere = "where on a piece"
	takesLimit = "limit"
	takesStock = "wire sizes, or {wire, price, per}"
)

// file visits a whole file. What does not have the shape it should have is passed over.
func (v *visitor) file(root *tree.Node) {
	for i := range root.Fields {
		f := &root.Fields[i]
		switch f.Key {
		case "include":
			v.entries(f.Value.List(), tables["include"])
		case "limits":
			for j := range f.Value.Fields {
				v.values(f.Value.Fields[j].Value, takesLimit)
			}
		case "defaults":
			for j := range f.Value.Fields {
				g := &f.Value.Fields[j]
				if t := defaultTables[g.Key]; t != nil {
					v.known(g.Value, t)
				}
			}
		default:
			v.section(f)
		}
	}
}

func (v *visitor) section(f *tree.Field) {
	t := tables[f.Key]
	switch shapes[f.Key] {
	case named:
		for i := range f.Value.Fields {
			v.known(f.Value.Fields[i].Value, t)
		}
	case list:
		v.entries(f.Value.List(), t)
	case groups:
		for i := range f.Value.Fields {
			v.items(f.Value.Fields[i].Value, t, takesWhere)
		}
	case feeders:
		for i := range f.Value.Fields {
			v.feeders(f.Value.Fields[i].Value, t)
		}
	case single:
		v.known(f.Value, t)
	}
}

func (v *visitor) entries(items []*tree.Node, t *table) {
	for _, item := range items {
		v.known(item, t)
	}
}

// items visits one or more entries, or values in their place.
func (v *visitor) items(n *tree.Node, t *table, takes string) {
	for _, item := range n.List() {
		if item.Kind == tree.Map {
			v.known(item, t)
			continue
		}
		v.values(item, takes)
	}
}

// feeders visits the feeders of one piece.
func (v *visitor) feeders(n *tree.Node, t *table) {
	if n.Kind == tree.Map {
		v.entry(n, t)
	}
	for i := range n.Fields {
		f := &n.Fields[i]
		if takes, beside := t.takes[f.Key]; beside {
			v.values(f.Value, takes)
			continue
		}
		v.place(n, f)
		v.items(f.Value, t, t.takes["from"])
	}
}

// known visits one entry.
func (v *visitor) known(n *tree.Node, t *table) {
	if n.Kind != tree.Map {
		return
	}
	v.entry(n, t)
	for i := range n.Fields {
		f := &n.Fields[i]
		takes := t.takes[f.Key]
		if f.Key == "at" && shapes[t.section] == groups {
			takes = takesWhere
		}
		switch {
		case takes == takesStock:
			v.items(f.Value, tables["wire"], takes)
		case f.Value.Kind != tree.Map:
			v.values(f.Value, takes)
		case takes == "preset, or wiring in full":
			v.known(f.Value, tables["wiring"])
		case takes == "{name: source, nothing or {from, legs}}":
			for j := range f.Value.Fields {
				v.items(f.Value.Fields[j].Value, tables["position"], tables["position"].takes["from"])
			}
		case takes == "stretches, or {place on the bus: stretches}":
			for j := range f.Value.Fields {
				v.place(f.Value, &f.Value.Fields[j])
				v.values(f.Value.Fields[j].Value, takes)
			}
		default:
			for j := range f.Value.Fields {
				v.values(f.Value.Fields[j].Value, takes)
			}
		}
	}
}

// values visits a single value or those of a list.
func (v *visitor) values(n *tree.Node, takes string) {
	for _, item := range n.List() {
		if item.Kind == tree.Scalar && !item.IsEmpty() {
			v.value(item, takes)
		}
	}
}
