package amend

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// feederSpot is the text at one place of a group of feeders: group is the map of places,
// field the place with its feeders, copies what stands there in each use of the file.
type feederSpot struct {
	group  *tree.Node
	field  *tree.Field
	copies []feederCopy
}

// feederCopy is one use of the feeders at a place: piece is the one they are on, items
// the members, as indexes of Layout.Feeders, of each of its entries.
type feederCopy struct {
	piece layout.PieceID
	items [][]int32
}

// feederWishes are what is to become of feeders: keys and places, by index.
type feederWishes struct {
	keys  map[int32][]memberKey
	moves map[int32]string
}

func (a *feederWishes) has(m int32) bool { return len(a.keys[m]) > 0 || a.moves[m] != "" }

// setFeeders makes the changes of SetFeeder, SetRow and MoveFeeder.
func (b *build) setFeeders() {
	if len(b.w.feeders) == 0 {
		return
	}
	spots := b.feederSpots()
	asked := &feederWishes{keys: map[int32][]memberKey{}, moves: map[int32]string{}}
	var order []source.Pos
	for _, c := range b.w.feeders {
		if c.feeder < 0 || int(c.feeder) >= len(b.w.lay.Feeders) {
			b.refuse(fmt.Sprintf("feeder %d", c.feeder), "the layout has no such feeder")
			continue
		}
		f := &b.w.lay.Feeders[c.feeder]
		keys, ok := b.keys(feederName(f), c.keys)
		if !ok {
			continue
		}
		s := spots[f.Place.Pos]
		switch {
		case s == nil || s.field == nil:
			b.refuse(feederName(f), "it is not in the layout's files")
			continue
		case c.moves && !isPlace(c.where):
			b.refuse(feederName(f), "the place cannot be written there")
			continue
		}
		if !slices.Contains(order, f.Place.Pos) {
			order = append(order, f.Place.Pos)
		}
		if c.moves {
			asked.moves[c.feeder] = strings.TrimSpace(c.where)
		}
		members := []int32{c.feeder}
		if c.row {
			members = s.rowOf(c.feeder)
		}
		for _, m := range members {
			asked.keys[m] = mergedMember(asked.keys[m], keys, c.row)
		}
	}
	var movers []*feederSpot
	for _, pos := range order {
		switch s := spots[pos]; {
		case !s.alike(asked):
			b.refuseCopies(pos.File, s, asked)
		case s.some(func(m int32) bool { return asked.moves[m] != "" }):
			movers = append(movers, s)
		default:
			b.setPlace(pos.File, s, asked)
		}
	}
	b.moveFeeders(movers, spots, asked)
}

// isPlace reports whether a text can stand as the key of feeders or as the place of a gap.
func isPlace(where string) bool {
	_, ok := parseEntry(where, "x")
	at, fine := parseValue(where)
	return ok && fine && at.node.Kind == tree.Scalar
}

func feederName(f *layout.Feeder) string {
	if f.Name != "" {
		return "feeder " + f.Name
	}
	return "feeder " + f.Place.Text
}

// feederSpots finds the feeders of the layout in the texts, by where their places stand.
func (b *build) feederSpots() map[source.Pos]*feederSpot {
	spots := map[source.Pos]*feederSpot{}
	for i := range b.w.lay.Feeders {
		f := &b.w.lay.Feeders[i]
		s := spots[f.Place.Pos]
		if s == nil {
			s = &feederSpot{}
			spots[f.Place.Pos] = s
		}
		n := len(s.copies)
		if n == 0 || s.copies[n-1].piece != f.Place.Piece {
			s.copies = append(s.copies, feederCopy{piece: f.Place.Piece})
			n++
		}
		c := &s.copies[n-1]
		if f.Row.Number <= 1 {
			c.items = append(c.items, nil)
		}
		if k := len(c.items) - 1; k >= 0 {
			c.items[k] = append(c.items[k], int32(i))
		}
	}
	for i := range b.files {
		d := b.doc(int32(i))
		if d == nil || d.root.Get("feeders") == nil {
			continue
		}
		section := d.root.Get("feeders")
		for g := range section.Fields {
			group := section.Fields[g].Value
			for p := range group.Fields {
				pos := group.Fields[p].KeyPos
				pos.File = int32(i)
				if s := spots[pos]; s != nil {
					s.group, s.field = group, &group.Fields[p]
				}
			}
		}
	}
	return spots
}

// rowOf are all members of the row in which a feeder is.
func (s *feederSpot) rowOf(feeder int32) []int32 {
	for _, c := range s.copies {
		for _, members := range c.items {
			if slices.Contains(members, feeder) {
				return members
			}
		}
	}
	return nil
}

// some reports whether any feeder here, in any use of the file, is such.
func (s *feederSpot) some(such func(int32) bool) bool {
	for _, c := range s.copies {
		for _, members := range c.items {
			if slices.ContainsFunc(members, such) {
				return true
			}
		}
	}
	return false
}

// memberKey is a key for one member. Row says that it was given to the row as a whole.
type memberKey struct {
	typedKey
	row bool
}

func mergedMember(keys []memberKey, more []typedKey, row bool) []memberKey {
	for _, k := range more {
		if i := slices.IndexFunc(keys, func(o memberKey) bool { return o.name == k.name }); i >= 0 {
			keys[i] = memberKey{k, row}
		} else {
			keys = append(keys, memberKey{k, row})
		}
	}
	return keys
}

func plainKeys(keys []memberKey) []typedKey {
	out := make([]typedKey, len(keys))
	for i, k := range keys {
		out[i] = k.typedKey
	}
	return out
}

// alike reports whether the feeders at a place are to change alike in all uses of the file.
func (s *feederSpot) alike(asked *feederWishes) bool {
	first := s.copies[0]
	if len(first.items) != len(s.field.Value.List()) {
		return false
	}
	for _, c := range s.copies[1:] {
		if len(c.items) != len(first.items) {
			return false
		}
		for k := range c.items {
			if len(c.items[k]) != len(first.items[k]) {
				return false
			}
			for m := range c.items[k] {
				one, other := first.items[k][m], c.items[k][m]
				keys := [2][]typedKey{plainKeys(asked.keys[one]), plainKeys(asked.keys[other])}
				if asked.moves[one] != asked.moves[other] || !alike(2, func(i int) []typedKey { return keys[i] }) {
					return false
				}
			}
		}
	}
	return true
}

// setPlace gives the feeders at one place of a text, none of which moves, their keys.
func (b *build) setPlace(file int32, s *feederSpot, asked *feederWishes) {
	whole := make([][]typedKey, len(s.copies[0].items)) // keys of each entry as a whole
	for k, members := range s.copies[0].items {
		keys, ok := asOne(members, asked.keys)
		if !ok {
			if out, ok := b.written(file, s, asked); ok {
				b.change(file, []edit.Edit{b.doc(file).instead(s, &out)})
			}
			return
		}
		whole[k] = keys
	}
	d := b.doc(file)
	for k, item := range s.field.Value.List() {
		if len(whole[k]) > 0 {
			b.change(file, d.setItem(item, whole[k]))
		}
	}
}

// refuseCopies refuses the changes to feeders that several uses of a file share.
func (b *build) refuseCopies(file int32, s *feederSpot, asked *feederWishes) {
	names := make([]string, len(s.copies))
	for i, c := range s.copies {
		names[i] = b.w.lay.Pieces[c.piece].Name
	}
	for _, c := range s.copies {
		for _, members := range c.items {
			for _, m := range members {
				if asked.has(m) {
					b.refuse(feederName(&b.w.lay.Feeders[m]), b.shared(file, names))
				}
			}
		}
	}
}

// asOne are the keys of the members of one entry when all get the same; false when each has
// to be written by itself.
func asOne(members []int32, keysOf map[int32][]memberKey) ([]typedKey, bool) {
	keys := keysOf[members[0]]
	if len(members) == 1 {
		return plainKeys(keys), true
	}
	for _, k := range keys {
		if !k.row && ofOneMember[k.name] {
			return nil, false
		}
	}
	plain := make([][]typedKey, len(members))
	for i, m := range members {
		plain[i] = plainKeys(keysOf[m])
	}
	return plain[0], alike(len(plain), func(i int) []typedKey { return plain[i] })
}

// setItem gives keys of one feeder as typed, a tap or a map, their values.
func (d *document) setItem(item *tree.Node, keys []typedKey) []edit.Edit {
	if item.Kind == tree.Map {
		return d.setKeys(item, keys)
	}
	from := typedKey{"from", typed{d.inline(item), item}}
	all := merged([]typedKey{from}, keys)
	if len(all) == 1 {
		return d.replace(item, all[0].value)
	}
	at := d.start(item)
	return []edit.Edit{{From: at, To: d.end(item), Text: inBraces(all)}}
}

// inBraces is an entry on one line.
func inBraces(keys []typedKey) string {
	parts := make([]string, len(keys))
	for i, k := range keys {
		parts[i] = k.name + ": " + k.value.text
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// ofOneMember are keys that mean another thing for a row than for each of its members.
var ofOneMember = map[string]bool{"from": true, "A-from": true, "B-from": true, "name": true, "every": true}
