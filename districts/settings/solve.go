package settings

import "slices"

// Solver answers queries about one problem.
type Solver struct {
	p       *Problem
	levers  []lever
	leverOf []int32 // by device
	touch   [][]int32
	never   [][]literal
	whole   Answer // whether there is any valid setting at all
}

// New prepares a problem. The problem is not copied and must not change.
func New(p *Problem) *Solver {
	s := &Solver{p: p, touch: make([][]int32, p.Nets)}
	s.levers, s.leverOf = levers(p)
	for i, e := range p.Edges {
		s.touch[e.A] = append(s.touch[e.A], int32(i))
		if e.A != e.B {
			s.touch[e.B] = append(s.touch[e.B], int32(i))
		}
	}
	for _, set := range p.Never {
		if lits, ok := s.literals(set); ok && len(lits) > 0 {
			for _, l := range lits {
				s.levers[l.lever].never = append(s.levers[l.lever].never, int32(len(s.never)))
			}
			s.never = append(s.never, lits)
		}
	}
	s.whole.Verdict = Found
	if len(s.never) > 0 {
		l := &local{s: s, q: &Query{}, work: usualWork, leverAt: map[int32]int32{}, nets: map[int32]int32{}}
		for id := range s.levers {
			if len(s.levers[id].never) > 0 {
				l.lever(int32(id))
			}
		}
		s.whole = l.answer()
	}
	return s
}

// stops reports whether no way leads through a net.
func (s *Solver) stops(net int32) bool { return int(net) < len(s.p.Stop) && s.p.Stop[net] }

// Possible reports whether some valid setting of all devices holds all of some settings.
func (s *Solver) Possible(given []Setting) Verdict { return s.Solve(&Query{Given: given}).Verdict }

// Thrown gives a setting and those of what is thrown along; the set device first, then by number.
func (s *Solver) Thrown(x Setting) []Setting {
	l := &s.levers[s.leverOf[x.Device]]
	out := []Setting{x}
	for i, at := range thrown(s.p, l.members, x) {
		if d := l.members[i]; d != x.Device && at >= 0 {
			out = append(out, Setting{d, at})
		}
	}
	return out
}

// Solve answers a query.
func (s *Solver) Solve(q *Query) Answer {
	work := q.Work
	if work <= 0 {
		work = usualWork
	}
	if s.whole.Verdict != Found {
		return Answer{Verdict: s.whole.Verdict, At: slices.Clone(s.whole.At)}
	}
	if len(q.Connect) > mostConnections {
		return Answer{Verdict: Open}
	}
	l := &local{s: s, q: q, work: work, leverAt: map[int32]int32{}, nets: map[int32]int32{}}
	given, ok := s.literals(q.Given)
	if !ok {
		return Answer{Verdict: Absent}
	}
	for _, g := range given {
		at := l.lever(g.lever)
		l.levers[at].held, l.levers[at].domain = true, g.in
	}
	l.join(q.Joined)
	if !l.gather() {
		return Answer{Verdict: Absent, Work: work - l.work}
	}
	a := l.answer()
	a.Work = work - l.work
	return a
}

// answer completes a local problem, tries what is quick and then sweeps.
func (l *local) answer() Answer {
	l.constrain()
	if !l.values() {
		return Answer{Verdict: Absent}
	}
	least, bound := 0, -1
	if len(l.goals) == 1 {
		least = l.least()
		if at, ok := l.greedy(); ok {
			if bound = l.thrownBy(at); bound <= least {
				return l.told(at)
			}
		}
	}
	o := l.order()
	at, verdict := l.sweep(o, bound)
	switch verdict {
	case Found:
		return l.told(at)
	case Open:
		return Answer{Verdict: Open, At: l.stopped}
	}
	return Answer{Verdict: Absent}
}

// thrownBy counts the levers that a choice uses and that are not held.
func (l *local) thrownBy(at []int16) int {
	n := 0
	for i, p := range at {
		if p >= 0 && !l.levers[i].held {
			n++
		}
	}
	return n
}

// told describes a choice of positions, -1 for levers that are not used: its ways and what they
// take.
func (l *local) told(at []int16) Answer {
	a := Answer{Verdict: Found, Settings: slices.Clone(l.q.Given), Ways: make([][]int32, len(l.q.Connect))}
	used := map[int32]bool{}
	for g := range l.q.Connect {
		way, edges := l.way(&l.q.Connect[g], at)
		a.Ways[g] = way
		for _, e := range edges {
			x := l.s.p.Edges[e]
			id := l.leverAt[l.s.leverOf[x.Device]]
			if used[id] || l.levers[id].held {
				continue
			}
			used[id] = true
			a.Levers++
			full := &l.s.levers[l.levers[id].id]
			a.Settings = append(a.Settings, Setting{x.Device, x.Position})
			for i, d := range full.members {
				if p := full.at[at[id]][i]; d != x.Device && p >= 0 {
					a.Settings = append(a.Settings, Setting{d, p})
				}
			}
		}
	}
	return a
}
