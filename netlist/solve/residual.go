package solve

import "math"

// residual puts b - A x into r, and gives its largest entry relative to the largest ampere that is
// injected or flows in an edge, with its node. No edge carries more than all that is injected, so what
// a wrong solution claims beyond does not count. extra lies beside the edges of the network.
func (f *Factor) residual(r, x, b []float64, extra []Edge) (worst float64, at int32) {
	copy(r, b)
	scale, all := 0.0, 0.0
	for _, v := range b {
		scale = max(scale, math.Abs(v))
		all += math.Abs(v)
	}
	if all == 0 {
		return 0, 0
	}
	scale = max(scale, take(r, x, f.edges))
	take(r, x, extra)
	scale = min(scale, all)
	for i, v := range r {
		if v := math.Abs(v) / scale; !(v <= worst) {
			worst, at = v, int32(i)
		}
	}
	return worst, at
}

// take takes from r what leaves each node through the edges, and gives the most that one carries.
func take(r, x []float64, edges []Edge) (most float64) {
	for k := range edges {
		e := &edges[k]
		amps := e.G * between(x, e.I, e.J)
		most = max(most, math.Abs(amps))
		if e.I != Ground {
			r[e.I] -= amps
		}
		if e.J != Ground {
			r[e.J] += amps
		}
	}
	return most
}

// between is the voltage from i to j, either of which may be Ground.
func between(x []float64, i, j int32) float64 {
	v := 0.0
	if i != Ground {
		v = x[i]
	}
	if j != Ground {
		v -= x[j]
	}
	return v
}
