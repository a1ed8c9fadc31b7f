package partition

import "slices"

// measure is something of which nodes have so much each, districts of a class can take so much and no more, and what two districts
// have adds up.
type measure struct {
	node  []int64
	most  []int64 // by class
	of    func(*holding) int64
	total int64
}

// fewest is how many districts of the largest a measure asks for at the least; over is what does not fit into all there are.
func (m *measure) fewest(classes []class) (districts int, over int64) {
	var each []int64
	for k, c := range classes {
		for range c.count {
			each = append(each, m.most[k])
		}
	}
	slices.Sort(each)
	slices.Reverse(each)
	left := m.total
	for _, x := range each {
		if left <= 0 {
			break
		}
		districts++
		left -= max(x, 0)
	}
	return districts, max(left, 0)
}

// exceeded reports whether the districts cannot take everything.
func (m *measure) exceeded(classes []class) bool {
	_, over := m.fewest(classes)
	return over > 0
}

// spare is how much of a measure a border leaves beyond what comes; below 0 nothing can come of it.
func (m *measure) spare(b *border, s *solver, coming int64) int64 {
	left := -coming
	for k, c := range s.classes {
		left += int64(c.count-int(b.closed[k])) * max(m.most[k], 0)
	}
	for i := range b.open {
		left -= m.of(&s.holdings.list[b.open[i].holds])
	}
	return left
}

// count works out what each node has of a measure.
func (m *measure) count(h *holdings) {
	for _, id := range h.node {
		m.node = append(m.node, m.of(&h.list[id]))
		m.total += m.node[len(m.node)-1]
	}
}
