package solve

import "fmt"

// Solve gives the volts of every node for amperes injected into every node, out of ground. A
// solution that misses its amperes, after one step of refinement, is refused with a
// *BadlyScaledError.
func (f *Factor) Solve(b []float64) ([]float64, error) {
	x := make([]float64, f.n)
	return x, f.SolveInto(x, b)
}

// SolveInto is Solve into x, which may not be b. It allocates nothing once its store of work space
// is filled.
func (f *Factor) SolveInto(x, b []float64) error { return f.solve(x, b, nil) }

// solve solves the network as c changes it; c is nil for no change.
func (f *Factor) solve(x, b []float64, c *Change) error {
	if len(b) != f.n || len(x) != f.n {
		return fmt.Errorf("solve: %d amperes into %d volts for %d nodes", len(b), len(x), f.n)
	}
	w := f.space.get()
	defer f.space.put(w)
	f.substitute(x, b, w)
	c.less(x)
	return f.refine(x, b, w, c)
}

// substitute solves L D Lᵀ x = b without a look at the residual; w is work space.
func (f *Factor) substitute(x, b, w []float64) {
	for k, i := range f.order {
		w[k] = b[i]
	}
	for k := range int32(f.n) {
		f.forward(w, k)
	}
	f.backward(x, w)
}

// forward passes what is injected at place k on to those it has shares in.
func (f *Factor) forward(w []float64, k int32) {
	wk := w[k]
	if wk == 0 {
		return
	}
	share := f.share[f.column[k]:f.column[k+1]]
	for p, i := range f.rows(k) {
		w[i] += share[p] * wk
	}
}

// backward finds the volts x of every node from those it has shares in; w comes from forward.
func (f *Factor) backward(x, w []float64) {
	for k := int32(f.n) - 1; k >= 0; k-- {
		v := w[k] / f.star[k]
		share := f.share[f.column[k]:f.column[k+1]]
		for p, i := range f.rows(k) {
			v += share[p] * w[i]
		}
		w[k] = v
		x[f.order[k]] = v
	}
}
