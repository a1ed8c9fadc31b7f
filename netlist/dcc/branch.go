package dcc

import "math"

// Branch is a resistance and an inductance in series. Either may be 0.
type Branch struct {
	R float64 // ohms
	L float64 // henries
}

// Short is the current of a short in amps, without regard to its direction.
type Short struct {
	Peak    float64
	MeanAbs float64 // mean of what a full-wave rectifier passes
	RMS     float64
}

// unknown is the answer to what makes no sense.
var unknown = math.NaN()

// Step is the current some seconds after volts were put across a branch that carried none:
// V/R (1-e^(-tR/L)).
func (b Branch) Step(volts, seconds float64) float64 {
	return b.after(volts, 0, seconds)
}

// after is the current at t, if it was from at 0 and volts were across the branch since.
func (b Branch) after(volts, from, t float64) float64 {
	if b.L == 0 {
		return volts / b.R
	}
	z := t * b.R / b.L
	if z <= 1 {
		return from*math.Exp(-z) + volts*t/b.L*phi1(z)
	}
	return from*math.Exp(-z) - volts*math.Expm1(-z)/b.R
}

// through is the integral of after from 0 to t, in coulombs.
func (b Branch) through(volts, from, t float64) float64 {
	if b.L == 0 {
		return volts * t / b.R
	}
	z := t * b.R / b.L
	if z <= 1 {
		return from*t*phi1(z) + volts*t*t/b.L*phi2(z)
	}
	return from*t*phi1(z) + volts*t*(1-phi1(z))/b.R
}

// slope is how fast a current changes, in amps per second.
func (b Branch) slope(volts, amps float64) float64 {
	if b.L == 0 {
		return 0
	}
	return (volts - b.R*amps) / b.L
}

// rate is R/L, and infinite without inductance.
func (b Branch) rate() float64 {
	if b.L == 0 {
		return math.Inf(1)
	}
	return b.R / b.L
}

// instant is a time constant, in seconds, that is none.
const instant = 1e-25

// carrying leaves out branches that carry nothing. It is not ok if one of them, the volts or a
// time make no sense, or if a branch is a dead short; then every measure is what.
func carrying(volts float64, times []float64, bs []Branch) (live []Branch, what float64, ok bool) {
	if math.IsNaN(volts) || math.IsInf(volts, 0) || len(times) == 0 {
		return nil, unknown, false
	}
	for _, t := range times {
		if !(t > 0) || math.IsInf(t, 1) {
			return nil, unknown, false
		}
	}
	dead := false
	for _, b := range bs {
		switch {
		case !(b.R >= 0) || !(b.L >= 0):
			return nil, unknown, false
		case math.IsInf(b.R, 1) || math.IsInf(b.L, 1):
			continue
		case b.L <= b.R*instant:
			dead = dead || b.R == 0
			live = append(live, Branch{R: b.R})
		default:
			live = append(live, b)
		}
	}
	switch {
	case volts == 0:
		return nil, 0, false
	case dead:
		return nil, math.Inf(1), false
	}
	return live, 0, true
}
