package settings

import "slices"

// widest bounds how many nets may be open at a time.
const widest = 250

// step is what one item of the order does to the border between what is settled and what is to come.
type step struct {
	item       int32
	nets       []int32 // open before it, then those it opens
	opened     int     // how many of nets it opens
	stays      []bool  // by nets
	levers     []int32 // open before
	decides    bool    // the lever is not among levers
	leverStays []int32 // open after
	sets       []int32 // open before, then those it opens
	setsOpened int
	bears      []int32 // by sets: place in the lever's sets, -1 where it does not name the lever
	closes     []bool  // by sets
	place      int     // of the item among its lever's
	lost       uint16  // marks that come up no more after it
}

// state is one way in which what is settled may matter to what is to come: which open nets are
// one, which are joined with a start or an end, which connections are made, what open
// levers are, and which open sets are held in full so far.
type state struct {
	key    string
	cost   int32
	parent int32
	value  int32
}

// steps lays an order out.
func (l *local) steps(o order) []step {
	out := make([]step, len(o.items))
	lastNet := make([]int, len(l.marks))
	lastLever := make([]int, len(l.levers))
	firstSet, lastSet := make([]int, len(l.sets)), make([]int, len(l.sets))
	for i := range firstSet {
		firstSet[i] = -1
	}
	met := make([]bool, len(l.levers))
	markAt := [2 * mostConnections]int{}
	for k, it := range o.items {
		x := &l.items[it]
		for _, n := range x.nets {
			lastNet[n] = k
		}
		for b := range markAt[:2*len(l.goals)] {
			if l.touches(it, 1<<b) {
				markAt[b] = k
			}
		}
		if lastLever[x.lever] = k; met[x.lever] {
			continue
		}
		met[x.lever] = true
		for _, c := range l.levers[x.lever].sets {
			if firstSet[c] < 0 {
				firstSet[c] = k
			}
			lastSet[c] = k
		}
	}
	seen := make([]bool, len(l.marks))
	var nets, levers, sets []int32
	for k, it := range o.items {
		x := &l.items[it]
		s := &out[k]
		s.item = it
		s.place = slices.Index(l.levers[x.lever].items, it)
		s.nets = slices.Clone(nets)
		for _, n := range x.nets {
			if !seen[n] {
				seen[n] = true
				s.nets = append(s.nets, n)
				s.opened++
			}
		}
		nets = nil
		s.stays = make([]bool, len(s.nets))
		for i, n := range s.nets {
			if s.stays[i] = lastNet[n] > k; s.stays[i] {
				nets = append(nets, n)
			}
		}
		s.levers = levers
		s.decides = !slices.Contains(levers, x.lever)
		levers = nil
		for _, v := range append(slices.Clip(s.levers), x.lever) {
			if lastLever[v] > k && !slices.Contains(levers, v) {
				levers = append(levers, v)
			}
		}
		s.leverStays = levers
		s.sets = slices.Clone(sets)
		if s.decides {
			for _, c := range l.levers[x.lever].sets {
				if firstSet[c] == k {
					s.sets = append(s.sets, c)
					s.setsOpened++
				}
			}
		}
		sets = nil
		for _, c := range s.sets {
			bears := int32(-1)
			if s.decides {
				bears = int32(slices.Index(l.levers[x.lever].sets, c))
			}
			s.bears = append(s.bears, bears)
			s.closes = append(s.closes, lastSet[c] <= k)
			if lastSet[c] > k {
				sets = append(sets, c)
			}
		}
		for b, at := range markAt[:2*len(l.goals)] {
			if at <= k {
				s.lost |= 1 << b
			}
		}
	}
	return out
}

// border is a state laid open.
type border struct {
	made   byte
	sets   []bool
	values []int32 // by open lever
	block  []int16 // by open net
	marks  []uint16
	name   []int16
	key    []byte
}

// read lays a state open before a step.
func (b *border) read(key string, s *step, l *local) {
	b.made = key[0]
	at := 1
	b.sets = b.sets[:0]
	for range len(s.sets) - s.setsOpened {
		b.sets = append(b.sets, key[at] == 1)
		at++
	}
	for range s.setsOpened {
		b.sets = append(b.sets, true)
	}
	b.values = b.values[:0]
	for range s.levers {
		b.values = append(b.values, int32(key[at])|int32(key[at+1])<<8)
		at += 2
	}
	b.block, b.marks = b.block[:0], b.marks[:0]
	old := len(s.nets) - s.opened
	blocks := int16(0)
	for range old {
		b.block = append(b.block, int16(key[at]))
		blocks = max(blocks, int16(key[at])+1)
		at++
	}
	for range blocks {
		b.marks = append(b.marks, uint16(key[at])|uint16(key[at+1])<<8)
		at += 2
	}
	for _, n := range s.nets[old:] {
		b.block = append(b.block, int16(len(b.marks)))
		b.marks = append(b.marks, l.marks[n])
	}
}

// conduct joins what an edge joins. x and y are its ends among the step's nets, -1 for a stop.
func (b *border) conduct(x, y int, e *localEdge) {
	switch {
	case x < 0 && y < 0:
		b.meet(e.marks[0] | e.marks[1])
	case x < 0:
		b.marks[b.block[y]] |= e.marks[0]
		b.meet(b.marks[b.block[y]])
	case y < 0:
		b.marks[b.block[x]] |= e.marks[1]
		b.meet(b.marks[b.block[x]])
	default:
		into, from := b.block[x], b.block[y]
		if into == from {
			return
		}
		b.marks[into] |= b.marks[from]
		for i, c := range b.block {
			if c == from {
				b.block[i] = into
			}
		}
		b.meet(b.marks[into])
	}
}

// meet notes which connections are made by metal with these marks.
func (b *border) meet(marks uint16) {
	for g := range mostConnections {
		if both := start(g) | end(g); marks&both == both {
			b.made |= 1 << g
		}
	}
}

// write closes the border after a step; ok is false when a connection can be made no more.
func (b *border) write(s *step, l *local, value int32, whole byte) (key string, ok bool) {
	if b.made == whole { // nothing that is joined from here on matters
		for i := range b.block {
			b.block[i] = int16(i)
		}
		b.marks = b.marks[:0]
		for range b.block {
			b.marks = append(b.marks, 0)
		}
	}
	out := append(b.key[:0], b.made)
	for i, full := range b.sets {
		if s.closes[i] {
			continue
		}
		if full {
			out = append(out, 1)
		} else {
			out = append(out, 0)
		}
	}
	own := l.items[s.item].lever
	for _, v := range s.leverStays {
		x := value
		if v != own {
			x = b.values[slices.Index(s.levers, v)]
		}
		out = append(out, byte(x), byte(x>>8))
	}
	var spent uint16 // marks of connections that are made
	for g := range mostConnections {
		if b.made&(1<<g) != 0 {
			spent |= start(g) | end(g)
		}
	}
	b.name = b.name[:0]
	for range b.marks {
		b.name = append(b.name, -1)
	}
	var order []int16
	byMark := map[uint16]int16{}
	held := uint16(0)
	for i, c := range b.block {
		if !s.stays[i] {
			continue
		}
		if b.name[c] < 0 {
			marks := b.marks[c] &^ spent
			held |= marks
			n, same := byMark[marks]
			if !same || len(l.goals) > 1 || marks == 0 {
				n = int16(len(order))
				order = append(order, c)
				byMark[marks] = n
			}
			b.name[c] = n
		}
		out = append(out, byte(b.name[c]))
	}
	for _, c := range order {
		m := b.marks[c] &^ spent
		out = append(out, byte(m), byte(m>>8))
	}
	b.key = out
	if b.made != whole && s.lost&^spent&^held != 0 {
		return "", false
	}
	return string(out), true
}

// sweep settles one item after the other and keeps, for each border that comes about, the
// fewest levers that lead to it. bound is a number of levers known to do, -1 for none; no more are
// looked for then.
func (l *local) sweep(o order, bound int) (at []int16, verdict Verdict) {
	whole := byte(1)<<len(l.goals) - 1
	steps := l.steps(o)
	b := &border{}
	layers := [][]state{{{key: string([]byte{0}), parent: -1}}}
	for k := range steps {
		s := &steps[k]
		if len(s.nets) > widest {
			l.stop(s)
			return nil, Open
		}
		next, ok := l.advance(b, s, layers[k], whole, &bound)
		if !ok {
			l.stop(s)
			return nil, Open
		}
		if len(next) == 0 {
			return nil, Absent
		}
		for i := range layers[k] {
			layers[k][i].key = ""
		}
		layers = append(layers, next)
	}
	last := layers[len(layers)-1]
	best := -1
	for i := range last {
		if last[i].cost >= 0 && last[i].key[0] == whole && (best < 0 || last[i].cost < last[best].cost) {
			best = i
		}
	}
	if best < 0 {
		return nil, Absent
	}
	at = make([]int16, len(l.levers))
	for i := range at {
		at[i] = -1
	}
	for k, i := len(steps)-1, int32(best); k >= 0; k-- {
		x := &layers[k+1][i]
		lever := l.items[steps[k].item].lever
		if v := &l.levers[lever].values[x.value]; v.used {
			at[lever] = v.position
		}
		i = x.parent
	}
	return at, Found
}

func (l *local) stop(s *step) {
	l.stopped = nil
	for _, v := range append(slices.Clip(s.levers), l.items[s.item].lever) {
		l.stopped = append(l.stopped, l.s.levers[l.levers[v].id].members...)
	}
	slices.Sort(l.stopped)
	l.stopped = slices.Compact(l.stopped)
}

// advance takes a layer of states through one step; ok is false when the work is spent.
func (l *local) advance(b *border, s *step, layer []state, whole byte, bound *int) (next []state, ok bool) {
	it := &l.items[s.item]
	v := &l.levers[it.lever]
	ends := l.ends(s)
	kept := &layerOf{like: map[string][]int32{}, sets: s.setsLeft()}
	for i := range layer {
		if layer[i].cost < 0 {
			continue // another does better
		}
		first, after := int32(0), int32(len(v.values))
		if !s.decides {
			b.read(layer[i].key, s, l)
			first = b.values[slices.Index(s.levers, it.lever)]
			after = first + 1
		}
		for n := first; n < after; n++ {
			x := &v.values[n]
			if s.decides && x.used && !v.held && layer[i].key[0] == whole {
				continue
			}
			if l.work -= 1 + len(s.nets)/4; l.work < 0 {
				return nil, false
			}
			cost := layer[i].cost
			if s.decides && x.used && !v.held {
				cost++
			}
			if *bound >= 0 && int(cost) > *bound {
				continue
			}
			b.read(layer[i].key, s, l)
			if !b.settle(s, x) {
				continue
			}
			for _, e := range x.on[s.place] {
				b.conduct(ends[e][0], ends[e][1], &l.edges[e])
			}
			key, ok := b.write(s, l, n, whole)
			if !ok {
				continue
			}
			if b.made == whole && len(l.sets) == 0 && (*bound < 0 || int(cost) < *bound) {
				*bound = int(cost)
			}
			l.work -= kept.add(state{key, cost, int32(i), n}) / 8
		}
	}
	return kept.states, true
}

// layerOf collects the states after a step. Of states that differ in open sets only, one with more sets held
// so far and no fewer levers is of no use: whatever completes it completes the other.
type layerOf struct {
	states []state
	like   map[string][]int32 // states by all but their sets
	sets   int
}

// add takes a state in if none kept is as good, and gives how many it was compared with.
func (k *layerOf) add(x state) (looks int) {
	rest := x.key[:1] + x.key[1+k.sets:]
	list := k.like[rest]
	for _, at := range list {
		if y := &k.states[at]; y.cost <= x.cost && fewer(y.key, x.key, k.sets) {
			return len(list)
		}
	}
	for n, at := range list { // one that it betters is replaced, which keeps the order of the rest
		if y := &k.states[at]; x.cost <= y.cost && fewer(x.key, y.key, k.sets) {
			*y = x
			k.like[rest] = k.without(list, n)
			return len(list)
		}
	}
	k.like[rest] = append(list, int32(len(k.states)))
	k.states = append(k.states, x)
	return len(list)
}

// without drops from states that are alike those after number n that it betters.
func (k *layerOf) without(list []int32, n int) []int32 {
	x := &k.states[list[n]]
	kept := list[:n+1]
	for _, at := range list[n+1:] {
		y := &k.states[at]
		if x.cost <= y.cost && fewer(x.key, y.key, k.sets) {
			y.cost = -1
			continue
		}
		kept = append(kept, at)
	}
	return kept
}

// fewer reports whether no set that x holds so far is one that y does not.
func fewer(x, y string, sets int) bool {
	for i := 1; i <= sets; i++ {
		if x[i] > y[i] {
			return false
		}
	}
	return true
}

// setsLeft counts the sets that stay open after a step.
func (s *step) setsLeft() (n int) {
	for _, c := range s.closes {
		if !c {
			n++
		}
	}
	return n
}

// settle notes what a value makes of the open sets; it reports false when one is held in full.
func (b *border) settle(s *step, x *value) bool {
	for i := range b.sets {
		if s.bears[i] >= 0 {
			b.sets[i] = b.sets[i] && x.matches[s.bears[i]]
		}
		if s.closes[i] && b.sets[i] {
			return false
		}
	}
	return true
}

// ends finds the ends of a step's edges among its nets.
func (l *local) ends(s *step) map[int32][2]int {
	out := map[int32][2]int{}
	for _, e := range l.items[s.item].edges {
		x := &l.edges[e]
		out[e] = [2]int{slices.Index(s.nets, x.a), slices.Index(s.nets, x.b)}
	}
	return out
}
