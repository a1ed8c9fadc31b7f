package solve

import "math"

// fosterTolerance is how far the sum of Foster's theorem may be off, relative to the number of
// nodes.
const fosterTolerance = 1e-8

// foster holds the inverse against the theorem of R. M. Foster (1949): conductance times resistance
// between the ends, summed over all edges, is the number of nodes, ground not counted. It fails
// where the resistance of an edge is too small a part of that to ground for its digits.
func (v *Inverse) foster() error {
	n := float64(v.f.n)
	sum := v.Foster()
	off := math.Abs(sum-n) / max(n, 1)
	if off <= fosterTolerance {
		return nil
	}
	at, worst := 0, -1.0
	for k := range v.f.edges {
		e := &v.f.edges[k]
		if x := e.G * max(v.Diagonal(e.I), v.Diagonal(e.J)); e.I != e.J && !(x <= worst) {
			at, worst = k, x
		}
	}
	return &BadlyScaledError{Edge: at, What: "the resistances of its network miss Foster's sum by the part", By: off}
}

// Foster is the sum over all edges of conductance times resistance between the ends: the number of
// nodes.
func (v *Inverse) Foster() float64 {
	sum, lost := 0.0, 0.0 // with what rounding loses (W. Kahan 1965)
	for k := range v.f.edges {
		ii, ij, jj := v.Edge(k)
		y := v.f.edges[k].G*(ii-ij+(jj-ij)) - lost
		next := sum + y
		lost = next - sum - y
		sum = next
	}
	return sum
}
