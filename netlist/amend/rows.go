package amend

import (
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/tree"
)

// written are the feeders at one place of a text as single places, each member of a row with
// its own keys and at its own place.
func (b *build) written(file int32, s *feederSpot, asked *feederWishes) (group, bool) {
	d := b.doc(file)
	out := group{}
	for k, item := range s.field.Value.List() {
		for i, m := range s.copies[0].items[k] {
			w := member{d: d, lay: b.w.lay, item: item, feeder: &b.w.lay.Feeders[m], first: i == 0, where: s.field.Key}
			where, text, why := w.write(asked.keys[m])
			if to := asked.moves[m]; to != "" && why == "" {
				where = to
			}
			if why == "" && w.feeder.Row.Number > 0 && b.copied(file, item) {
				why = "another feeder copies this row"
			}
			v, ok := parseValue(text)
			if why == "" && !ok {
				why = "the row cannot be written as single places"
			}
			if why != "" {
				b.refuse(feederName(w.feeder), why)
				return out, false
			}
			out.put(where, v)
		}
	}
	return out, true
}

// instead puts places with their feeders where one stood.
func (d *document) instead(s *feederSpot, out *group) edit.Edit {
	from, to := d.keyStart(s.field), d.fieldEnd(s.field)
	comments := d.comments(s.field.Value, d.keyEnd(s.field), to)
	lines := d.eol + d.indent(from)
	if d.bracketed(s.group) {
		apart := ", "
		if d.startsLine(from) {
			apart = "," + lines
		}
		return edit.Edit{From: from, To: to, Text: d.keep(strings.Join(out.places(), apart), comments, true, d.lineIndent(from)+step)}
	}
	return edit.Edit{From: from, To: to, Text: d.keep(strings.Join(out.places(), lines), comments, false, d.indent(from))}
}

// copied reports whether the `like` of another feeder of a file names a row.
func (b *build) copied(file int32, row *tree.Node) bool {
	name := row.Get("name")
	if name == nil {
		return false
	}
	section := b.doc(file).root.Get("feeders")
	for i := range section.Fields {
		for j := range section.Fields[i].Value.Fields {
			for _, item := range section.Fields[i].Value.Fields[j].Value.List() {
				if like := item.Get("like"); like != nil && like.Text == name.Text {
					return true
				}
			}
		}
	}
	return false
}

// member is one feeder of an entry that is to stand by itself.
type member struct {
	d      *document
	lay    *layout.Layout
	item   *tree.Node // as typed
	feeder *layout.Feeder
	first  bool   // of its row
	where  string // as typed for all of them
}

// write is a member's place and what stands there, or why there is no way to write it.
func (m *member) write(changed []memberKey) (where, text, why string) {
	if m.feeder.Row.Number == 0 {
		if len(changed) == 0 {
			return m.where, m.d.inline(m.item), ""
		}
		return m.where, shortest(merged(m.own(), plainKeys(changed)), "from"), ""
	}
	for _, k := range changed {
		if k.row && ofOneMember[k.name] {
			return "", "", "the row and one of its feeders are both to change; `" + k.name + "` cannot be both"
		}
	}
	keys, why := m.single()
	if why != "" {
		return "", "", why
	}
	where = m.place()
	if where == "" {
		return "", "", "where this feeder stands is not known well enough"
	}
	return where, shortest(merged(keys, plainKeys(changed)), "from"), ""
}

// shortest is an entry in braces, or the value of one key where it has nothing else.
func shortest(keys []typedKey, alone string) string {
	if len(keys) == 1 && keys[0].name == alone {
		return keys[0].value.text
	}
	return inBraces(keys)
}

// own are the keys that were typed for the entry.
func (m *member) own() []typedKey {
	if m.item.Kind != tree.Map {
		return []typedKey{{"from", typed{m.d.inline(m.item), m.item}}}
	}
	keys := make([]typedKey, len(m.item.Fields))
	for i := range m.item.Fields {
		f := &m.item.Fields[i]
		keys[i] = typedKey{f.Key, typed{m.d.inline(f.Value), f.Value}}
	}
	return keys
}

// single are the keys of the member by itself. What it copies it gets too, as a row may be
// copied from another.
func (m *member) single() ([]typedKey, string) {
	f := m.feeder
	var keys []typedKey
	own := m.own()
	for _, k := range own {
		text := k.value.text
		switch k.name {
		case "every", "like":
			continue
		case "name":
			text = f.Name[strings.LastIndex(f.Name, "/")+1:]
		case "from", "A-from", "B-from":
			if text = m.tap(k, own); text == "" {
				return nil, "where this feeder is tapped is not known well enough"
			}
		}
		keys = append(keys, typedKey{name: k.name, value: typed{text: text}})
	}
	if m.item.Get("like") == nil {
		return keys, ""
	}
	for _, k := range []Key{
		{"A", railWord(f.ARail)},
		{"rails", layout.RailSetWords[f.Rails]},
		{"wire", f.Wire.Text},
		{"length", f.Length.Text},
		{"broken", brokenWords[f.Broken]},
	} {
		if k.Value != "" && m.item.Get(k.Name) == nil {
			keys = append(keys, typedKey{name: k.Name, value: typed{text: k.Value}})
		}
	}
	return keys, ""
}

func railWord(r layout.Rail) string {
	return layout.RailSetWords[layout.LeftRail+layout.RailSet(r)]
}

// brokenWords are the words of layout.YesNo.
var brokenWords = []string{"", "yes", "no", "unknown"}

// tap is where a member is tapped, under one of the keys that say so.
func (m *member) tap(k typedKey, own []typedKey) string {
	has := func(name string) bool {
		return slices.ContainsFunc(own, func(o typedKey) bool { return o.name == name })
	}
	leg := layout.A
	if k.name == "B-from" || k.name == "from" && (has("A-from") || m.feeder.From[layout.A].Text == "") {
		leg = layout.B
	}
	t := &m.feeder.From[leg]
	bus, measure, isTap := strings.Cut(k.value.node.Text, "@")
	if k.name == "from" && has("A-from") && has("B-from") || t.Unknown || !isTap || m.first && !strings.Contains(measure, "..") {
		return k.value.text // it does not count, or is the row's own
	}
	if !t.At.Known() {
		if strings.Contains(measure, "..") {
			return ""
		}
		return k.value.text
	}
	return strings.TrimSpace(bus) + " @ " + spelled(t.At, measure)
}

// place is where the member stands. The first stands where the row was typed to start.
func (m *member) place() string {
	return rowPlace(m.where, m.feeder.Place.At, m.first)
}

// rowPlace is where a member of a row that was typed as `from .. to` stands. The first stands
// where the row starts. It is empty where that is not known.
func rowPlace(typed string, at quantity.Length, first bool) string {
	left, right, _ := strings.Cut(typed, "..")
	if first {
		right = strings.TrimSuffix(strings.TrimSpace(right), "from end")
		return quantity.LendUnit(strings.TrimSpace(left), strings.TrimSpace(right))
	}
	if !at.Known() {
		return ""
	}
	return spelled(at, typed)
}
