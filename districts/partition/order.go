package partition

import "slices"

// sweep is an order in which nodes are taken, and what each meets at the border: the nodes taken before that have neighbours
// still to come.
type sweep struct {
	order []int32  // nodes
	back  [][]step // by place in the order: edges to nodes at the border, by their places there
	stays [][]int  // by place: which of the border, the node taken the last of it, still are at it afterwards
	width int      // the most nodes at the border
}

// step is an edge to another node; parallel edges are one, their cuts added up.
type step struct {
	to   int32
	cuts int64
}

// neighbours lists the edges of each node without self-loops, parallel ones as one.
func (p *Problem) neighbours() [][]step {
	out := make([][]step, len(p.Nodes))
	add := func(a, b int32, cuts int64) {
		for i := range out[a] {
			if out[a][i].to == b {
				out[a][i].cuts += cuts
				return
			}
		}
		out[a] = append(out[a], step{b, cuts})
	}
	for _, e := range p.Edges {
		if e.A != e.B {
			add(e.A, e.B, int64(e.Cuts))
			add(e.B, e.A, int64(e.Cuts))
		}
	}
	return out
}

// mostStarts bounds how many nodes are tried as the first.
const mostStarts = 64

// newSweep finds an order with a narrow border: from many first nodes, always the node after which the border is
// least, and of equal ones the one whose neighbours have waited longest.
func newSweep(p *Problem) *sweep {
	near := p.neighbours()
	n := len(p.Nodes)
	var best []int32
	bestWidth, bestSum := n+1, 0
	every := max(1, n/mostStarts)
	for first := 0; first < n; first += every {
		order, width, sum := greedy(near, int32(first))
		if width < bestWidth || width == bestWidth && sum < bestSum {
			best, bestWidth, bestSum = order, width, sum
		}
	}
	return arrange(near, best)
}

// backwards is the sweep from the other end.
func (s *sweep) backwards(p *Problem) *sweep {
	order := slices.Clone(s.order)
	slices.Reverse(order)
	return arrange(p.neighbours(), order)
}

// arrange works out what a sweep in an order meets.
func arrange(near [][]step, order []int32) *sweep {
	n := len(order)
	s := &sweep{order: order, back: make([][]step, n)}
	at, last := make([]int, n), make([]int, n)
	for i, v := range order {
		at[v] = i
	}
	var border []int32
	for i, v := range order {
		last[v] = i
		for _, e := range near[v] {
			last[v] = max(last[v], at[e.to])
		}
		for b, o := range border {
			for _, e := range near[v] {
				if e.to == o {
					s.back[i] = append(s.back[i], step{int32(b), e.cuts})
				}
			}
		}
		border = append(border, v)
		var stays []int
		var left []int32
		for b, o := range border {
			if last[o] > i {
				stays = append(stays, b)
				left = append(left, o)
			}
		}
		border = left
		s.stays = append(s.stays, stays)
		s.width = max(s.width, len(left))
	}
	return s
}

func greedy(near [][]step, first int32) (order []int32, width, sum int) {
	n := len(near)
	taken, border := make([]bool, n), make([]bool, n)
	since := make([]int, n) // when a node first touched the border
	left := make([]int, n)  // neighbours not taken yet
	for v := range near {
		left[v] = len(near[v])
	}
	size := 0
	take := func(v int32) {
		taken[v] = true
		order = append(order, v)
		if left[v] > 0 {
			border[v] = true
			size++
		}
		for _, e := range near[v] {
			left[e.to]--
			if since[e.to] == 0 {
				since[e.to] = len(order)
			}
			if border[e.to] && left[e.to] == 0 {
				border[e.to] = false
				size--
			}
		}
		width = max(width, size)
		sum += 1 << min(size, 20)
	}
	take(first)
	for len(order) < n {
		best, bestGrows, bestSince := int32(-1), 0, 0
		for v := range near {
			if taken[v] || since[v] == 0 {
				continue
			}
			grows := 0
			if left[v] > 0 {
				grows = 1
			}
			for _, e := range near[v] {
				if border[e.to] && left[e.to] == 1 {
					grows--
				}
			}
			if best < 0 || grows < bestGrows || grows == bestGrows && since[v] < bestSince {
				best, bestGrows, bestSince = int32(v), grows, since[v]
			}
		}
		if best < 0 { // another piece of the graph
			for v := range near {
				if !taken[v] {
					best = int32(v)
					break
				}
			}
		}
		take(best)
	}
	return order, width, sum
}
