package tree

import (
	"cmp"
	"slices"
	"unicode/utf8"
)

// edit replaces line[from:to] in the copy.
type edit struct {
	from, to int
	with     string
}

// shift says that on a line of the copy, from column col on, the file's column is the
// copy's plus by.
type shift struct {
	line, col, by int32
}

func (s *scanner) replace(from, to int, with string) {
	s.edits = append(s.edits, edit{from, to, with})
}

// emit appends the line with its edits to the copy.
func (s *scanner) emit() {
	at := 0
	if len(s.edits) > 0 {
		slices.SortStableFunc(s.edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
		at = s.emitEdited()
	}
	s.out = append(s.out, s.line[at:]...)
	s.out = append(s.out, '\n')
}

// emitEdited applies the edits and returns where the rest of the line starts.
func (s *scanner) emitEdited() int {
	at, col, by := 0, 1, 0
	for _, e := range s.edits {
		if e.from < at || e.to > len(s.line) {
			continue
		}
		col += utf8.RuneCount(s.line[at:e.from]) + utf8.RuneCountInString(e.with)
		s.out = append(s.out, s.line[at:e.from]...)
		s.out = append(s.out, e.with...)
		at = e.to
		if d := utf8.RuneCount(s.line[e.from:e.to]) - utf8.RuneCountInString(e.with); d != 0 {
			by += d
			s.shifts = append(s.shifts, shift{s.lineNo, int32(col), int32(by)})
		}
	}
	return at
}

// appendToCopy adds text to the end of the last line of the copy.
func (s *scanner) appendToCopy(text string) {
	if n := len(s.out); n > 0 && s.out[n-1] == '\n' {
		s.out = s.out[:n-1]
	}
	s.out = append(s.out, text...)
	s.out = append(s.out, '\n')
}
