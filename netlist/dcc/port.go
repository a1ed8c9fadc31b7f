package dcc

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Port is a network of resistances and inductances driven at one place, by conductors each of
// which is a resistance and an inductance in series.
type Port struct {
	R, L []float64 // ohms and henries; a conductor with an inductance has a resistance, too
	Unit []float64 // the current of every conductor for 1 A of direct current through the port

	// Project puts into flow the direct currents that emf[e] volts in series with each conductor,
	// in its own direction, drive with the port closed upon itself. It keeps neither slice.
	Project func(emf, flow []float64) error
}

// Branches takes a port apart into branches that draw the same current. It is exact if no more
// than most are needed; otherwise the branches agree with the network in 2·most moments of
// its time constants, and Reduce says how far off they may be.
func (p *Port) Branches(ctx context.Context, most int) (bs []Branch, exact bool, err error) {
	r, err := p.Reduce(ctx, most)
	if err != nil {
		return nil, false, err
	}
	return r.Branches, r.Exact, nil
}

// roundOff is a remainder of the Lanczos process that is nothing beside what it is left of, all remainders so far multiplied: what they
// leave out of an admittance is the square of their product. Beyond it new directions would be made of rounding.
const roundOff = 1e-8

// By symmetry a new direction has a known share of the one before the last. A network that is off by
// more than foreign is refused; it shows while directions are clear of rounding.
const (
	foreign = 1e-5
	certain = 1e-3
)

// Reduce takes a port apart as Branches does.
//
// All currents f that obey Kirchhoff's current law, the one through the closed port included, make
// a space with the inner product <f,g> = Σ R f g. In it T f = Project(L f) is symmetric and not
// negative, the network obeys T f' + f = V G u with u the unit flow and G = 1/<u,u>, and the port
// carries <u,f> G. So its admittance is G² <u,(1+sT)⁻¹u>, a Stieltjes function, of which the
// Lanczos process from u gives Gauss's quadrature: time constants are the nodes, parts of G the
// weights. G. H. Golub and G. Meurant, Matrices, Moments and Quadrature with Applications (2010),
// ch. 3, 4 and 6; P. Feldmann and R. W. Freund, "Efficient linear circuit analysis by Padé
// approximation via the Lanczos process", IEEE Trans. CAD 14 (1995).
func (p *Port) Reduce(ctx context.Context, most int) (*Reduction, error) {
	ohms, slowest, err := p.check(most)
	if err != nil {
		return nil, err
	}
	n := len(p.R)
	q := make([]float64, n)
	for e, f := range p.Unit {
		q[e] = f / math.Sqrt(ohms)
	}
	var basis [][]float64
	var alpha, beta []float64
	emf, scale, rest := make([]float64, n), 0.0, 1.0
	for {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		basis = append(basis, q)
		for e := range emf {
			emf[e] = p.L[e] * q[e]
		}
		w := make([]float64, n)
		if err := p.Project(emf, w); err != nil {
			return nil, err
		}
		along, back := p.without(w, basis)
		left := math.Sqrt(p.inner(w, w))
		scale = max(scale, math.Abs(along), left)
		if k := len(beta); k > 0 && beta[k-1] > certain*scale && math.Abs(back-beta[k-1]) > foreign*scale {
			return nil, errLawless
		}
		if !(scale <= math.MaxFloat64) {
			return nil, errLawless
		}
		alpha, beta = append(alpha, along), append(beta, left)
		rest *= left / scale
		exact := scale == 0 || rest <= roundOff
		if exact || len(basis) == most {
			return reduction(alpha, beta, ohms, slowest, exact)
		}
		q = w
		for e := range q {
			q[e] /= left
		}
	}
}

var errLawless = errors.New("the currents given for the network do not obey its laws")

// check refuses a port that makes no sense. It gives the port's ohms for direct current, and the
// largest L/R of a conductor, which no time constant of the network exceeds.
func (p *Port) check(most int) (ohms, slowest float64, err error) {
	switch {
	case len(p.R) == 0 || len(p.L) != len(p.R) || len(p.Unit) != len(p.R):
		return 0, 0, fmt.Errorf("a port of %d resistances, %d inductances and %d currents", len(p.R), len(p.L), len(p.Unit))
	case p.Project == nil:
		return 0, 0, errors.New("a port without its network")
	case most < 1:
		return 0, 0, fmt.Errorf("at most %d branches", most)
	}
	for e, r := range p.R {
		l := p.L[e]
		if !(r >= 0) || !(l >= 0) || r == 0 && l > 0 || math.IsInf(r, 1) || math.IsInf(l, 1) {
			return 0, 0, fmt.Errorf("conductor %d has %v ohms and %v henries", e, r, l)
		}
		if l > 0 {
			slowest = max(slowest, l/r)
		}
	}
	ohms = p.inner(p.Unit, p.Unit)
	if !(ohms > 0) || math.IsInf(ohms, 1) {
		return 0, 0, errors.New("no current goes through the port")
	}
	return ohms, slowest, nil
}

func (p *Port) inner(f, g []float64) float64 {
	total := 0.0
	for e, r := range p.R {
		total += r * f[e] * g[e]
	}
	return total
}

// without takes out of w what lies along the basis, twice, as rounding leaves some the first
// time. It gives what lay along the last direction and along the one before.
func (p *Port) without(w []float64, basis [][]float64) (along, back float64) {
	last := len(basis) - 1
	for range 2 {
		for k := last; k >= 0; k-- {
			c := p.inner(w, basis[k])
			for e, f := range basis[k] {
				w[e] -= c * f
			}
			switch k {
			case last:
				along += c
			case last - 1:
				back += c
			}
		}
	}
	return along, back
}
