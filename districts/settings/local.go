package settings

import "slices"

// local is the part of a problem that bears on one query.
type local struct {
	s    *Solver
	q    *Query
	work int

	rep     map[int32]int32   // nets that are joined besides, by their least
	groups  map[int32][]int32 // members, by least
	goals   []int             // connections that are not there by themselves
	nets    map[int32]int32   // local numbers of the nets through which ways lead
	marks   []uint16          // by local net
	edges   []localEdge
	items   []item
	levers  []localLever
	leverAt map[int32]int32
	sets    []constraint
	stopped []int32
}

// localEdge is an edge on some way. An end at a stop is -1 and leaves its marks at the other.
type localEdge struct {
	edge  int32
	a, b  int32
	marks [2]uint16
}

// item is a device with its edges on some way, or a lever that only sets bear on.
type item struct {
	lever  int32
	member int // of the lever
	edges  []int32
	nets   []int32 // rising
}

// localLever is a lever as far as a query has a say in it.
type localLever struct {
	id     int32
	held   bool
	domain []bool
	items  []int32
	sets   []int32 // constraints that name it
	values []value
}

// value is what a lever may be: used in a position, or left alone in one.
type value struct {
	position int16
	used     bool
	on       [][]int32 // edges that conduct, by the lever's items
	matches  []bool    // by the lever's sets
}

// constraint is a set that may not be held in full: by any lever, or by those that are used.
type constraint struct {
	lits []literal
	told bool
}

// start and end mark a net that a connection of this number starts or ends at.
func start(goal int) uint16 { return 1 << (2 * goal) }
func end(goal int) uint16   { return 2 << (2 * goal) }

// lever gives the local number of a lever.
func (l *local) lever(id int32) int32 {
	at, found := l.leverAt[id]
	if !found {
		at = int32(len(l.levers))
		l.leverAt[id] = at
		domain := make([]bool, len(l.s.levers[id].at))
		for p := range domain {
			domain[p] = true
		}
		l.levers = append(l.levers, localLever{id: id, domain: domain})
	}
	return at
}

// join groups the nets that are one besides.
func (l *local) join(pairs [][2]int32) {
	l.rep, l.groups = map[int32]int32{}, map[int32][]int32{}
	for _, p := range pairs {
		x, y := l.net(p[0]), l.net(p[1])
		if x == y {
			continue
		}
		if y < x {
			x, y = y, x
		}
		all := append(slices.Clone(l.group(x)), l.group(y)...)
		for _, n := range all {
			l.rep[n] = x
		}
		delete(l.groups, y)
		l.groups[x] = all
	}
}

func (l *local) net(n int32) int32 {
	if r, found := l.rep[n]; found {
		return r
	}
	return n
}

func (l *local) group(n int32) []int32 {
	if g, found := l.groups[n]; found {
		return g
	}
	return []int32{n}
}

func (l *local) stops(n int32) bool { return slices.ContainsFunc(l.group(n), l.s.stops) }

// allowed lists the positions of an edge's lever in which it conducts, and whether what is given
// leaves any.
func (l *local) allowed(e *Edge) bool {
	at, found := l.leverAt[l.s.leverOf[e.Device]]
	if !found {
		return int(e.Position) < l.s.p.Positions[e.Device]
	}
	full := &l.s.levers[l.levers[at].id]
	m := full.member(e.Device)
	for p, in := range l.levers[at].domain {
		if in && full.at[p][m] == e.Position {
			return true
		}
	}
	return false
}

// reps are the groups of some nets, rising.
func (l *local) reps(nets []int32) []int32 {
	out := make([]int32, len(nets))
	for i, n := range nets {
		out[i] = l.net(n)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// gather collects what lies on a way of some connection; it reports false when one has none
// even with every device in all its positions at once.
func (l *local) gather() bool {
	kept := map[int32]bool{}
	ends := map[int32]uint16{}
	for g := range l.q.Connect {
		from, to := l.reps(l.q.Connect[g].From), l.reps(l.q.Connect[g].To)
		if slices.ContainsFunc(from, func(n int32) bool { _, found := slices.BinarySearch(to, n); return found }) {
			continue
		}
		goal := len(l.goals)
		l.goals = append(l.goals, g)
		for _, n := range from {
			ends[n] |= start(goal)
		}
		for _, n := range to {
			ends[n] |= end(goal)
		}
		edges := l.between(from, to)
		if len(edges) == 0 {
			return false
		}
		for _, e := range edges {
			kept[e] = true
		}
	}
	list := make([]int32, 0, len(kept))
	for e := range kept {
		list = append(list, e)
	}
	slices.Sort(list)
	itemOf := map[int32]int32{}
	for _, e := range list {
		l.add(e, ends, itemOf)
	}
	for i := range l.items {
		slices.Sort(l.items[i].nets)
		l.items[i].nets = slices.Compact(l.items[i].nets)
	}
	return true
}

// add takes an edge into the local problem.
func (l *local) add(e int32, ends map[int32]uint16, itemOf map[int32]int32) {
	x := &l.s.p.Edges[e]
	it, found := itemOf[x.Device]
	if !found {
		it = int32(len(l.items))
		itemOf[x.Device] = it
		lv := l.lever(l.s.leverOf[x.Device])
		l.levers[lv].items = append(l.levers[lv].items, it)
		l.items = append(l.items, item{lever: lv, member: l.s.levers[l.levers[lv].id].member(x.Device)})
	}
	y := localEdge{edge: e, a: -1, b: -1}
	for i, n := range [2]int32{l.net(x.A), l.net(x.B)} {
		if l.stops(n) {
			y.marks[i] = ends[n]
			continue
		}
		at, found := l.nets[n]
		if !found {
			at = int32(len(l.marks))
			l.nets[n] = at
			l.marks = append(l.marks, ends[n])
		}
		if i == 0 {
			y.a = at
		} else {
			y.b = at
		}
		l.items[it].nets = append(l.items[it].nets, at)
	}
	l.items[it].edges = append(l.items[it].edges, int32(len(l.edges)))
	l.edges = append(l.edges, y)
}

// constrain takes in the sets that bear on the levers there are, and the levers that these
// sets bring in.
func (l *local) constrain() {
	taken := map[int32]bool{}
	for at := 0; at < len(l.levers); at++ {
		for _, n := range l.s.levers[l.levers[at].id].never {
			if taken[n] {
				continue
			}
			taken[n] = true
			lits := make([]literal, len(l.s.never[n]))
			for i, x := range l.s.never[n] {
				lits[i] = literal{l.lever(x.lever), x.in}
			}
			l.sets = append(l.sets, constraint{lits: lits})
		}
	}
	for _, set := range l.q.Told {
		l.tell(set)
	}
	for i := range l.sets {
		for _, x := range l.sets[i].lits {
			l.levers[x.lever].sets = append(l.levers[x.lever].sets, int32(i))
		}
	}
	for at := range l.levers {
		if v := &l.levers[at]; len(v.items) == 0 {
			v.items = []int32{int32(len(l.items))}
			l.items = append(l.items, item{lever: int32(at)})
		}
	}
}

// tell takes in a set that is told already, if an answer could hold it.
func (l *local) tell(set []Setting) {
	lits, ok := l.s.literals(set)
	if !ok || len(lits) == 0 {
		return
	}
	for i := range lits {
		at, found := l.leverAt[lits[i].lever]
		if !found {
			return
		}
		lits[i].lever = at
	}
	l.sets = append(l.sets, constraint{lits: lits, told: true})
}

// values lists what each lever may be, alike ones once; it reports false when there is nothing
// that one may be.
func (l *local) values() bool {
	for at := range l.levers {
		v := &l.levers[at]
		full := &l.s.levers[v.id]
		seen := map[string]bool{}
		for _, used := range [2]bool{false, true} {
			for p, in := range v.domain {
				if !in || (!used && v.held) {
					continue
				}
				x := l.value(v, int16(p), used, full)
				if used && !v.held && !slices.ContainsFunc(x.on, func(e []int32) bool { return len(e) > 0 }) {
					continue
				}
				if key := x.key(); !seen[key] {
					seen[key] = true
					v.values = append(v.values, x)
				}
			}
		}
		if len(v.values) == 0 && len(v.domain) > 0 {
			return false
		}
		if len(v.domain) == 0 {
			v.values = []value{{position: -1, on: make([][]int32, len(v.items)), matches: make([]bool, len(v.sets))}}
		}
	}
	return true
}

// value is one position of a lever, used or left alone.
func (l *local) value(v *localLever, p int16, used bool, full *lever) value {
	x := value{position: p, used: used, on: make([][]int32, len(v.items)), matches: make([]bool, len(v.sets))}
	for i, it := range v.items {
		for _, e := range l.items[it].edges {
			if used && full.at[p][l.items[it].member] == l.s.p.Edges[l.edges[e].edge].Position {
				x.on[i] = append(x.on[i], e)
			}
		}
	}
	for i, c := range v.sets {
		set := &l.sets[c]
		at := slices.IndexFunc(set.lits, func(y literal) bool { return l.levers[y.lever].id == v.id })
		x.matches[i] = set.lits[at].in[p] && (used || !set.told)
	}
	return x
}

// key tells values apart by what they do.
func (x *value) key() string {
	key := []byte{0}
	if x.used {
		key[0] = 1
	}
	for _, on := range x.on {
		for _, e := range on {
			key = append(key, byte(e), byte(e>>8), byte(e>>16), byte(e>>24))
		}
		key = append(key, 0xff, 0xff, 0xff, 0xff)
	}
	for _, m := range x.matches {
		if m {
			key = append(key, 1)
		} else {
			key = append(key, 0)
		}
	}
	return string(key)
}
