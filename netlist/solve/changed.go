package solve

// Solve gives the volts of every node for amperes injected into every node of the changed network,
// as Factor.Solve does for the network as it was.
func (c *Change) Solve(b []float64) ([]float64, error) {
	f, less := c.solver()
	x := make([]float64, f.n)
	return x, f.solve(x, b, less)
}

// Column is the volts of every node by one ampere into node i of the changed network.
func (c *Change) Column(i int32) ([]float64, error) { return c.Difference(i, Ground) }

// Difference is the volts of every node by one ampere into i and out of j in the changed network.
func (c *Change) Difference(i, j int32) ([]float64, error) {
	f, less := c.solver()
	return f.difference(i, j, less)
}

// solver is a factor, and the change by which its solutions become those of the changed network.
func (c *Change) solver() (*Factor, *Change) {
	if c.now != nil {
		return c.now, nil
	}
	return c.f, c
}

// At is the volts at node i by one ampere into node j of the changed network; 0 where one is
// Ground. A call costs a column.
func (c *Change) At(i, j int32) (float64, error) {
	x, err := c.Column(j)
	if err != nil || i == Ground {
		return 0, err
	}
	if i < 0 || int(i) >= len(x) {
		return 0, c.f.outside(i, j)
	}
	return x[i], nil
}

// Less is by how much an entry of the inverse falls: what is to be taken from A⁻¹_ij, which the
// selected inverse of the factor that was changed has for neighbours. It costs no solution, and is
// right to a millionth of the larger of both entries, far better where conductances do not lie many
// powers of ten apart. Ground has none.
func (c *Change) Less(i, j int32) float64 {
	if i == Ground || j == Ground {
		return 0
	}
	sum := 0.0
	for a, z := range c.z {
		sum += z[i] * c.y[a][j]
	}
	return sum
}

// less takes from volts of the network as it was what the changes take. A nil Change takes nothing.
func (c *Change) less(x []float64) {
	if c == nil {
		return
	}
	volts := make([]float64, len(c.edges))
	for a, e := range c.edges {
		volts[a] = between(x, e.I, e.J)
	}
	for a, y := range c.y {
		for k := range x {
			x[k] -= volts[a] * y[k]
		}
	}
}

// extra is the changes as edges beside those of the network as it was.
func (c *Change) extra() []Edge {
	if c == nil {
		return nil
	}
	return c.edges
}
