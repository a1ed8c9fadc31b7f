package solve

import (
	"fmt"
	"math"
)

// tolerance is the largest current that a solution may leave over at a node, relative to the
// largest that is injected or flows in an edge. Volts are kept to 53 binary digits, and a large
// conductance makes a current of the last one: that much is left over by the best volts there are,
// and is let pass until it is blurred, the part at which currents mean little.
const (
	tolerance = 1e-10
	blurred   = 1e-6
	rounding  = 8 * 0x1p-53
)

// refine accepts x as the solution for b, improves it once (J. H. Wilkinson 1963), or refuses it.
func (f *Factor) refine(x, b, w []float64, c *Change) error {
	r, more := f.space.get(), f.space.get()
	defer f.space.put(r)
	defer f.space.put(more)
	worst, _, scale := f.residual(r, x, b, c.extra())
	if math.IsNaN(worst) || !(scale < math.Inf(1)) {
		return f.boundless(x, b)
	}
	if f.accepted(r, x, more, worst, scale) {
		return nil
	}
	f.substitute(more, r, w)
	c.less(more)
	for i, v := range more {
		x[i] += v
	}
	worst, at, scale := f.residual(r, x, b, c.extra())
	if f.accepted(r, x, more, worst, scale) {
		return nil
	}
	return &BadlyScaledError{Edge: f.worstAt(at), What: "currents at its end miss their sum by the part", By: worst / scale}
}

// boundless says why x is no finite solution for b: b is not finite, or an edge's current is not.
func (f *Factor) boundless(x, b []float64) error {
	for i, v := range b {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("solve: %v amperes into node %d", v, i)
		}
	}
	at, most := 0, -1.0
	for k := range f.edges {
		e := &f.edges[k]
		if amps := math.Abs(e.G * between(x, e.I, e.J)); e.I != e.J && !(amps <= most) {
			at, most = k, amps
		}
	}
	return &BadlyScaledError{Edge: at, What: "its amperes are", By: most}
}

// residual puts b - A x into r, and gives its largest entry with the node, and the largest ampere
// that is injected or flows in an edge. With extra beside the edges of the network, which may take
// one of them away, only what is injected counts.
func (f *Factor) residual(r, x, b []float64, extra []Edge) (worst float64, at int32, scale float64) {
	copy(r, b)
	for _, v := range b {
		scale = max(scale, math.Abs(v))
	}
	flows := take(r, x, f.edges)
	if len(extra) == 0 {
		scale = max(scale, flows)
	}
	take(r, x, extra)
	for i, v := range r {
		if v := math.Abs(v); !(v <= worst) {
			worst, at = v, int32(i)
		}
	}
	return worst, at, scale
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

// accepted reports whether r, what x leaves over, is small, or comes from the rounding of volts
// alone. More refinement would only spoil such volts. w is work space.
func (f *Factor) accepted(r, x, w []float64, worst, scale float64) bool {
	if worst <= tolerance*scale {
		return true
	}
	if !(worst <= blurred*scale) {
		return false
	}
	clear(w)
	for k := range f.edges {
		e := &f.edges[k]
		if e.I == e.J {
			continue
		}
		amps := 0.0
		for _, i := range [2]int32{e.I, e.J} {
			if i != Ground {
				amps += e.G * math.Abs(x[i])
			}
		}
		for _, i := range [2]int32{e.I, e.J} {
			if i != Ground {
				w[i] += amps
			}
		}
	}
	for i, v := range r {
		if math.Abs(v) > tolerance*scale+rounding*w[i] {
			return false
		}
	}
	return true
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
