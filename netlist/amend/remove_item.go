package amend

import (
	"slices"

	"gapwise/netlist/reader"
	"gapwise/netlist/tree"
)

// itemName is an entry of a section that is a list, by its index in the layout's slice.
type itemName struct {
	section string
	index   int32
}

// RemoveItem takes an entry out of a section that is a list, by its index in the layout's slice of that section, and the
// section with its last entry.
func (w *Writer) RemoveItem(section string, index int32) {
	w.gone = append(w.gone, itemName{section, index})
}

// removeItems makes the changes of RemoveItem.
func (b *build) removeItems() {
	type from struct {
		file    int32
		section *tree.Field
		cut     []int
	}
	var list []*from
	for _, g := range b.w.gone {
		at, change, _, why := b.findItem(itemChange{section: g.section, index: g.index})
		if why == "" && len(b.uses(at.file)) > 1 {
			why = "its file is included more than once"
		}
		if why != "" {
			b.refuse(change, why)
			continue
		}
		i := slices.IndexFunc(list, func(f *from) bool { return f.section == at.section })
		if i < 0 {
			i = len(list)
			list = append(list, &from{file: at.file, section: at.section})
		}
		if k := slices.Index(at.section.Value.List(), at.entry); !slices.Contains(list[i].cut, k) {
			list[i].cut = append(list[i].cut, k)
		}
	}
	for _, f := range list {
		slices.Sort(f.cut)
		d := b.doc(f.file)
		switch {
		case len(f.cut) < len(f.section.Value.List()):
			b.change(f.file, d.cutItems(f.section.Value, f.cut))
		case f.file == 0 && b.refilled(f.section.Key):
			b.refuse(f.section.Key, "its last entry goes while another comes; make one change after the other")
		default:
			b.change(f.file, d.cut(d.root, []string{f.section.Key}))
		}
	}
}

// Copies lists the entries of a section that are `like` one, straight or by another, and have not one of some keys themselves: they
// change with it. Keys that `like` does not copy change no other entry.
func (w *Writer) Copies(section, name string, keys ...string) []string {
	keys = slices.DeleteFunc(slices.Clone(keys), func(key string) bool { return ownKey(section, key) })
	if len(keys) == 0 {
		return nil
	}
	b := newBuild(w)
	found := []string{name}
	for k := 0; k < len(found); k++ {
		for i := range b.files {
			d := b.doc(int32(i))
			if d == nil {
				continue
			}
			s := d.root.Field(section)
			if s == nil || s.Value.Kind != tree.Map {
				continue
			}
			for j := range s.Value.Fields {
				f := &s.Value.Fields[j]
				if f.Value.Kind != tree.Map || f.Value.Get("like") == nil {
					continue
				}
				own := slices.ContainsFunc(keys, func(key string) bool { return f.Value.Get(key) != nil })
				for _, prefix := range b.uses(int32(i)) {
					if entry := prefix + f.Key; !own && prefix+f.Value.Get("like").Text == found[k] && !slices.Contains(found, entry) {
						found = append(found, entry)
					}
				}
			}
		}
	}
	return found[1:]
}

// ownKey reports whether a key of a section is not copied by `like`.
func ownKey(section, key string) bool {
	for _, s := range reader.Reference() {
		if s.Name == section {
			return slices.ContainsFunc(s.Keys, func(k reader.Key) bool { return k.Name == key && k.Own })
		}
	}
	return false
}
