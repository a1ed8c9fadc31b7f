package solve

import (
	"fmt"
	"math"
)

// EdgeChange adds G siemens to an edge; a negative G takes conductance away.
type EdgeChange struct {
	Edge int
	G    float64
}

// Change is a network of which a few conductances have changed. With U the columns e_i - e_j of the changed
// edges, C their changes and Z = A⁻¹U, the inverse becomes A⁻¹ - Z (C⁻¹ + UᵀZ)⁻¹ Zᵀ (Sherman and
// Morrison 1950, Woodbury 1950).
type Change struct {
	f     *Factor
	edges []Edge
	z     [][]float64 // by change, by node
	small [][]float64 // (C⁻¹ + UᵀZ)⁻¹
}

// bridge is how near to nothing the loss of a bridge leaves its pivot.
const bridge = 1e-9

// Change changes conductances. A loss that parts nodes from ground is refused with a *FloatingError that
// names one of them, a change that leaves less than nothing of an edge with an *EdgeError.
func (f *Factor) Change(changes []EdgeChange) (*Change, error) {
	c := &Change{f: f}
	for _, x := range changes {
		if x.Edge < 0 || x.Edge >= len(f.edges) {
			return nil, &EdgeError{x.Edge, "there is no such edge"}
		}
		e := f.edges[x.Edge]
		if math.IsNaN(x.G) || math.IsInf(x.G, 0) || e.G+x.G < 0 {
			return nil, &EdgeError{x.Edge, fmt.Sprintf("%v siemens cannot change by %v", e.G, x.G)}
		}
		if x.G == 0 || e.I == e.J {
			continue
		}
		z, err := f.Difference(e.I, e.J)
		if err != nil {
			return nil, err
		}
		c.edges = append(c.edges, Edge{e.I, e.J, x.G})
		c.z = append(c.z, z)
	}
	n := len(c.edges)
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
		for j := range m[i] {
			m[i][j] = across(c.z[j], &c.edges[i])
		}
		m[i][i] += 1 / c.edges[i].G
	}
	scale := make([]float64, n)
	for i := range m {
		scale[i] = 1 / math.Abs(c.edges[i].G)
	}
	var ok bool
	if c.small, ok = invert(m, scale); !ok {
		return nil, &FloatingError{c.parted()}
	}
	return c, nil
}

// across is the voltage between the ends of an edge.
func across(z []float64, e *Edge) float64 {
	v := 0.0
	if e.I != Ground {
		v += z[e.I]
	}
	if e.J != Ground {
		v -= z[e.J]
	}
	return v
}

// parted is a node that the changes part from ground.
func (c *Change) parted() int32 {
	left := make([]Edge, 0, len(c.f.edges))
	for _, e := range c.f.edges {
		for i := range c.edges {
			if x := &c.edges[i]; x.I == e.I && x.J == e.J && e.G+x.G <= 0 {
				e.I = e.J
			}
		}
		left = append(left, e)
	}
	if i := floating(c.f.n, left, newGraph(c.f.n, left)); i != none {
		return i
	}
	return max(c.edges[0].I, c.edges[0].J)
}

// invert inverts a small matrix by Gauss and Jordan with the largest pivot of each column, relative
// to the scale of its row; false when it has no inverse, to working precision.
func invert(m [][]float64, scale []float64) ([][]float64, bool) {
	n := len(m)
	inv := make([][]float64, n)
	for i := range inv {
		inv[i] = make([]float64, n)
		inv[i][i] = 1
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i][k])*scale[p] > math.Abs(m[p][k])*scale[i] {
				p = i
			}
		}
		m[k], m[p], inv[k], inv[p], scale[k], scale[p] = m[p], m[k], inv[p], inv[k], scale[p], scale[k]
		if !(math.Abs(m[k][k]) > bridge*scale[k]) {
			return nil, false
		}
		pivot := m[k][k]
		for j := range n {
			m[k][j] /= pivot
			inv[k][j] /= pivot
		}
		for i := range n {
			if i == k || m[i][k] == 0 {
				continue
			}
			by := m[i][k]
			for j := range n {
				m[i][j] -= by * m[k][j]
				inv[i][j] -= by * inv[k][j]
			}
		}
	}
	return inv, true
}

// Solve gives the volts of every node for amperes injected into every node of the changed network.
func (c *Change) Solve(b []float64) ([]float64, error) {
	x, err := c.f.Solve(b)
	if err != nil {
		return nil, err
	}
	u := make([]float64, len(c.edges))
	for i := range u {
		u[i] = across(x, &c.edges[i])
	}
	for i := range c.edges {
		w := 0.0
		for j := range u {
			w += c.small[i][j] * u[j]
		}
		for k := range x {
			x[k] -= w * c.z[i][k]
		}
	}
	return x, nil
}

// Less is by how much an entry of the inverse changes: what is to be taken from A⁻¹_ij. Ground has none.
func (c *Change) Less(i, j int32) float64 {
	if i == Ground || j == Ground {
		return 0
	}
	sum := 0.0
	for a := range c.edges {
		for b := range c.edges {
			sum += c.z[a][i] * c.small[a][b] * c.z[b][j]
		}
	}
	return sum
}
