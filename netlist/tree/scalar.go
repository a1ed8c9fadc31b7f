package tree

import (
	"bytes"
	"unicode/utf8"
)

// properties tells of anchors and tags at i, leaves them out of the copy, and returns
// where the value behind them starts.
func (s *scanner) properties(i int) int {
	for i < len(s.line) && !s.stopped {
		var message string
		switch {
		case s.line[i] == '&':
			message = notUsed
		case s.line[i] == '!':
			message = "a tag; write the value alone"
		case s.line[i] == '?' && endsAt(s.line, i+1) && len(s.flows) == 0:
			s.mistake(i, i+1, questionKey)
			s.explicit = true
			s.dropEntry(i)
			return len(s.line)
		default:
			return i
		}
		end := wordEnd(s.line, i)
		s.problem(i, end, message)
		next := blanks(s.line, end)
		s.replace(i, next, "")
		if i = next; i < len(s.line) && s.line[i] == '#' && s.comment(i) {
			return len(s.line)
		}
	}
	return i
}

const questionKey = "a key needs no question mark"

// scalar reads the text at i, quoted or plain, and returns where it ends. isValue says
// that a colon was read already, so that another one is a mistake.
func (s *scanner) scalar(i int, isValue bool) int {
	if c := s.line[i]; c == '"' || c == '\'' {
		return s.quotedText(i, isValue)
	}
	s.firstCharacter(i)
	return s.plain(i, i, isValue, false)
}

// firstCharacter tells when a plain text may not start as it does.
func (s *scanner) firstCharacter(i int) {
	switch c := s.line[i]; {
	case c == '*':
		if !s.merging {
			s.problem(i, wordEnd(s.line, i), notUsed)
		}
		s.markBad(i)
		s.replace(i, i+1, "_")
	case c == '-' && endsAt(s.line, i+1):
		s.mistake(i, i+1, "no dashes inside brackets; commas part the entries")
		s.replace(i, i+1, "_")
	case c == '?' && endsAt(s.line, i+1):
		s.mistake(i, i+1, questionKey)
	case bytes.IndexByte([]byte("@`%|>"), c) >= 0,
		len(s.flows) == 0 && isFlowSign(c):
		s.mistake(i, i+1, "a text does not start with "+string(c)+"; quote it")
		s.replace(i, i+1, "_")
	case c == ':' && endsAt(s.line, i+1):
		s.mistake(i, i+1, "no key before this colon")
		s.replace(i, i, "_")
	}
}

// plain reads on at i in a plain text that starts at start. quiet keeps it from telling
// of colons, because a worse mistake in the same text was told.
func (s *scanner) plain(start, i int, isValue, quiet bool) int {
	end := start
	inFlow := len(s.flows) > 0
	for i < len(s.line) && !s.stopped {
		switch c := s.line[i]; {
		case c == ' ':
			i++
			continue
		case c == ':' && endsAt(s.line, i+1):
			if !isValue && !quiet {
				return s.checkLength(start, end)
			}
			if !quiet && !s.controlIn(start, i) {
				s.mistake(i, i+1, secondColon)
			}
			quiet = true
			s.replace(i, i+1, "_")
		case c == '#' && i > start && s.line[i-1] == ' ':
			if s.comment(i) {
				return s.checkLength(start, end)
			}
		case inFlow && c == ',':
			if !s.numberComma(start, i) {
				return s.checkLength(start, end)
			}
		case inFlow && isFlowSign(c):
			return s.checkLength(start, end)
		case inFlow && c == '?' && i-start <= maxText*utf8.UTFMax:
			s.replace(i, i+1, questionMark)
			s.questions = true
		}
		i++
		end = i
	}
	return s.checkLength(start, end)
}

// quotedText reads the text in quotes at i and returns where it ends.
func (s *scanner) quotedText(i int, isValue bool) int {
	end := s.closingQuote(i)
	if end < 0 {
		s.mistake(i, i+1, "no closing quote on this line")
		s.replace(i, i+1, "_")
		return s.plain(i, i+1, isValue, true)
	}
	next := blanks(s.line, end)
	if next < len(s.line) && !s.mayFollowQuote(next, isValue) {
		s.mistake(i, end, "the text goes on after the closing quote; quote all of it")
		s.replace(i, end, "_")
		return s.plain(i, end, isValue, true)
	}
	s.quoted = append(s.quoted, span{i, end})
	return s.checkLength(i, end)
}

// closingQuote returns the place behind the quote that closes the one at i, -1 when
// there is none.
func (s *scanner) closingQuote(i int) int {
	quote := s.line[i]
	told := false
	for i++; i < len(s.line); i++ {
		switch {
		case quote == '"' && s.line[i] == '\\':
			if i+1 < len(s.line) && (s.line[i+1] == '"' || s.line[i+1] == '\\') {
				i++
				continue
			}
			if !told {
				s.mistake(i, min(i+2, len(s.line)), `only \" and \\ stand after a backslash; or use single quotes`)
				told = true
			}
			s.replace(i, i+1, "_")
		case s.line[i] == quote && quote == '\'' && i+1 < len(s.line) && s.line[i+1] == quote:
			i++
		case s.line[i] == quote:
			return i + 1
		}
	}
	return -1
}

func (s *scanner) mayFollowQuote(i int, isValue bool) bool {
	c := s.line[i]
	switch {
	case c == '#':
		return s.line[i-1] == ' '
	case len(s.flows) > 0:
		return c == ':' || c == ',' || c == ']' || c == '}'
	}
	return c == ':' && endsAt(s.line, i+1) && !isValue
}

// checkLength tells when the text line[start:end] is too long, and shortens it in the
// copy. It returns end.
func (s *scanner) checkLength(start, end int) int {
	if end-start > maxText && utf8.RuneCount(s.line[start:end]) > maxText {
		s.mistake(start, start+1, "over the bound, a text of 10,000 characters")
		s.shorten(start, end)
	}
	return end
}

// checkKey tells when the key line[start:end] is too long or not used here.
func (s *scanner) checkKey(start, end int) {
	switch text := s.line[start:end]; {
	case string(text) == "<<":
		s.mistake(start, end, notUsed)
		s.merging = true
	case len(text) > maxText && utf8.RuneCount(text) > maxText:
	case len(text) > maxKey:
		s.mistake(start, start+1, "over the bound, a key of 1000 characters")
		s.shorten(start, end)
	}
	if len(s.flows) == 0 {
		s.commaInQuantity(start, end)
	}
}

// shorten replaces line[start:end] and the edits inside it by one character.
func (s *scanner) shorten(start, end int) {
	for len(s.edits) > 0 && s.edits[len(s.edits)-1].from >= start {
		s.edits = s.edits[:len(s.edits)-1]
	}
	s.replace(start, end, "_")
}
