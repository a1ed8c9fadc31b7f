package format

import (
	"cmp"
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// orderKeys puts the keys of entries in braces on one line into their documented order.
func orderKeys(d *document) []edit.Edit {
	o := keyOrder{d: d, order: map[*tree.Node][]int{}}
	v := visitor{entry: o.entry, place: func(*tree.Node, *tree.Field) {}, value: func(*tree.Node, string) {}}
	v.file(d.root)
	o.edit(d.root)
	return o.edits
}

// keyOrder holds, of each map whose keys move, which field stands in each place.
type keyOrder struct {
	d     *document
	order map[*tree.Node][]int
	edits []edit.Edit
}

func (o *keyOrder) entry(n *tree.Node, t *table) {
	if !o.d.inBrackets(n) || o.d.tokens[o.d.first(n)].line != o.d.tokens[o.d.last(n)].line {
		return
	}
	order := make([]int, len(n.Fields))
	for i := range n.Fields {
		if n.Fields[i].Value.IsEmpty() {
			return // its colon needs the blank behind it where it stands
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(t.place(n.Fields[a].Key), t.place(n.Fields[b].Key)) })
	if !slices.IsSorted(order) {
		o.order[n] = order
	}
}

// place is where a key stands. Words of the owner's own stand behind the documented keys: the
// places of a feeder group. In never-together they stand before: its pieces.
func (t *table) place(key string) int {
	if rank, known := t.rank[key]; known {
		return rank
	}
	if t.section == "never-together" {
		return -2
	}
	return len(t.rank)
}

// edit rewrites each value in brackets in which keys move, and no more.
func (o *keyOrder) edit(n *tree.Node) {
	if len(o.order) == 0 {
		return
	}
	if o.d.inBrackets(n) && o.order[n] != nil {
		from, to := o.d.span(o.d.first(n), o.d.last(n))
		o.edits = append(o.edits, edit.Edit{From: from, To: to, Text: o.render(n)})
		return
	}
	for i := range n.Fields {
		o.edit(n.Fields[i].Value)
	}
	for _, item := range n.Items {
		o.edit(item)
	}
}

// span is the text from the first to the last of some tokens.
func (d *document) span(first, last int) (from, to int) {
	return d.tokens[first].from, d.tokens[last].to
}

// render is the text of a value, not an empty one, with its keys in order; what parts the
// fields stays in place.
func (o *keyOrder) render(n *tree.Node) string {
	from, to := o.d.span(o.d.first(n), o.d.last(n))
	var b strings.Builder
	part := func(slotFrom, slotTo int, with string) {
		b.Write(o.d.text[from:slotFrom])
		b.WriteString(with)
		from = slotTo
	}
	for i := range n.Fields {
		slotFrom, slotTo := o.field(n, i)
		with := &n.Fields[i]
		if order := o.order[n]; order != nil {
			with = &n.Fields[order[i]]
		}
		part(slotFrom, slotTo, o.renderField(with))
	}
	for _, item := range n.Items {
		if !item.IsEmpty() {
			itemFrom, itemTo := o.d.span(o.d.first(item), o.d.last(item))
			part(itemFrom, itemTo, o.render(item))
		}
	}
	b.Write(o.d.text[from:to])
	return b.String()
}

// field is the span of a field of a map in braces.
func (o *keyOrder) field(n *tree.Node, i int) (from, to int) {
	f := &n.Fields[i]
	key := o.d.key(f)
	return o.d.span(key, max(key, o.d.last(f.Value)))
}

func (o *keyOrder) renderField(f *tree.Field) string {
	key := o.d.key(f)
	if f.Value.IsEmpty() {
		return string(o.d.text[o.d.tokens[key].from:o.d.tokens[key].to])
	}
	return string(o.d.text[o.d.tokens[key].from:o.d.tokens[o.d.first(f.Value)].from]) + o.render(f.Value)
}
