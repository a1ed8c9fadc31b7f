package amend

import (
	"strings"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// typed is text for one value, fit to stand anywhere in a file.
type typed struct {
	text string
	node *tree.Node
}

// parseEntry takes `name: text` as it stands between braces. It reports false where that is
// not one key with one value on one line.
func parseEntry(name, text string) (typed, bool) {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsAny(name+text, "\r\n") {
		return typed{}, false
	}
	root, problems := tree.Parse(0, &source.File{Text: []byte("x: {" + name + ": " + text + "}\n")})
	if len(problems) > 0 || root == nil || len(root.Fields) != 1 {
		return typed{}, false
	}
	entry := root.Fields[0].Value
	if entry.Kind != tree.Map || len(entry.Fields) != 1 || entry.Fields[0].Key != name || entry.Fields[0].Value.IsEmpty() {
		return typed{}, false
	}
	return typed{text, entry.Fields[0].Value}, true
}

// parseValue takes text for one value.
func parseValue(text string) (typed, bool) { return parseEntry("x", text) }

// same reports whether two values say the same, however they are written.
func same(a, b *tree.Node) bool {
	if a.Kind != b.Kind || a.Text != b.Text || len(a.Fields) != len(b.Fields) || len(a.Items) != len(b.Items) {
		return false
	}
	for i := range a.Fields {
		if a.Fields[i].Key != b.Fields[i].Key || !same(a.Fields[i].Value, b.Fields[i].Value) {
			return false
		}
	}
	for i := range a.Items {
		if !same(a.Items[i], b.Items[i]) {
			return false
		}
	}
	return true
}

// inline is a value of the file as it can stand in braces on one line.
func (d *document) inline(n *tree.Node) string {
	switch n.Kind {
	case tree.Map:
		parts := make([]string, len(n.Fields))
		for i := range n.Fields {
			f := &n.Fields[i]
			parts[i] = string(d.text[d.keyStart(f):d.keyEnd(f)]) + ": " + d.inline(f.Value)
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case tree.List:
		parts := make([]string, len(n.Items))
		for i, item := range n.Items {
			parts[i] = d.inline(item)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	if text := d.source(n); n.Quoted || !strings.ContainsAny(text, ",[]{}") {
		return text
	}
	return quoted(n.Text)
}

// bare is a text as it can stand in braces.
func bare(n *tree.Node) string {
	if n.Quoted || strings.ContainsAny(n.Text, ",[]{}") {
		return quoted(n.Text)
	}
	return n.Text
}

// quoted puts a text in quotes.
func quoted(text string) string {
	if !strings.ContainsAny(text, `"\`) {
		return `"` + text + `"`
	}
	return "'" + strings.ReplaceAll(text, "'", "''") + "'"
}
