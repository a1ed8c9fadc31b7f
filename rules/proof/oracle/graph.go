package oracle

import (
	"errors"
	"slices"
)

// sets is plain union-find.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) find(x int) int {
	for s[x] != x {
		s[x] = s[s[x]]
		x = s[x]
	}
	return x
}

func (s sets) union(x, y int) {
	x, y = s.find(x), s.find(y)
	if x > y {
		x, y = y, x
	}
	s[y] = x
}

// graph is the metal contracted to nets: what conducts in every setting.
type graph struct {
	l      *Layout
	sure   bool // only what surely conducts
	net    []int
	labels [][]int // by net, the terminals wired to it, rising
	holds  []bool  // by net: a leg is on it in every state
	edges  []wire
}

// wire joins two nets in some settings of a piece.
type wire struct {
	a, b, piece int
	in          uint64
	contact     bool
}

func (l *Layout) graph(onlySure bool) *graph {
	s := newSets(l.nodes)
	for _, c := range l.conductors {
		if c.piece < 0 && (c.sure || !onlySure) {
			s.union(c.a, c.b)
		}
	}
	g := &graph{l: l, sure: onlySure, net: make([]int, l.nodes)}
	number := map[int]int{}
	for n := range g.net {
		root := s.find(n)
		if _, ok := number[root]; !ok {
			number[root] = len(number)
		}
		g.net[n] = number[root]
	}
	g.labels = make([][]int, len(number))
	g.holds = make([]bool, len(number))
	for _, h := range l.hung {
		at := g.net[h.node]
		g.labels[at] = insert(g.labels[at], h.terminal)
		if l.steady(h.terminal) {
			g.holds[at] = true
		}
	}
	for _, c := range l.conductors {
		if c.piece >= 0 && (c.sure || !onlySure) {
			g.edges = append(g.edges, wire{g.net[c.a], g.net[c.b], c.piece, c.in, c.contact})
		}
	}
	return g
}

// insert adds to a rising list without repeating.
func insert(list []int, x int) []int {
	at, found := slices.BinarySearch(list, x)
	if found {
		return list
	}
	return slices.Insert(list, at, x)
}

// group is track work whose settings must be tried together.
type group struct {
	pieces []int
	edges  []wire
	nets   []int
}

// groups parts the pieces that change metal. Two belong together if they touch
// one net that no leg holds, or if a rule couples them. If all settings together
// are no more than limit, everything is one group.
func (g *graph) groups(limit int) ([]group, error) {
	s := newSets(len(g.l.pieces))
	matters := make([]bool, len(g.l.pieces))
	touched := map[int]int{}
	for _, e := range g.edges {
		matters[e.piece] = true
		for _, n := range []int{e.a, e.b} {
			if g.holds[n] {
				continue
			}
			if first, ok := touched[n]; ok {
				s.union(first, e.piece)
			} else {
				touched[n] = e.piece
			}
		}
	}
	for _, e := range g.edges {
		for _, n := range []int{e.a, e.b} {
			for _, t := range g.labels[n] {
				for _, p := range g.l.thrown(t) {
					s.union(p, e.piece)
				}
			}
		}
	}
	for _, k := range g.l.knobs {
		if k.piece >= 0 {
			matters[k.piece] = true
		}
	}
	for p, pc := range g.l.pieces {
		if pc.with >= 0 {
			s.union(p, pc.with)
		}
	}
	for _, all := range g.l.never {
		for _, c := range all[1:] {
			s.union(all[0].piece, c.piece)
		}
	}
	wanted := make([]bool, len(g.l.pieces))
	for p := range wanted {
		for q := range matters {
			wanted[p] = wanted[p] || matters[q] && s.find(p) == s.find(q)
		}
	}
	if g.product(func(p int) bool { return wanted[p] }, limit) <= limit {
		for p := range wanted {
			if wanted[p] {
				s.union(slices.Index(wanted, true), p)
			}
		}
	}
	var out []group
	at := map[int]int{}
	for p := range g.l.pieces {
		if !wanted[p] {
			continue
		}
		if _, ok := at[s.find(p)]; !ok {
			at[s.find(p)] = len(out)
			out = append(out, group{})
		}
		gr := &out[at[s.find(p)]]
		gr.pieces = append(gr.pieces, p)
	}
	for _, e := range g.edges {
		gr := &out[at[s.find(e.piece)]]
		gr.edges = append(gr.edges, e)
		gr.nets = insert(insert(gr.nets, e.a), e.b)
	}
	for _, gr := range out {
		n := g.product(func(p int) bool { return slices.Contains(gr.pieces, p) }, tries)
		if n > tries {
			return nil, errTooMany
		}
	}
	return out, nil
}

// tries is the most settings of what hangs together that are tried.
const tries = 1 << 14

var errTooMany = errors.New("the settings of pieces that hang together are too many to try")

// product multiplies settings, up to just above a bound.
func (g *graph) product(of func(int) bool, bound int) int {
	n := 1
	for p := range g.l.pieces {
		if of(p) {
			if n *= len(g.l.pieces[p].settings); n > bound {
				return bound + 1
			}
		}
	}
	return n
}

// allowed says whether pieces thrown together and locked apart may lie so. Pieces
// at -1 may lie as they please.
func (l *Layout) allowed(lie []int) bool {
	for p, pc := range l.pieces {
		with := pc.with
		if with < 0 || lie[p] < 0 || lie[with] < 0 {
			continue
		}
		x, y := pc.settings[lie[p]], l.pieces[with].settings[lie[with]]
		if x.passing || y.passing {
			continue
		}
		named := slices.ContainsFunc(l.pieces[with].settings, func(s setting) bool { return s.name == x.name })
		if named && x.name != y.name || !named && x.rank != y.rank {
			return false
		}
	}
	for _, all := range l.never {
		if !slices.ContainsFunc(all, func(c choice) bool {
			return lie[c.piece] < 0 || l.pieces[c.piece].settings[lie[c.piece]].name != c.name
		}) {
			return false
		}
	}
	return true
}

// world is the metal in one setting of some groups; the other pieces lie at -1.
type world struct {
	g      *graph
	lie    []int
	sets   sets
	labels [][]int // by root net
}

// each tries every allowed setting of some groups.
func (g *graph) each(of []group, visit func(*world)) {
	var pieces []int
	for _, gr := range of {
		pieces = append(pieces, gr.pieces...)
	}
	slices.Sort(pieces)
	w := g.still()
	var try func(int)
	try = func(i int) {
		if i < len(pieces) {
			for s, st := range g.l.pieces[pieces[i]].settings {
				if st.passing && g.sure {
					continue
				}
				w.lie[pieces[i]] = s
				try(i + 1)
			}
			w.lie[pieces[i]] = -1
			return
		}
		if !g.l.allowed(w.lie) {
			return
		}
		for _, gr := range of {
			for _, n := range gr.nets {
				w.sets[n], w.labels[n] = n, g.labels[n]
			}
		}
		for _, gr := range of {
			for _, e := range gr.edges {
				if e.in>>w.lie[e.piece]&1 == 1 {
					w.sets.union(e.a, e.b)
				}
			}
		}
		for _, gr := range of {
			for _, n := range gr.nets {
				w.merge(w.sets.find(n), g.labels[n])
			}
		}
		visit(w)
	}
	try(0)
}

// still is the world with every piece lying as it likes, and switching nothing.
func (g *graph) still() *world {
	return &world{g, g.l.anyhow(), newSets(len(g.labels)), slices.Clone(g.labels)}
}

func (w *world) merge(root int, labels []int) {
	old := w.labels[root]
	if len(labels) == 0 || slices.Equal(old, labels) {
		return
	}
	if len(old) == 0 {
		w.labels[root] = labels
		return
	}
	both := slices.Clone(old)
	for _, t := range labels {
		both = insert(both, t)
	}
	w.labels[root] = both
}

// at gives the terminals that a node is joined to.
func (w *world) at(node int) []int {
	return w.labels[w.sets.find(w.g.net[node])]
}

func (w *world) joined(x, y int) bool {
	return w.sets.find(w.g.net[x]) == w.sets.find(w.g.net[y])
}
