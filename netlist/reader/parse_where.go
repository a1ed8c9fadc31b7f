package reader

import (
	"strings"

	"gapwise/netlist/quantity"
)

// where is a place along a track or bus as typed: a measure from the start or the end,
// or one of the words start, end, gap.
type where struct {
	word    string
	measure quantity.Length
	fromEnd bool
	text    text
}

// parseWhere reads `8 in`, `8 in from end`, `start`, `end`. `gap` is left to the caller.
func (r *reader) parseWhere(t text) (where, bool) {
	w := where{text: t}
	switch t.s {
	case "start", "end":
		w.word = t.s
		return w, true
	case "":
		r.blame(t, problem{message: "no value; a place", expected: "a measure such as 4 ft, start or end"})
		return w, false
	}
	measure := t
	if i := fromEndAt(t.s); i >= 0 {
		w.fromEnd = true
		measure = t.cut(0, i).trim()
	}
	var ok bool
	w.measure, ok = measured(r, measure, quantity.ParsePosition)
	if ok && !w.measure.Known() {
		r.blame(measure, problem{message: "a place needs a measure; a range will do", expected: "a measure such as 4 ft or 7 .. 9 in"})
		ok = false
	}
	return w, ok
}

// fromEndAt is where `from end` begins at the end of s, or -1.
func fromEndAt(s string) int {
	fields := strings.Fields(s)
	n := len(fields)
	if n < 3 || fields[n-2] != "from" || fields[n-1] != "end" {
		return -1
	}
	return strings.LastIndex(s, "from")
}

// bounds is a stretch's or a row's `A .. B`.
type bounds struct {
	from, to where
	text     text
}

// isRange reports whether t is typed with two dots.
func isRange(t text) bool { return strings.Contains(t.s, "..") }

// parseBounds reads `A .. B`, each a place or, where gaps is set, `gap`. A bare left
// number takes the right one's unit, as in every range, but B may be below A.
func (r *reader) parseBounds(t text, gaps bool) (bounds, bool) {
	b := bounds{text: t}
	left, right, isTwo := t.around("..")
	if !isTwo {
		r.blame(t, problem{message: "a stretch is from .. to", expected: "such as 4 ft .. 9 ft, or gap .. end"})
		return b, false
	}
	if left.s == "" || right.s == "" {
		r.blame(t, problem{message: "a range needs two values", expected: "such as 4 ft .. 9 ft, or gap .. end"})
		return b, false
	}
	measure := right.s
	if i := fromEndAt(measure); i >= 0 {
		measure = measure[:i]
	}
	left.s = quantity.LendUnit(left.s, measure)
	bare := strings.Trim(left.s, "0123456789./½¼¾ ") == ""
	var ok bool
	if b.to, ok = r.parseBound(right, gaps); !ok && bare {
		return b, false // the left number lacks its unit for the same reason
	}
	var okFrom bool
	b.from, okFrom = r.parseBound(left, gaps)
	return b, ok && okFrom
}

func (r *reader) parseBound(t text, gaps bool) (where, bool) {
	if t.s != "gap" {
		return r.parseWhere(t)
	}
	if !gaps {
		r.blame(t, problem{message: "a row needs a measure here", expected: "a measure such as 4 ft, start or end"})
	}
	return where{word: "gap", text: t}, gaps
}
