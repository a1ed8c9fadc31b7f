// Package dcc knows the waveform of the DCC standard and what a short, a cable and a terminating
// network make of it. It imports nothing: a network comes to it as branches, or as
// a port that it can ask.
package dcc

import "math"

// Half-bits as sent, in seconds: NMRA S-9.1 (3/07/2020) Table 1.
const (
	OneHalf     = 58e-6
	OneHalfMin  = 55e-6
	OneHalfMax  = 61e-6
	ZeroHalf    = 100e-6
	ZeroHalfMin = 95e-6
	ZeroHalfMax = 9900e-6
)

// Slew is the least steepness of an edge between -4 V and +4 V as sent, in volts a second: S-9.1 Table 2.
const Slew = 2.4e6

// Peak track volts of a power station: NMRA S-9.1 (3/07/2020) Table 3, by kind of scale.
type Volts struct{ Min, Nominal, Max float64 }

var (
	VoltsN     = Volts{8.5, 12, 22}
	VoltsHO    = Volts{8.5, 15, 22}
	VoltsLarge = Volts{8.5, 18, 22}
)

// Branch is a resistance (ohms) in series with an inductance (henries). L may be 0, and so may R, but not both.
type Branch struct{ R, L float64 }

// Short is what a sensor of each kind sees of a short's current, in amperes.
type Short struct{ Peak, MeanAbs, RMS float64 }

// Steady is the current of a square wave of ±volts with equal half-bits through branches in parallel, once it repeats. A passive
// network of resistors and inductors seen from two nodes is such a sum of branches with no negative R or L (R. M. Foster 1924; W. Cauer 1926). For one branch with x = half R/L:
// peak V/R tanh(x/2), mean V/R (1 - 2 ln(1+tanh(x/2))/x), rms V/R sqrt(1 - 2 tanh(x/2)/x).
func Steady(volts, half float64, bs []Branch) Short {
	return Periodic(volts, []float64{half, half}, bs)
}

// term is a branch's current within a half-bit: level + rate t + rest e^(-t/tau).
type term struct{ level, rate, rest, tau float64 }

// Periodic is the current of half-bits of the given lengths, signs alternating from plus, repeated for ever. Their number is even.
func Periodic(volts float64, halves []float64, bs []Branch) Short {
	w := newWave(volts, bs)
	w.settle(halves)
	var s sums
	for k, h := range halves {
		s.add(w.half(h, k%2 == 0), h)
	}
	return s.short()
}

// Start is what each half-bit shows of a short that falls in at the beginning of the first, from no current.
func Start(volts float64, halves []float64, bs []Branch) []Short {
	w := newWave(volts, bs)
	out := make([]Short, len(halves))
	for k, h := range halves {
		var s sums
		s.add(w.half(h, k%2 == 0), h)
		out[k] = s.short()
	}
	return out
}

// wave is the state of every branch.
type wave struct {
	volts float64
	bs    []Branch
	amps  []float64
	terms []term
}

func newWave(volts float64, bs []Branch) *wave {
	return &wave{volts: volts, bs: bs, amps: make([]float64, len(bs)), terms: make([]term, len(bs))}
}

// settle puts every branch into the state that repeats.
func (w *wave) settle(halves []float64) {
	for i, b := range w.bs {
		switch {
		case b.L == 0:
			w.amps[i] = -w.volts / b.R // as at the end of a minus half
		case b.R == 0:
			// The rise goes up and down about a middle of no current.
			at, sum, total := 0.0, 0.0, 0.0
			for k, h := range halves {
				slope := w.volts / b.L
				if k%2 == 1 {
					slope = -slope
				}
				sum += at*h + slope*h*h/2
				at += slope * h
				total += h
			}
			w.amps[i] = -sum / total
		default:
			tau := b.L / b.R
			gain, total := 0.0, 0.0
			for k, h := range halves {
				e := math.Exp(-h / tau)
				level := w.volts / b.R
				if k%2 == 1 {
					level = -level
				}
				gain = gain*e - level*math.Expm1(-h/tau)
				total += h
			}
			w.amps[i] = gain / -math.Expm1(-total/tau)
		}
	}
}

// half gives the terms of the current over one half-bit and moves the state to its end.
func (w *wave) half(h float64, plus bool) []term {
	v := w.volts
	if !plus {
		v = -v
	}
	for i, b := range w.bs {
		switch {
		case b.L == 0:
			w.terms[i] = term{level: v / b.R, tau: 1}
			w.amps[i] = v / b.R
		case b.R == 0:
			w.terms[i] = term{level: w.amps[i], rate: v / b.L, tau: 1}
			w.amps[i] += v / b.L * h
		default:
			tau := b.L / b.R
			w.terms[i] = term{level: v / b.R, rest: w.amps[i] - v/b.R, tau: tau}
			w.amps[i] = v/b.R + (w.amps[i]-v/b.R)*math.Exp(-h/tau)
		}
	}
	return w.terms
}

// sums gathers peak, mean and mean square over half-bits.
type sums struct{ peak, abs, square, time float64 }

func (s *sums) short() Short {
	return Short{s.peak, s.abs / s.time, math.Sqrt(max(0, s.square/s.time))}
}

// add takes in one half-bit. Within it the current rises or falls all the way, because every branch is driven
// towards the limit of its voltage; so the peak is at an end and there is at most one zero.
func (s *sums) add(ts []term, h float64) {
	first, last := at(ts, 0), at(ts, h)
	s.peak = max(s.peak, math.Abs(first), math.Abs(last))
	whole := area(ts, h)
	if first*last < 0 {
		s.abs += math.Abs(whole - 2*area(ts, zero(ts, h)))
	} else {
		s.abs += math.Abs(whole)
	}
	s.square += square(ts, h)
	s.time += h
}

func at(ts []term, t float64) float64 {
	sum := 0.0
	for _, x := range ts {
		sum += x.level + x.rate*t + x.rest*math.Exp(-t/x.tau)
	}
	return sum
}

// area is the integral of the current from 0 to t.
func area(ts []term, t float64) float64 {
	sum := 0.0
	for _, x := range ts {
		sum += x.level*t + x.rate*t*t/2 - x.rest*x.tau*math.Expm1(-t/x.tau)
	}
	return sum
}

// square is the integral of the current's square from 0 to h.
func square(ts []term, h float64) float64 {
	level, rate := 0.0, 0.0
	for _, x := range ts {
		level += x.level
		rate += x.rate
	}
	sum := level*level*h + level*rate*h*h + rate*rate*h*h*h/3
	for i, x := range ts {
		if x.rest == 0 {
			continue
		}
		gone := -math.Expm1(-h / x.tau)
		sum += 2 * level * x.rest * x.tau * gone
		// the integral of t e^(-t/tau)
		sum += 2 * rate * x.rest * x.tau * (x.tau*gone - h*math.Exp(-h/x.tau))
		for _, y := range ts[:i] {
			if y.rest != 0 {
				tau := 1 / (1/x.tau + 1/y.tau)
				sum -= 2 * x.rest * y.rest * tau * math.Expm1(-h/tau)
			}
		}
		sum -= x.rest * x.rest * x.tau / 2 * math.Expm1(-2*h/x.tau)
	}
	return sum
}

// zero is where the current crosses zero within a half-bit, by bisection.
func zero(ts []term, h float64) float64 {
	lo, hi := 0.0, h
	sign := at(ts, 0) < 0
	for range 100 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if at(ts, mid) < 0 == sign {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
