package amend

import (
	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// typedKey is a key with a value fit to be written.
type typedKey struct {
	name  string
	value typed
}

// setKeys gives keys of an entry their values.
func (d *document) setKeys(entry *tree.Node, keys []typedKey) []edit.Edit {
	var edits []edit.Edit
	var added []string
	for _, k := range keys {
		if f := entry.Field(k.name); f != nil {
			edits = append(edits, d.setValue(f, k.value)...)
		} else {
			added = append(added, k.name+": "+k.value.text)
		}
	}
	return append(edits, d.appendTo(entry, added)...)
}

// setValue gives a key of a map its value.
func (d *document) setValue(f *tree.Field, v typed) []edit.Edit {
	if f.Value.IsEmpty() {
		at := d.fieldEnd(f)
		text := " " + v.text
		if d.text[at-1] != ':' {
			text = ":" + text
		}
		return []edit.Edit{{From: at, To: at, Text: text}}
	}
	if f.Value.Kind == tree.Scalar || d.bracketed(f.Value) {
		return d.replace(f.Value, v)
	}
	if same(f.Value, v.node) {
		return nil
	}
	colon := d.keyEnd(f)
	colon += blanks(d.text[colon:]) + 1
	to := d.end(f.Value)
	text := d.keep(" "+v.text, d.comments(f.Value, colon, to), false, d.indent(d.keyStart(f))+step)
	return []edit.Edit{{From: colon, To: to, Text: text}}
}

// replace puts a value in place of a text or of a value in brackets.
func (d *document) replace(n *tree.Node, v typed) []edit.Edit {
	if same(n, v.node) {
		return nil
	}
	from, to := d.start(n), d.end(n)
	text := v.text
	if n.Kind != tree.Scalar {
		text = d.keep(text, d.comments(n, from, to), true, d.lineIndent(from)+step)
	}
	return []edit.Edit{{From: from, To: to, Text: text}}
}

// step is how far what stands under a key is indented where the file does not show it.
const step = "  "
