package settings

import "slices"

// way is a shortest way of one connection through what a choice of positions joins: the nets on it,
// and the edges between them.
func (l *local) way(c *Connection, at []int16) (nets, edges []int32) {
	to := l.reps(c.To)
	from := l.reps(c.From)
	by, seen := map[int32]int32{}, map[int32]bool{}
	for _, n := range from {
		seen[n] = true
	}
	queue := slices.Clone(from)
	for k := 0; k < len(queue); k++ {
		n := queue[k]
		if _, there := slices.BinarySearch(to, n); there {
			return l.back(by, n)
		}
		if k >= len(from) && l.stops(n) {
			continue
		}
		for _, member := range l.group(n) {
			for _, e := range l.s.touch[member] {
				x := &l.s.p.Edges[e]
				other := l.net(x.A)
				if other == n {
					other = l.net(x.B)
				}
				if !seen[other] && l.conducts(x, at) {
					seen[other] = true
					by[other] = e
					queue = append(queue, other)
				}
			}
		}
	}
	return nil, nil
}

// conducts reports whether an edge does in a choice of positions.
func (l *local) conducts(x *Edge, at []int16) bool {
	lever, found := l.leverAt[l.s.leverOf[x.Device]]
	if !found || at[lever] < 0 {
		return false
	}
	full := &l.s.levers[l.levers[lever].id]
	return full.at[at[lever]][full.member(x.Device)] == x.Position
}

// back follows a way back to its start.
func (l *local) back(by map[int32]int32, n int32) (nets, edges []int32) {
	for {
		nets = append(nets, n)
		e, more := by[n]
		if !more {
			slices.Reverse(nets)
			slices.Reverse(edges)
			return nets, edges
		}
		edges = append(edges, e)
		x := &l.s.p.Edges[e]
		other := l.net(x.A)
		if other == n {
			other = l.net(x.B)
		}
		n = other
	}
}
