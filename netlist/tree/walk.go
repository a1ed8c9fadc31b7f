package tree

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gapwise/netlist/source"

	"gopkg.in/yaml.v3"
)

// walker turns the library's tree into ours. It visits values in the order of the file,
// so that the lists of shifted columns and bad places are read once.
type walker struct {
	s      *scanner
	shifts []shift
	line   int32 // the last line asked for
	by     int32 // the shift that holds there
	bad    []mark
	open   []*Node // the maps and lists around the current place
	closed []*Node // those that ended since the last text
	slab   []Node
}

func newWalker(s *scanner) *walker {
	slices.SortFunc(s.bad, func(a, b mark) int {
		if a.before(b) {
			return -1
		}
		return 1
	})
	return &walker{s: s, shifts: s.shifts, bad: s.bad}
}

// slabSize is how many nodes are allocated at once.
const slabSize = 256

func (w *walker) alloc() *Node {
	if len(w.slab) == 0 {
		w.slab = make([]Node, slabSize)
	}
	n := &w.slab[0]
	w.slab = w.slab[1:]
	return n
}

// root turns the whole document.
func (w *walker) root(doc *yaml.Node) *Node {
	n := w.value(doc)
	if len(w.bad) > 0 {
		w.lost()
	}
	return n
}

// value turns one value. It tells of words that other programs take for nothing.
func (w *walker) value(n *yaml.Node) *Node {
	out := w.node(n)
	if out.Kind == Scalar && !out.Quoted && !out.Bad {
		switch out.Text {
		case "~", "null", "Null", "NULL":
			w.s.add(source.Problem{
				Pos: out.Pos, Width: out.Width,
				Message: "`" + out.Text + "` says nothing; write unknown",
			})
			out.Bad = true
		}
	}
	return out
}

func (w *walker) node(n *yaml.Node) *Node {
	out := w.alloc()
	if n.Kind != yaml.MappingNode && n.Kind != yaml.SequenceNode {
		w.text(n, out)
		return out
	}
	out.Pos, out.Width = w.pos(n), 1
	w.open = append(w.open, out)
	if n.Kind == yaml.MappingNode {
		out.Kind = Map
		w.fields(n, out)
	} else {
		out.Kind = List
		out.Items = make([]*Node, 0, len(n.Content))
		for _, item := range n.Content {
			out.Items = append(out.Items, w.value(item))
		}
	}
	w.open = w.open[:len(w.open)-1]
	if len(w.bad) > 0 {
		w.closed = append(w.closed, out)
	}
	return out
}

// key turns a key, which is not kept as a node.
func (w *walker) key(n *yaml.Node) (out Node) {
	if n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode {
		return *w.node(n)
	}
	w.text(n, &out)
	return out
}

// pos is the place in the file of a node of the copy.
func (w *walker) pos(n *yaml.Node) source.Pos {
	line, col := int32(n.Line), int32(n.Column)
	if line != w.line {
		w.line, w.by = line, 0
	}
	for len(w.shifts) > 0 && (w.shifts[0].line < line || w.shifts[0].line == line && w.shifts[0].col <= col) {
		if w.shifts[0].line == line {
			w.by = w.shifts[0].by
		}
		w.shifts = w.shifts[1:]
	}
	return source.Pos{File: w.s.file, Line: line, Col: max(1, col+w.by)}
}

func (w *walker) text(n *yaml.Node, out *Node) {
	out.Pos = w.pos(n)
	out.Text = n.Value
	if w.s.questions {
		out.Text = strings.ReplaceAll(out.Text, questionMark, "?")
	}
	out.Width = utf8.RuneCountInString(out.Text)
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		out.Quoted = true
		out.Width += 2 + strings.Count(out.Text, `"`) + strings.Count(out.Text, `\`)
	case n.Style&yaml.SingleQuotedStyle != 0:
		out.Quoted = true
		out.Width += 2 + strings.Count(out.Text, `'`)
	}
	out.Bad = len(w.bad) > 0 && w.isBad(out.Pos, out.Width)
	out.Width = max(1, out.Width)
}

// isBad reports whether a mistake was made in the text at pos. One made before it is
// shared by all maps and lists around it.
func (w *walker) isBad(pos source.Pos, width int) bool {
	start := mark{pos.Line, pos.Col}
	end := mark{pos.Line, pos.Col + int32(width)}
	if w.bad[0].before(start) {
		w.lost()
	}
	for len(w.bad) > 0 && w.bad[0].before(start) {
		w.bad = w.bad[1:]
	}
	w.closed = w.closed[:0]
	bad := false
	for len(w.bad) > 0 && w.bad[0].before(end) {
		bad = true
		w.bad = w.bad[1:]
	}
	return bad
}

// lost marks what is around the place between the last text and this one: a mistake
// there may have cost it an entry.
func (w *walker) lost() {
	for _, n := range w.open {
		n.Bad = true
	}
	for _, n := range w.closed {
		n.Bad = true
	}
}

func (w *walker) fields(n *yaml.Node, out *Node) {
	out.Fields = make([]Field, 0, len(n.Content)/2)
	seen := newKeySet(len(n.Content) / 2)
	for i := 0; i+1 < len(n.Content) && !w.s.stopped; i += 2 {
		k := w.key(n.Content[i])
		v := w.value(n.Content[i+1])
		if v.IsEmpty() {
			v.Pos, v.Width = k.Pos, k.Width
		}
		if k.Bad {
			w.lost()
			continue
		}
		if k.Kind != Scalar {
			w.s.add(source.Problem{Pos: k.Pos, Width: k.Width, Message: keyNoText})
			w.lost()
			continue
		}
		if first := seen.add(k.Text, k.Pos.Line, out.Fields); first > 0 {
			w.s.add(source.Problem{
				Pos: k.Pos, Width: k.Width,
				Message: fmt.Sprintf("`%s` again; first at line %d", k.Text, first),
			})
			if v.Kind != Scalar {
				w.lost()
			}
			continue
		}
		out.Fields = append(out.Fields, Field{Key: k.Text, KeyPos: k.Pos, KeyWidth: k.Width, Value: v})
	}
}
