package solve

import (
	"fmt"
	"math"
)

// tolerance is the largest residual of a solution, relative to the currents: a solution with
// a larger one is refused.
const tolerance = 1e-10

// Solve gives the volts of every node for amperes injected into every node. A solution whose residual is not
// small enough after one step of refinement is refused with a *BadlyScaledError.
func (f *Factor) Solve(b []float64) ([]float64, error) {
	x := make([]float64, f.n)
	return x, f.SolveInto(x, b)
}

// SolveInto is Solve into x, which may not be b.
func (f *Factor) SolveInto(x, b []float64) error {
	if len(b) != f.n || len(x) != f.n {
		return fmt.Errorf("solve: %d currents into %d volts for %d nodes", len(b), len(x), f.n)
	}
	w := f.pool.Get().(*[]float64)
	r := f.pool.Get().(*[]float64)
	defer f.pool.Put(w)
	defer f.pool.Put(r)
	f.substitute(x, b, *w)
	if worst, _ := f.residual(*r, x, b); worst <= tolerance {
		return nil
	}
	correction := make([]float64, f.n)
	f.substitute(correction, *r, *w)
	for i := range x {
		x[i] += correction[i]
	}
	if worst, at := f.residual(*r, x, b); !(worst <= tolerance) {
		return &BadlyScaledError{Edge: f.worstAt(at), What: "a solution misses its currents by", By: worst}
	}
	return nil
}

// substitute solves L D Lᵀ x = b without a look at the residual.
func (f *Factor) substitute(x, b, w []float64) {
	for k, i := range f.order {
		w[k] = b[i]
	}
	f.forward(w, 0)
	f.backward(w)
	for k, i := range f.order {
		x[i] = w[k]
	}
}

// forward replaces w by the solution of L y = w; w is zero before from.
func (f *Factor) forward(w []float64, from int) {
	for k := from; k < f.n; k++ {
		wk := w[k]
		if wk == 0 {
			continue
		}
		for p := f.column[k]; p < f.column[k+1]; p++ {
			w[f.row[p]] -= f.l[p] * wk
		}
	}
}

// backward replaces w by the solution of D Lᵀ x = w.
func (f *Factor) backward(w []float64) {
	for k := f.n - 1; k >= 0; k-- {
		wk := w[k] / f.d[k]
		for p := f.column[k]; p < f.column[k+1]; p++ {
			wk -= f.l[p] * w[f.row[p]]
		}
		w[k] = wk
	}
}

// residual puts b - A x into r, and gives its largest entry relative to the largest current that
// flows into or through any node, with that node.
func (f *Factor) residual(r, x, b []float64) (worst float64, at int32) {
	copy(r, b)
	scale := 0.0
	for _, v := range b {
		scale = max(scale, math.Abs(v))
	}
	for k := range f.edges {
		e := &f.edges[k]
		if e.I == e.J {
			continue
		}
		var vi, vj float64
		if e.I != Ground {
			vi = x[e.I]
		}
		if e.J != Ground {
			vj = x[e.J]
		}
		amps := e.G * (vi - vj)
		scale = max(scale, math.Abs(amps))
		if e.I != Ground {
			r[e.I] -= amps
		}
		if e.J != Ground {
			r[e.J] += amps
		}
	}
	if scale == 0 {
		return 0, 0
	}
	for i, v := range r {
		if v := math.Abs(v) / scale; v > worst || math.IsNaN(v) {
			worst, at = v, int32(i)
		}
	}
	return worst, at
}

// Column is the volts of every node by one ampere into node i: a column of the inverse. Only the path
// from i to the root of the elimination tree is substituted forward (Gilbert and Peierls; Davis, ch. 3.2).
func (f *Factor) Column(i int32) ([]float64, error) { return f.Difference(i, Ground) }

// Difference is the volts of every node by one ampere into i and out of j. Either may be Ground.
func (f *Factor) Difference(i, j int32) ([]float64, error) {
	b := make([]float64, f.n)
	from := f.n
	for _, end := range [2]struct {
		node int32
		amps float64
	}{{i, 1}, {j, -1}} {
		if end.node == Ground {
			continue
		}
		b[end.node] += end.amps
		from = min(from, int(f.at[end.node]))
	}
	w := f.pool.Get().(*[]float64)
	defer f.pool.Put(w)
	for k, n := range f.order {
		(*w)[k] = b[n]
	}
	f.forward(*w, from)
	f.backward(*w)
	x := make([]float64, f.n)
	for k, n := range f.order {
		x[n] = (*w)[k]
	}
	r := f.pool.Get().(*[]float64)
	defer f.pool.Put(r)
	if worst, _ := f.residual(*r, x, b); worst <= tolerance {
		return x, nil
	}
	return x, f.SolveInto(x, b)
}
