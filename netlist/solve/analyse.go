package solve

import (
	"context"
	"slices"
)

// Analysis is what follows from the pattern alone: an order of elimination, and where the factor
// has entries. It serves any conductances on the same edges, and several goroutines.
type Analysis struct {
	n     int
	ends  [][2]int32 // of every edge
	order []int32    // node eliminated k-th
	at    []int32    // when a node is eliminated

	parent []int32 // elimination tree
	*blocks
	entry []int64 // by edge: its entry in the factor, none for those at ground
	flops int64
}

// Entries is how many entries the factor has below its diagonal: n-1 for a tree.
func (a *Analysis) Entries() int { return int(a.column[a.n]) }

// Order is the nodes in the order of their elimination.
func (a *Analysis) Order() []int32 { return slices.Clone(a.order) }

// Flops is how many multiplications and additions one factorisation takes.
func (a *Analysis) Flops() int64 { return a.flops }

// Analyse orders nodes 0 to n-1 of a network and finds where its factor has entries. It refuses
// edges that make no sense with an *EdgeError, and a node without a path to ground with a
// *FloatingError.
func Analyse(ctx context.Context, n int, edges []Edge) (*Analysis, error) {
	if err := check(n, edges); err != nil {
		return nil, err
	}
	g := newGraph(n, edges)
	if i := floating(n, edges, g); i != none {
		return nil, &FloatingError{i}
	}
	first, err := order(ctx, g)
	if err != nil {
		return nil, err
	}
	a := &Analysis{n: n, ends: make([][2]int32, len(edges))}
	for k := range edges {
		a.ends[k] = [2]int32{edges[k].I, edges[k].J}
	}
	a.settle(g, first)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	ordered := g.relabel(a.order, a.at)
	count := columnCounts(ordered, a.parent)
	for _, c := range count {
		a.flops += int64(c) * int64(c+2)
	}
	a.blocks = newBlocks(ordered, a.parent, count)
	a.placeEdges()
	return a, ctx.Err()
}

// settle puts an order into postorder of its own elimination tree, which changes nothing of the
// factor but brings together what is computed together.
func (a *Analysis) settle(g *graph, first []int32) {
	a.at = places(first)
	parent := eliminationTree(g.relabel(first, a.at))
	post := postorder(parent)
	now := places(post)
	a.order, a.parent = make([]int32, a.n), make([]int32, a.n)
	for k, old := range post {
		a.order[k] = first[old]
		a.parent[k] = none
		if p := parent[old]; p != none {
			a.parent[k] = now[p]
		}
	}
	a.at = places(a.order)
}

// places is the inverse of an order.
func places(order []int32) []int32 {
	at := make([]int32, len(order))
	for k, i := range order {
		at[i] = int32(k)
	}
	return at
}

// placeEdges finds every edge's entry.
func (a *Analysis) placeEdges() {
	a.entry = make([]int64, len(a.ends))
	for k, e := range a.ends {
		a.entry[k] = none
		if e[0] == e[1] || e[0] == Ground || e[1] == Ground {
			continue
		}
		j, i := a.at[e[0]], a.at[e[1]]
		if j > i {
			j, i = i, j
		}
		rows := a.rows(j)
		p := 0
		if len(rows) > 8 {
			p, _ = slices.BinarySearch(rows, i)
		}
		for rows[p] != i {
			p++
		}
		a.entry[k] = a.column[j] + int64(p)
	}
}
