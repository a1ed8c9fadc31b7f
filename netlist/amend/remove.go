package amend

import (
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// going are the entries of one section that are to go.
type going struct {
	file    int32
	section *tree.Field
	keys    []string
}

// remove makes the changes of Remove.
func (b *build) remove() {
	var list []*going
	for _, e := range b.w.removes {
		change := e.section + " " + e.name
		at, ok := b.find(e)
		switch {
		case !ok:
			b.refuse(change, "no such entry in the layout's files")
			continue
		case at.field == nil:
			b.refuse(change, "only an entry with its name before it can go")
			continue
		}
		var copies []string
		all := true
		for _, p := range b.uses(at.file) {
			copies = append(copies, p+at.key)
			all = all && slices.Contains(b.w.removes, entryName{e.section, p + at.key})
		}
		if !all {
			b.refuse(change, b.shared(at.file, copies))
			continue
		}
		i := slices.IndexFunc(list, func(g *going) bool { return g.section == at.section })
		if i < 0 {
			i = len(list)
			list = append(list, &going{file: at.file, section: at.section})
		}
		if !slices.Contains(list[i].keys, at.key) {
			list[i].keys = append(list[i].keys, at.key)
		}
	}
	for _, g := range list {
		b.change(g.file, b.doc(g.file).takeOut(g, g.file == 0 && b.refilled(g.section.Key)))
	}
}

// refilled reports whether a section of the root file gets new entries.
func (b *build) refilled(section string) bool {
	return slices.ContainsFunc(b.w.adds, func(c addChange) bool { return c.section == section })
}

// takeOut takes entries out of their section, or the section out of the file where that would
// be without entries.
func (d *document) takeOut(g *going, refilled bool) []edit.Edit {
	if !refilled && len(g.keys) == len(g.section.Value.Fields) {
		return d.cut(d.root, []string{g.section.Key})
	}
	return d.cut(g.section.Value, g.keys)
}

// cut takes keys out of a map with their values: with their lines, or with one comma each
// inside brackets.
func (d *document) cut(n *tree.Node, keys []string) []edit.Edit {
	var edits []edit.Edit
	if !d.bracketed(n) {
		for i := range n.Fields {
			if f := &n.Fields[i]; slices.Contains(keys, f.Key) {
				from := d.keyStart(f)
				if d.startsLine(from) {
					from = d.lineStart(from)
				}
				edits = append(edits, edit.Edit{From: from, To: d.nextLine(d.fieldEnd(f))})
			}
		}
		return edits
	}
	var kept []int
	for i := range n.Fields {
		if !slices.Contains(keys, n.Fields[i].Key) {
			kept = append(kept, i)
		}
	}
	for i := range n.Fields {
		f := &n.Fields[i]
		if !slices.Contains(keys, f.Key) {
			continue
		}
		e := edit.Edit{From: d.keyStart(f), To: d.fieldEnd(f)}
		if len(kept) > 0 && i > kept[len(kept)-1] {
			e.From = d.fieldEnd(&n.Fields[i-1])
		} else if i+1 < len(n.Fields) {
			e.To = d.keyStart(&n.Fields[i+1])
		}
		e.Text = d.keepApart(n, e.From, e.To)
		edits = append(edits, e)
	}
	return edits
}

// keepApart are the comments between two bytes of a map in brackets, on lines of their own.
func (d *document) keepApart(n *tree.Node, from, to int) string {
	var b strings.Builder
	for _, c := range d.comments(n, from, to) {
		b.WriteString(" " + string(d.text[c.from:c.to]) + d.eol + d.lineIndent(d.start(n)) + step)
	}
	return b.String()
}
