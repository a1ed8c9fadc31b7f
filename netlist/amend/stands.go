package amend

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// stand is a gap or joint of the layout.
type stand struct {
	name  string
	place layout.Place
	row   layout.Row
}

// standsOf are the gaps or the joints of the layout.
func (b *build) standsOf(section string) []stand {
	var all []stand
	if section == "gaps" {
		for i := range b.w.lay.Gaps {
			g := &b.w.lay.Gaps[i]
			all = append(all, stand{g.Name, g.Place, g.Row})
		}
		return all
	}
	for i := range b.w.lay.Joints {
		j := &b.w.lay.Joints[i]
		all = append(all, stand{j.Name, j.Place, j.Row})
	}
	return all
}

// standList are the entries under one piece in a text. Key is the section's, field the
// piece's.
type standList struct {
	file       int32
	key, field *tree.Field
	entries    []*standEntry // parallel to the list's items; nil for what no change names
}

// standEntry is one entry as typed. Copies are its members, as indexes into the layout's
// slice, in each use of the file.
type standEntry struct {
	list   *standList
	copies [][]int32
}

// stands makes the changes to the entries of one section.
type stands struct {
	b       *build
	section string
	all     []stand
	byPos   map[source.Pos]*standEntry
	lists   []*standList
	keys    map[int32][]typedKey
	goes    map[int32]bool
}

// setStands makes the changes of SetGap, MoveGap, CloseGap and SetJoint.
func (b *build) setStands() {
	for _, section := range []string{"gaps", "joints"} {
		if !slices.ContainsFunc(b.w.stands, func(c standChange) bool { return c.section == section }) {
			continue
		}
		s := &stands{b: b, section: section, all: b.standsOf(section), keys: map[int32][]typedKey{}, goes: map[int32]bool{}}
		s.locate()
		s.collect()
		s.write()
	}
}

// name is what a gap or joint is called in a refusal.
func (s *stands) name(i int32) string {
	one := strings.TrimSuffix(s.section, "s")
	if name := s.all[i].name; name != "" {
		return one + " " + name
	}
	return one + " " + s.all[i].place.Text
}

// locate finds the entries of the section in the texts, by where their places stand.
func (s *stands) locate() {
	s.byPos = map[source.Pos]*standEntry{}
	for i := range s.all {
		pos := s.all[i].place.Pos
		e := s.byPos[pos]
		if e == nil {
			e = &standEntry{}
			s.byPos[pos] = e
		}
		if s.all[i].row.Number <= 1 || len(e.copies) == 0 {
			e.copies = append(e.copies, nil)
		}
		last := &e.copies[len(e.copies)-1]
		*last = append(*last, int32(i))
	}
	for i := range s.b.files {
		d := s.b.doc(int32(i))
		if d == nil || d.root.Get(s.section) == nil {
			continue
		}
		key := d.root.Field(s.section)
		for f := range key.Value.Fields {
			field := &key.Value.Fields[f]
			items := field.Value.List()
			list := &standList{file: int32(i), key: key, field: field, entries: make([]*standEntry, len(items))}
			for k, item := range items {
				at := item
				if item.Kind == tree.Map {
					at = item.Get("at")
				}
				if at == nil {
					continue
				}
				pos := at.Pos
				pos.File = int32(i)
				if e := s.byPos[pos]; e != nil {
					e.list, list.entries[k] = list, e
				}
			}
			s.lists = append(s.lists, list)
		}
	}
}

// collect takes the changes apart, by the members they are for.
func (s *stands) collect() {
	for _, c := range s.b.w.stands {
		if c.section != s.section {
			continue
		}
		if c.index < 0 || int(c.index) >= len(s.all) {
			one := strings.TrimSuffix(s.section, "s")
			s.b.refuse(fmt.Sprintf("%s %d", one, c.index), "the layout has no such "+one)
			continue
		}
		name := s.name(c.index)
		keys, ok := s.b.keys(name, c.keys)
		switch e := s.byPos[s.all[c.index].place.Pos]; {
		case !ok:
		case e == nil || e.list == nil:
			s.b.refuse(name, "it is not in the layout's files")
		case c.goes && len(s.keys[c.index]) > 0 || !c.goes && s.goes[c.index]:
			s.b.refuse(name, "it is to go, and to change as well")
		case slices.ContainsFunc(keys, func(k typedKey) bool { return k.name == "at" && k.value.node.Kind != tree.Scalar }):
			s.b.refuse(name, "the place cannot be written there")
		case c.goes:
			s.goes[c.index] = true
		default:
			s.keys[c.index] = merged(s.keys[c.index], keys)
		}
	}
}

// write makes the changes, list by list.
func (s *stands) write() {
	var gone []*standList
	for _, list := range s.lists {
		d := s.b.doc(list.file)
		out := make([]outcome, len(list.entries))
		left := 0
		for k, item := range list.field.Value.List() {
			out[k] = s.outcome(d, item, list.entries[k])
			if !out[k].instead || len(out[k].texts) > 0 {
				left++
			}
		}
		if left == 0 && len(out) > 0 {
			gone = append(gone, list)
			continue
		}
		s.b.change(list.file, d.writeList(list.field.Value, out, d.bracketed(list.key.Value)))
	}
	s.cutLists(gone)
}

// cutLists takes lists without entries out, and sections without lists.
func (s *stands) cutLists(gone []*standList) {
	for i := range s.b.files {
		var keys []string
		var section *tree.Field
		for _, list := range gone {
			if list.file == int32(i) {
				section, keys = list.key, append(keys, list.field.Key)
			}
		}
		if len(keys) > 0 {
			d := s.b.doc(int32(i))
			s.b.change(int32(i), d.takeOut(&going{section: section, keys: keys}, s.b.comesTo(s.section, int32(i))))
		}
	}
}

// outcome is what becomes of one entry as typed.
func (s *stands) outcome(d *document, item *tree.Node, e *standEntry) outcome {
	if e == nil {
		return outcome{}
	}
	var changed []int32
	for _, members := range e.copies {
		for _, m := range members {
			if s.goes[m] || len(s.keys[m]) > 0 {
				changed = append(changed, m)
			}
		}
	}
	if len(changed) == 0 {
		return outcome{}
	}
	if !s.alike(e) {
		var names []string
		for _, members := range e.copies {
			names = append(names, s.b.w.lay.Pieces[s.all[members[0]].place.Piece].Name)
		}
		for _, m := range changed {
			s.b.refuse(s.name(m), s.b.shared(e.list.file, names))
		}
		return outcome{}
	}
	members := e.copies[0]
	if keys, ok := s.asOne(members); ok {
		return outcome{keys: keys}
	}
	out := outcome{instead: true}
	for i, m := range members {
		if s.goes[m] {
			continue
		}
		text, why := s.single(d, item, m, i == 0)
		if why != "" {
			s.b.refuse(s.name(changed[0]), why)
			return outcome{}
		}
		out.texts = append(out.texts, text)
	}
	return out
}

// alike reports whether all uses of a file get the same changes.
func (s *stands) alike(e *standEntry) bool {
	first := e.copies[0]
	for _, members := range e.copies[1:] {
		if len(members) != len(first) {
			return false
		}
		for i, m := range members {
			keys := [2][]typedKey{s.keys[first[i]], s.keys[m]}
			if s.goes[m] != s.goes[first[i]] || !alike(2, func(k int) []typedKey { return keys[k] }) {
				return false
			}
		}
	}
	return true
}

// asOne are the keys of the members of one entry when all get the same; false when each has
// to be written by itself, or goes.
func (s *stands) asOne(members []int32) ([]typedKey, bool) {
	keys := s.keys[members[0]]
	if slices.ContainsFunc(members, func(m int32) bool { return s.goes[m] }) {
		return nil, false
	}
	if s.all[members[0]].row.Number == 0 {
		return keys, true
	}
	for _, k := range keys {
		if k.name == "at" || k.name == "name" || k.name == "every" {
			return nil, false
		}
	}
	return keys, alike(len(members), func(i int) []typedKey { return s.keys[members[i]] })
}

// single is a member of a row by itself, or why there is no way to write it.
func (s *stands) single(d *document, item *tree.Node, m int32, first bool) (text, why string) {
	at := item
	if item.Kind == tree.Map {
		at = item.Get("at")
	}
	where := rowPlace(at.Text, s.all[m].place.At, first)
	if where == "" {
		return "", "where this " + strings.TrimSuffix(s.section, "s") + " stands is not known well enough"
	}
	place := typedKey{name: "at", value: typed{text: where}}
	var keys []typedKey
	if item.Kind != tree.Map {
		keys = append(keys, place)
	}
	for i := range item.Fields {
		f := &item.Fields[i]
		switch f.Key {
		case "every":
		case "at":
			keys = append(keys, place)
		case "name":
			name := s.all[m].name
			keys = append(keys, typedKey{name: "name", value: typed{text: name[strings.LastIndex(name, "/")+1:]}})
		default:
			keys = append(keys, typedKey{name: f.Key, value: typed{text: d.inline(f.Value)}})
		}
	}
	text = shortest(merged(keys, s.keys[m]), "at")
	if _, ok := parseValue(text); !ok {
		return "", "the row cannot be written as single places"
	}
	return text, ""
}
