package districts

// flowEdge is an undirected edge with a capacity.
type flowEdge struct {
	a, b     int32
	capacity int32
}

// minCut finds a least cut between source and sink in an undirected network of n
// vertices: the ids of its edges, rising, and its cost. The cut is the one nearest the
// source. Method: shortest augmenting paths (Edmonds and Karp 1972).
func minCut(n int, edges []flowEdge, source, sink int32) (cut []int32, cost int32) {
	adj := newAdjacency(n, len(edges), func(e int) (int32, int32) { return edges[e].a, edges[e].b })
	flow := make([]int32, len(edges)) // from a to b
	residual := func(e, from int32) int32 {
		if edges[e].a == from {
			return edges[e].capacity - flow[e]
		}
		return edges[e].capacity + flow[e]
	}
	via := make([]int32, n)
	queue := make([]int32, 0, n)
	search := func() bool {
		for i := range via {
			via[i] = -1
		}
		via[source] = -2
		queue = append(queue[:0], source)
		for len(queue) > 0 {
			v := queue[0]
			queue = queue[1:]
			for _, e := range adj.of(v) {
				w := edges[e].a + edges[e].b - v
				if via[w] == -1 && residual(e, v) > 0 {
					via[w] = e
					if w == sink {
						return true
					}
					queue = append(queue, w)
				}
			}
		}
		return false
	}
	for search() {
		least := int32(1 << 30)
		for v := sink; v != source; {
			e := via[v]
			u := edges[e].a + edges[e].b - v
			least = min(least, residual(e, u))
			v = u
		}
		for v := sink; v != source; {
			e := via[v]
			u := edges[e].a + edges[e].b - v
			if edges[e].a == u {
				flow[e] += least
			} else {
				flow[e] -= least
			}
			v = u
		}
		cost += least
	}
	for e := range edges {
		a, b := via[edges[e].a] != -1, via[edges[e].b] != -1
		if a != b {
			cut = append(cut, int32(e))
		}
	}
	return cut, cost
}
