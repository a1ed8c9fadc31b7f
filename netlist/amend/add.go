package amend

import (
	"slices"
	"strings"
	"unicode/utf8"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// additions are what is to be put at the end of one section: `name: value`, or values of a
// list.
type additions struct {
	section string
	names   []string
	values  []typed
}

// add makes the changes of Add, AddList and AddPlaced.
func (b *build) add() {
	if len(b.w.adds)+len(b.w.placed) == 0 {
		return
	}
	if len(b.files) == 0 {
		b.refuse("the layout", "it has no file")
		return
	}
	byFile := make([][]*additions, len(b.files))
	if b.doc(0) == nil && len(b.w.adds) > 0 {
		b.refuse("the additions to "+b.files[0].source.Name, "the file has mistakes in its text")
		return
	}
	for _, c := range b.w.adds {
		b.addOne(c, &byFile[0])
	}
	b.place(byFile)
	for i, list := range byFile {
		if len(list) > 0 {
			b.change(int32(i), b.doc(int32(i)).addAll(list))
		}
	}
}

// addOne checks one new entry and puts it with the others of its section.
func (b *build) addOne(c addChange, to *[]*additions) {
	change, want := strings.TrimSpace(c.section+" "+c.name), named
	if c.list {
		change, want = c.section, listed
	}
	v, ok := parseValue(c.value)
	if !c.list {
		v, ok = parseEntry(c.name, c.value)
	}
	switch {
	case sections[c.section] != want:
		b.refuse(change, "there is no such section, or it is laid out in another way")
		return
	case !ok:
		b.refuse(change, "`"+c.value+"` is not one value")
		return
	}
	a := sectionOf(to, c.section)
	here := b.doc(0).root.Get(c.section)
	if c.list {
		items := append(items(here, c.section == "joins"), nodes(a.values)...)
		if slices.ContainsFunc(items, func(n *tree.Node) bool { return same(n, v.node) }) {
			return
		}
		a.put("", v)
		return
	}
	var was *tree.Node
	if i := slices.Index(a.names, c.name); i >= 0 {
		was = a.values[i].node
	} else if was = here.Get(c.name); was == nil {
		a.put(c.name, v)
		return
	}
	if !same(was, v.node) {
		b.refuse(change, "there is one already, and it differs")
	}
}

func nodes(values []typed) []*tree.Node {
	out := make([]*tree.Node, len(values))
	for i, v := range values {
		out[i] = v.node
	}
	return out
}

// items are the entries of a list, which may have lost its brackets. Of pairs a list may be
// one such.
func items(n *tree.Node, pairs bool) []*tree.Node {
	if pairs && isPair(n) {
		return []*tree.Node{n}
	}
	return slices.Clone(n.List())
}

func isPair(n *tree.Node) bool {
	return n != nil && n.Kind == tree.List && len(n.Items) == 2 && n.Items[0].Kind == tree.Scalar && n.Items[1].Kind == tree.Scalar
}

func sectionOf(list *[]*additions, section string) *additions {
	for _, a := range *list {
		if a.section == section {
			return a
		}
	}
	a := &additions{section: section}
	*list = append(*list, a)
	return a
}

func (a *additions) put(name string, v typed) {
	if name != "" {
		a.names = append(a.names, name)
	}
	a.values = append(a.values, v)
}

// addAll puts new entries into their sections.
func (d *document) addAll(list []*additions) []edit.Edit {
	var edits []edit.Edit
	for _, a := range list {
		if len(a.values) == 0 {
			continue
		}
		f := d.root.Field(a.section)
		switch {
		case f == nil:
			edits = append(edits, d.newSection(a)...)
		case len(a.names) == 0:
			pair := a.section == "joins" && isPair(f.Value)
			edits = append(edits, d.appendItems(f, pair, a.lines(0), d.bracketed(d.root))...)
		default:
			edits = append(edits, d.appendEntries(f, a)...)
		}
	}
	return edits
}

// lines are the entries as they are written, values starting in a column where one is given.
func (a *additions) lines(column int) []string {
	out := make([]string, len(a.values))
	for i, v := range a.values {
		out[i] = v.text
		if len(a.names) > 0 {
			apart := max(1, column-utf8.RuneCountInString(a.names[i])-1)
			out[i] = a.names[i] + ":" + strings.Repeat(" ", apart) + v.text
		}
	}
	return out
}

// appendEntries puts entries at the end of a section, a map, that is there.
func (d *document) appendEntries(f *tree.Field, a *additions) []edit.Edit {
	at := d.fieldEnd(f)
	switch {
	case f.Value.Kind == tree.Map && d.bracketed(f.Value):
		return d.appendTo(f.Value, a.lines(0))
	case f.Value.Kind == tree.Map:
		return d.appendTo(f.Value, a.lines(d.column(f.Value)))
	case f.Value.IsEmpty() && d.bracketed(d.root):
		return []edit.Edit{{From: at, To: at, Text: " {" + strings.Join(a.lines(0), ", ") + "}"}}
	case f.Value.IsEmpty():
		return []edit.Edit{d.linesBehind(at, d.indent(d.keyStart(f))+step, a.lines(0))}
	}
	return nil
}

// column is where the values of a map start, counted from its keys, if they have a column
// of their own; else 0.
func (d *document) column(n *tree.Node) int {
	column := 0
	for i := range n.Fields {
		f := &n.Fields[i]
		apart := int(f.Value.Pos.Col - f.KeyPos.Col)
		if f.Value.IsEmpty() || f.Value.Pos.Line != f.KeyPos.Line || column > 0 && apart != column {
			return 0
		}
		column = apart
	}
	if len(n.Fields) < 2 {
		return 0
	}
	return column
}

// newSection puts a section where the language's description has it: behind the last one
// that comes before it there.
func (d *document) newSection(a *additions) []edit.Edit {
	if d.bracketed(d.root) {
		open, end := "{", "}"
		if len(a.names) == 0 {
			open, end = "[", "]"
		}
		return d.appendTo(d.root, []string{a.section + ": " + open + strings.Join(a.lines(0), ", ") + end})
	}
	before, best := len(d.root.Fields)-1, -1
	for i := range d.root.Fields {
		if rank := ranks[d.root.Fields[i].Key]; rank < ranks[a.section] && rank > best {
			before, best = i, rank
		}
	}
	f := &d.root.Fields[before]
	at := d.lineEnd(d.fieldEnd(f))
	margin := d.indent(d.keyStart(f))
	text := d.eol + margin + a.section + ":"
	if d.apart(before) {
		text = d.eol + text
	}
	dash := ""
	if len(a.names) == 0 {
		dash = "- "
	}
	for _, line := range a.lines(0) {
		text += d.eol + margin + step + dash + line
	}
	return []edit.Edit{{From: at, To: at, Text: text}}
}

// apart reports whether an empty line follows a section, or none does.
func (d *document) apart(section int) bool {
	next := d.nextLine(d.fieldEnd(&d.root.Fields[section]))
	return section == len(d.root.Fields)-1 || d.lineEnd(next) == next
}
