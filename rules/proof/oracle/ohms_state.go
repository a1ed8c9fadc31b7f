package oracle

import "slices"

// state is the whole network at one corner, with some devices in positions and the rest switching nothing.
type state struct {
	e     *electric
	weak  bool // every resistance at its high end, only what surely conducts; else the other way
	lie   map[int]int
	near  [][]int   // by node, the branches that conduct
	legs  [][2]*leg // by source; nil where its legs meet
	meet  []int     // sources whose legs meet
	fedBy []bool    // by node: a leg reaches it
}

// leg is what one leg of a source reaches.
type leg struct {
	nodes   []int // its own numbers to the layout's; the terminal is not among them
	at      []int // the other way, -1 for what it does not reach
	mesh    *meshed
	behind  [][]bool // by guard: nodes that nothing but the guard feeds; nil for a guard not met
	guesses []branch // those of guessed ohms, nil until asked for
}

// newState makes the network.
func (e *electric) newState(weak bool, lie map[int]int) *state {
	s := &state{e: e, weak: weak, lie: lie, near: make([][]int, e.nodes), fedBy: make([]bool, e.nodes)}
	for i, b := range e.branches {
		if weak && !b.sure {
			continue
		}
		if b.device >= 0 {
			at, ok := lie[b.device]
			if !ok || b.in>>at&1 == 0 {
				continue
			}
		}
		s.near[b.a] = append(s.near[b.a], i)
		s.near[b.b] = append(s.near[b.b], i)
	}
	for i, h := range e.heads {
		var two [2]*leg
		for side := range 2 {
			two[side] = s.reach(h.ends[side])
		}
		for _, l := range two {
			for _, n := range l.nodes {
				s.fedBy[n] = true
			}
		}
		if two[0].at[h.ends[1]] >= 0 || slices.ContainsFunc(two[0].nodes, func(n int) bool { return two[1].at[n] >= 0 }) {
			s.meet = append(s.meet, i)
			two = [2]*leg{}
		}
		s.legs = append(s.legs, two)
	}
	return s
}

func (s *state) ohms(b branch) float64 {
	if s.weak {
		return b.ohms.hi
	}
	return b.ohms.lo
}

// flood lists what conducts from a node on, without some branches.
func (s *state) flood(from int, without []int) (nodes, at []int) {
	at = make([]int, s.e.nodes)
	for i := range at {
		at[i] = -1
	}
	queue := []int{from}
	at[from] = s.e.nodes // the terminal itself, for now
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, i := range s.near[n] {
			o := s.e.branches[i].a + s.e.branches[i].b - n
			if at[o] >= 0 || slices.Contains(without, i) {
				continue
			}
			at[o] = len(nodes)
			nodes = append(nodes, o)
			queue = append(queue, o)
		}
	}
	at[from] = -1
	return nodes, at
}

func (s *state) reach(terminal int) *leg {
	l := &leg{}
	l.nodes, l.at = s.flood(terminal, nil)
	return l
}

// solved takes the leg's network apart on first use.
func (s *state) solved(l *leg) *meshed {
	if l.mesh != nil {
		return l.mesh
	}
	c := newConductances(len(l.nodes))
	for local, n := range l.nodes {
		for _, i := range s.near[n] {
			b := s.e.branches[i]
			o := l.at[b.a+b.b-n]
			if o < 0 || o > local { // ground, or each pair once
				c.add(local, o, 1/s.ohms(b))
			}
		}
	}
	l.mesh = c.reduce()
	return l.mesh
}

// guarded lists the guards of a leg that a node is behind, in the order from the source on.
func (s *state) guarded(l *leg, terminal, node int) []int {
	if l.behind == nil {
		l.behind = make([][]bool, len(s.e.guards))
		for g, guard := range s.e.guards {
			met := slices.ContainsFunc(guard.branches, func(i int) bool {
				b := s.e.branches[i]
				return l.at[b.a] >= 0 || l.at[b.b] >= 0
			})
			if !met {
				continue
			}
			_, still := s.flood(terminal, guard.branches)
			l.behind[g] = make([]bool, len(l.nodes))
			for local, n := range l.nodes {
				l.behind[g][local] = still[n] < 0
			}
		}
	}
	var out []int
	for g, behind := range l.behind {
		if behind != nil && behind[l.at[node]] {
			out = append(out, g)
		}
	}
	return out
}

// between is the resistance that two places of one leg share: volts at y for an ampere into x.
func (s *state) between(l *leg, x, y int) float64 {
	return s.solved(l).column(l.at[x])[l.at[y]]
}

// mix is a place in one rail: so far of the way from node a to node b, which so many ohms join.
type mix struct {
	a, b int
	t    float64
	ohms interval
}

func (m mix) weights() [2]float64 { return [2]float64{1 - m.t, m.t} }

func (m mix) nodes() [2]int { return [2]int{m.a, m.b} }

// in says whether a leg reaches a place.
func (l *leg) in(m mix) bool { return l.at[m.a] >= 0 && (m.t == 0 || l.at[m.b] >= 0) }

// own is the resistance of a place over that of its ends: what a short in the middle of a rail sees of that rail.
func (s *state) own(m mix) float64 {
	r := m.ohms.lo
	if s.weak {
		r = m.ohms.hi
	}
	return m.t * (1 - m.t) * r
}

// self is the resistance from a place to the leg's terminal.
func (s *state) self(l *leg, m mix) float64 {
	out := s.own(m)
	for i, x := range m.nodes() {
		for j, y := range m.nodes() {
			if w := m.weights()[i] * m.weights()[j]; w > 0 {
				out += w * s.between(l, x, y)
			}
		}
	}
	return out
}

// found is what a short or a train at a place sees of one source.
type found struct {
	head   int
	flip   bool    // the left rail has leg B
	ohms   float64 // without the source's inside
	volts  float64 // what detectors on the way take
	guards []int
}

// seen lists what a place sees, of every source that feeds both its rails by opposite legs.
func (s *state) seen(rails [2]mix) []found {
	var out []found
	for h, head := range s.e.heads {
		two := s.legs[h]
		if two[0] == nil {
			continue
		}
		for turn := range 2 {
			a, b := rails[turn], rails[1-turn]
			if !two[0].in(a) || !two[1].in(b) {
				continue
			}
			f := found{head: h, flip: turn == 1, ohms: s.self(two[0], a) + s.self(two[1], b)}
			f.guards = s.guarded(two[0], head.ends[0], a.a)
			for _, g := range s.guarded(two[1], head.ends[1], b.a) {
				if !slices.Contains(f.guards, g) {
					f.guards = append(f.guards, g)
				}
			}
			slices.Sort(f.guards)
			for _, g := range f.guards {
				if s.weak {
					f.volts += s.e.guards[g].volts.hi
				} else {
					f.volts += s.e.guards[g].volts.lo
				}
			}
			out = append(out, f)
		}
	}
	return out
}
