package districts

import "gapwise/netlist/circuit"

// adjacency lists, for each of n things, the edges that touch it: edges of v are
// list[start[v]:start[v+1]], in rising order.
type adjacency struct {
	start []int32
	list  []int32
}

func newAdjacency(n, edges int, ends func(e int) (int32, int32)) *adjacency {
	a := &adjacency{start: make([]int32, n+1)}
	for e := range edges {
		x, y := ends(e)
		a.start[x+1]++
		if y != x {
			a.start[y+1]++
		}
	}
	for v := range n {
		a.start[v+1] += a.start[v]
	}
	a.list = make([]int32, a.start[n])
	at := make([]int32, n)
	copy(at, a.start[:n])
	for e := range edges {
		x, y := ends(e)
		a.list[at[x]] = int32(e)
		at[x]++
		if y != x {
			a.list[at[y]] = int32(e)
			at[y]++
		}
	}
	return a
}

func (a *adjacency) of(v int32) []int32 { return a.list[a.start[v]:a.start[v+1]] }

func spotWays(c *circuit.Circuit) *adjacency {
	return newAdjacency(len(c.Spots), len(c.Ways), func(e int) (int32, int32) { return c.Ways[e].A, c.Ways[e].B })
}

func nodeConductors(c *circuit.Circuit) *adjacency {
	return newAdjacency(c.Nodes, len(c.Conductors), func(e int) (int32, int32) { return c.Conductors[e].A, c.Conductors[e].B })
}
