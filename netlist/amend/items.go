package amend

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// listEntries are the entries of a section that is a list, as the layout has them; false where
// there is no such section.
func listEntries(l *layout.Layout, section string) ([]layout.Entry, bool) {
	switch section {
	case "bonds":
		return entriesOf(l.Bonds, func(x *layout.Bond) layout.Entry { return x.Entry }), true
	case "commons":
		return entriesOf(l.Commons, func(x *layout.Common) layout.Entry { return x.Entry }), true
	case "terminators":
		return entriesOf(l.Terminators, func(x *layout.Terminator) layout.Entry { return x.Entry }), true
	case "loads":
		return entriesOf(l.Loads, func(x *layout.Load) layout.Entry { return x.Entry }), true
	case "common-rail":
		return entriesOf(l.CommonRails, func(x *layout.CommonRail) layout.Entry { return x.Entry }), true
	case "never-together":
		return entriesOf(l.NeverTogether, func(x *layout.Exclusion) layout.Entry { return x.Entry }), true
	case "accept":
		return entriesOf(l.Accepts, func(x *layout.Accept) layout.Entry { return x.Entry }), true
	}
	return nil, false
}

func entriesOf[T any](list []T, entry func(*T) layout.Entry) []layout.Entry {
	all := make([]layout.Entry, len(list))
	for i := range list {
		all[i] = entry(&list[i])
	}
	return all
}

// findItem looks for an entry of a list: where it stands in the texts, what its change is
// called, and the prefix of the use of its file; or why it is not there.
func (b *build) findItem(c itemChange) (at spot, change, prefix, why string) {
	change = fmt.Sprintf("%s %d", c.section, c.index)
	entries, ok := listEntries(b.w.lay, c.section)
	switch {
	case !ok:
		return at, change, "", "there is no such section, or it is laid out in another way"
	case c.index < 0 || int(c.index) >= len(entries):
		return at, change, "", "the layout has no such entry"
	}
	e := entries[c.index]
	if e.Name != "" {
		change = c.section + " " + e.Name
	}
	use, count := 0, 0
	for i := range entries {
		if entries[i].Pos == e.Pos {
			if int32(i) == c.index {
				use = count
			}
			count++
		}
	}
	file := e.Pos.File
	if file < 0 || int(file) >= len(b.files) || b.doc(file) == nil || len(b.uses(file)) != count {
		return at, change, "", "it is not in the layout's files"
	}
	section := b.doc(file).root.Field(c.section)
	if section == nil {
		return at, change, "", "it is not in the layout's files"
	}
	for k, item := range section.Value.List() {
		if item.Kind == tree.Map && standsAt(item, e.Pos) {
			key := fmt.Sprintf("%s %d", c.section, k+1)
			if n := item.Get("name"); n != nil {
				key = n.Text
			}
			return spot{file, section, nil, item, key}, change, b.uses(file)[use], ""
		}
	}
	return at, change, "", "it is not in the layout's files"
}

// standsAt reports whether an entry of a list is the one that the layout has at a place: that
// of its name, or of its first key.
func standsAt(item *tree.Node, pos source.Pos) bool {
	at := source.Pos{}
	if n := item.Get("name"); n != nil {
		at = n.Pos
	} else if len(item.Fields) > 0 {
		at = item.Fields[0].KeyPos
	}
	return at.Line == pos.Line && at.Col == pos.Col
}
