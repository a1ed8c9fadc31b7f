package amend

import (
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// place makes the changes of AddPlaced. What goes under pieces that have no group yet is put
// with the other additions.
func (b *build) place(byFile [][]*additions) {
	var groups []*group
	for i, c := range b.w.placed {
		change := c.section + " " + c.piece + " @ " + c.where
		if sections[c.section] != placed {
			b.refuse(change, "only gaps, joints and feeders have places")
			continue
		}
		if !b.isPiece(c.piece) {
			b.refuse(change, "no track or piece is named "+c.piece)
			continue
		}
		h := b.homes[i]
		v, why := b.placedValue(c, h)
		if why != "" {
			b.refuse(change, why)
			continue
		}
		groupOf(&groups, h.file, c.section, strings.TrimPrefix(c.piece, h.prefix)).put(c.where, v)
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

func groupOf(groups *[]*group, file int32, section, piece string) *group {
	for _, g := range *groups {
		if g.file == file && g.section == section && g.piece == piece {
			return g
		}
	}
	g := &group{section: section, piece: piece, file: file}
	*groups = append(*groups, g)
	return g
}

// home is the file that gets a new entry, and the prefix of the names in it.
type home struct {
	file   int32
	prefix string
}

// homeOf finds the file that gets an entry: that of the piece where it has a group for it, else
// another that has one, else that of the piece, so that what is on a module's track stays with
// the module; else the root. A file that stands twice is none of these, as what is put there
// would be on two tracks, nor is a module in which names of the entry would mean something else.
func (b *build) homeOf(c placedChange) home {
	best, rank := home{}, 0
	for i := range b.files {
		file := int32(i)
		d, uses := b.doc(file), b.uses(file)
		if d == nil || len(uses) != 1 || !strings.HasPrefix(c.piece, uses[0]) {
			continue
		}
		piece := strings.TrimPrefix(c.piece, uses[0])
		here := 0
		if hasPiece(d.root, piece) {
			here = 1
		}
		if d.root.Get(c.section).Get(piece) != nil {
			here += 2
		}
		if here <= rank {
			continue
		}
		if v, ok := parseValue(c.value); ok && uses[0] != "" {
			if _, ok := b.inModule(v, uses[0]); !ok {
				continue
			}
		}
		best, rank = home{file, uses[0]}, here
	}
	return best
}

// comesTo reports whether a file's section of groups gets a new entry.
func (b *build) comesTo(section string, file int32) bool {
	for i, c := range b.w.placed {
		if c.section == section && b.homes[i].file == file {
			return true
		}
	}
	return false
}

// inModule is an entry as it is written in a module, where names have no prefix; false where
// names in it would mean something else there.
func (b *build) inModule(v typed, prefix string) (typed, bool) {
	if v.node.Kind == tree.Scalar {
		text, ok := b.tapInModule(v.node.Text, prefix)
		inside, fine := parseValue(text)
		return inside, ok && fine
	}
	parts := make([]typedKey, len(v.node.Fields))
	for i := range v.node.Fields {
		f := &v.node.Fields[i]
		text, ok := bare(f.Value), f.Value.Kind == tree.Scalar
		switch f.Key {
		case "name", "like", "bridged-by":
			return v, false
		case "from", "A-from", "B-from":
			text, ok = b.tapInModule(f.Value.Text, prefix)
		}
		if !ok {
			return v, false
		}
		parts[i] = typedKey{name: f.Key, value: typed{text: text}}
	}
	return parseValue(inBraces(parts))
}

// tapInModule is a tap as it is written in a module; false where the module has a bus of that
// name which is not meant.
func (b *build) tapInModule(tap, prefix string) (string, bool) {
	kind := ""
	if rest, ok := strings.CutPrefix(tap, "bus "); ok {
		kind, tap = "bus ", strings.TrimSpace(rest)
	}
	if inside, ok := strings.CutPrefix(tap, prefix); ok {
		return kind + inside, true
	}
	bus, _, _ := strings.Cut(tap, "@")
	bus = prefix + strings.TrimSpace(bus)
	return kind + tap, !slices.ContainsFunc(b.w.lay.Buses, func(o layout.Bus) bool { return o.Name == bus })
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
func (b *build) placedValue(c placedChange, h home) (typed, string) {
	d := b.doc(h.file)
	at, _ := parseValue(c.where)
	switch {
	case d == nil:
		return typed{}, b.files[h.file].source.Name + " has mistakes in its text"
	case !isPlace(c.where):
		return typed{}, "the place cannot be written there"
	}
	value := strings.TrimSpace(c.value)
	if c.section == "feeders" {
		v, ok := parseValue(value)
		if !ok || v.node.Kind == tree.List {
			return typed{}, "`" + value + "` is no feeder"
		}
		if h.prefix != "" {
			v, _ = b.inModule(v, h.prefix)
		}
		return unsaidBeside(d.root.Get(c.section).Get(strings.TrimPrefix(c.piece, h.prefix)), v), ""
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

// unsaidBeside is a feeder without the keys that words beside the places of its group say
// already.
func unsaidBeside(group *tree.Node, v typed) typed {
	var own []typedKey
	for i := range v.node.Fields {
		f := &v.node.Fields[i]
		if f.Value.Kind != tree.Scalar {
			return v
		}
		if word := group.Get(f.Key); word == nil || !same(word, f.Value) {
			own = append(own, typedKey{name: f.Key, value: typed{text: bare(f.Value)}})
		}
	}
	if len(own) == len(v.node.Fields) || len(own) == 0 {
		return v
	}
	shorter, _ := parseValue(shortest(own, "from"))
	return shorter
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
