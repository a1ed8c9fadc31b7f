package solve

import (
	"context"
	"sync"
)

// Factor is A = L D Lᵀ of a network: L has ones on its diagonal, its entries below lie where the
// analysis found them. It serves several goroutines at once.
type Factor struct {
	*Analysis
	edges []Edge
	l     []float64 // entries of L below the diagonal
	d     []float64 // of D
	pool  sync.Pool // of []float64, one a node
}

// Factor factors the conductances of edges, which are those analysed with any values. Row k of L comes from the
// rows above it (up-looking Cholesky: Davis, ch. 4.7). An M-matrix needs no pivoting; what
// is subtracted on the diagonal is never more than what is there, up to rounding.
func (a *Analysis) Factor(ctx context.Context, edges []Edge) (*Factor, error) {
	if err := check(a.n, edges); err != nil {
		return nil, err
	}
	f := &Factor{Analysis: a, edges: edges, l: make([]float64, len(a.row)), d: make([]float64, a.n)}
	f.pool.New = func() any { s := make([]float64, a.n); return &s }
	for k := range edges {
		e := &edges[k]
		if e.I == e.J {
			continue
		}
		if e.I != Ground {
			f.d[a.at[e.I]] += e.G
		}
		if e.J != Ground {
			f.d[a.at[e.J]] += e.G
		}
	}
	x := make([]float64, a.n)
	filled := make([]int64, a.n)
	copy(filled, a.column[:a.n])
	for k := range a.n {
		if k%65536 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for _, id := range a.edgeList[a.edgesAt[k]:a.edgesAt[k+1]] {
			e := &edges[id]
			if e.I == Ground || e.J == Ground {
				continue
			}
			j := min(a.at[e.I], a.at[e.J])
			x[j] -= e.G
		}
		whole := f.d[k]
		pivot := whole
		for _, j := range a.byRow[a.rows[k]:a.rows[k+1]] {
			xj := x[j]
			x[j] = 0
			end := filled[j]
			rows, l := a.row[a.column[j]:end], f.l[a.column[j]:end]
			for p, i := range rows {
				x[i] -= l[p] * xj
			}
			lkj := xj / f.d[j]
			pivot -= lkj * xj
			f.l[end] = lkj
			filled[j]++
		}
		if !(pivot > 0) {
			return nil, &BadlyScaledError{Edge: f.worstAt(a.order[k]), What: "what eliminating its end leaves, against its conductance:", By: pivot / whole}
		}
		f.d[k] = pivot
	}
	return f, nil
}

// worstAt is the edge with the largest conductance at a node.
func (f *Factor) worstAt(node int32) int {
	worst := 0
	most := -1.0
	for k := range f.edges {
		if e := &f.edges[k]; (e.I == node || e.J == node) && e.I != e.J && e.G > most {
			worst, most = k, e.G
		}
	}
	return worst
}
