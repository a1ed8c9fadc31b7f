package solve

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// EdgeChange adds G siemens to an edge; a negative G takes conductance away.
type EdgeChange struct {
	Edge int
	G    float64
}

// Change is a network of which a few conductances have changed. With U the columns e_i - e_j of the
// changed edges, C their changes, A' the changed matrix and Z = A⁻¹U, Y = A'⁻¹UC, the inverse loses
// ZYᵀ, where Y = Z (C⁻¹ + UᵀZ)⁻¹ (J. Sherman and W. J. Morrison 1950, M. A. Woodbury 1950). It
// serves several goroutines at once.
type Change struct {
	f     *Factor     // of the network as it was
	edges []Edge      // changed, with their changes
	z, y  [][]float64 // by change, by node
}

// loss is the part of a conductance that must be left, seen from its ends, for Woodbury's formula:
// it loses as many digits as this has noughts.
const loss = 1e-5

// Change changes conductances. It costs a solution for every edge changed, and a factorisation
// where little is left of what is taken away. A loss that parts nodes from ground is refused with a
// *FloatingError that names one of them, a change that leaves less than nothing of an edge with an
// *EdgeError.
func (f *Factor) Change(changes []EdgeChange) (*Change, error) {
	sums, err := f.sum(changes)
	if err != nil {
		return nil, err
	}
	c := &Change{f: f}
	for _, x := range sums {
		if e := f.edges[x.Edge]; x.G != 0 && e.I != e.J {
			c.edges = append(c.edges, Edge{e.I, e.J, x.G})
		}
	}
	if c.z, err = f.differences(c.edges); err != nil {
		return nil, err
	}
	m, scale := make([][]float64, len(c.edges)), make([]float64, len(c.edges))
	for i, e := range c.edges {
		m[i] = make([]float64, len(c.edges))
		scale[i] = math.Abs(1 / e.G)
		for j, z := range c.z {
			m[i][j] = between(z, e.I, e.J)
			scale[i] = max(scale[i], math.Abs(m[i][j]))
		}
		m[i][i] += 1 / e.G
	}
	small, ok := invert(m, scale, loss)
	if !ok {
		if err := c.again(sums); err != nil {
			return nil, err
		}
		return c, nil
	}
	for _, row := range small {
		y := make([]float64, f.n)
		for b, z := range c.z {
			for k := range y {
				y[k] += row[b] * z[k]
			}
		}
		c.y = append(c.y, y)
	}
	return c, nil
}

// differences is Difference for the ends of each edge.
func (f *Factor) differences(edges []Edge) ([][]float64, error) {
	var out [][]float64
	for _, e := range edges {
		z, err := f.Difference(e.I, e.J)
		if err != nil {
			return nil, err
		}
		out = append(out, z)
	}
	return out, nil
}

// sum is the changes by edge, each edge once, in order of edges.
func (f *Factor) sum(changes []EdgeChange) ([]EdgeChange, error) {
	var out []EdgeChange
	sorted := slices.Clone(changes)
	slices.SortStableFunc(sorted, func(a, b EdgeChange) int { return cmp.Compare(a.Edge, b.Edge) })
	for _, x := range sorted {
		if n := len(out); n > 0 && out[n-1].Edge == x.Edge {
			out[n-1].G += x.G
		} else {
			out = append(out, x)
		}
	}
	for _, x := range out {
		if x.Edge < 0 || x.Edge >= len(f.edges) {
			return nil, &EdgeError{x.Edge, "there is no such edge"}
		}
		if left := f.edges[x.Edge].G + x.G; math.IsNaN(left) || math.IsInf(left, 0) || left < 0 {
			return nil, &EdgeError{x.Edge, fmt.Sprintf("%v siemens cannot change by %v", f.edges[x.Edge].G, x.G)}
		}
	}
	return out, nil
}

// again finds Y from a factorisation of the changed network.
func (c *Change) again(sums []EdgeChange) error {
	f := c.f
	edges := slices.Clone(f.edges)
	for _, x := range sums {
		edges[x.Edge].G += x.G
	}
	left := slices.DeleteFunc(slices.Clone(edges), func(e Edge) bool { return e.G == 0 })
	if i := floating(f.n, left, newGraph(f.n, left)); i != none {
		return &FloatingError{i}
	}
	now, err := f.factor(context.Background(), edges)
	if err != nil {
		return err
	}
	if c.y, err = now.differences(c.edges); err != nil {
		return err
	}
	for i, y := range c.y {
		for k := range y {
			y[k] *= c.edges[i].G
		}
	}
	return nil
}
