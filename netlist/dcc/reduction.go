package dcc

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Reduction is a port as few branches.
type Reduction struct {
	Branches []Branch
	Exact    bool // nothing of the port is left out

	ohms    float64   // of the port for direct current
	slowest float64   // seconds; no time constant of the port is more
	nodes   []float64 // time constants, seconds
	first   []float64 // of each node, the first entry of its eigenvector
	last    []float64 // and the last
	beta    []float64 // beside the diagonal; the last one leads to what is left out
}

// reduction makes branches of what the Lanczos process found: the diagonal alpha and beta beside it.
func reduction(alpha, beta []float64, ohms, slowest float64, exact bool) (*Reduction, error) {
	n := len(alpha)
	m := mat.NewSymDense(n, nil)
	for k, a := range alpha {
		m.SetSym(k, k, a)
		if k > 0 {
			m.SetSym(k-1, k, beta[k-1])
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(m, true) {
		return nil, errors.New("the time constants of a network were not found")
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	r := &Reduction{Exact: exact, ohms: ohms, slowest: slowest, beta: beta}
	r.nodes = eigen.Values(nil)
	r.first, r.last = mat.Row(nil, 0, &vectors), mat.Row(nil, n-1, &vectors)
	for k, tau := range r.nodes {
		if tau < -certain*slowest {
			return nil, errors.New("a network has a time constant below zero")
		}
		r.nodes[k] = max(0, tau)
		if part := r.first[k] * r.first[k]; part > nothing {
			r.Branches = append(r.Branches, Branch{R: ohms / part, L: r.nodes[k] * ohms / part})
		}
	}
	return r, nil
}

// nothing is a part of the whole conductance that is not worth a branch.
const nothing = 1e-18

// Admittance bounds the port's admittance in siemens at a real frequency s ≥ 0 (amps a volt, for
// volts that grow as e^(st)). The bounds are Gauss and Radau's rules with a node added at the
// port's largest possible time constant and at none: the odd derivatives of 1/(1+sτ) are negative
// (Golub and Meurant, ch. 6.2). Added to what the branches have is s²β²a² g/(1 - s²β²d g), a and d
// the outer and the last entry of the inverse that the reduction knows, g that of the part it does
// not.
func (r *Reduction) Admittance(s float64) (lo, hi float64) {
	if !(s >= 0) || math.IsInf(s, 1) {
		return unknown, unknown
	}
	known, end, link := 0.0, 0.0, 1.0
	none, most := 0.0, r.slowest // time constants that the added node needs
	b := r.beta[len(r.beta)-1]
	for k, tau := range r.nodes {
		first, last := r.first[k], r.last[k]
		known += first * first / (1 + s*tau)
		end += last * last / (1 + s*tau)
		link *= s * r.beta[k] / (1 + s*tau)
		if tau > roundOff*r.slowest {
			none += b * b * last * last / tau
		}
		most -= b * b * last * last / max(r.slowest-tau, 0)
	}
	added := func(tau float64) float64 {
		g := 1 / (1 + s*tau)
		left := 1 - s*b*s*b*end*g
		if left <= 0 {
			return 1 - known
		}
		return min(1-known, link*link*g/left)
	}
	lo, hi = known, known
	if !r.Exact {
		hi += added(none)
		if most > 0 {
			lo += added(most)
		}
	}
	return min(lo, hi) / r.ohms, hi / r.ohms
}
