package dcc

import "math"

// Snubber is a resistance and a capacitance in series across the pair: a terminating network, or,
// without resistance, the capacitance of a cable.
type Snubber struct {
	Ohms   float64
	Farads float64
}

// Watts is what the resistor of a snubber turns into heat under a square wave of ±volts that turns
// over every half seconds: 4 f C V² tanh(T/2RC) with f = 1/2T. With little resistance it is what
// charging costs, wherever the resistance is. Heat falls as bits get longer, so one bits are the
// worst.
func (s Snubber) Watts(volts, half float64) float64 {
	return 2 * s.Farads * volts * volts / half * s.filled(half)
}

// MeanAmps is the mean absolute current of a snubber: 4 f C V tanh(T/2RC). A detector sees it as
// a load.
func (s Snubber) MeanAmps(volts, half float64) float64 {
	return 2 * s.Farads * math.Abs(volts) / half * s.filled(half)
}

// filled is the part of the whole ±volts that the capacitance swings in a half-bit.
func (s Snubber) filled(half float64) float64 {
	if s.Ohms == 0 || s.Farads == 0 {
		return 1
	}
	return math.Tanh(half / (2 * s.Ohms * s.Farads))
}

// Step is the voltage of the capacitance some seconds after volts were put across an empty
// snubber: V (1-e^(-t/RC)).
func (s Snubber) Step(volts, seconds float64) float64 {
	if s.Ohms == 0 || s.Farads == 0 {
		return volts
	}
	return -volts * math.Expm1(-seconds/(s.Ohms*s.Farads))
}
