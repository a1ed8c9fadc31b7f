package solve

// chains orders, and marks as gone, the nodes of every chain of nodes with two neighbours between
// nodes with more, and gives the edges of what is left.
func chains(g *graph, degree []int32, gone []bool, order []int32) (longer []int32, edges []Edge) {
	for a := range int32(g.n) {
		if gone[a] || degree[a] < 3 {
			continue
		}
		for _, x := range g.list[g.start[a]:g.start[a+1]] {
			last, i := a, x
			for !gone[i] && degree[i] == 2 {
				gone[i] = true
				order = append(order, i)
				last, i = i, g.onward(i, last, gone)
			}
			if i != a && last != a {
				edges = append(edges, Edge{I: a, J: i})
			}
		}
	}
	for i := range int32(g.n) {
		if gone[i] {
			continue
		}
		for _, j := range g.list[g.start[i]:g.start[i+1]] {
			if j > i && !gone[j] {
				edges = append(edges, Edge{I: i, J: j})
			}
		}
	}
	return order, edges
}

// onward is the neighbour of i that is neither gone nor the last on a chain.
func (g *graph) onward(i, last int32, gone []bool) int32 {
	for _, j := range g.list[g.start[i]:g.start[i+1]] {
		if !gone[j] && j != last {
			return j
		}
	}
	return last
}
