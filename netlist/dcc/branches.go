package dcc

import (
	"context"
	"math"
)

// Port is an RL network driven at one place.
type Port struct {
	R, L []float64 // by conductor, ohms and henries; no R is 0
	Unit []float64 // the current through every conductor for one ampere of direct current through the port
	// Project puts into flow the currents that emf[e] volts in series with each conductor drive, the
	// port closed upon itself.
	Project func(emf, flow []float64) error
}

// roundOff is where a remainder is nothing but rounding, relative to what it is left of.
const roundOff = 1e-10

// Branches takes the port apart into branches in parallel that draw the same current from any voltage. exact says
// that no more of them would change anything; else there are most, and they match the first 2·most moments of the network.
//
// All currents that obey Kirchhoff's current law, the port's included, are a space with <f,g> = sum of R f g; T f = Project(L f) is
// symmetric and not negative in it. The port's admittance is G <u, (1 + sT)⁻¹ u> with u the direct current scaled to
// length one, and the Lanczos process from u gives the Gauss quadrature of that Stieltjes function: nodes are time constants L/R, weights are
// parts of the conductance (G. H. Golub and G. Meurant, Matrices, Moments and Quadrature, 1994; P. Feldmann and R. W. Freund 1995).
func (p *Port) Branches(ctx context.Context, most int) (bs []Branch, exact bool, err error) {
	n := len(p.R)
	dot := func(f, g []float64) float64 {
		sum := 0.0
		for e := range f {
			sum += p.R[e] * f[e] * g[e]
		}
		return sum
	}
	total := dot(p.Unit, p.Unit) // the port's resistance
	q := make([]float64, n)
	for e := range q {
		q[e] = p.Unit[e] / math.Sqrt(total)
	}
	var basis [][]float64
	var alpha, beta []float64
	emf, scale := make([]float64, n), 0.0
	for {
		if err := ctx.Err(); err != nil {
			return nil, false, err
		}
		basis = append(basis, q)
		for e := range emf {
			emf[e] = p.L[e] * q[e]
		}
		w := make([]float64, n)
		if err := p.Project(emf, w); err != nil {
			return nil, false, err
		}
		alpha = append(alpha, dot(w, q))
		for range 2 { // once more, for what rounding left
			for _, b := range basis {
				c := dot(w, b)
				for e := range w {
					w[e] -= c * b[e]
				}
			}
		}
		length := math.Sqrt(dot(w, w))
		scale = max(scale, math.Abs(alpha[len(alpha)-1]), length)
		if exact = length <= roundOff*scale; exact || len(basis) == most {
			break
		}
		beta = append(beta, length)
		q = w
		for e := range q {
			q[e] /= length
		}
	}
	taus, firsts := tridiagonal(alpha, beta)
	for i, tau := range taus {
		weight := firsts[i] * firsts[i] / total
		if weight <= 1e-300 {
			continue
		}
		bs = append(bs, Branch{R: 1 / weight, L: max(0, tau) / weight})
	}
	return bs, exact, nil
}

// tridiagonal gives the eigenvalues of a symmetric tridiagonal matrix and the first entry of each eigenvector, by
// the implicit QL method (J. H. Wilkinson and C. Reinsch, Handbook for Automatic Computation II, 1971; G. H. Golub and J. H. Welsch 1969 for the first entries).
func tridiagonal(diagonal, beside []float64) (values, firsts []float64) {
	n := len(diagonal)
	d := append([]float64(nil), diagonal...)
	e := append(append([]float64(nil), beside...), 0)
	z := make([]float64, n)
	z[0] = 1
	for l := range n {
		for range 100 {
			m := l
			for m < n-1 && math.Abs(e[m]) > 1e-17*(math.Abs(d[m])+math.Abs(d[m+1])) {
				m++
			}
			if m == l {
				break
			}
			g := (d[l+1] - d[l]) / (2 * e[l])
			r := math.Hypot(g, 1)
			g = d[m] - d[l] + e[l]/(g+math.Copysign(r, g))
			s, c, p := 1.0, 1.0, 0.0
			for i := m - 1; i >= l; i-- {
				f, b := s*e[i], c*e[i]
				r = math.Hypot(f, g)
				e[i+1] = r
				if r == 0 {
					d[i+1] -= p
					e[m] = 0
					break
				}
				s, c = f/r, g/r
				g = d[i+1] - p
				r = (d[i]-g)*s + 2*c*b
				p = s * r
				d[i+1] = g + p
				g = c*r - b
				z[i+1], z[i] = s*z[i]+c*z[i+1], c*z[i]-s*z[i+1]
			}
			if r == 0 && m-1 >= l {
				continue
			}
			d[l] -= p
			e[l] = g
			e[m] = 0
		}
	}
	return d, z
}
