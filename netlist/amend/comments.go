package amend

import (
	"bytes"

	"gapwise/netlist/tree"
)

// span is text[from:to].
type span struct{ from, to int }

// comments are those in text[from:to], where all keys and texts are of n.
func (d *document) comments(n *tree.Node, from, to int) []span {
	var found []span
	for _, atom := range append(d.atoms(n, nil), span{to, to}) {
		for at := from; at < min(atom.from, to); at++ {
			if d.text[at] == '#' {
				end := d.lineEnd(at)
				found = append(found, span{at, at + len(bytes.TrimRight(d.text[at:end], " "))})
				at = end
			}
		}
		from = max(from, atom.to)
	}
	return found
}

// atoms are the keys and texts of a value, in the order of the file.
func (d *document) atoms(n *tree.Node, found []span) []span {
	for i := range n.Fields {
		f := &n.Fields[i]
		found = append(found, span{d.keyStart(f), d.keyEnd(f)})
		found = d.atoms(f.Value, found)
	}
	for _, item := range n.Items {
		found = d.atoms(item, found)
	}
	if n.Kind == tree.Scalar && !n.IsEmpty() {
		found = append(found, span{d.start(n), d.end(n)})
	}
	return found
}

// keep is text with the comments of what it replaces on lines of their own: behind it, or
// before it inside brackets.
func (d *document) keep(text string, comments []span, bracketed bool, indent string) string {
	for i := range comments {
		c := comments[i]
		if bracketed {
			c = comments[len(comments)-1-i]
		}
		comment := string(d.text[c.from:c.to])
		if bracketed {
			text = comment + d.eol + indent + text
		} else {
			text += d.eol + indent + comment
		}
	}
	return text
}
