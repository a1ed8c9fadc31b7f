package tree

import (
	"cmp"
	"fmt"
	"slices"
	"unicode"
	"unicode/utf8"

	"gapwise/netlist/source"
)

// span is line[from:to].
type span struct{ from, to int }

// oddity is a character that was replaced in the line because no layout needs it.
type oddity struct {
	at   int   // of its stand-in
	col  int32 // in the file
	was  rune
	kind oddKind
	raw  byte // of a byte that is no UTF-8
}

type oddKind uint8

const (
	fine      oddKind = iota
	tab               // told unless in a comment
	blank             // told unless in a comment or in quotes
	joiner            // the same
	invisible         // told unless in a comment
	control           // told always, as the rest
	direction
	broken
	oddKinds // how many there are
)

// maxOddities is how many odd characters of one line are remembered; further ones are
// told even in a comment or in quotes.
const maxOddities = 20000

// questionMark stands in the copy for a ? inside brackets, at which the library would
// end a text. It is a private character, which no line can contain.
const questionMark = "\ue03f"

// begin makes raw the current line. Odd characters are replaced by a blank or a low
// line, character for character, so that columns stay.
func (s *scanner) begin(raw []byte) {
	s.line, s.ascii = raw, true
	s.counted, s.countedTo = 0, 0
	s.edits, s.odd, s.quoted = s.edits[:0], s.odd[:0], s.quoted[:0]
	for i, c := range raw {
		if c < ' ' || c > '~' {
			s.replaceOdd(raw, i)
			return
		}
	}
}

func (s *scanner) replaceOdd(raw []byte, i int) {
	s.ascii = false
	s.buf = append(s.buf[:0], raw[:i]...)
	for col := int32(i) + 1; i < len(raw); col++ {
		r, n := utf8.DecodeRune(raw[i:])
		kind := kindOf(r, n)
		switch kind {
		case fine:
			s.buf = append(s.buf, raw[i:i+n]...)
		case tab, blank:
			s.buf = append(s.buf, ' ')
		default:
			s.buf = append(s.buf, '_')
		}
		if kind != fine {
			o := oddity{at: len(s.buf) - 1, col: col, was: r, kind: kind, raw: raw[i]}
			if len(s.odd) < maxOddities {
				s.odd = append(s.odd, o)
			} else {
				s.tellOddity(o)
			}
		}
		i += n
	}
	s.line = s.buf
}

func kindOf(r rune, size int) oddKind {
	switch {
	case r == utf8.RuneError && size == 1:
		return broken
	case r == '\t':
		return tab
	case r < ' ' || r >= 0x7f && r < 0xa0:
		return control
	case r < 0xa0:
		return fine
	case r == 0xa0:
		return blank
	case r == 0xad:
		return invisible
	case r < 0x300:
		return fine
	case r == 0x200c || r == 0x200d:
		return joiner
	case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
		return direction
	case r == 0x2028 || r == 0x2029 || r == 0xfffe || r == 0xffff:
		return control
	case r == 0x180e || unicode.In(r, unicode.Cf, unicode.Co):
		return invisible
	case unicode.Is(unicode.Zs, r):
		return blank
	}
	return fine
}

// settleOddities tells of the odd characters of the line, now that it is known which
// of them stand in quotes or in a comment, where some do no harm.
func (s *scanner) settleOddities() {
	for _, o := range s.odd {
		inComment := o.at >= len(s.line)
		switch {
		case inComment && o.kind < control:
		case (o.kind == blank || o.kind == joiner) && s.inQuotes(o.at):
			s.replace(o.at, o.at+1, string(o.was))
		default:
			s.tellOddity(o)
		}
	}
}

func (s *scanner) inQuotes(at int) bool {
	for len(s.quoted) > 0 && at >= s.quoted[0].to {
		s.quoted = s.quoted[1:]
	}
	return len(s.quoted) > 0 && at >= s.quoted[0].from
}

// controlIn reports whether a control character stood in line[from:to]; it may have been
// meant as the end of a line.
func (s *scanner) controlIn(from, to int) bool {
	n, _ := slices.BinarySearchFunc(s.odd, from, func(o oddity, at int) int { return cmp.Compare(o.at, at) })
	for ; n < len(s.odd) && s.odd[n].at < to; n++ {
		if s.odd[n].kind == control {
			return true
		}
	}
	return false
}

func (s *scanner) tellOddity(o oddity) {
	s.addSpread(o.kind, o.message, source.Pos{File: s.file, Line: s.lineNo, Col: o.col})
	if o.kind >= joiner {
		s.bad = append(s.bad, mark{s.lineNo, o.col})
	}
}

func (o oddity) message() string {
	switch o.kind {
	case tab:
		return "a tab; use blanks"
	case blank:
		return fmt.Sprintf("an unusual blank (U+%04X); use a plain one", o.was)
	case control:
		return fmt.Sprintf("a control character (U+%04X); delete it", o.was)
	case direction:
		return fmt.Sprintf("a mark that turns the direction of text (U+%04X); delete it", o.was)
	case broken:
		return fmt.Sprintf("a byte that is no UTF-8 (%#02x); save the file as UTF-8", o.raw)
	}
	return fmt.Sprintf("an invisible character (U+%04X); delete it", o.was)
}
