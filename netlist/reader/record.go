package reader

import "gapwise/netlist/tree"

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
	bad            bool // any key may be missing because of a mistake that was reported
}

// val is what stands under one key.
type val struct {
	set, ok bool
	key     text
	node    *tree.Node
	data    any
}

// record decodes the map n by a section's table. Keys that the table does not have are kept
// in others, for refuseOthers or for a section that takes the owner's own words.
func (r *reader) record(u *unit, s *section, n *tree.Node, name text) *record {
	rec := &record{section: s, unit: u, name: name, full: u.prefix + name.s, node: n, index: -1, bad: n.Bad, vals: make([]val, len(s.keys))}
	for i := 0; i < len(n.Fields); i++ {
		f := &n.Fields[i]
		at, known := s.index[f.Key]
		if !known {
			if parts := r.splitText(s, n, i); parts > 0 {
				i += parts - 1
			} else {
				rec.others = append(rec.others, *f)
			}
			continue
		}
		k := &s.keys[at]
		v := val{set: true, key: keyText(f), node: f.Value}
		v.data, v.ok = r.value(k, f)
		rec.vals[at] = v
		rec.bad = rec.bad || f.Value.Bad // which may have swallowed the next key
	}
	return rec
}

// lostHere reports whether a mistake may have cost a map or list an entry of its own. One
// that lies deeper marks what is around it too.
func lostHere(n *tree.Node) bool {
	for i := range n.Fields {
		if n.Fields[i].Value.Bad {
			return false
		}
	}
	for _, item := range n.Items {
		if item.Bad {
			return false
		}
	}
	return n.Bad
}

// needs is what to say is missing where a key has no value.
func (k *key) needs() string {
	if len(k.words) > 0 {
		return orList(k.words)
	}
	return k.kind.noun
}
