package amend

import (
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// appendTo puts new entries at the end of a map (`key: value`) or list (values).
func (d *document) appendTo(n *tree.Node, entries []string) []edit.Edit {
	switch {
	case len(entries) == 0:
		return nil
	case d.bracketed(n):
		return d.appendInBrackets(n, entries)
	}
	dash := ""
	if n.Kind == tree.List {
		dash = "- "
	}
	return []edit.Edit{d.linesBehind(d.end(n), d.indent(d.start(n))+dash, entries)}
}

// linesBehind puts lines behind the one in which a byte stands.
func (d *document) linesBehind(at int, indent string, entries []string) edit.Edit {
	at = d.lineEnd(at)
	text := ""
	for _, e := range entries {
		text += d.eol + indent + e
	}
	return edit.Edit{From: at, To: at, Text: text}
}

// appendInBrackets puts entries before a closing bracket: behind the last entry, or on lines
// of their own where that one has such.
func (d *document) appendInBrackets(n *tree.Node, entries []string) []edit.Edit {
	last, some := d.lastEnd(n)
	if !some {
		at := d.start(n) + 1
		return []edit.Edit{{From: at, To: at, Text: strings.Join(entries, ", ")}}
	}
	first := d.lastStart(n)
	if !d.startsLine(first) {
		return []edit.Edit{{From: last, To: last, Text: ", " + strings.Join(entries, ", ")}}
	}
	line := d.eol + d.indent(first)
	lines := line + strings.Join(entries, ","+line)
	closer, end := d.closer(last), d.lineEnd(last)
	comma := last + blanks(d.text[last:])
	switch {
	case closer < end:
		return []edit.Edit{{From: last, To: last, Text: "," + lines}}
	case d.text[comma] == ',':
		return []edit.Edit{{From: end, To: end, Text: lines + ","}}
	case d.commaBefore(comma, closer):
		return []edit.Edit{{From: last, To: last, Text: "," + lines}}
	}
	return []edit.Edit{{From: last, To: last, Text: ","}, {From: end, To: end, Text: lines}}
}

// commaBefore reports a comma between the last entry and its closing bracket.
func (d *document) commaBefore(at, closer int) bool {
	for ; at < closer; at++ {
		switch d.text[at] {
		case ',':
			return true
		case '#':
			at = d.lineEnd(at)
		}
	}
	return false
}

// lastStart is where the last entry of a map or list in brackets starts.
func (d *document) lastStart(n *tree.Node) int {
	if len(n.Fields) > 0 {
		return d.keyStart(&n.Fields[len(n.Fields)-1])
	}
	return d.start(n.Items[len(n.Items)-1])
}

// appendItems puts entries at the end of what may be a list, or one entry without its
// brackets.
func (d *document) appendItems(f *tree.Field, pair bool, entries []string, inBrackets bool) []edit.Edit {
	v := f.Value
	switch {
	case len(entries) == 0:
		return nil
	case v.IsEmpty() && inBrackets:
		at := d.fieldEnd(f)
		return []edit.Edit{{From: at, To: at, Text: " [" + strings.Join(entries, ", ") + "]"}}
	case v.IsEmpty():
		return []edit.Edit{d.linesBehind(d.fieldEnd(f), d.indent(d.keyStart(f))+step+"- ", entries)}
	case v.Kind == tree.List && !pair:
		return d.appendTo(v, entries)
	case v.Kind == tree.Scalar || d.bracketed(v):
		from, to := d.start(v), d.end(v)
		return []edit.Edit{{From: from, To: from, Text: "["}, {From: to, To: to, Text: ", " + strings.Join(entries, ", ") + "]"}}
	}
	return d.intoList(v, entries)
}

// intoList makes an entry that stands on lines of its own the first of a list.
func (d *document) intoList(v *tree.Node, entries []string) []edit.Edit {
	from, to := d.start(v), d.end(v)
	edits := []edit.Edit{{From: from, To: from, Text: "- "}}
	for at := d.nextLine(from); at < to; at = d.nextLine(at) {
		if at < d.lineEnd(at) {
			edits = append(edits, edit.Edit{From: at, To: at, Text: step})
		}
	}
	return append(edits, d.linesBehind(to, d.indent(from)+"- ", entries))
}
