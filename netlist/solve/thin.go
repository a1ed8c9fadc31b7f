package solve

// thin orders what is cheap to eliminate first, and gives the graph that is left: nodes with one
// neighbour at most (see peel), and chains of nodes with two, each of which leaves an edge between
// the ends of its chain. Most of a circuit is that. name is the node of the network that each of
// the graph's nodes is.
func thin(g *graph, name, order []int32) (left *graph, leftName, longer []int32) {
	degree, gone := degrees(g), make([]bool, g.n)
	from := len(order)
	order = peel(g, degree, gone, order)
	order, edges := chains(g, degree, gone, order)
	for k, i := range order[from:] {
		order[from+k] = name[i]
	}
	at := make([]int32, g.n)
	for i := range g.n {
		if !gone[i] {
			at[i] = int32(len(leftName))
			leftName = append(leftName, name[i])
		}
	}
	for k, e := range edges {
		edges[k].I, edges[k].J = at[e.I], at[e.J]
	}
	return newGraph(len(leftName), edges), leftName, order
}
