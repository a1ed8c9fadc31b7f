package solve

// none is no node, no block, no entry.
const none = -1

// graph is which nodes lie beside which, without ground, without doubles: the neighbours of i are
// list[start[i]:start[i+1]].
type graph struct {
	n     int
	start []int32
	list  []int32
}

func newGraph(n int, edges []Edge) *graph {
	g := &graph{n: n, start: make([]int32, n+1)}
	for k := range edges {
		if e := &edges[k]; joins(e) {
			g.start[e.I+1]++
			g.start[e.J+1]++
		}
	}
	for i := range n {
		g.start[i+1] += g.start[i]
	}
	g.list = make([]int32, g.start[n])
	at := make([]int32, n)
	copy(at, g.start[:n])
	for k := range edges {
		if e := &edges[k]; joins(e) {
			g.list[at[e.I]] = e.J
			at[e.I]++
			g.list[at[e.J]] = e.I
			at[e.J]++
		}
	}
	return g.single()
}

// joins reports whether an edge joins two different nodes, neither of them ground.
func joins(e *Edge) bool { return e.I != e.J && e.I != Ground && e.J != Ground }

// single drops neighbours listed twice.
func (g *graph) single() *graph {
	seen := make([]int32, g.n)
	for i := range seen {
		seen[i] = none
	}
	at := int32(0)
	from := int32(0)
	for i := range g.n {
		to := g.start[i+1]
		for _, j := range g.list[from:to] {
			if seen[j] != int32(i) {
				seen[j] = int32(i)
				g.list[at] = j
				at++
			}
		}
		from = to
		g.start[i+1] = at
	}
	g.list = g.list[:at]
	return g
}

// relabel is the graph with its nodes renumbered: order gives the node of every new number, at the
// new number of every node.
func (g *graph) relabel(order, at []int32) *graph {
	out := &graph{n: g.n, start: make([]int32, g.n+1), list: make([]int32, 0, len(g.list))}
	for k, i := range order {
		for _, j := range g.list[g.start[i]:g.start[i+1]] {
			out.list = append(out.list, at[j])
		}
		out.start[k+1] = int32(len(out.list))
	}
	return out
}

// floating is the lowest node without a path to ground, or none.
func floating(n int, edges []Edge, g *graph) int32 {
	seen := make([]bool, n)
	queue := make([]int32, 0, n)
	add := func(i int32) {
		if i != Ground && !seen[i] {
			seen[i] = true
			queue = append(queue, i)
		}
	}
	for k := range edges {
		if e := &edges[k]; e.I == Ground || e.J == Ground {
			add(e.I)
			add(e.J)
		}
	}
	for len(queue) > 0 {
		i := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, j := range g.list[g.start[i]:g.start[i+1]] {
			add(j)
		}
	}
	for i := range n {
		if !seen[i] {
			return int32(i)
		}
	}
	return none
}
