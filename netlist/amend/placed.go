package amend

import (
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// place makes the changes of AddPlaced. What goes under pieces that have no group yet is put
// with the other additions.
func (b *build) place(byFile [][]*additions) {
	var groups []*group
	for _, c := range b.w.placed {
		change := c.section + " " + c.piece + " @ " + c.where
		if sections[c.section] != placed {
			b.refuse(change, "only gaps, joints and feeders have places")
			continue
		}
		if !b.isPiece(c.piece) {
			b.refuse(change, "no track or piece is named "+c.piece)
			continue
		}
		g := b.groupOf(&groups, c)
		v, why := b.placedValue(c, g.file)
		if why != "" {
			b.refuse(change, why)
			continue
		}
		g.put(c.where, v)
	}
	for _, g := range groups {
		if len(g.values) == 0 {
			continue
		}
		d := b.doc(g.file)
		f := d.root.Get(g.section).Field(g.piece)
		switch {
		case f == nil || f.Value.IsEmpty():
			b.newGroup(byFile, g, f)
		case g.section == "feeders":
			b.change(g.file, d.addFeeders(f.Value, g))
		default:
			b.change(g.file, d.addPlaces(d.root.Get(g.section), f, g))
		}
	}
}

func (b *build) isPiece(name string) bool {
	for i := range b.w.lay.Pieces {
		if b.w.lay.Pieces[i].Name == name {
			return true
		}
	}
	return false
}

// group is what is to be added under one piece: where is parallel to values.
type group struct {
	section, piece string
	file           int32
	where          []string
	values         []typed
}

func (g *group) put(where string, v typed) {
	g.where = append(g.where, where)
	g.values = append(g.values, v)
}

// groupOf finds the file that gets an entry: the one that has a group for the piece, else the
// one with the piece itself, else the root. Names are written without prefixes in a file
// only where it has none.
func (b *build) groupOf(groups *[]*group, c placedChange) *group {
	for _, g := range *groups {
		if g.section == c.section && g.piece == c.piece {
			return g
		}
	}
	best, rank := int32(0), 0
	for i := range b.files {
		file := int32(i)
		d := b.doc(file)
		if d == nil || !slices.Equal(b.uses(file), []string{""}) {
			continue
		}
		switch {
		case d.root.Get(c.section).Get(c.piece) != nil && rank < 2:
			best, rank = file, 2
		case rank < 1 && hasPiece(d.root, c.piece):
			best, rank = file, 1
		}
	}
	g := &group{section: c.section, piece: c.piece, file: best}
	*groups = append(*groups, g)
	return g
}

// hasPiece reports whether a piece is declared in a file.
func hasPiece(root *tree.Node, piece string) bool {
	for _, section := range []string{"tracks", "turnouts", "three-ways", "crossings", "slips", "turntables", "transfer-tables"} {
		if root.Get(section).Get(piece) != nil {
			return true
		}
	}
	return false
}

// placedValue is what is written for an entry, or why it cannot be.
func (b *build) placedValue(c placedChange, file int32) (typed, string) {
	d := b.doc(file)
	_, ok := parseEntry(c.where, "x")
	at, fine := parseValue(c.where)
	switch {
	case d == nil:
		return typed{}, b.files[file].source.Name + " has mistakes in its text"
	case !ok || !fine || at.node.Kind != tree.Scalar:
		return typed{}, "the place cannot be written there"
	}
	value := strings.TrimSpace(c.value)
	if c.section == "feeders" {
		if v, ok := parseValue(value); ok && v.node.Kind != tree.List {
			return v, ""
		}
		return typed{}, "`" + value + "` is no feeder"
	}
	if value == "" && c.section == "gaps" {
		if insulatedByDefault(d.root) {
			return at, ""
		}
		value = "{rails: both, kind: insulated}"
	}
	v, ok := parseValue(value)
	switch {
	case !ok || v.node.Kind != tree.Map || len(v.node.Fields) == 0:
		return typed{}, "`" + value + "` is no map of keys"
	case v.node.Get("at") != nil:
		return typed{}, "the place is said twice"
	}
	v, _ = parseValue("{at: " + at.text + ", " + strings.TrimLeft(v.text[1:], " "))
	return v, ""
}

// insulatedByDefault reports whether a gap of a file of which only the place is said is an
// insulated one in both rails.
func insulatedByDefault(root *tree.Node) bool {
	gap := root.Get("defaults").Get("gap")
	rails, kind := gap.Get("rails"), gap.Get("kind")
	return rails != nil && kind != nil && rails.Text == "both" && kind.Text == "insulated"
}

// newGroup adds a group to a section, or fills one without a value.
func (b *build) newGroup(byFile [][]*additions, g *group, f *tree.Field) {
	text := ""
	if g.section == "feeders" {
		text = "{" + strings.Join(g.places(), ", ") + "}"
	} else {
		texts := make([]string, len(g.values))
		for i, v := range g.values {
			texts[i] = v.text
		}
		text = "[" + strings.Join(texts, ", ") + "]"
	}
	v, ok := parseEntry(g.piece, text)
	switch {
	case !ok:
		b.refuse(g.section+" "+g.piece, "two of the new entries cannot stand together")
	case f != nil:
		b.change(g.file, b.doc(g.file).setValue(f, v))
	default:
		sectionOf(&byFile[g.file], g.section).put(g.piece, v)
	}
}

// places are new feeders as `place: value`, those of one place in one list.
func (g *group) places() []string {
	var out []string
	for i, where := range g.where {
		if slices.Index(g.where, where) < i {
			continue
		}
		var texts []string
		var seen []*tree.Node
		for j, v := range g.values {
			if g.where[j] == where && !slices.ContainsFunc(seen, func(n *tree.Node) bool { return same(n, v.node) }) {
				texts, seen = append(texts, v.text), append(seen, v.node)
			}
		}
		text := texts[0]
		if len(texts) > 1 {
			text = "[" + strings.Join(texts, ", ") + "]"
		}
		out = append(out, where+": "+text)
	}
	return out
}

// addFeeders adds feeders to those of a piece.
func (d *document) addFeeders(n *tree.Node, g *group) []edit.Edit {
	var edits []edit.Edit
	fresh := group{}
	more := map[string][]string{}
	var order []string
	for i, where := range g.where {
		f := n.Field(where)
		switch {
		case f == nil:
			fresh.put(where, g.values[i])
		case slices.ContainsFunc(f.Value.List(), func(item *tree.Node) bool { return same(item, g.values[i].node) }):
		case slices.Contains(more[where], g.values[i].text):
		default:
			if len(more[where]) == 0 {
				order = append(order, where)
			}
			more[where] = append(more[where], g.values[i].text)
		}
	}
	for _, where := range order {
		edits = append(edits, d.appendItems(n.Field(where), false, more[where], d.bracketed(n))...)
	}
	return append(edits, d.appendTo(n, fresh.places())...)
}

// addPlaces adds gaps or joints to those of a piece.
func (d *document) addPlaces(section *tree.Node, f *tree.Field, g *group) []edit.Edit {
	var fresh []string
	seen := slices.Clone(f.Value.List())
	for _, v := range g.values {
		if !slices.ContainsFunc(seen, func(n *tree.Node) bool { return same(n, v.node) }) {
			fresh, seen = append(fresh, v.text), append(seen, v.node)
		}
	}
	return d.appendItems(f, false, fresh, d.bracketed(section))
}
