package conductor

import (
	"math"

	"gapwise/netlist/quantity"
)

const (
	kelvin     = 273.15
	stefan     = 5.6704e-8 // W per square metre and K^4
	emissivity = 0.9       // of insulation (from memory)
)

// surface is what a metre of wire, or of two that touch, gives its heat off by.
type surface struct {
	perimeter float64 // metres
	wires     float64
}

// surfaceOf takes the diameter in metres over the insulation. Two wires that touch hide a
// part of each other: a string around both is what air and walls see.
func surfaceOf(outer float64, pair bool) surface {
	if pair {
		return surface{(math.Pi + 2) * outer, 2}
	}
	return surface{math.Pi * outer, 1}
}

// SteadyCelsius is the temperature in degrees Celsius that an insulated round wire settles
// at in still air, carrying amps for as long as it likes. pair: two that touch carry the
// same. The careful end of each range is taken: stranded copper, thin insulation. Heat
// leaves by natural convection (Churchill and Chu 1975) and radiation; wire in a bundle, a
// conduit or under insulation gets hotter. At most the melting point of copper, which is also
// the answer for amps that are no number.
func SteadyCelsius(w quantity.Wire, amps, ambient float64, pair bool) float64 {
	s := surfaceOf(InsulatedDiameter(w).Lo, pair)
	lo, hi := ambient, max(ambient, copperMelts)
	for range 60 {
		t := lo + (hi-lo)/2
		made := s.wires * amps * amps * WireOhms(w, Exact(t)).Hi
		if made <= s.loss(t, ambient) {
			hi = t
		} else {
			lo = t
		}
	}
	return hi
}

// loss is the heat in watts that a metre gives off.
func (s surface) loss(celsius, ambient float64) float64 {
	hot, cold := celsius+kelvin, ambient+kelvin
	radiated := emissivity * stefan * (math.Pow(hot, 4) - math.Pow(cold, 4))
	return s.perimeter * (radiated + convection(s.perimeter/math.Pi, celsius, ambient)*(celsius-ambient))
}
