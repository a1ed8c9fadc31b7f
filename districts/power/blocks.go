package power

import (
	"gapwise/netlist/solve"
)

// meshes parts a leg's network into its biconnected parts: what is in one and the same mesh of loops. A current between two nodes of
// one part stays in it, so what one lost conductor changes, it changes there. mesh is, by edge, its part, numbered from 0; size is how
// many edges each has. A part of one edge is a bridge: all that lies behind it hangs on it. Method: R. Tarjan, Depth-first search and linear graph algorithms (1972), without recursion.
func meshes(l *Leg) (mesh []int32, size []int32) {
	nodes, edges := len(l.Net.Node), len(l.Net.Edges)
	ground := int32(nodes) // numbered after the others here
	at := func(n int32) int32 {
		if n == solve.Ground {
			return ground
		}
		return n
	}
	start, list := incidence(l, at, nodes+1)
	depth, low := make([]int32, nodes+1), make([]int32, nodes+1)
	mesh = make([]int32, edges)
	for e := range mesh {
		mesh[e] = -1
	}
	next := append([]int32(nil), start[:nodes+1]...)
	came := make([]int32, nodes+1) // edge by which a node was reached
	for n := range came {
		came[n] = -1
	}
	clock := int32(1)
	depth[ground], low[ground] = 1, 1
	path, held := []int32{ground}, []int32(nil) // nodes on the way down, edges not yet in a part
	for len(path) > 0 {
		n := path[len(path)-1]
		if next[n] < start[n+1] {
			e := list[next[n]]
			next[n]++
			k := &l.Net.Edges[e]
			m := at(k.I) + at(k.J) - n
			switch {
			case e == came[n]:
			case depth[m] == 0:
				clock++
				depth[m], low[m], came[m] = clock, clock, e
				held = append(held, e)
				path = append(path, m)
			case depth[m] < depth[n]:
				low[n] = min(low[n], depth[m])
				held = append(held, e)
			}
			continue
		}
		path = path[:len(path)-1]
		if came[n] < 0 {
			continue
		}
		k := &l.Net.Edges[came[n]]
		up := at(k.I) + at(k.J) - n
		low[up] = min(low[up], low[n])
		if low[n] >= depth[up] {
			part := int32(len(size))
			size = append(size, 0)
			for {
				e := held[len(held)-1]
				held = held[:len(held)-1]
				mesh[e] = part
				size[part]++
				if e == came[n] {
					break
				}
			}
		}
	}
	return mesh, size
}

// incidence lists the edges at every node.
func incidence(l *Leg, at func(int32) int32, nodes int) (start, list []int32) {
	start = make([]int32, nodes+1)
	for e := range l.Net.Edges {
		start[at(l.Net.Edges[e].I)+1]++
		start[at(l.Net.Edges[e].J)+1]++
	}
	for n := range nodes {
		start[n+1] += start[n]
	}
	list = make([]int32, start[nodes])
	fill := append([]int32(nil), start[:nodes]...)
	for e := range l.Net.Edges {
		for _, n := range [2]int32{at(l.Net.Edges[e].I), at(l.Net.Edges[e].J)} {
			list[fill[n]] = int32(e)
			fill[n]++
		}
	}
	return start, list
}
