package tree

import (
	"bytes"
	"unicode/utf8"

	"gapwise/netlist/source"
)

// scanner reads a file line by line before the library does. It finds the mistakes of
// language.md section 9, and writes a copy of the text in which they are mended, so
// that the library understands the rest and no mistake hides another. Comments are left
// out of the copy.
type scanner struct {
	report
	file int32
	text []byte

	out    []byte  // the mended copy
	shifts []shift // where columns of the copy differ from the file's
	bad    []mark  // places in the file of what was mended

	lineNo    int32
	line      []byte // the current line; shortened where a comment starts
	ascii     bool   // every character of line is one byte
	counted   int    // line[:counted] has countedTo characters
	countedTo int
	edits     []edit
	odd       []oddity
	quoted    []span

	blocks    []block
	flows     []flow
	base      int // column in which the entry with the open brackets starts, -1 none
	flowStart int // in the line where the open brackets started
	skipping  bool
	skipBelow int  // lines that start to the right of this are left out
	marked    bool // a first --- was seen
	started   bool // something else was seen
	ended     bool // a second document starts
	whole     bool // the file is one value in brackets
	explicit  bool // a key with a question mark stands above
	merging   bool // in the value of a << key
	questions bool // the copy has stand-ins for ?
	buf       []byte
}

// mark is a place in the file.
type mark struct{ line, col int32 }

func (m mark) before(o mark) bool {
	return m.line < o.line || m.line == o.line && m.col < o.col
}

func newScanner(file int32, text []byte) *scanner {
	text = bytes.TrimPrefix(text, []byte(source.ByteOrderMark))
	return &scanner{file: file, text: text, out: make([]byte, 0, len(text)+len(text)/16+64)}
}

func (s *scanner) scan() {
	if bytes.HasPrefix(s.text, []byte("\xff\xfe")) || bytes.HasPrefix(s.text, []byte("\xfe\xff")) {
		s.lineNo = 1
		s.problemAt(1, 1, "not UTF-8 text but UTF-16; save it as UTF-8")
		s.stopped = true
		return
	}
	for rest := s.text; len(rest) > 0 && !s.stopped; {
		var raw []byte
		raw, rest, _ = bytes.Cut(rest, []byte{'\n'})
		s.lineNo++
		s.begin(bytes.TrimSuffix(raw, []byte{'\r'}))
		s.readLine()
		s.settleOddities()
		s.emit()
	}
	if len(s.flows) > 0 && !s.stopped {
		s.unclosed()
	}
}

// readLine reads one line in the state that the lines before it left.
func (s *scanner) readLine() {
	i := blanks(s.line, 0)
	switch {
	case i == len(s.line):
		return
	case s.ended:
		s.drop(0)
		return
	case s.skipping && i > s.skipBelow:
		s.drop(0)
		return
	case s.line[i] == '#':
		s.wholeComment(i)
		return
	case i == 0 && s.marker():
		return
	}
	s.skipping = false
	s.started = true
	s.merging = false
	if s.whole && len(s.flows) == 0 {
		s.mistake(i, wordEnd(s.line, i), "behind the bracket that ended the layout")
		s.ended = true
		s.drop(0)
		return
	}
	if len(s.flows) > 0 {
		if s.continues(i) {
			s.flowItems(i)
			return
		}
		s.unclosed()
	}
	s.blockLine(i)
}

// marker deals with lines that start or end a document.
func (s *scanner) marker() bool {
	if s.line[0] == '%' && !s.started && !s.marked {
		s.mistake(0, len(s.line), "a line that starts with % is not used here")
		s.drop(0)
		return true
	}
	if !bytes.HasPrefix(s.line, []byte("---")) && !bytes.HasPrefix(s.line, []byte("...")) {
		return false
	}
	if len(s.line) > 3 && s.line[3] != ' ' {
		return false
	}
	alone := blanks(s.line, 3)
	switch {
	case s.line[0] == '.':
		s.mistake(0, 3, "`...` is not used here")
		s.ended = true
	case s.marked || s.started:
		s.mistake(0, 3, notUsed)
		s.ended = true
	case alone < len(s.line) && s.line[alone] != '#':
		s.mistake(0, 3, "`---` stands alone on its line")
	}
	s.marked = true
	s.drop(0)
	return true
}

const notUsed = "not used here; `like:` copies"

// problem tells a mistake at line[from:to], or at one character if to is not behind from.
func (s *scanner) problem(from, to int, message string) {
	col := s.column(from)
	s.problemAt(col, max(1, s.column(max(from, to))-col), message)
}

func (s *scanner) problemAt(col int32, width int32, message string) {
	s.add(source.Problem{
		Pos:   source.Pos{File: s.file, Line: s.lineNo, Col: col},
		Width: int(width), Message: message,
	})
}

// mistake tells a mistake at line[from:to] and marks what stands there as bad.
func (s *scanner) mistake(from, to int, message string) {
	s.problem(from, to, message)
	s.markBad(from)
}

func (s *scanner) markBad(at int) {
	s.bad = append(s.bad, mark{s.lineNo, s.column(at)})
}

// column is the place of line[i] counted in characters from 1.
func (s *scanner) column(i int) int32 {
	if s.ascii {
		return int32(i) + 1
	}
	if i < s.counted {
		s.counted, s.countedTo = 0, 0
	}
	s.countedTo += utf8.RuneCount(s.line[s.counted:i:i])
	s.counted = i
	return int32(s.countedTo) + 1
}

// drop leaves the line from i on out of the copy.
func (s *scanner) drop(i int) {
	if i < s.counted {
		s.counted, s.countedTo = 0, 0
	}
	s.line = s.line[:i]
}

// dropEntry leaves the line out of the copy, and all that hangs below it.
func (s *scanner) dropEntry(indent int) {
	s.skipping, s.skipBelow = true, indent
	s.drop(0)
}

// blanks returns the first index from i on that is no blank.
func blanks(line []byte, i int) int {
	for i < len(line) && line[i] == ' ' {
		i++
	}
	return i
}

// endsAt reports whether i is the end of the line or a blank.
func endsAt(line []byte, i int) bool { return i >= len(line) || line[i] == ' ' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
