package conductor

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// What lies between the wires, as a factor on the capacitance of a pair in air.
var (
	// EpsilonClose is that of insulated wires that touch.
	EpsilonClose = Value{Range{2, 4}, "", "permittivity around insulated wires laid close, relative to air", CommonPractice}
	// EpsilonApart is that of insulated wires with air between them.
	EpsilonApart = Value{Range{1, 1.5}, "", "permittivity around wires laid apart, relative to air", CommonPractice}
)

// widestSpacing is how far apart, in metres, two wires of one bus of which nothing is known
// may lie; loopSpacing when each goes its own way (common practice, no source).
const (
	widestSpacing = 1.0
	loopSpacing   = 3.0
)

// LaidSpacing is how far apart the two wires of a pair lie, in metres from centre to centre.
// Twisted, and zip cord, is insulation on insulation; apart is as typed, but never less than
// touching. False when the layout does not say: then from touching to a metre.
func LaidSpacing(w quantity.Wire, laid layout.Laid) (Range, bool) {
	touching := InsulatedDiameter(w)
	switch {
	case laid.Kind == layout.LaidTwisted:
		return touching, true
	case laid.Kind == layout.LaidApart && laid.Spacing.Known():
		return Range{max(laid.Spacing.Lo, touching.Lo), max(laid.Spacing.Hi, touching.Lo)}, true
	default:
		return Range{touching.Lo, widestSpacing}, false
	}
}

// span is the pair at its closest and at its widest, as copper diameter and spacing.
type span struct{ nearDiameter, near, farDiameter, far float64 }

// spanOf takes care that copper and spacing belong to one wire: fat copper in a thin wall is
// the closest pair, thin copper in a thick wall the widest.
func spanOf(w quantity.Wire, laid layout.Laid) span {
	thin, fat := diameter(w.Lo), diameter(w.Hi)*strandedSpread
	touching := fat + 2*(thinWall+wallShare*diameter(w.Hi))
	if laid.Kind == layout.LaidTwisted {
		return span{fat, touching, thin, thin + 2*(thickWall+wallShare*thin)}
	}
	s, _ := LaidSpacing(w, laid)
	return span{fat, max(s.Lo, touching), thin, max(s.Hi, touching)}
}

// LaidInductance is the inductance of a pair in henries per metre. Lo has none of the field
// inside the copper, Hi all of it.
func LaidInductance(w quantity.Wire, laid layout.Laid) Range {
	s := spanOf(w, laid)
	return Range{PairInductance(s.nearDiameter, s.near), slowInductance(s.farDiameter, s.far)}
}

// LaidCapacitance is the capacitance of a pair in farads per metre. Wires apart by no more
// than twice their thickest insulation may still lie in it.
func LaidCapacitance(w quantity.Wire, laid layout.Laid) Range {
	s := spanOf(w, laid)
	epsilon := EpsilonClose.Range
	if laid.Kind != layout.LaidTwisted {
		epsilon.Lo = EpsilonApart.Lo
		if s.near > 2*InsulatedDiameter(w).Hi {
			epsilon.Hi = EpsilonApart.Hi
		}
	}
	return Range{
		PairCapacitance(s.farDiameter, s.far, epsilon.Lo),
		PairCapacitance(s.nearDiameter, s.near, epsilon.Hi),
	}
}

// LoopInductance is the most that a loop of unknown width has, in henries per metre of pair:
// out by one way and back by another 3 m off (common practice, no source).
func LoopInductance(w quantity.Wire) float64 {
	return slowInductance(diameter(w.Lo), max(loopSpacing, 2*diameter(w.Hi)))
}
