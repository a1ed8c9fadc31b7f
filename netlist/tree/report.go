package tree

import (
	"fmt"
	"strings"

	"gapwise/netlist/source"
)

// report collects the problems of one file. Mistakes that an editor makes on many
// lines at once (tabs, unusual blanks) are told once, at the first line.
type report struct {
	problems []source.Problem
	spread   [oddKinds]spread
	stopped  bool // by a limit: there is no tree
	overflow bool // by that of problems
}

// spread is one kind of odd character on several lines.
type spread struct {
	first source.Problem // without a line when there is none
	lines []int32        // the further ones, the first few
	more  int            // how many beyond those
	last  int32
}

// maxLinesNamed is how many further lines of a spread mistake are named.
const maxLinesNamed = 3

func (r *report) clean() bool {
	for _, s := range r.spread {
		if s.first.Pos.IsValid() {
			return false
		}
	}
	return len(r.problems) == 0
}

func (r *report) add(p source.Problem) {
	if len(r.problems) >= maxProblems {
		r.stopped, r.overflow = true, true
		return
	}
	r.problems = append(r.problems, p)
}

// addSpread tells of an odd character, of each kind once however many lines have it.
func (r *report) addSpread(kind oddKind, message func() string, at source.Pos) {
	s := &r.spread[kind]
	switch {
	case !s.first.Pos.IsValid():
		s.first = source.Problem{Pos: at, Width: 1, Message: message()}
	case s.last == at.Line:
	case len(s.lines) < maxLinesNamed:
		s.lines = append(s.lines, at.Line)
	default:
		s.more++
	}
	s.last = at.Line
}

// told returns all problems.
func (r *report) told() []source.Problem {
	out := r.problems
	if r.overflow {
		last := out[len(out)-1]
		out = append(out, source.Problem{
			Pos: last.Pos, Width: last.Width,
			Message: fmt.Sprintf("over %d mistakes; the rest is not shown", maxProblems),
		})
	}
	for _, s := range r.spread {
		if s.first.Pos.IsValid() {
			p := s.first
			p.Message += s.further()
			out = append(out, p)
		}
	}
	return out
}

func (s spread) further() string {
	if len(s.lines) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("; also on line")
	if len(s.lines)+s.more > 1 {
		b.WriteString("s")
	}
	for i, line := range s.lines {
		switch {
		case i == 0:
			fmt.Fprintf(&b, " %d", line)
		case i == len(s.lines)-1 && s.more == 0:
			fmt.Fprintf(&b, " and %d", line)
		default:
			fmt.Fprintf(&b, ", %d", line)
		}
	}
	if s.more > 0 {
		fmt.Fprintf(&b, " and %d more", s.more)
	}
	return b.String()
}
