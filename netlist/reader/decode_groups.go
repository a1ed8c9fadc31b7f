package reader

import (
	"slices"

	"gapwise/netlist/tree"
)

// railEntry is one gap, joint or feeder as typed, perhaps a row.
type railEntry struct {
	rec   *record
	piece text
	at    text // where on the piece
}

// decodeGroups reads a section of {piece: entries}.
func (r *reader) decodeGroups(u *unit, s *section, f *tree.Field) {
	if f.Value.Kind != tree.Map {
		if !f.Value.Bad {
			r.blame(nodeText(f.Value), problem{message: "`" + s.name + "` is a map of pieces", expected: "such as M1: ... for what is in M1"})
		}
		return
	}
	for i := range f.Value.Fields {
		group := &f.Value.Fields[i]
		switch {
		case group.Value.Bad && group.Value.Kind == tree.Scalar:
			r.loseSection(s)
		case group.Value.IsEmpty():
			r.blame(keyText(group), problem{message: "no value; places in " + group.Key})
		case s == feederSection:
			r.decodeFeeders(u, keyText(group), group.Value)
		default:
			r.decodePlaces(u, s, keyText(group), group.Value)
		}
	}
}

// decodePlaces reads the gaps or joints of one piece: places, or maps with `at`.
func (r *reader) decodePlaces(u *unit, s *section, piece text, n *tree.Node) {
	for _, item := range n.List() {
		switch {
		case item.Kind == tree.Map:
			rec := r.record(u, s, item, text{})
			r.refuseOthers(rec)
			rec.name = rec.given()
			r.nameInDoubt(rec)
			rec.full = u.prefix + rec.name.s
			at, ok := get[text](rec, "at")
			if !ok {
				r.require(rec)
				r.loseSection(s)
				continue
			}
			r.railEntries = append(r.railEntries, railEntry{rec: rec, piece: piece, at: at})
		case item.Kind == tree.List:
			r.loseSection(s)
			if !item.Bad {
				r.blame(nodeText(item), problem{message: "a list inside a list", expected: "a place, or a map with `at`"})
			}
		case item.Bad:
			r.loseSection(s)
		case item.IsEmpty():
			r.loseSection(s)
			r.blame(nodeText(item), problem{message: "no value; a place"})
		default:
			at := nodeText(item)
			rec := &record{section: s, unit: u, name: text{pos: at.pos, width: at.width}, full: u.prefix, node: item, index: -1, vals: make([]val, len(s.keys))}
			rec.vals[s.index["at"]] = val{set: true, ok: true, key: at, node: item, data: at}
			r.railEntries = append(r.railEntries, railEntry{rec: rec, piece: piece, at: at})
		}
	}
}

// decodeFeeders reads the feeders of one piece: words that hold for all of them, and
// places with taps.
func (r *reader) decodeFeeders(u *unit, piece text, n *tree.Node) {
	if n.Kind != tree.Map {
		if !n.Bad {
			r.blame(nodeText(n), problem{message: "feeders are places with taps", expected: "such as {A: left, 2 ft: ring @ 3 ft}"})
		}
		return
	}
	group := &record{section: feederSection, unit: u, name: piece, node: n, index: -1, vals: make([]val, len(feederSection.keys))}
	for i := range n.Fields {
		f := &n.Fields[i]
		at, known := feederSection.index[f.Key]
		switch {
		case known && slices.Contains(feederGroupWords, f.Key):
			v := val{set: true, key: keyText(f), node: f.Value}
			v.data, v.ok = r.value(&feederSection.keys[at], f)
			group.vals[at] = v
		case known:
			r.blame(keyText(f), problem{message: "`" + f.Key + "` belongs to one feeder, not beside the places", expected: listed(feederGroupWords)})
		}
	}
	for i := 0; i < len(n.Fields); i++ {
		f := &n.Fields[i]
		if _, known := feederSection.index[f.Key]; known {
			continue
		}
		if parts := r.splitText(feederSection, n, i); parts > 0 {
			i += parts - 1
		} else {
			r.decodeFeederPlace(u, piece, group, f)
		}
	}
}

// decodeFeederPlace reads what is at one place: a tap, a map, or a list of these.
func (r *reader) decodeFeederPlace(u *unit, piece text, group *record, f *tree.Field) {
	if f.Value.Bad && f.Value.Kind == tree.Scalar {
		r.loseSection(feederSection)
		return
	}
	if r.noColon(group, f, feederGroupWords) {
		return
	}
	if f.Value.IsEmpty() {
		if slices.ContainsFunc(group.vals, func(v val) bool { return v.set && v.node.IsEmpty() }) {
			return // a comma typed for a colon is told once
		}
		r.blame(keyText(f), problem{message: "no value; a tap such as ring @ 20 ft"})
		return
	}
	for _, item := range f.Value.List() {
		var rec *record
		switch {
		case item.Kind == tree.Map:
			rec = r.record(u, feederSection, item, text{})
			r.refuseOthers(rec)
			rec.name = rec.given()
			r.nameInDoubt(rec)
			if rec.name.s == "" {
				rec.name = text{pos: f.KeyPos, width: f.KeyWidth}
			}
		case item.Kind == tree.List:
			if !item.Bad {
				r.blame(nodeText(item), problem{message: "a list inside a list", expected: "a tap, or a map with `from`"})
			}
			continue
		default:
			at := nodeText(item)
			rec = &record{section: feederSection, unit: u, name: text{pos: f.KeyPos, width: f.KeyWidth}, node: item, index: -1, vals: make([]val, len(feederSection.keys))}
			rec.vals[feederSection.index["from"]] = val{set: true, ok: !item.Bad, key: keyText(f), node: item, data: at}
		}
		rec.beside = group
		rec.full = u.prefix + rec.name.s
		r.railEntries = append(r.railEntries, railEntry{rec: rec, piece: piece, at: keyText(f)})
	}
}
