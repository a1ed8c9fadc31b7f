package tree

import (
	"bytes"
	"fmt"
)

// block is an open map or list made by indentation.
type block struct {
	indent int  // columns of blanks before its entries
	list   bool // its entries start with a dash
	open   bool // its last entry may still get a value on deeper lines
	line   int32
	last   mark // its last key
}

// blockLine reads a line outside brackets whose text starts at i.
func (s *scanner) blockLine(i int) {
	for s.isDash(i) {
		if !s.place(i, true) {
			return
		}
		s.top().open = true
		i = blanks(s.line, i+1)
		if i == len(s.line) || s.line[i] == '#' && s.comment(i) {
			return
		}
	}
	s.entry(i)
}

func (s *scanner) isDash(i int) bool {
	return s.line[i] == '-' && endsAt(s.line, i+1)
}

func (s *scanner) top() *block { return &s.blocks[len(s.blocks)-1] }

// entry reads a key with its value, or a value alone, at i.
func (s *scanner) entry(i int) {
	start := i
	if i = s.properties(i); i == len(s.line) {
		return
	}
	if c := s.line[i]; c == '{' || c == '[' {
		if s.placeValue(start, noKey) {
			s.openFlow(i)
			s.flowItems(i + 1)
		}
		return
	}
	if s.isBlockText(i) {
		if s.placeValue(start, noColon) {
			s.blockText(i)
		}
		return
	}
	if s.explicit && s.line[i] == ':' && endsAt(s.line, i+1) {
		s.dropEntry(start)
		return
	}
	end, value, isKey := s.unglue(i)
	if !isKey {
		end = s.scalar(i, false)
		value, isKey = s.colonAfter(end)
	}
	if !isKey {
		if s.placeValue(start, noColon) {
			s.commaInQuantity(i, end)
		}
		return
	}
	if !s.place(start, false) {
		return
	}
	s.key(i, end)
	s.top().open = true
	if i = blanks(s.line, value); i < len(s.line) && !(s.line[i] == '#' && s.comment(i)) {
		s.top().open = false
		s.value(i)
	}
}

// colonAfter reports whether the text that ends at end is a key, and returns the place
// behind its colon.
func (s *scanner) colonAfter(end int) (value int, isKey bool) {
	at := blanks(s.line, end)
	return at + 1, at < len(s.line) && s.line[at] == ':' && (endsAt(s.line, at+1) || len(s.flows) > 0)
}

// unglue tells of a key at i whose colon lacks its blank (length:3 ft) or is missing
// before a bracket (M1 {length: 3 ft}). It returns the key's end and where its value
// starts. A text in a list is left alone.
func (s *scanner) unglue(i int) (end, value int, isKey bool) {
	if c := s.line[i]; c == '"' || c == '\'' || len(s.blocks) > 0 && s.top().list && s.top().open {
		return 0, 0, false
	}
	for k := i + 1; k < len(s.line); k++ {
		switch c := s.line[k]; {
		case c == ':' && !endsAt(s.line, k+1):
			s.problem(k, k+1, blankAfterColon)
			s.replace(k+1, k+1, " ")
			return k, k + 1, true
		case c == '{' || c == '[':
			s.problem(k, k+1, "no colon before this "+string(c))
			s.replace(k, k, ": ")
			return len(bytes.TrimRight(s.line[:k], " ")), k, true
		case c == ':', c == '#' && s.line[k-1] == ' ':
			return 0, 0, false
		}
	}
	return 0, 0, false
}

const blankAfterColon = "put a blank after the colon"

// key checks the text of a key, line[i:end].
func (s *scanner) key(i, end int) {
	s.top().last = mark{s.lineNo, s.column(i)}
	s.checkKey(i, end)
}

const (
	noKey   = "a line here starts with a key"
	noColon = "no colon; a line here is `key: value`"
)

// value reads the value at i behind a key and a colon.
func (s *scanner) value(i int) {
	if i = s.properties(i); i == len(s.line) {
		s.top().open = true
		return
	}
	switch c := s.line[i]; {
	case c == '{' || c == '[':
		s.openFlow(i)
		s.flowItems(i + 1)
	case s.isBlockText(i):
		s.blockText(i)
	case s.isDash(i):
		s.mistake(i, i+1, "a list entry stands on its own line; or write [one, two]")
		s.replace(i, i+1, "_")
		s.drop(i + 1)
	default:
		end := s.scalar(i, true)
		s.commaInQuantity(i, end)
	}
}

// place puts an entry whose text starts at i into the open blocks, opening or closing
// some. It reports whether the entry is to be read on; if not, it was told and left out.
func (s *scanner) place(i int, list bool) bool {
	closed := -1
	for len(s.blocks) > 0 && s.top().indent > i {
		closed = s.top().indent
		s.blocks = s.blocks[:len(s.blocks)-1]
	}
	if len(s.blocks) == 0 {
		if closed >= 0 {
			s.misaligned(i, closed, "lines up with nothing above it")
			i = closed
		}
		return s.push(i, list)
	}
	top := s.top()
	switch {
	case top.indent < i && top.open:
		top.open = false
		return s.push(i, list)
	case top.indent < i && closed >= 0:
		s.misaligned(i, closed, "lines up with nothing above it")
		return s.push(closed, list)
	case top.indent < i:
		s.misaligned(i, top.indent, fmt.Sprintf("too far right; line %d starts its level", top.line))
		return s.place(top.indent, list)
	case top.list == list:
		return true
	case list && top.open:
		top.open = false
		return s.push(i, list)
	case !list && s.underSameColumn():
		s.blocks = s.blocks[:len(s.blocks)-1]
		return true
	}
	message := "a key among list entries, which start with a dash"
	if list {
		message = "a dash among keys"
	}
	s.mistake(i, wordEnd(s.line, i), message)
	s.dropEntry(i)
	return false
}

// underSameColumn reports whether the innermost block is a list whose dashes stand in
// the column of the key that it belongs to.
func (s *scanner) underSameColumn() bool {
	n := len(s.blocks)
	return n > 1 && s.blocks[n-1].list && !s.blocks[n-2].list && s.blocks[n-2].indent == s.blocks[n-1].indent
}

func (s *scanner) push(indent int, list bool) bool {
	if indent > maxIndent {
		s.problem(min(indent, len(s.line)), 0, fmt.Sprintf("over the bound, %d blanks before a line", maxIndent))
		s.stopped = true
		return false
	}
	s.blocks = append(s.blocks, block{indent: indent, list: list, line: s.lineNo})
	return s.deepEnough(indent)
}

// deepEnough reports whether one more level is allowed; if not, it was told.
func (s *scanner) deepEnough(i int) bool {
	if len(s.blocks)+len(s.flows) <= maxDepth {
		return true
	}
	s.problem(min(i, len(s.line)), 0, fmt.Sprintf("over the bound, %d levels of maps and lists", maxDepth))
	s.stopped = true
	return false
}

// misaligned tells that the line, which starts at i, is in the wrong column, and moves
// it in the copy to where it probably belongs.
func (s *scanner) misaligned(i, indent int, message string) {
	s.problem(i, wordEnd(s.line, i), message)
	if indent < i {
		s.replace(indent, i, "")
	} else {
		s.replace(i, i, fmt.Sprintf("%*s", indent-i, ""))
	}
}

// placeValue puts a value that stands alone on its line at i under the open entry. It
// reports whether that fits; if not, message was told and the line left out.
func (s *scanner) placeValue(i int, message string) bool {
	closed := false
	for len(s.blocks) > 0 && s.top().indent > i {
		s.blocks = s.blocks[:len(s.blocks)-1]
		closed = true
	}
	if len(s.blocks) == 0 {
		if !closed && message == noKey {
			s.whole = true
			return true
		}
		s.mistake(i, wordEnd(s.line, i), message)
		s.dropEntry(i)
		return false
	}
	top := s.top()
	if top.indent < i && top.open {
		top.open = false
		return true
	}
	if top.indent < i && !closed && message == noColon {
		message = oneLine
	}
	s.mistake(i, wordEnd(s.line, i), message)
	if top.open {
		s.bad = append(s.bad, top.last)
		top.open = false
	}
	s.dropEntry(i)
	return false
}

const oneLine = "a text ends with its line; write it on one"

// isBlockText reports whether a text over several lines is announced at i.
func (s *scanner) isBlockText(i int) bool {
	if s.line[i] != '|' && s.line[i] != '>' {
		return false
	}
	for i++; i < len(s.line) && (isDigit(s.line[i]) || s.line[i] == '+' || s.line[i] == '-'); i++ {
	}
	i = blanks(s.line, i)
	return i == len(s.line) || s.line[i] == '#'
}

// blockText refuses a text over several lines and leaves them out.
func (s *scanner) blockText(i int) {
	s.mistake(i, wordEnd(s.line, i), oneLine)
	s.replace(i, i+1, "_")
	s.drop(i + 1)
	s.skipping, s.skipBelow = true, -1
	if len(s.blocks) > 0 {
		s.skipBelow = s.top().indent
	}
}
