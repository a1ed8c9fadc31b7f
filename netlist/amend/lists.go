package amend

import (
	"slices"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// outcome is what becomes of an entry of a list: with keys it gets these, instead says that
// texts stand in its place, none where it goes.
type outcome struct {
	keys    []typedKey
	instead bool
	texts   []string
}

// setStanding gives keys of a gap or joint as typed, a place or a map, their values.
func (d *document) setStanding(item *tree.Node, keys []typedKey) []edit.Edit {
	if item.Kind == tree.Map {
		return d.setKeys(item, keys)
	}
	all := merged([]typedKey{{"at", typed{d.inline(item), item}}}, keys)
	if len(all) == 1 {
		return d.replace(item, all[0].value)
	}
	return []edit.Edit{{From: d.start(item), To: d.end(item), Text: inBraces(all)}}
}

// writeList makes the outcomes of the entries of a list, which may be one entry without its
// brackets; at least one is left. InBraces says that the list stands in braces.
func (d *document) writeList(n *tree.Node, out []outcome, inBraces bool) []edit.Edit {
	var edits []edit.Edit
	var cut []int
	for k, item := range n.List() {
		o := &out[k]
		switch {
		case !o.instead && len(o.keys) > 0:
			edits = append(edits, d.setStanding(item, o.keys)...)
		case o.instead && len(o.texts) == 0:
			cut = append(cut, k)
		case o.instead && n.Kind != tree.List:
			edits = append(edits, d.listInstead(n, o.texts, inBraces))
		case o.instead:
			edits = append(edits, d.itemsInstead(n, item, o.texts))
		}
	}
	return append(edits, d.cutItems(n, cut)...)
}

// listInstead puts a list in place of the one entry that stood there without brackets.
func (d *document) listInstead(n *tree.Node, texts []string, inBraces bool) edit.Edit {
	from, to := d.start(n), d.end(n)
	comments := d.comments(n, from, to)
	if inBraces || n.Kind == tree.Scalar || d.bracketed(n) {
		text := texts[0]
		if len(texts) > 1 {
			text = "[" + strings.Join(texts, ", ") + "]"
		}
		return edit.Edit{From: from, To: to, Text: d.keep(text, comments, true, d.lineIndent(from)+step)}
	}
	line := d.eol + d.indent(from)
	return edit.Edit{From: from, To: to, Text: d.keep("- "+strings.Join(texts, line+"- "), comments, false, d.indent(from))}
}

// itemsInstead puts entries in place of one of a list.
func (d *document) itemsInstead(n, item *tree.Node, texts []string) edit.Edit {
	from, to := d.start(item), d.end(item)
	comments := d.comments(item, from, to)
	if d.bracketed(n) {
		apart := ", "
		if d.startsLine(from) {
			apart = "," + d.eol + d.indent(from)
		}
		return edit.Edit{From: from, To: to, Text: d.keep(strings.Join(texts, apart), comments, true, d.lineIndent(from)+step)}
	}
	line := d.eol + d.indent(d.start(n)) + "- "
	return edit.Edit{From: from, To: to, Text: d.keep(strings.Join(texts, line), comments, false, d.indent(from))}
}

// cutItems takes entries out of a list, not all of them: with their lines, or with one comma
// each inside brackets.
func (d *document) cutItems(n *tree.Node, cut []int) []edit.Edit {
	var edits []edit.Edit
	lastKept := -1
	for i := range n.Items {
		if !slices.Contains(cut, i) {
			lastKept = i
		}
	}
	for _, i := range cut {
		item := n.Items[i]
		e := edit.Edit{From: d.start(item), To: d.end(item)}
		switch {
		case !d.bracketed(n):
			e.From, e.To = d.lineStart(d.dash(n, i)), d.nextLine(e.To)
		case i > lastKept:
			e.From = d.end(n.Items[i-1])
			e.Text = d.keepApart(n, e.From, e.To)
		default:
			e.To = d.start(n.Items[i+1])
			e.Text = d.keepApart(n, e.From, e.To)
		}
		edits = append(edits, e)
	}
	return edits
}

// dash is where the dash of an entry of a list on lines stands, which may be on a line of its
// own before the entry.
func (d *document) dash(n *tree.Node, i int) int {
	column := len(d.indent(d.start(n)))
	for at := d.lineStart(d.start(n.Items[i])); ; at = d.lineStart(at - 1) {
		if blanks(d.text[at:]) == column && d.text[at+column] == '-' || at <= d.start(n) {
			return max(at, d.start(n))
		}
	}
}
