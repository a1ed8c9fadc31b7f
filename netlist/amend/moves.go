package amend

import (
	"slices"

	"gapwise/netlist/edit"
	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// moved are the feeders at one place of a text of which some move. Out is what stands there
// instead; of those that all move together to one place only the key changes.
type moved struct {
	spot     *feederSpot
	file     int32
	together string
	out      group
}

// moveFeeders has feeders stand elsewhere in their groups.
func (b *build) moveFeeders(movers []*feederSpot, spots map[source.Pos]*feederSpot, asked *feederWishes) {
	var list []*moved
	for _, s := range movers {
		file := b.w.lay.Feeders[s.copies[0].items[0][0]].Place.Pos.File
		if out, ok := b.written(file, s, asked); ok {
			list = append(list, &moved{s, file, s.together(b.w.lay, asked), out})
		}
	}
	for i, m := range list {
		if slices.ContainsFunc(list[:i], func(o *moved) bool { return o.spot.group == m.spot.group }) {
			continue
		}
		var here []*moved
		for _, o := range list[i:] {
			if o.spot.group == m.spot.group {
				here = append(here, o)
			}
		}
		b.moveWithin(here, spots, asked)
	}
}

// together is the one place to which all feeders here move; empty where they do not, or where
// some are of a row.
func (s *feederSpot) together(l *layout.Layout, asked *feederWishes) string {
	to := asked.moves[s.copies[0].items[0][0]]
	if s.some(func(m int32) bool { return asked.moves[m] != to || l.Feeders[m].Row.Number > 0 }) {
		return ""
	}
	return to
}

// moveWithin makes the moves in one group. A feeder that comes to where others stand is put
// with them.
func (b *build) moveWithin(list []*moved, spots map[source.Pos]*feederSpot, asked *feederWishes) {
	file, d, n := list[0].file, b.doc(list[0].file), list[0].spot.group
	taken := map[string]*moved{}
	var gone, met []string
	joining := map[string][]string{}
	for _, m := range list {
		stays := group{}
		for i, where := range m.out.where {
			f := n.Field(where)
			if f == nil || slices.ContainsFunc(list, func(o *moved) bool { return o.spot.field == f }) {
				if o := taken[where]; o != nil && o != m {
					b.refuse(placeName(b.w.lay, m.spot, where), "two of the changes put feeders there; make one after the other")
					return
				}
				taken[where] = m
				stays.put(where, m.out.values[i])
				continue
			}
			pos := f.KeyPos
			pos.File = file
			if s := spots[pos]; s == nil || s.some(asked.has) {
				b.refuse(placeName(b.w.lay, m.spot, where), "what stands there is to change too; make one change after the other")
				return
			}
			if len(joining[where]) == 0 {
				met = append(met, where)
			}
			joining[where] = append(joining[where], m.out.values[i].text)
		}
		switch {
		case len(stays.where) == 0:
			gone = append(gone, m.spot.field.Key)
		case m.together != "":
			b.change(file, d.moveTogether(m, asked))
		default:
			b.change(file, []edit.Edit{d.instead(m.spot, &stays)})
		}
	}
	for _, where := range met {
		b.change(file, d.appendItems(n.Field(where), false, joining[where], d.bracketed(n)))
	}
	b.change(file, d.cutKeeping(n, gone))
}

// cutKeeping takes keys out of a map with their values, and leaves the comments of their lines
// on lines of their own.
func (d *document) cutKeeping(n *tree.Node, keys []string) []edit.Edit {
	edits := d.cut(n, keys)
	if d.bracketed(n) {
		return edits
	}
	for i := range edits {
		e := &edits[i]
		for _, c := range d.comments(n, e.From, e.To) {
			e.Text += d.indent(d.start(n)) + string(d.text[c.from:c.to]) + d.eol
		}
	}
	return edits
}

// moveTogether gives feeders another place, and their keys.
func (d *document) moveTogether(m *moved, asked *feederWishes) []edit.Edit {
	f := m.spot.field
	var edits []edit.Edit
	if m.together != f.Key {
		edits = append(edits, edit.Edit{From: d.keyStart(f), To: d.keyEnd(f), Text: m.together})
	}
	for k, item := range f.Value.List() {
		if keys := plainKeys(asked.keys[m.spot.copies[0].items[k][0]]); len(keys) > 0 {
			edits = append(edits, d.setItem(item, keys)...)
		}
	}
	return edits
}

// placeName is what a place of a group is called in a refusal.
func placeName(l *layout.Layout, s *feederSpot, where string) string {
	return "feeder " + l.Pieces[s.copies[0].piece].Name + " @ " + where
}
