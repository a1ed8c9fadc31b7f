package amend

import (
	"slices"
	"strings"
)

// Unset takes keys of a named entry away that the entry itself has. What it is like, and the defaults, count again then.
func (w *Writer) Unset(section, name string, keys ...string) {
	c := setChange{entry: entryName{section, name}}
	for _, k := range keys {
		c.keys = append(c.keys, Key{Name: k})
	}
	w.unsets = append(w.unsets, c)
}

// unset makes the changes of Unset.
func (b *build) unset() {
	type from struct {
		at   spot
		keys []string
	}
	var list []*from
	for _, c := range b.w.unsets {
		change := c.entry.section + " " + c.entry.name
		at, ok := b.find(c.entry)
		if !ok {
			b.refuse(change, "no such entry in the layout's files")
			continue
		}
		if len(b.uses(at.file)) > 1 {
			b.refuse(change, "its file is included more than once")
			continue
		}
		i := slices.IndexFunc(list, func(f *from) bool { return f.at.entry == at.entry })
		if i < 0 {
			i = len(list)
			list = append(list, &from{at: at})
		}
		for _, k := range c.keys {
			switch {
			case at.entry.Get(k.Name) == nil:
				b.refuse(change, "it has no `"+k.Name+"` of its own")
			case !slices.Contains(list[i].keys, k.Name):
				list[i].keys = append(list[i].keys, k.Name)
			}
		}
	}
	for _, f := range list {
		if len(f.keys) == len(f.at.entry.Fields) {
			b.refuse(f.at.key, "nothing would be left of it without "+strings.Join(f.keys, ", "))
			continue
		}
		b.change(f.at.file, b.doc(f.at.file).cut(f.at.entry, f.keys))
	}
}
