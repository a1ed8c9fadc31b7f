package dcc

import "math"

// run follows the currents of branches from one half-bit to the next.
type run struct {
	bs      []Branch
	volts   float64   // of the present half-bit, with its sign
	long    float64   // its seconds
	from    []float64 // amps in each branch where it begins, just before the polarity turns over
	to      []float64 // where it ends
	through []float64 // coulombs
}

func newRun(bs []Branch) *run {
	n := len(bs)
	return &run{bs: bs, from: make([]float64, n), to: make([]float64, n), through: make([]float64, n)}
}

// next goes on by one half-bit, and gives the peak of the current and the integral of its
// absolute value. Seen in the direction of the volts, each branch's current rises and bends
// down (no current exceeds V/R), so the sum does, and crosses zero at most once.
func (r *run) next(volts, long float64) (peak, area float64) {
	r.volts, r.long = volts, long
	r.from, r.to = r.to, r.from
	for k, b := range r.bs {
		r.to[k] = b.after(volts, r.from[k], long)
		r.through[k] = b.through(volts, r.from[k], long)
	}
	sign := math.Copysign(1, volts)
	first, last := sign*r.at(0), sign*sum(r.to)
	peak = math.Max(math.Abs(first), math.Abs(last))
	area = sign * sum(r.through)
	switch {
	case last <= 0:
		area = -area
	case first < 0:
		area -= 2 * sign * r.passed(r.crossing(sign))
	}
	return peak, area
}

// at is the current t into the half-bit.
func (r *run) at(t float64) float64 {
	total := 0.0
	for k, b := range r.bs {
		total += b.after(r.volts, r.from[k], t)
	}
	return total
}

// passed is the integral of the current up to t.
func (r *run) passed(t float64) float64 {
	total := 0.0
	for k, b := range r.bs {
		total += b.through(r.volts, r.from[k], t)
	}
	return total
}

// crossing is when the current is zero, by Newton's method kept between bounds. An error in it
// enters the integral squared.
func (r *run) crossing(sign float64) float64 {
	lo, hi, t := 0.0, r.long, 0.0
	for range 100 {
		now, slope := 0.0, 0.0
		for k, b := range r.bs {
			amps := b.after(r.volts, r.from[k], t)
			now += sign * amps
			slope += sign * b.slope(r.volts, amps)
		}
		if now < 0 {
			lo = t
		} else {
			hi = t
		}
		next := t - now/slope
		if !(next > lo && next < hi) {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-t) <= 1e-10*r.long {
			return next
		}
		t = next
	}
	return t
}

func sum(xs []float64) float64 {
	total := 0.0
	for _, x := range xs {
		total += x
	}
	return total
}
