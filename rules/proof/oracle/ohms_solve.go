package oracle

import "math"

// meshed is a network of conductances, one node of it ground, taken apart node by node: each star is
// replaced by the mesh between its neighbours that is the same to all the rest. Nothing is ever
// subtracted, so nothing cancels.
type meshed struct {
	stars   []star // in the order of their removal
	columns map[int][]float64
}

// star is a node as it was when it was taken out: its conductances to the nodes then left, and in all.
type star struct {
	node  int
	to    []int
	by    []float64
	total float64 // ground included
}

// conductances are rows of a network: by node, what joins it to other nodes and to ground.
type conductances struct {
	to     []map[int]float64
	ground []float64
}

func newConductances(nodes int) *conductances {
	c := &conductances{make([]map[int]float64, nodes), make([]float64, nodes)}
	for i := range c.to {
		c.to[i] = map[int]float64{}
	}
	return c
}

// add puts a conductance between two nodes; ground is -1.
func (c *conductances) add(a, b int, by float64) {
	switch {
	case a == b:
	case a < 0:
		c.ground[b] += by
	case b < 0:
		c.ground[a] += by
	default:
		c.to[a][b] += by
		c.to[b][a] += by
	}
}

// reduce takes the network apart, the node with the fewest neighbours first.
func (c *conductances) reduce() *meshed {
	m := &meshed{columns: map[int][]float64{}}
	byDegree := [][]int{} // candidates, some of them stale
	push := func(n int) {
		d := len(c.to[n])
		for len(byDegree) <= d {
			byDegree = append(byDegree, nil)
		}
		byDegree[d] = append(byDegree[d], n)
	}
	for n := range c.to {
		push(n)
	}
	gone := make([]bool, len(c.to))
	for least := 0; least < len(byDegree); {
		list := byDegree[least]
		if len(list) == 0 {
			least++
			continue
		}
		n := list[len(list)-1]
		byDegree[least] = list[:len(list)-1]
		if gone[n] || len(c.to[n]) != least {
			continue
		}
		gone[n] = true
		s := star{node: n, total: c.ground[n]}
		for _, o := range sortedInts(c.to[n]) {
			s.to, s.by = append(s.to, o), append(s.by, c.to[n][o])
			s.total += c.to[n][o]
		}
		for i, o := range s.to {
			delete(c.to[o], n)
			c.ground[o] += s.by[i] * c.ground[n] / s.total
			for j, q := range s.to[:i] {
				c.add(o, q, s.by[i]*s.by[j]/s.total)
			}
		}
		for _, o := range s.to {
			push(o)
			least = min(least, len(c.to[o]))
		}
		m.stars = append(m.stars, s)
	}
	return m
}

// column is the voltage of every node with one ampere into one of them and out of ground.
func (m *meshed) column(into int) []float64 {
	if v, ok := m.columns[into]; ok {
		return v
	}
	v := make([]float64, len(m.stars))
	v[into] = 1
	for _, s := range m.stars { // each star hands its current on
		for i, o := range s.to {
			v[o] += v[s.node] * s.by[i] / s.total
		}
	}
	for k := len(m.stars) - 1; k >= 0; k-- {
		s := m.stars[k]
		at := v[s.node]
		for i, o := range s.to {
			at += s.by[i] * v[o]
		}
		v[s.node] = at / s.total
	}
	m.columns[into] = v
	return v
}

// finite says whether a number is one.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
