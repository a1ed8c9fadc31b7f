package amend

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// document is the text of one file without mistakes in it, and its tree.
type document struct {
	text  []byte
	root  *tree.Node
	eol   string
	lines []int // where each line starts
}

// newDocument takes a file apart. It is nil where the file is no map of keys.
func newDocument(f *source.File) *document {
	root, problems := tree.Parse(0, f)
	if len(problems) > 0 || root == nil || root.Kind != tree.Map {
		return nil
	}
	d := &document{text: f.Text, root: root, eol: "\n"}
	head := len(d.text) - len(bytes.TrimPrefix(d.text, []byte(source.ByteOrderMark)))
	d.lines = []int{head}
	for i := head; i < len(d.text); i++ {
		if d.text[i] == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	if first := bytes.IndexByte(d.text, '\n'); first > 0 && d.text[first-1] == '\r' {
		d.eol = "\r\n"
	}
	return d
}

// offset is the byte at which a key or value stands.
func (d *document) offset(p source.Pos) int {
	return d.skip(d.lines[min(max(int(p.Line)-1, 0), len(d.lines)-1)], int(p.Col)-1)
}

// skip is the byte n characters behind at.
func (d *document) skip(at, n int) int {
	for ; n > 0 && at < len(d.text); n-- {
		_, size := utf8.DecodeRune(d.text[at:])
		at += size
	}
	return at
}

// textEnd is where the key or text of a width, in characters, ends that starts at a byte.
// Of a quoted one the quotes tell.
func (d *document) textEnd(at, width int) int {
	if at >= len(d.text) || d.text[at] != '"' && d.text[at] != '\'' {
		return d.skip(at, width)
	}
	quote := d.text[at]
	for i := at + 1; i < len(d.text); i++ {
		switch {
		case quote == '"' && d.text[i] == '\\':
			i++
		case d.text[i] == quote && quote == '\'' && i+1 < len(d.text) && d.text[i+1] == quote:
			i++
		case d.text[i] == quote:
			return i + 1
		}
	}
	return len(d.text)
}

func (d *document) start(n *tree.Node) int { return d.offset(n.Pos) }

func (d *document) keyStart(f *tree.Field) int { return d.offset(f.KeyPos) }

func (d *document) keyEnd(f *tree.Field) int { return d.textEnd(d.keyStart(f), f.KeyWidth) }

// bracketed reports a map or list that is written in brackets.
func (d *document) bracketed(n *tree.Node) bool {
	if n.Kind == tree.Scalar {
		return false
	}
	at := d.start(n)
	return at < len(d.text) && (d.text[at] == '{' || d.text[at] == '[')
}

// end is where a value ends: behind its last character or closing bracket.
func (d *document) end(n *tree.Node) int {
	at := d.start(n)
	if n.Kind == tree.Scalar {
		if n.IsEmpty() {
			return at
		}
		return d.textEnd(at, n.Width)
	}
	inside := at + 1
	if to, some := d.lastEnd(n); some {
		inside = to
	}
	if !d.bracketed(n) {
		return inside
	}
	return min(d.closer(inside)+1, len(d.text))
}

// lastEnd is where the last entry of a map or list ends; false where it has none.
func (d *document) lastEnd(n *tree.Node) (int, bool) {
	switch {
	case len(n.Fields) > 0:
		return d.fieldEnd(&n.Fields[len(n.Fields)-1]), true
	case len(n.Items) > 0:
		return d.end(n.Items[len(n.Items)-1]), true
	}
	return 0, false
}

// closer is where the bracket stands that ends what has nothing more in it from at on but
// commas and comments.
func (d *document) closer(at int) int {
	for ; at < len(d.text); at++ {
		switch d.text[at] {
		case '}', ']':
			return at
		case '#':
			at = d.lineEnd(at) - 1
		}
	}
	return at
}

// fieldEnd is where a key with its value ends: behind the colon where there is no value.
func (d *document) fieldEnd(f *tree.Field) int {
	if !f.Value.IsEmpty() {
		return d.end(f.Value)
	}
	at := d.keyEnd(f)
	if colon := at + blanks(d.text[at:]); colon < len(d.text) && d.text[colon] == ':' {
		return colon + 1
	}
	return at
}

func blanks(text []byte) int { return len(text) - len(bytes.TrimLeft(text, " ")) }

// lineStart is where the line starts in which a byte stands.
func (d *document) lineStart(at int) int {
	start := bytes.LastIndexByte(d.text[:at], '\n') + 1
	return max(start, d.lines[0])
}

// lineEnd is where that line ends, before its line end.
func (d *document) lineEnd(at int) int {
	n := bytes.IndexByte(d.text[at:], '\n')
	if n < 0 {
		return len(d.text)
	}
	if n += at; n > at && d.text[n-1] == '\r' {
		n--
	}
	return n
}

// nextLine is where the line behind that of a byte starts.
func (d *document) nextLine(at int) int {
	if n := bytes.IndexByte(d.text[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(d.text)
}

// startsLine reports whether nothing but blanks stands before a byte in its line.
func (d *document) startsLine(at int) bool {
	from := d.lineStart(at)
	return from+blanks(d.text[from:at]) == at
}

// indent is the column of a byte, as blanks.
func (d *document) indent(at int) string {
	return strings.Repeat(" ", utf8.RuneCount(d.text[d.lineStart(at):at]))
}

// lineIndent is how far in the first key of the line of a byte starts, as blanks.
func (d *document) lineIndent(at int) string {
	line := d.text[d.lineStart(at):at]
	return strings.Repeat(" ", len(line)-len(bytes.TrimLeft(line, " -")))
}

// source is what was typed for a value that stands on one line.
func (d *document) source(n *tree.Node) string {
	return string(d.text[d.start(n):d.end(n)])
}
