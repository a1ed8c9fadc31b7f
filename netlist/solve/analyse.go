package solve

import (
	"context"
	"slices"
)

// Analysis is what follows from the pattern alone: an order of elimination, and where the factor
// has entries. It serves any conductances on the same edges, and several goroutines.
type Analysis struct {
	n     int
	ends  []Edge  // as analysed, for their ends
	order []int32 // node eliminated k-th
	at    []int32 // when a node is eliminated

	parent []int32 // elimination tree
	column []int64 // column k of the factor is entries column[k]:column[k+1]
	row    []int32 // rows of the entries, rising in each column
	rows   []int64 // row k's entries left of the diagonal are byRow[rows[k]:rows[k+1]]
	byRow  []int32 // their columns, rising

	entry    []int64 // by edge: its entry in the factor, none for those at ground
	edgesAt  []int32 // edges by the later eliminated of their ends: edgeList[edgesAt[k]:edgesAt[k+1]]
	edgeList []int32
	flops    int64
}

// Entries is how many entries the factor has below its diagonal: n-1 for a tree.
func (a *Analysis) Entries() int { return len(a.row) }

// Flops is how many multiplications and additions one factorisation takes.
func (a *Analysis) Flops() int64 { return a.flops }

// Analyse orders the nodes of a network and finds where its factor has entries. It refuses edges
// that make no sense with an *EdgeError, and a node without a path to ground with
// a *FloatingError.
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
	a := &Analysis{n: n, ends: edges}
	a.settle(g, first)
	if err := a.pattern(ctx, lower(g, a.order, a.at)); err != nil {
		return nil, err
	}
	a.placeEdges()
	return a, nil
}

// settle puts an order into postorder of its own elimination tree.
func (a *Analysis) settle(g *graph, first []int32) {
	at := make([]int32, a.n)
	for k, i := range first {
		at[i] = int32(k)
	}
	post := postorder(eliminationTree(a.n, lower(g, first, at)))
	a.order = make([]int32, a.n)
	for k, old := range post {
		a.order[k] = first[old]
	}
	for k, i := range a.order {
		at[i] = int32(k)
	}
	a.at = at
}

// pattern finds the factor's entries, row by row: those of row k are the columns on the
// paths, in the elimination tree, from each entry of the matrix in that row up to k (Gilbert and Liu; Davis, ch. 4.1).
func (a *Analysis) pattern(ctx context.Context, rows *graph) error {
	n := a.n
	a.parent = eliminationTree(n, rows)
	a.rows = make([]int64, n+1)
	a.column = make([]int64, n+1)
	a.byRow = make([]int32, 0, len(rows.list)*2)
	mark := make([]int32, n)
	for k := range mark {
		mark[k] = none
	}
	for k := range n {
		if k%65536 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		mark[k] = int32(k)
		from := len(a.byRow)
		for _, j := range rows.list[rows.start[k]:rows.start[k+1]] {
			for mark[j] != int32(k) {
				mark[j] = int32(k)
				a.byRow = append(a.byRow, j)
				j = a.parent[j]
			}
		}
		own := a.byRow[from:]
		if len(own) > 1 {
			slices.Sort(own)
		}
		for _, j := range own {
			a.column[j+1]++
		}
		a.rows[k+1] = int64(len(a.byRow))
	}
	for k := range n {
		c := a.column[k+1]
		a.flops += c * (c + 2)
		a.column[k+1] += a.column[k]
	}
	a.row = make([]int32, len(a.byRow))
	next := slices.Clone(a.column[:n])
	for k := range n {
		for _, j := range a.byRow[a.rows[k]:a.rows[k+1]] {
			a.row[next[j]] = int32(k)
			next[j]++
		}
	}
	return nil
}

// placeEdges finds every edge's entry, and files it under the later eliminated of its ends.
func (a *Analysis) placeEdges() {
	a.entry = make([]int64, len(a.ends))
	a.edgesAt = make([]int32, a.n+1)
	later := func(e *Edge) int32 {
		switch {
		case e.I == e.J:
			return none
		case e.I == Ground:
			return a.at[e.J]
		case e.J == Ground:
			return a.at[e.I]
		default:
			return max(a.at[e.I], a.at[e.J])
		}
	}
	for k := range a.ends {
		e := &a.ends[k]
		a.entry[k] = none
		if between(e) {
			j, i := a.at[e.I], a.at[e.J]
			if j > i {
				j, i = i, j
			}
			a.entry[k] = a.find(j, i)
		}
		if at := later(e); at != none {
			a.edgesAt[at+1]++
		}
	}
	for k := range a.n {
		a.edgesAt[k+1] += a.edgesAt[k]
	}
	a.edgeList = make([]int32, a.edgesAt[a.n])
	next := slices.Clone(a.edgesAt[:a.n])
	for k := range a.ends {
		if at := later(&a.ends[k]); at != none {
			a.edgeList[next[at]] = int32(k)
			next[at]++
		}
	}
}

// find is the entry of row i in column j of the factor, none when it has none there.
func (a *Analysis) find(j, i int32) int64 {
	from, to := a.column[j], a.column[j+1]
	if to-from <= 8 {
		for p := from; p < to; p++ {
			if a.row[p] == i {
				return p
			}
		}
		return none
	}
	p, found := slices.BinarySearch(a.row[from:to], i)
	if !found {
		return none
	}
	return from + int64(p)
}
