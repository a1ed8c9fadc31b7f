package tree

// flow is an open bracket.
type flow struct {
	open  byte // { or [
	full  bool // a value or key has been read since the last comma or colon
	since mark // where that one starts
	colon bool // a colon has been read since the last comma
	tight bool // told that a comma lacks its blank
	at    mark
}

func (f flow) closer() byte {
	if f.open == '{' {
		return '}'
	}
	return ']'
}

// openFlow opens the bracket at i.
func (s *scanner) openFlow(i int) {
	if len(s.flows) == 0 {
		s.flowStart = i
		s.base = -1
		if len(s.blocks) > 0 {
			s.base = s.top().indent
		}
	}
	s.flows = append(s.flows, flow{open: s.line[i], at: mark{s.lineNo, s.column(i)}})
	s.deepEnough(i)
}

func (s *scanner) level() *flow { return &s.flows[len(s.flows)-1] }

// continues reports whether a line whose text starts at i belongs to the open brackets.
// A line as far left as the entry that opened them does not when no comma asks for more,
// nor when it looks like an entry of its own.
func (s *scanner) continues(i int) bool {
	if c := s.line[i]; c == '}' || c == ']' || i > s.base {
		return true
	}
	if i < s.base || s.level().full {
		return false
	}
	colon := i
	for colon < len(s.line) && !(s.line[colon] == ':' && endsAt(s.line, colon+1)) {
		colon++
	}
	if colon == len(s.line) {
		return true
	}
	value := blanks(s.line, colon+1)
	return s.level().open == '{' && value < len(s.line) && s.line[value] != '{' && s.line[value] != '['
}

// unclosed tells that the open brackets never end, and ends them in the copy.
func (s *scanner) unclosed() {
	ends := ""
	for n := len(s.flows) - 1; n >= 0; n-- {
		ends += string(s.flows[n].closer())
	}
	s.neverClosed(s.flows[0])
	s.appendToCopy(ends)
	s.flows = s.flows[:0]
}

func (s *scanner) neverClosed(f flow) {
	now := s.lineNo
	s.lineNo = f.at.line
	s.problemAt(f.at.col, 1, "this "+string(f.open)+" is never closed")
	s.lineNo = now
	s.bad = append(s.bad, f.at)
}

// flowItems reads on at i inside brackets.
func (s *scanner) flowItems(i int) {
	for i < len(s.line) && !s.stopped {
		switch c := s.line[i]; {
		case c == ' ':
			i++
		case c == '{' || c == '[':
			s.needComma(i)
			s.openFlow(i)
			i++
		case c == '}' || c == ']':
			i = s.closeFlow(i)
			if len(s.flows) == 0 {
				s.flowTail(i)
				return
			}
		case c == ',':
			i = s.flowComma(i)
		case c == ':':
			i = s.flowColon(i)
		case c == '#' && s.comment(i):
			return
		default:
			i = s.flowText(i)
		}
	}
}

// needComma tells when the thing at i follows another without a comma.
func (s *scanner) needComma(i int) {
	if f := s.level(); f.full {
		s.mistake(i, i+1, "a comma is missing before this")
		s.replace(i, i, ",")
		f.full, f.colon = false, false
	}
}

// closeFlow closes the bracket that the one at i matches.
func (s *scanner) closeFlow(i int) int {
	n := len(s.flows) - 1
	for n >= 0 && s.flows[n].closer() != s.line[i] {
		n--
	}
	if n < 0 {
		s.problem(i, i+1, closesNothing(s.line[i]))
		s.replace(i, i+1, "")
		return i + 1
	}
	for len(s.flows)-1 > n {
		s.neverClosed(*s.level())
		s.replace(i, i, string(s.level().closer()))
		s.flows = s.flows[:len(s.flows)-1]
	}
	since := s.flows[n].at
	s.flows = s.flows[:n]
	if n > 0 {
		s.level().full, s.level().since = true, since
	}
	return i + 1
}

// flowComma reads the comma at i.
func (s *scanner) flowComma(i int) int {
	f := s.level()
	if !f.full && !f.colon {
		s.problem(i, i+1, "nothing stands before this comma")
		s.replace(i, i+1, " ")
		return i + 1
	}
	f.full, f.colon = false, false
	s.merging = s.merging && f.open == '['
	if c := i + 1; !endsAt(s.line, c) && s.line[c] != '}' && s.line[c] != ']' && s.line[c] != ',' && !f.tight {
		f.tight = true
		s.problem(i, c, "put a blank after each comma")
	}
	return i + 1
}

// flowColon reads the colon at i.
func (s *scanner) flowColon(i int) int {
	f := s.level()
	switch {
	case !f.full && !f.colon:
		s.mistake(i, i+1, "no key before this colon")
		s.replace(i, i+1, "_:")
		f.colon = true
	case !f.colon && f.since.line != s.lineNo:
		s.problem(i, i+1, "a key and its colon stand on one line")
		s.bad = append(s.bad, f.since)
		s.partInstead(i)
	case f.colon:
		s.problem(i, i+1, secondColon)
		s.partInstead(i)
	default:
		f.full, f.colon = false, true
	}
	return i + 1
}

// partInstead makes the colon at i a comma in the copy, and what stands behind it bad.
func (s *scanner) partInstead(i int) {
	s.replace(i, i+1, ",")
	s.markBad(blanks(s.line, i+1))
	f := s.level()
	f.full, f.colon = false, false
}

const secondColon = "a second colon; is a comma missing, or quotes?"

// flowText reads a key or a text at i.
func (s *scanner) flowText(i int) int {
	s.needComma(i)
	start := i
	if i = s.properties(i); i > start && (i == len(s.line) || s.line[i] == ',' || s.line[i] == '}' || s.line[i] == ']') {
		s.markBad(i)
		s.replace(i, i, "_")
		s.level().full = true
		return i
	}
	if i == len(s.line) || isFlowSign(s.line[i]) {
		return i
	}
	f := s.level()
	end := s.scalar(i, f.colon)
	f.full, f.since = true, mark{s.lineNo, s.column(i)}
	if _, isKey := s.colonAfter(end); isKey && !f.colon {
		s.checkKey(i, end)
	} else if f.open == '{' && !f.colon {
		s.unglueFlow(start, end)
	}
	return end
}

// unglueFlow tells when a key in braces has no colon but one inside its text.
func (s *scanner) unglueFlow(i, end int) {
	if s.line[i] == '"' || s.line[i] == '\'' {
		return
	}
	for k := i + 1; k < end; k++ {
		if s.line[k] == ':' {
			s.problem(k, k+1, blankAfterColon)
			s.replace(k+1, k+1, " ")
			s.level().colon = true
			return
		}
	}
}
