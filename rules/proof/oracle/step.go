package oracle

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

const (
	mostPoses = 1 << 12 // full settings that a train is stepped in, or watched in
	mostGaps  = 16      // gaps under one train of which every combination is tried
)

// Bridged is a stretch of places at which a train is a short, whatever the reversers do.
type Bridged struct {
	Train string
	// Gaps are where it joins what metal does not, fewest and sorted: each of them is needed. A turnout, slip or crossing stands for its frogs.
	Gaps []string
	// Setting is one full setting, and Settings how many there are with this stretch.
	Setting  []string
	Settings int
	// The stretch: where one end of the train and the other stand at its first place and its last, Metres apart. Which end leads does not matter.
	First, Last [2]string
	Metres      float64
	// Against says that it is so only while a piece ahead of one of the gaps lies against the train, before both rails are parted: the short goes
	// with the throw that lets the train on.
	Against bool
}

// Steps is what trains bridge.
type Steps struct {
	Bridged []Bridged
	// Unknown are the trains that were not stepped: their length, or the base of pick-ups of plastic ones, is not known.
	Unknown []string
}

// Trains moves every train along every way that every full valid setting allows and lists where it is a short in every state of the reversers.
//
// A train with metal wheels, or with wheels of which nobody says, joins the metal across every gap that lies under it, since some wheel may stand on
// any of them. One with plastic wheels does so under its engines: one at either end, one in the middle, each as long as the operations' `pickup`. Of
// uncertain lengths the longest counts. Where a block names its trains, no other touches it. What opposite legs one metal joins already, is passed
// over.
//
// The stretch is exact: between two places where something comes under the train or out from under it nothing changes, so one place between each two is
// tried. What only touches in a point is left out. Frogs are taken to lie in the middle of their piece. One train is on the layout.
//
// It fails with ErrTooBig at more than 2^12 full settings, or more than 16 gaps under one train that matter.
func (l *Layout) Trains() (Steps, error) {
	levers, err := l.levers()
	if err != nil {
		return Steps{}, err
	}
	st := &stepper{Layout: l, g: l.graph(false), levers: levers, bad: map[string]bool{}, out: map[string]*Bridged{}}
	err = l.eachPose(levers, mostPoses, func(ps *pose, chosen []int) {
		if st.err == nil {
			st.steps(ps, chosen)
		}
	})
	if err := cmp.Or(err, st.err); err != nil {
		return Steps{}, err
	}
	out := Steps{Unknown: l.strangers}
	for _, k := range sortedKeys(st.out) {
		out.Bridged = append(out.Bridged, *st.out[k])
	}
	slices.SortStableFunc(out.Bridged, func(a, b Bridged) int {
		return cmp.Or(cmp.Compare(a.Train, b.Train), slices.Compare(a.Gaps, b.Gaps), slices.Compare(a.First[:], b.First[:]), slices.Compare(a.Last[:], b.Last[:]))
	})
	return out, nil
}

type stepper struct {
	*Layout
	g      *graph
	levers []lever
	bad    map[string]bool // by pairs and state: no state suits
	out    map[string]*Bridged
	err    error

	chosen []int
	now    *metal
}

// metal is what is one in a full setting.
type metal struct {
	ps   *pose
	g    *graph
	sets sets
	at   map[int][]int // terminals by root
	sick map[int]bool  // roots that may be a short by themselves
}

// footing is where a train joins rail, from its one end.
type footing struct{ lo, hi float64 }

// metal joins what a full setting joins.
func (st *stepper) metal(ps *pose) *metal {
	m := &metal{ps, st.g, newSets(len(st.g.labels)), map[int][]int{}, map[int]bool{}}
	for _, e := range st.g.edges {
		if e.in>>ps.lie[e.piece]&1 == 1 {
			m.sets.union(e.a, e.b)
		}
	}
	for n, labels := range st.g.labels {
		root := m.sets.find(n)
		for _, t := range labels {
			m.at[root] = insert(m.at[root], t)
		}
	}
	for root, ts := range m.at {
		for i, y := range ts {
			for _, x := range ts[:i] {
				m.sick[root] = m.sick[root] || st.mayClash(x, y, ps)
			}
		}
	}
	return m
}

func (m *metal) root(node int) int { return m.sets.find(m.g.net[node]) }

// parted lists the pairs that are not one metal anyway, and neither of which is a short by itself.
func (m *metal) parted(pairs [][2]int) [][2]int {
	return slices.DeleteFunc(slices.Clone(pairs), func(p [2]int) bool {
		x, y := m.root(p[0]), m.root(p[1])
		return x == y || m.sick[x] || m.sick[y]
	})
}

func (st *stepper) steps(ps *pose, chosen []int) {
	st.now, st.chosen = st.metal(ps), chosen
	for _, c := range st.chains(ps.lie) {
		c.breaks = slices.DeleteFunc(c.breaks, func(b chainBreak) bool { return len(st.now.parted(b.pairs)) == 0 })
		if len(c.breaks) == 0 {
			continue
		}
		for _, t := range st.trains {
			st.run(&c, t, []footing{{0, t.length}})
		}
		for _, t := range st.plastic {
			b := min(st.pickup, t.length)
			st.run(&c, t, []footing{{0, b}, {(t.length - b) / 2, (t.length + b) / 2}, {t.length - b, t.length}})
		}
	}
}

func (st *stepper) mayClash(x, y int, ps *pose) bool {
	return st.someState(st.loose(ps, x, y), ps, func(state []int) bool {
		legs, _ := st.clash(x, y, ps, state)
		return legs
	})
}

// run moves one train along a chain. Its place is where its one end stands; on a ring that goes round.
func (st *stepper) run(c *chain, t train, bases []footing) {
	if t.length > c.length+tiny {
		return
	}
	last := c.length - t.length
	if c.ring {
		last = c.length
	}
	events := []float64{0, last}
	event := func(at float64) {
		if c.ring {
			at = math.Mod(at+2*c.length, c.length)
		}
		if at > 0 && at < last {
			events = append(events, at)
		}
	}
	for _, b := range c.breaks {
		for _, s := range bases {
			event(b.at - s.lo)
			event(b.at - s.hi)
		}
	}
	kept := st.keptOut(c, t)
	for _, k := range kept {
		event(k.hi)
		event(k.lo - t.length)
	}
	slices.Sort(events)
	events = slices.CompactFunc(events, func(x, y float64) bool { return math.Abs(y-x) <= tiny })
	// A stretch grows while the train is over the same gaps that cannot be suited together.
	var growing, done []bridging
	for i := 1; i < len(events); i++ {
		from, to := events[i-1], events[i]
		var next []bridging
		mid := (from + to) / 2
		if !slices.ContainsFunc(kept, func(k footing) bool { return under(c, mid, footing{0, t.length}, k.lo, k.hi) }) {
			for _, gaps := range st.unsuited(c, mid, bases) {
				at := slices.IndexFunc(growing, func(g bridging) bool { return slices.Equal(g.gaps, gaps) })
				if at >= 0 {
					next = append(next, bridging{gaps, growing[at].from, to})
					growing = slices.Delete(growing, at, at+1)
				} else {
					next = append(next, bridging{gaps, from, to})
				}
			}
		}
		done = append(done, growing...)
		growing = next
	}
	done = append(done, growing...)
	if c.ring {
		done = roundTheStart(done, c.length)
	}
	for _, d := range done {
		st.tell(c, t, d)
	}
}

// bridging is a stretch of one train's places on a chain.
type bridging struct {
	gaps     []int // of the chain's breaks
	from, to float64
}

// roundTheStart makes one of two stretches that meet where a ring's ruler begins.
func roundTheStart(all []bridging, length float64) []bridging {
	for i := range all {
		for j := range all {
			if i != j && all[i].to >= length-tiny && all[j].from <= tiny && slices.Equal(all[i].gaps, all[j].gaps) {
				all[i].to += all[j].to
				return slices.Delete(all, j, j+1)
			}
		}
	}
	return all
}

// under says whether part of a train that stands at a place touches what lies from lo to hi.
func under(c *chain, at float64, part footing, lo, hi float64) bool {
	touch := func(shift float64) bool { return at+part.lo+shift <= hi+tiny && lo-tiny <= at+part.hi+shift }
	return touch(0) || c.ring && (touch(-c.length) || touch(c.length))
}

// keptOut lists the parts of a chain that are blocks of other trains.
func (st *stepper) keptOut(c *chain, t train) []footing {
	var out []footing
	for _, b := range st.blocks {
		if b.trains == nil || slices.Contains(b.trains, t.name) {
			continue
		}
		for i, p := range c.passages {
			if p.run < 0 {
				if slices.Contains(b.cover.ends, p.in) {
					out = append(out, footing{c.starts[i], c.starts[i] + p.length})
				}
				continue
			}
			r := st.runs[p.run]
			for _, s := range b.cover.spans {
				if s.run != p.run {
					continue
				}
				lo, hi := s.a-r.s0, s.b-r.s0
				if !st.ends[p.in].start {
					lo, hi = r.s1-s.b, r.s1-s.a
				}
				out = append(out, footing{c.starts[i] + lo, c.starts[i] + hi})
			}
		}
	}
	return out
}

// unsuited lists the least sets of breaks under a train that no state suits.
func (st *stepper) unsuited(c *chain, at float64, bases []footing) [][]int {
	var over []int
	for i, b := range c.breaks {
		if slices.ContainsFunc(bases, func(s footing) bool { return under(c, at, s, b.at, b.at) }) {
			over = append(over, i)
		}
	}
	if !st.short(st.now, c, over) {
		return nil
	}
	if len(over) > mostGaps {
		st.err = ErrTooBig
		return nil
	}
	var out [][]int
	for size := 1; size <= len(over); size++ {
		for mask := range 1 << len(over) {
			var some []int
			for i, b := range over {
				if mask>>i&1 == 1 {
					some = append(some, b)
				}
			}
			known := slices.ContainsFunc(out, func(few []int) bool {
				return !slices.ContainsFunc(few, func(b int) bool { return !slices.Contains(some, b) })
			})
			if len(some) == size && !known && st.short(st.now, c, some) {
				out = append(out, some)
			}
		}
	}
	return out
}

// short says whether wheels over some breaks at once are a short in every state of the reversers, with plugs in some state.
func (st *stepper) short(m *metal, c *chain, over []int) bool {
	joined := map[int]int{} // union-find over the roots that wheels touch
	var find func(int) int
	find = func(x int) int {
		if up, ok := joined[x]; ok && up != x {
			return find(up)
		}
		return x
	}
	touched := map[int]bool{}
	for _, b := range over {
		for _, p := range m.parted(c.breaks[b].pairs) {
			x, y := m.root(p[0]), m.root(p[1])
			touched[x], touched[y] = true, true
			joined[find(x)] = find(y)
		}
	}
	var pairs [][2]int
	var ts []int
	for x := range touched {
		for y := range touched {
			if x >= y || find(x) != find(y) {
				continue
			}
			for _, tx := range m.at[x] {
				for _, ty := range m.at[y] {
					if tx != ty {
						pairs = append(pairs, [2]int{min(tx, ty), max(tx, ty)})
						ts = insert(insert(ts, tx), ty)
					}
				}
			}
		}
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	pairs = slices.Compact(pairs)
	key := fmt.Sprint(pairs, m.ps.state, m.ps.on)
	bad, ok := st.bad[key]
	if !ok {
		var free, suits []int
		for _, k := range st.loose(m.ps, ts...) {
			if st.knobs[k].suits {
				suits = append(suits, k)
			} else {
				free = append(free, k)
			}
		}
		bad = st.someState(free, m.ps, func(state []int) bool {
			return !st.stateOf(suits, slices.Clone(state), func(state []int) bool {
				return !slices.ContainsFunc(pairs, func(p [2]int) bool {
					legs, _ := st.clash(p[0], p[1], m.ps, state)
					return legs
				})
			})
		})
		st.bad[key] = bad
	}
	return bad
}

// tell keeps a stretch, one for all settings that have it.
func (st *stepper) tell(c *chain, t train, d bridging) {
	var b Bridged
	b.Train = t.name
	for _, g := range d.gaps {
		b.Gaps = append(b.Gaps, c.breaks[g].place)
	}
	slices.Sort(b.Gaps)
	ends := func(at float64) [2]string {
		two := []string{st.placeAt(c, at), st.placeAt(c, at+t.length)}
		slices.Sort(two)
		return [2]string{two[0], two[1]}
	}
	b.First, b.Last, b.Metres = ends(d.from), ends(d.to), d.to-d.from
	if slices.Compare(b.First[:], b.Last[:]) > 0 {
		b.First, b.Last = b.Last, b.First
	}
	key := fmt.Sprint(b.Train, b.Gaps, b.First, b.Last)
	old, ok := st.out[key]
	if !ok {
		old = &b
		st.out[key] = old
	}
	old.Settings++
	if !ok || old.Against { // a setting in which the train may go on is the better example
		if against := st.against(c, d.gaps); !ok || !against {
			old.Against, old.Setting = against, settingNames(st.levers, st.chosen)
		}
	}
}

// against says whether some piece ahead lies against a train over some breaks, and the short would go with its throw.
func (st *stepper) against(c *chain, gaps []int) bool {
	for _, g := range gaps {
		for _, w := range c.breaks[g].walks {
			if p := st.barrier(w, st.now.ps.lie); p >= 0 && !st.persists(c, gaps, w, p) {
				return true
			}
		}
	}
	return false
}

// barrier is the piece that lies against a vehicle, -1 for none.
func (st *stepper) barrier(w walker, lie []int) int {
	last := -1
	if st.walk(w, lie, func(p int) { last = p }) {
		return -1
	}
	return last
}

// persists says whether a short is still there in some setting of a piece that lets the vehicle on.
func (st *stepper) persists(c *chain, gaps []int, w walker, p int) bool {
	i := slices.IndexFunc(st.levers, func(lv lever) bool { return slices.Contains(lv.pieces, p) })
	for at := range st.levers[i].ways {
		ps := &pose{slices.Clone(st.now.ps.lie), slices.Clone(st.now.ps.state), st.now.ps.on}
		st.set(ps, &st.levers[i], at)
		if st.allowed(ps.lie) && st.barrier(w, ps.lie) != p && st.short(st.metal(ps), c, gaps) {
			return true
		}
	}
	return false
}
