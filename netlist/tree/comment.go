package tree

// wholeComment deals with a line on which nothing stands before the # at i. Lines that
// are drawn (#----) pass.
func (s *scanner) wholeComment(i int) {
	if after := afterHashes(s.line, i); after < len(s.line) && s.line[after] != ' ' && !drawn(s.line[after]) {
		s.problem(i, wordEnd(s.line, i), blankAfterHash)
	}
	s.drop(i)
}

const blankAfterHash = "a comment starts with `# `, a blank after the #"

func drawn(c byte) bool {
	return c == '-' || c == '=' || c == '*' || c == '~' || c == '_' || c == '+'
}

// comment tells whether the # at i, before which there is a blank, starts a comment,
// and then leaves the comment out. Otherwise the # was meant as text and that is told.
func (s *scanner) comment(i int) bool {
	if endsAt(s.line, afterHashes(s.line, i)) {
		s.drop(i)
		return true
	}
	s.mistake(i, wordEnd(s.line, i), "the text ends at #; quote it")
	s.replace(i, i+1, "_")
	return false
}

// flowTail deals with what stands at i behind the bracket that ended a value: nothing or
// a comment. Anything else is told and left out.
func (s *scanner) flowTail(i int) {
	i = blanks(s.line, i)
	if i == len(s.line) {
		return
	}
	switch c := s.line[i]; {
	case c == '#':
		if !endsAt(s.line, afterHashes(s.line, i)) {
			s.problem(i, wordEnd(s.line, i), blankAfterHash)
		}
	case c == '}' || c == ']':
		s.problem(i, i+1, closesNothing(c))
	case c == ':':
		s.mistake(i, i+1, keyNoText)
		s.whole = false
		s.drop(min(i, s.flowStart))
		return
	default:
		s.mistake(i, wordEnd(s.line, i), "nothing stands behind the closing bracket")
	}
	s.drop(i)
}

func closesNothing(bracket byte) string { return "this " + string(bracket) + " closes nothing" }

const keyNoText = "a key is a name or a place, not a map or list"

func afterHashes(line []byte, i int) int {
	for i < len(line) && line[i] == '#' {
		i++
	}
	return i
}

// wordEnd returns where the word at i ends: at a blank, or at a comma or bracket that
// is not its first character.
func wordEnd(line []byte, i int) int {
	for start := i; i < len(line) && line[i] != ' '; i++ {
		if i > start && isFlowSign(line[i]) {
			break
		}
	}
	return i
}

func isFlowSign(c byte) bool {
	return c == ',' || c == '[' || c == ']' || c == '{' || c == '}'
}
