package conductor

import (
	"math"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

const (
	mu0      = 4e-7 * math.Pi
	epsilon0 = 8.8542e-12
)

// InternalInductance is the most that the field inside two round wires adds, in henries a metre of pair: mu0/(4π) for even current; at high frequency it goes to nothing.
const InternalInductance = 0.1e-6

// PairInductance is the external inductance of two parallel round wires, out and back, in henries a metre of pair:
// (mu0/π) acosh(D/d), for centres D apart and wires d thick, both in metres. Any text on transmission lines has it.
func PairInductance(diameter, spacing float64) float64 {
	return mu0 / math.Pi * math.Acosh(max(spacing/diameter, 1))
}

// PairCapacitance is the capacitance of the same pair, in farads a metre, in a medium of relative permittivity epsilonR:
// π ε / acosh(D/d). Inductance times capacitance is mu0 ε.
func PairCapacitance(diameter, spacing, epsilonR float64) float64 {
	return math.Pi * epsilon0 * epsilonR / math.Acosh(max(spacing/diameter, 1+1e-6))
}

// Permittivity of what lies between two wires: mostly plastic where they touch, mostly air where they lie apart. Common practice, no source;
// PVC itself has 3 to 5, from memory.
var (
	closePermittivity = Range{2, 4}
	apartPermittivity = Range{1, 1.5}
)

// farApart is the spacing of a loop of which nobody can say how wide it is, in metres: inductance goes
// with its logarithm, so that double the width adds less than a tenth.
const farApart = 3.0

// LaidSpacing is how far apart the centres of a bus's two wires are, in metres. False when the layout does not say:
// then it is from touching to a metre apart.
func LaidSpacing(w quantity.Wire, laid layout.Laid) (Range, bool) {
	touching := InsulatedDiameter(w)
	switch {
	case laid.Kind == layout.LaidTwisted:
		return touching, true
	case laid.Kind == layout.LaidApart && laid.Spacing.Known():
		return Range{max(laid.Spacing.Lo, touching.Lo), max(laid.Spacing.Hi, touching.Lo)}, true
	default:
		return Range{touching.Lo, 1}, false
	}
}

// LaidInductance is that of a bus's pair, in henries a metre; the high end counts the field inside the wires too.
func LaidInductance(w quantity.Wire, laid layout.Laid) Range {
	s, _ := LaidSpacing(w, laid)
	d := WireDiameter(w)
	return Range{PairInductance(d, s.Lo), PairInductance(d, s.Hi) + InternalInductance}
}

// LaidCapacitance is that of a bus's pair, in farads a metre.
func LaidCapacitance(w quantity.Wire, laid layout.Laid) Range {
	s, _ := LaidSpacing(w, laid)
	d := WireDiameter(w)
	e := closePermittivity
	if s.Lo > 2*InsulatedDiameter(w).Hi {
		e = apartPermittivity
	}
	return Range{PairCapacitance(d, s.Hi, e.Lo), PairCapacitance(d, s.Lo, e.Hi)}
}

// LoopInductance is that of two wires of a loop of unknown width, in henries a metre of pair.
func LoopInductance(w quantity.Wire) float64 {
	return PairInductance(WireDiameter(w), farApart) + InternalInductance
}

// gauges are track gauges in metres, by scale: NEM 010 and NMRA S-1.2, from memory.
var gauges = map[string]float64{
	"z": 6.5e-3, "n": 9e-3, "tt": 12e-3, "ho": 16.5e-3, "h0": 16.5e-3, "oo": 16.5e-3, "s": 22.42e-3, "o": 31.75e-3, "0": 32e-3,
	"hon3": 10.5e-3, "on3": 19.05e-3, "on30": 16.5e-3, "g": 45e-3, "1": 45e-3, "i": 45e-3, "large": 45e-3,
}

// Gauge is the width between the rails, in metres; false for a scale that is not known: then it is from the narrowest to the widest.
func Gauge(scale string) (Range, bool) {
	if g, known := gauges[strings.ToLower(strings.TrimSpace(scale))]; known {
		return Exact(g), true
	}
	return Range{6.5e-3, 45e-3}, false
}

// railRound is the round wire that a rail of a code stands for, in metres: between its head and its foot. From memory.
func railRound(code int) Range {
	if code <= 0 {
		return Range{0.8e-3, 2.5e-3}
	}
	height := float64(code) * 25.4e-6
	return Range{0.45 * height, 0.9 * height}
}

// RailPairInductance is that of the two rails at gauge, in henries a metre of track. The rails' field inside is counted at the high end.
func RailPairInductance(scale string, code int) Range {
	g, _ := Gauge(scale)
	d := railRound(code)
	return Range{PairInductance(d.Hi, g.Lo+d.Hi), PairInductance(d.Lo, g.Hi+d.Hi) + InternalInductance}
}

// RailPairCapacitance is that of the two rails at gauge on ties, in farads a metre of track.
func RailPairCapacitance(scale string, code int) Range {
	g, _ := Gauge(scale)
	d := railRound(code)
	return Range{PairCapacitance(d.Lo, g.Hi+d.Hi, apartPermittivity.Lo), PairCapacitance(d.Hi, g.Lo+d.Hi, closePermittivity.Hi)}
}
