package format

import (
	"slices"

	"gapwise/netlist/tree"
)

// alignSections makes columns in each section whose entries are all on one line.
func (l *layouter) alignSections() {
	if l.d.inBrackets(l.d.root) {
		return
	}
	for i := range l.d.root.Fields {
		n := l.d.root.Fields[i].Value
		if n.IsEmpty() || n.Kind == tree.Scalar || l.d.inBrackets(n) {
			continue
		}
		if n.Kind == tree.Map && l.alignValues(n) || n.Kind == tree.List && l.inRows(n) {
			l.alignKeys(n)
		}
	}
}

// alignValues starts the values of a section in one column. It reports false, and does
// nothing, where an entry takes more than a line; where no value is in brackets it does
// nothing either.
func (l *layouter) alignValues(n *tree.Node) bool {
	widest, brackets := 0, false
	for i := range n.Fields {
		f := &n.Fields[i]
		if !l.d.oneLine(f) {
			return false
		}
		widest = max(widest, l.d.width(l.d.key(f)))
		brackets = brackets || l.d.inBrackets(f.Value)
	}
	for i := range n.Fields {
		f := &n.Fields[i]
		if brackets {
			l.before[l.d.first(f.Value)] += widest - l.d.width(l.d.key(f))
		}
	}
	return true
}

// inRows reports whether every item of a list is on the line of its dash.
func (l *layouter) inRows(n *tree.Node) bool {
	for _, item := range n.Items {
		last := l.d.last(item)
		if last < 0 {
			return false
		}
		if dash := l.d.first(item) - 1; l.d.tokens[dash].kind != '-' || l.d.tokens[dash].line != l.d.tokens[last].line {
			return false
		}
	}
	return true
}

// row is an entry in braces, with how far it is laid out.
type row struct {
	fields []tree.Field
	token  int // the last one counted
	width  int // from the opening brace to the end of token
}

// alignKeys makes columns of keys inside the braces of a section, where its owner made some.
func (l *layouter) alignKeys(n *tree.Node) {
	entries := n.Items
	for i := range n.Fields {
		entries = append(entries, n.Fields[i].Value)
	}
	var rows []*row
	padded := false
	for _, e := range entries {
		if e.Kind != tree.Map {
			continue
		}
		rows = append(rows, &row{fields: e.Fields, token: l.d.first(e), width: 1})
		for i := range e.Fields {
			key := l.d.key(&e.Fields[i])
			padded = padded || i > 0 && l.d.tokens[key].from-l.d.tokens[key-1].to > 1
		}
	}
	if !padded {
		return
	}
	for column := 1; ; column++ {
		rows = slices.DeleteFunc(rows, func(r *row) bool { return column >= len(r.fields) })
		if !agree(rows, column-1) {
			return
		}
		l.alignColumn(rows, column)
	}
}

// agree reports whether there are rows, all with the same key in a column.
func agree(rows []*row, column int) bool {
	for _, r := range rows {
		if r.fields[column].Key != rows[0].fields[column].Key {
			return false
		}
	}
	return len(rows) > 0
}

// alignColumn starts one key of each row in the same place.
func (l *layouter) alignColumn(rows []*row, column int) {
	widest := 0
	for _, r := range rows {
		for key := l.d.key(&r.fields[column]); r.token < key-1; {
			r.token++
			r.width += l.before[r.token] + l.d.width(r.token)
		}
		widest = max(widest, r.width)
	}
	for _, r := range rows {
		l.before[l.d.key(&r.fields[column])] += widest - r.width
	}
}
