package format

import (
	"strings"
	"unicode/utf8"

	"gapwise/netlist/edit"
	"gapwise/netlist/tree"
)

// layOut gives every blank and empty line of a file its canonical place. Tokens and their
// order stay.
func layOut(d *document) []edit.Edit {
	l := layouter{d: d, starts: map[int]int{}, before: make([]int, len(d.tokens))}
	l.levelsOf()
	l.cutLines()
	l.spaceTokens()
	l.alignSections()
	l.placeComments()
	l.emptyLines()
	return l.edits()
}

// step is how many blanks indent a level.
const step = 2

// layouter holds the places that the tokens get.
type layouter struct {
	d      *document
	levels []level
	starts map[int]int // the level of a token that starts an entry, or a value on a line of its own
	next   []int       // the first of these tokens' levels from each token on, -1 none
	lines  []line
	before []int // blanks before each token; of one that starts a line, its indentation
}

// level is one entry of a map or list made by indentation.
type level struct {
	col    int // as typed
	indent int // as it will be
	up     int // the level it is in, -1 none
}

// line is one line with something on it: tokens[from:to].
type line struct {
	from, to int
	empty    int // lines before it
	comment  int // its trailing comment's token, or itself of a line that is one; -1 none
	alone    bool
}

// levelsOf finds what starts an entry, and how far in.
func (l *layouter) levelsOf() {
	dash := -1
	nextDash := func() int {
		for dash++; l.d.tokens[dash].kind != '-'; dash++ {
		}
		return dash
	}
	start := func(token, indent, up int) int {
		l.levels = append(l.levels, level{col: l.d.tokens[token].col, indent: indent, up: up})
		l.starts[token] = len(l.levels) - 1
		return l.starts[token]
	}
	var value func(n *tree.Node, opener, indent, up int)
	value = func(n *tree.Node, opener, indent, up int) {
		first := l.d.first(n)
		switch {
		case first < 0:
		case n.Kind == tree.Scalar || l.d.inBrackets(n):
			if opener < 0 || l.d.tokens[first].line != l.d.tokens[opener].line {
				start(first, indent, up)
			}
		case n.Kind == tree.Map:
			for i := range n.Fields {
				key := l.d.key(&n.Fields[i])
				value(n.Fields[i].Value, key, indent+step, start(key, indent, up))
			}
		default:
			for _, item := range n.Items {
				at := nextDash()
				value(item, at, indent+step, start(at, indent, up))
			}
		}
	}
	value(l.d.root, -1, 0, -1)
	l.next = make([]int, len(l.d.tokens))
	next := -1
	for i := len(l.next) - 1; i >= 0; i-- {
		if at, starts := l.starts[i]; starts {
			next = at
		}
		l.next[i] = next
	}
}

// cutLines parts the tokens into lines and indents these.
func (l *layouter) cutLines() {
	depth, base, current := 0, 0, -1
	for i := range l.d.tokens {
		t := &l.d.tokens[i]
		if n := len(l.lines); n == 0 || l.d.tokens[i-1].line != t.line {
			empty := t.line
			if n > 0 {
				empty -= l.d.tokens[i-1].line + 1
			}
			l.lines = append(l.lines, line{from: i, empty: empty, comment: -1})
			switch at, starts := l.starts[i]; {
			case starts:
				l.before[i] = l.levels[at].indent
			case depth > 0:
				l.before[i] = base + step*(depth-l.leadingClosers(i))
			case t.kind == commentToken:
				l.before[i] = l.commentIndent(t.col, current, i)
			}
		}
		this := &l.lines[len(l.lines)-1]
		this.to = i + 1
		if at, starts := l.starts[i]; starts {
			current = at
		}
		switch t.kind {
		case '{', '[':
			if depth == 0 {
				base = l.levels[current].indent
			}
			depth++
		case '}', ']':
			depth--
		case commentToken:
			this.comment, this.alone = i, this.from == i
		}
	}
}

// leadingClosers counts the closing brackets with which the line of token i starts.
func (l *layouter) leadingClosers(i int) int {
	n := i
	for n < len(l.d.tokens) && l.d.tokens[n].line == l.d.tokens[i].line && (l.d.tokens[n].kind == '}' || l.d.tokens[n].kind == ']') {
		n++
	}
	return n - i
}

// commentIndent is the indentation of a comment on a line of its own: that of the deepest
// entry around it that starts no farther in than the comment. Of two in one column the one
// that follows counts.
func (l *layouter) commentIndent(col, above, token int) int {
	best := level{col: -1}
	for _, from := range []int{l.next[token], above} {
		for at := from; at >= 0; at = l.levels[at].up {
			if v := l.levels[at]; v.col <= col && v.col > best.col {
				best = v
			}
		}
	}
	return best.indent
}

// spaceTokens puts one blank behind colons, commas and dashes, and none inside brackets.
func (l *layouter) spaceTokens() {
	for _, this := range l.lines {
		for i := this.from + 1; i < this.to; i++ {
			before, t := &l.d.tokens[i-1], &l.d.tokens[i]
			behindComma := before.kind == ',' && t.kind != '}' && t.kind != ']'
			if behindComma || before.kind == ':' || before.kind == '-' || t.kind == commentToken {
				l.before[i] = 1
			}
		}
	}
}

// width is how many characters a token has.
func (d *document) width(i int) int {
	return utf8.RuneCount(d.text[d.tokens[i].from:d.tokens[i].to])
}

// edits are the blanks that change.
func (l *layouter) edits() []edit.Edit {
	var edits []edit.Edit
	put := func(from, to int, text string) {
		if string(l.d.text[from:to]) != text {
			edits = append(edits, edit.Edit{From: from, To: to, Text: text})
		}
	}
	end := l.d.head
	for n, this := range l.lines {
		ends := this.empty + 1
		if n == 0 {
			ends = 0
		}
		for i := this.from; i < this.to; i++ {
			put(end, l.d.tokens[i].from, strings.Repeat(l.d.eol, ends)+strings.Repeat(" ", l.before[i]))
			end, ends = l.d.tokens[i].to, 0
		}
	}
	put(end, len(l.d.text), l.d.eol)
	return edits
}
