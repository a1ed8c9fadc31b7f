package partition

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// pair are two sums that rank one after the other.
type pair [2]int64

func (x pair) less(y pair) bool { return x[0] < y[0] || x[0] == y[0] && x[1] < y[1] }

// entry is the cheapest way found to one border: from which of the layer before, with which of its districts joined to the node taken.
type entry struct {
	key    string
	value  pair
	from   int32
	joined uint64 // labels of the border before
	class  uint8  // of the district that the node went to
}

// pass is one run over the sweep under one set of demands.
type pass struct {
	*solver
	terms  []Term // the sums that count, in their order
	trains int    // the most that a district may hold
	most   pair   // what is worse is not wanted
	width  int    // the most borders kept of one layer

	layers [][]entry
	made   int64 // borders made
	out    outcome
}

// outcome of a pass.
type outcome struct {
	part  []int32
	value pair
	whole bool // nothing was thrown away for want of room
	// bound is, sum by sum, what no division that meets the demands falls below.
	bound pair
}

// lower is the lesser of each sum.
func (x pair) lower(y pair) pair { return pair{min(x[0], y[0]), min(x[1], y[1])} }

var worst = pair{math.MaxInt64, math.MaxInt64}

// sum is what a step adds, as far as it counts.
func (p *pass) sum(cuts, near int64) (out pair) {
	for i, t := range p.terms {
		if t == Cuts {
			out[i] = cuts
		} else {
			out[i] = near
		}
	}
	return out
}

func (p *pass) countsBus() bool { return slices.Contains(p.terms, Bus) }

// run sweeps over the graph.
func (p *pass) run(ctx context.Context) error {
	p.out = outcome{whole: true, bound: worst, value: worst}
	p.layers = [][]entry{{{key: string((&border{closed: make([]uint8, len(p.classes))}).key(nil)), from: -1}}}
	var nodes []int32 // at the border
	for i := range p.sweep.order {
		if err := ctx.Err(); err != nil {
			return err
		}
		nodes = p.step(i, nodes)
	}
	last := p.layers[len(p.layers)-1]
	best := -1
	for i := range last {
		if p.closedIn(last[i].key) < p.problem.Least {
			continue
		}
		if best < 0 || last[i].value.less(last[best].value) {
			best = i
		}
	}
	if best >= 0 {
		p.out.value = last[best].value
		p.out.part = p.trace(int32(best))
	}
	p.out.bound = p.out.bound.lower(p.out.value)
	return nil
}

// step takes one node: every border of the layer before is carried on in every way that the demands allow. It returns the nodes at
// the border afterwards.
func (p *pass) step(i int, nodes []int32) []int32 {
	v := p.sweep.order[i]
	at := map[int32]int{}
	for n, b := range nodes {
		at[b] = n
	}
	var stays []int // places of the border nodes, v the last, that stay at it
	after := append(slices.Clone(nodes), v)
	var left []int32
	for n, b := range after {
		if !slices.Contains(p.sweep.done[i], b) {
			stays = append(stays, n)
			left = append(left, b)
		}
	}
	index := map[string]int32{}
	var next []entry
	var buf []byte
	before := p.layers[len(p.layers)-1]
	for e := range before {
		b := decode(before[e].key, len(nodes), len(p.classes), len(p.loads.admits))
		p.carry(&b, v, i, at, func(c *border, joined uint64, class uint8, more pair) {
			value := pair{before[e].value[0] + more[0], before[e].value[1] + more[1]}
			if p.most.less(value) {
				return
			}
			p.work++
			p.made++
			if !p.leave(c, stays, len(p.sweep.order)-1-i) {
				return
			}
			buf = c.key(buf)
			n, seen := index[string(buf)]
			if !seen {
				index[string(buf)] = int32(len(next))
				next = append(next, entry{string(buf), value, int32(e), joined, class})
				return
			}
			if value.less(next[n].value) {
				next[n].value, next[n].from, next[n].joined, next[n].class = value, int32(e), joined, class
			}
		})
	}
	p.layers = append(p.layers, p.thin(next, len(left)))
	return left
}

// carry lists what can become of a border when a node is taken: it joins some of the districts it touches and is cut off from the
// others, or begins one.
func (p *pass) carry(b *border, v int32, i int, at map[int32]int, use func(c *border, joined uint64, class uint8, more pair)) {
	node := &p.problem.Nodes[v]
	var touched []uint8
	cuts := make([]int64, len(b.open))
	for _, e := range p.sweep.back[i] {
		l := b.label[at[e.to]]
		if !slices.Contains(touched, l) {
			touched = append(touched, l)
		}
		cuts[l] += e.cuts
	}
	kind := p.loads.kind[v]
	for set := uint64(0); set < 1<<len(touched); set++ {
		var own int64
		joined, class, ok := uint64(0), -1, true
		for k, l := range touched {
			switch {
			case set>>k&1 == 0:
				own += cuts[l]
			case class >= 0 && class != int(b.open[l].class):
				ok = false
			default:
				class = int(b.open[l].class)
				joined |= 1 << l
			}
		}
		if !ok {
			continue
		}
		for c := range p.classes {
			if class >= 0 && c != class || !p.classes[c].takes(node.Pin) {
				continue
			}
			d := district{class: uint8(c), berths: make([]uint8, len(p.loads.admits)), load: node.Load, paid: !p.countsBus()}
			d.berths[kind] = uint8(min(node.Berths, p.loads.full[kind]))
			paid := 0
			for l := range b.open {
				if joined>>l&1 == 0 {
					continue
				}
				o := &b.open[l]
				if o.paid && p.countsBus() {
					paid++
				}
				d.paid = d.paid || o.paid
				d.load += o.load
				for k := range d.berths {
					d.berths[k] = uint8(min(int(d.berths[k])+int(o.berths[k]), p.loads.full[k]))
				}
			}
			x := p.loads.of(d.berths)
			if paid > 1 || d.load+x.amps > p.classes[c].milliAmps || x.trains > p.trains {
				continue
			}
			use(p.merge(b, joined, d), joined, uint8(c), p.sum(own, 0))
			if !d.paid {
				d.paid = true
				use(p.merge(b, joined, d), joined, uint8(c), p.sum(own, node.Near))
			}
		}
	}
}

// merge is a border with a node added, its district d in place of those joined.
func (p *pass) merge(b *border, joined uint64, d district) *border {
	c := b.clone()
	to := uint8(len(c.open))
	c.open = append(c.open, d)
	for n, l := range c.label {
		if joined>>l&1 == 1 {
			c.label[n] = to
		}
	}
	c.label = append(c.label, to)
	// those joined touch the border no more: they are not closed
	for l := range b.open {
		if joined>>l&1 == 1 {
			c.open[l].class = joinedAway
		}
	}
	return &c
}

// joinedAway marks a district that has become part of another.
const joinedAway = 255

// leave takes nodes from the border; ok is false when a district closes that may not, or too few
// districts can come of it with the nodes left to take.
func (p *pass) leave(c *border, stays []int, left int) (ok bool) {
	label := make([]uint8, len(stays))
	for n, s := range stays {
		label[n] = c.label[s]
	}
	c.label = label
	open := c.open
	for _, l := range c.relabel() {
		d := &open[l]
		if d.class == joinedAway {
			continue
		}
		if !d.paid {
			return false
		}
		c.closed[d.class]++
	}
	closed, opened := 0, make([]bool, len(p.classes))
	for i := range c.open {
		opened[c.open[i].class] = true
	}
	for k, n := range c.closed {
		if opened[k] {
			n++ // at least one more
		}
		if int(n) > p.classes[k].count {
			return false
		}
		closed += int(c.closed[k])
	}
	return closed+len(c.open)+left >= p.problem.Least
}

// thin drops borders that another makes needless, and, where there are more than may be kept, the worst.
func (p *pass) thin(layer []entry, nodes int) []entry {
	layer = p.undominated(layer, nodes)
	if len(layer) <= p.width {
		return layer
	}
	byValue := func(x, y entry) int {
		return cmp.Or(cmp.Compare(x.value[0], y.value[0]), cmp.Compare(x.value[1], y.value[1]), cmp.Compare(x.key, y.key))
	}
	slices.SortFunc(layer, byValue)
	// half of what is kept are the cheapest; the other half those that leave most districts for what comes
	rest := layer[p.width/2:]
	slices.SortStableFunc(rest, func(x, y entry) int { return cmp.Compare(p.closedIn(x.key), p.closedIn(y.key)) })
	p.out.whole = false
	for i := range layer[p.width:] {
		p.out.bound = p.out.bound.lower(layer[p.width+i].value)
	}
	return layer[:p.width]
}

// closedIn is how many districts are closed.
func (p *pass) closedIn(key string) int {
	n := 0
	for k := range p.classes {
		n += int(key[k])
	}
	return n
}

// undominated drops borders beside which there is another with the same districts, none of them with more in it, no more of them closed,
// and no worse a value.
func (p *pass) undominated(layer []entry, nodes int) []entry {
	type group struct{ members []int }
	groups := map[string]*group{}
	var order []string
	shapes := make([]border, len(layer))
	var buf []byte
	for i := range layer {
		shapes[i] = decode(layer[i].key, nodes, len(p.classes), len(p.loads.admits))
		buf = append(buf[:0], shapes[i].label...)
		for k := range shapes[i].open {
			d := &shapes[i].open[k]
			paid := uint8(0)
			if d.paid {
				paid = 1
			}
			buf = append(buf, d.class, paid)
		}
		if p.problem.Least > 0 { // fewer closed districts are then not always better
			buf = append(buf, shapes[i].closed...)
		}
		g := groups[string(buf)]
		if g == nil {
			g = &group{}
			groups[string(buf)] = g
			order = append(order, string(buf))
		}
		g.members = append(g.members, i)
	}
	var out []entry
	for _, k := range order {
		members := groups[k].members
		slices.SortStableFunc(members, func(x, y int) int {
			return cmp.Or(cmp.Compare(layer[x].value[0], layer[y].value[0]), cmp.Compare(layer[x].value[1], layer[y].value[1]), cmp.Compare(layer[x].key, layer[y].key))
		})
		var kept []int
		for _, m := range members {
			if !slices.ContainsFunc(kept[:min(len(kept), mostCompared)], func(o int) bool { return shapes[o].within(&shapes[m]) }) {
				kept = append(kept, m)
			}
		}
		for _, m := range kept {
			out = append(out, layer[m])
		}
	}
	return out
}

// mostCompared bounds how many borders one is held against.
const mostCompared = 128

// within reports whether no district of b has more in it than the same one of c, and no more are closed.
func (b *border) within(c *border) bool {
	for k := range b.closed {
		if b.closed[k] > c.closed[k] {
			return false
		}
	}
	for i := range b.open {
		if b.open[i].load > c.open[i].load {
			return false
		}
		for k := range b.open[i].berths {
			if b.open[i].berths[k] > c.open[i].berths[k] {
				return false
			}
		}
	}
	return true
}

// trace reads a division back from the last layer: by node a number of its own for each district, and the class of each.
func (p *pass) trace(at int32) []int32 {
	path := make([]int32, len(p.layers))
	for i := len(p.layers) - 1; i > 0; i-- {
		path[i] = at
		at = p.layers[i][at].from
	}
	set := newSets(len(p.problem.Nodes))
	class := make([]uint8, len(p.problem.Nodes))
	var nodes []int32
	for i, v := range p.sweep.order {
		e := &p.layers[i+1][path[i+1]]
		before := &p.layers[i][path[i]]
		b := decode(before.key, len(nodes), len(p.classes), len(p.loads.admits))
		for n, o := range nodes {
			if e.joined>>b.label[n]&1 == 1 {
				set.join(int(v), int(o))
			}
		}
		class[v] = e.class
		var left []int32
		for _, o := range append(slices.Clone(nodes), v) {
			if !slices.Contains(p.sweep.done[i], o) {
				left = append(left, o)
			}
		}
		nodes = left
	}
	return p.name(set, class)
}
