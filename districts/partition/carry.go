package partition

import "slices"

// scratch is what the work on one border needs.
type scratch struct {
	b       border
	touched []uint8
	cuts    []int64
	to      []int
	next    border
	text    []byte
}

// carry is what becomes of one border when a node is taken: the node joins some of the districts it touches and is cut off from the
// others, or begins one.
type carry struct {
	*pass
	at     int // place in the sweep
	entry  int32
	value  pair
	coming []int64
	into   *layer
}

func (c *carry) node() {
	s := &c.from
	s.touched = s.touched[:0]
	s.cuts = append(s.cuts[:0], make([]int64, len(s.b.open))...)
	for _, e := range c.sweep.back[c.at] {
		l := s.b.label[e.to]
		if !slices.Contains(s.touched, l) {
			s.touched = append(s.touched, l)
		}
		s.cuts[l] += e.cuts
	}
	v := c.sweep.order[c.at]
	c.choose(0, choice{class: -1, holds: c.holdings.node[v]})
}

// choice is what has been chosen for the node: which districts it joins.
type choice struct {
	joined uint32
	class  int // -1: none yet
	holds  uint32
	paid   bool
	cuts   int64
}

// choose goes on with the district touched k-th.
func (c *carry) choose(k int, x choice) {
	s := &c.from
	node := &c.problem.Nodes[c.sweep.order[c.at]]
	if k == len(s.touched) {
		for class := range c.classes {
			if (x.class >= 0 && class != x.class) || !c.classes[class].takes(node.Pin) || !c.fits(x.holds, class) {
				continue
			}
			y := x
			y.class = class
			c.emit(y, 0)
			if c.countsBus() && !y.paid {
				y.paid = true
				c.emit(y, node.Near)
			}
		}
		return
	}
	l := s.touched[k]
	d := s.b.open[l]
	if (x.class < 0 || x.class == int(d.class)) && !(x.paid && d.paid) && c.classes[d.class].takes(node.Pin) {
		y := x
		y.joined |= 1 << l
		y.class, y.paid = int(d.class), x.paid || d.paid
		y.holds = c.holdings.sum(x.holds, d.holds)
		if c.fits(y.holds, y.class) {
			c.choose(k+1, y)
		}
	}
	x.cuts += s.cuts[l]
	c.choose(k+1, x)
}

// fits reports whether a district of a class may hold so much.
func (p *pass) fits(holds uint32, class int) bool {
	h := &p.holdings.list[holds]
	return h.amps <= p.classes[class].milliAmps && h.trains <= p.trains
}

// emit makes the border that a choice leads to.
func (c *carry) emit(x choice, near int64) {
	c.work++
	s := &c.from
	value := c.value.plus(c.sum(x.cuts, near))
	next := &s.next
	next.label, next.open, next.closed = next.label[:0], next.open[:0], append(next.closed[:0], s.b.closed...)
	own := len(s.b.open) // the node's district
	s.to = s.to[:0]
	for range own + 1 {
		s.to = append(s.to, -1)
	}
	mine := district{class: uint8(x.class), paid: x.paid, holds: x.holds}
	for _, at := range c.sweep.stays[c.at] {
		l := own
		if at < len(s.b.label) && x.joined>>s.b.label[at]&1 == 0 {
			l = int(s.b.label[at])
		}
		if s.to[l] < 0 {
			s.to[l] = len(next.open)
			d := mine
			if l < own {
				d = s.b.open[l]
			}
			next.open = append(next.open, d)
		}
		next.label = append(next.label, uint8(s.to[l]))
	}
	for l, to := range s.to {
		if to >= 0 || l < own && x.joined>>l&1 == 1 {
			continue
		}
		d := mine
		if l < own {
			d = s.b.open[l]
		}
		if c.countsBus() && !d.paid {
			return
		}
		next.closed[d.class]++
	}
	few, ok := c.left(next)
	if !ok {
		return
	}
	many := c.problem.Least - next.closedInAll() - len(next.open)
	if many > len(c.sweep.order)-c.at-1 {
		return
	}
	least := value.plus(c.ahead.of(c.at+1, few, many))
	if least[0] == never || c.most.less(least) {
		return
	}
	for m := range c.measures {
		if c.measures[m].spare(next, c.solver, c.coming[m]) < 0 {
			return
		}
	}
	if len(next.open) > mostOpen {
		c.drop(least)
		c.floor.throw(next.closedInAll(), len(next.open), value)
		return
	}
	s.text = next.append(s.text[:0])
	c.into.put(s.text, value, least, way{c.entry, x.joined, uint8(x.class)})
}

// left is how many districts may still close that do not touch the border; ok is false when too many are closed.
func (p *pass) left(b *border) (n int, ok bool) {
	n = len(p.problem.Parts) - b.closedInAll()
	for k, closed := range b.closed {
		open := 0
		if slices.ContainsFunc(b.open, func(d district) bool { return int(d.class) == k }) {
			open = 1 // one at least closes
		}
		n -= open
		if int(closed)+open > p.classes[k].count {
			return 0, false
		}
	}
	return n, true
}
