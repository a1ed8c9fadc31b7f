package reader

import (
	"strings"

	"gapwise/netlist/layout"
)

// firstWord is the first name on a line, which may be what the line was to define.
func firstWord(line []byte) string {
	s := strings.TrimLeft(string(line[:min(len(line), 10*maxName)]), " -{[")
	end := strings.IndexFunc(s, func(c rune) bool { return !isName("x" + string(c)) })
	if end < 0 {
		end = len(s)
	}
	return s[:end]
}

// loseWord notes that what a word names, an entry or a section, may be missing because of
// a mistake on its line.
func (r *reader) loseWord(u *unit, w string) {
	r.lostNames[w] = true
	if s := sectionsByName[w]; s != nil {
		r.loseSection(s)
	}
	switch w {
	case "include":
		r.blind = true
	case "joins":
		r.doubt.anything = true
	}
	if w == "defaults" || sectionOf(w) != nil {
		u.lostDefaults = true
	}
}

// loseSection notes that entries of a section may be missing because of a mistake.
func (r *reader) loseSection(s *section) {
	r.names[s.thing].lost = true
	r.lostSections[s.thing] = true
}

// lostEntry notes that an entry is missing from the layout because of a mistake, so that
// what points at it is not blamed.
func (r *reader) lostEntry(e *railEntry) {
	r.names[e.rec.section.thing].lost = true
	if p := r.pieceNear(e.rec.unit, e.piece); p != nil {
		r.lostOn[lostKey{e.rec.section.thing, layout.PieceID(*p)}] = true
	}
}

// mayLack reports whether entries of a kind may be missing on a piece because of a mistake
// that was reported.
func (r *reader) mayLack(k thing, p layout.PieceID) bool {
	return r.blind || r.lostSections[k] || r.lostOn[lostKey{k, p}]
}

// lostKey is a kind of entry on one piece of which some are missing.
type lostKey struct {
	thing thing
	piece layout.PieceID
}
