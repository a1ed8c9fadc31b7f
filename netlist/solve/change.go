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
	now   *Factor     // of the changed network, where Woodbury's formula would lose too much
	edges []Edge      // changed, with their changes
	z, y  [][]float64 // by change, by node
}

// loss is how small a pivot of Woodbury's formula may be against what it is a difference of: the
// formula loses as many digits as this has noughts.
const loss = 1e-6

// Change changes conductances. It costs a solution for every edge changed, and a factorisation
// where little is left of what is taken away. A loss that parts nodes from ground is refused with a
// *FloatingError that names one of them, a change that leaves less than nothing of an edge with an
// *EdgeError.
func (f *Factor) Change(changes []EdgeChange) (*Change, error) {
	sums, err := f.sum(changes)
	if err != nil {
		return nil, err
	}
	sums = slices.DeleteFunc(sums, func(x EdgeChange) bool {
		e := f.edges[x.Edge]
		return x.G == 0 || e.I == e.J
	})
	c := &Change{f: f}
	ohms := 0.0
	for _, x := range sums {
		e := f.edges[x.Edge]
		c.edges = append(c.edges, Edge{e.I, e.J, x.G})
		ohms = max(ohms, f.ohms(e.I), f.ohms(e.J))
	}
	if c.z, err = f.differences(sums); err != nil {
		return nil, err
	}
	m, doubt := make([][]float64, len(c.edges)), make([]float64, len(c.edges))
	for i, e := range c.edges {
		m[i] = make([]float64, len(c.edges))
		doubt[i] = max(math.Abs(1/e.G), ohms)
		for j, z := range c.z {
			m[i][j] = between(z, e.I, e.J)
		}
		m[i][i] += 1 / e.G
	}
	small, ok := invert(m, doubt, loss)
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

// differences is Difference for the ends of each edge. It refuses an edge whose own resistance is so
// small a part of that to ground that rounding blurs it.
func (f *Factor) differences(changes []EdgeChange) ([][]float64, error) {
	var out [][]float64
	for _, x := range changes {
		e := f.edges[x.Edge]
		z, err := f.Difference(e.I, e.J)
		if err != nil {
			return nil, err
		}
		if part := max(f.ohms(e.I), f.ohms(e.J)) * 0x1p-53 / between(z, e.I, e.J); !(part <= blurred) {
			return nil, &BadlyScaledError{Edge: x.Edge, What: "its resistance in the network is blurred by the part", By: part}
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
	var err error
	if c.now, err = f.factor(context.Background(), edges); err != nil {
		return err
	}
	if c.y, err = c.now.differences(sums); err != nil {
		return err
	}
	for i, y := range c.y {
		for k := range y {
			y[k] *= c.edges[i].G
		}
	}
	return nil
}
