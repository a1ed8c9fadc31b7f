package dcc

import "math"

// Terminator is a network to be put across the far end of a pair.
type Terminator struct {
	Snubber
	Watts  float64 // in its resistor, under one bits
	Rating float64 // watts to buy it for, NaN if no common part will do
}

// Common values of resistors (ohms), capacitors (farads) and ratings of resistors (watts). 100 ohms
// with 0.1 µF is common practice, no source; so is a rating of twice the heat.
var (
	terminatorOhms   = [...]float64{100, 120, 150, 180, 220, 270, 330, 390, 470, 560, 680}
	terminatorFarads = [...]float64{100e-9, 68e-9, 47e-9, 33e-9, 22e-9, 15e-9}
	ratings          = [...]float64{0.125, 0.25, 0.5, 1, 2, 3, 5, 10}
)

// ratingFactor is how much more than its heat a resistor is bought for.
const ratingFactor = 2

// rcSeconds is RC of 100 ohms with 0.1 µF: long beside an echo on any layout's bus (some 0.1 µs), short
// beside a half-bit. Networks of more ohms get fewer farads to keep it, and stay cooler.
const rcSeconds = 10e-6

// Terminate recommends a terminating network for a pair of so many surge ohms under ±volts. Its
// resistor is the common value nearest by ratio to them, from 100 ohms up, as less would
// load the bus for little.
func Terminate(surgeOhms, volts float64) Terminator {
	if !(surgeOhms > 0) || math.IsNaN(volts) {
		return Terminator{Snubber{unknown, unknown}, unknown, unknown}
	}
	s := Snubber{Ohms: nearest(terminatorOhms[:], surgeOhms)}
	s.Farads = nearest(terminatorFarads[:], rcSeconds/s.Ohms)
	watts := s.Watts(volts, OneHalf)
	return Terminator{s, watts, Rating(watts)}
}

// nearest is the value that is nearest by ratio.
func nearest(values []float64, to float64) float64 {
	best := values[0]
	for _, v := range values {
		if math.Abs(math.Log(v/to)) < math.Abs(math.Log(best/to)) {
			best = v
		}
	}
	return best
}

// Rating is the next common rating of a resistor above twice its heat, in watts, or NaN beyond all.
func Rating(watts float64) float64 {
	for _, r := range ratings {
		if r >= ratingFactor*watts {
			return r
		}
	}
	return unknown
}
