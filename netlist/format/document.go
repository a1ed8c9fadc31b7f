package format

import (
	"bytes"
	"unicode/utf8"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// token is text[from:to]: a key, a plain or quoted text, a comment, the mark that starts a
// document, or one sign of punctuation. No token holds a line end.
type token struct {
	from, to int
	kind     byte
	line     int // from 0
	col      int // from 0, in characters
}

// Kinds of tokens that are no punctuation.
const (
	keyToken     = 'k'
	textToken    = 't'
	commentToken = '#'
	markToken    = 'm'
)

// document is a layout file without mistakes in its text, as tree and as tokens.
type document struct {
	text   []byte
	root   *tree.Node
	tokens []token
	at     map[place]int // index of the token that starts there
	closer map[int]int   // of a bracket's token, that of its closer
	head   int           // bytes of the byte order mark
	eol    string
	lines  []int // where each line starts
}

// place is a line and a column, both from 0.
type place struct{ line, col int }

func placeOf(p source.Pos) place { return place{int(p.Line) - 1, int(p.Col) - 1} }

// newDocument parses a file and takes its text apart.
func newDocument(f *source.File) (*document, []source.Problem) {
	root, problems := tree.Parse(0, f)
	if len(problems) > 0 {
		return nil, problems
	}
	d := &document{text: f.Text, root: root, at: map[place]int{}, closer: map[int]int{}, eol: "\n"}
	if bytes.HasPrefix(d.text, []byte(source.ByteOrderMark)) {
		d.head = len(source.ByteOrderMark)
	}
	d.lines = []int{d.head}
	for i := d.head; i < len(d.text); i++ {
		if d.text[i] == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	if len(d.lines) > 1 && bytes.HasSuffix(d.text[:d.lines[1]], []byte("\r\n")) {
		d.eol = "\r\n"
	}
	d.punctuation(d.atoms(root, d.head), len(d.text))
	d.pair()
	return d, nil
}

// atoms makes tokens of the keys and texts of a node, and of what stands before each.
func (d *document) atoms(n *tree.Node, at int) int {
	switch n.Kind {
	case tree.Map:
		for i := range n.Fields {
			f := &n.Fields[i]
			at = d.atom(keyToken, f.KeyPos, f.KeyWidth, at)
			at = d.atoms(f.Value, at)
		}
	case tree.List:
		for _, item := range n.Items {
			at = d.atoms(item, at)
		}
	case tree.Scalar:
		if !n.IsEmpty() {
			at = d.atom(textToken, n.Pos, n.Width, at)
		}
	}
	return at
}

// atom makes a token of the width characters at pos, and of the punctuation from at on before
// it. It returns where the token ends.
func (d *document) atom(kind byte, pos source.Pos, width, at int) int {
	want := placeOf(pos)
	from, col := d.lines[want.line], 0
	if at > from { // on the line of the token before, which is counted already
		last := d.tokens[len(d.tokens)-1]
		from, col = last.from, last.col
	}
	from = d.skip(from, want.col-col)
	d.punctuation(at, from)
	to := d.skip(from, width)
	d.add(token{from: from, to: to, kind: kind})
	return to
}

// skip is the byte n characters behind from.
func (d *document) skip(from, n int) int {
	for range n {
		_, size := utf8.DecodeRune(d.text[from:])
		from += size
	}
	return from
}

// add puts a token behind the others.
func (d *document) add(t token) {
	from := d.head
	if n := len(d.tokens); n > 0 {
		before := d.tokens[n-1]
		t.line, t.col, from = before.line, before.col, before.from
	}
	for t.line+1 < len(d.lines) && d.lines[t.line+1] <= t.from {
		t.line++
		t.col, from = 0, d.lines[t.line]
	}
	t.col += utf8.RuneCount(d.text[from:t.from])
	d.at[place{t.line, t.col}] = len(d.tokens)
	d.tokens = append(d.tokens, t)
}

// punctuation makes tokens of what stands between two atoms.
func (d *document) punctuation(from, to int) {
	for i := from; i < to; i++ {
		switch c := d.text[i]; {
		case c == ' ' || c == '\t' || c == '\r' || c == '\n':
		case c == '#':
			end := i + 1
			for end < to && d.text[end] != '\n' {
				end++
			}
			d.add(token{from: i, to: i + len(bytes.TrimRight(d.text[i:end], " \t\r")), kind: commentToken})
			i = end - 1
		case d.isMark(i):
			d.add(token{from: i, to: i + len(mark), kind: markToken})
			i += len(mark) - 1
		default:
			d.add(token{from: i, to: i + 1, kind: c})
		}
	}
}

const mark = "---"

// isMark reports whether the mark that starts a document stands at i; only comments may stand
// before it.
func (d *document) isMark(i int) bool {
	return (i == d.head || d.text[i-1] == '\n') && bytes.HasPrefix(d.text[i:], []byte(mark))
}

// pair finds the closer of each bracket.
func (d *document) pair() {
	var open []int
	for i := range d.tokens {
		switch d.tokens[i].kind {
		case '{', '[':
			open = append(open, i)
		case '}', ']':
			d.closer[open[len(open)-1]] = i
			open = open[:len(open)-1]
		}
	}
}

// first is the token with which a node starts: of a map or list made by indentation, its
// first key or dash. A node of which nothing was written has none: -1.
func (d *document) first(n *tree.Node) int {
	if n.IsEmpty() {
		return -1
	}
	return d.at[placeOf(n.Pos)]
}

// key is the token of a field's key.
func (d *document) key(f *tree.Field) int {
	return d.at[placeOf(f.KeyPos)]
}

// inBrackets reports whether a map or list is written in brackets.
func (d *document) inBrackets(n *tree.Node) bool {
	if n.Kind == tree.Scalar {
		return false
	}
	kind := d.tokens[d.first(n)].kind
	return kind == '{' || kind == '['
}

// last is the token with which a text or a value in brackets ends; of other values, -1.
func (d *document) last(n *tree.Node) int {
	switch {
	case n.IsEmpty():
		return -1
	case n.Kind == tree.Scalar:
		return d.first(n)
	case d.inBrackets(n):
		return d.closer[d.first(n)]
	}
	return -1
}

// oneLine reports whether a field is written on one line, value and all.
func (d *document) oneLine(f *tree.Field) bool {
	last := d.last(f.Value)
	return last >= 0 && d.tokens[last].line == d.tokens[d.key(f)].line
}
