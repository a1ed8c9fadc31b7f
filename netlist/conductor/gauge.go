package conductor

// EpsilonRail is what lies between the rails: air above, ties and ballast below.
var EpsilonRail = Value{Range{1, 3}, "", "permittivity around a pair of rails, relative to air", CommonPractice}

// SteelRailInductance is what steel adds to a pair of rails, over RailPairInductance: steel
// is magnetic, and DCC's current keeps to its skin.
var SteelRailInductance = Value{Range{0, 6e-6}, "H/m", "steel rail over other rail, a metre of pair", Memory}

// gaugeOf is the distance in metres between the rails of a scale's normal gauge (from memory).
// A scale that is not said may be any.
func gaugeOf(scale string) Range {
	switch scale {
	case "Z":
		return Exact(6.5e-3)
	case "N":
		return Exact(9e-3)
	case "TT":
		return Exact(12e-3)
	case "HO", "OO":
		return Exact(16.5e-3)
	case "S":
		return Exact(22.4e-3)
	case "O":
		return Exact(32e-3)
	case "large":
		return Exact(45e-3)
	default:
		return Range{6.5e-3, 45e-3}
	}
}

// The codes a rail of unknown code may have (common practice, no source).
const lowestCommon, highestCommon = 40, 332

const mil = 25.4e-6 // metres in a thousandth of an inch

// heightOf is a rail's height in metres, which its code is in thousandths of an inch.
func heightOf(code int) Range {
	if code <= 0 {
		return Range{lowestCommon * mil, highestCommon * mil}
	}
	return Exact(float64(code) * mil)
}

// headShare is a rail head's width over its height: 0.045/0.100 to 0.035/0.070, NMRA RP-15.1
// table 1. The gauge is measured between heads.
var headShare = Range{0.45, 0.5}

// roundShare is the diameter of the round wire that a rail acts like, over its height (from
// memory: the mean distance within its section at low frequency, its outline at high).
var roundShare = Range{0.6, 1.1}

// railSpan is a pair of rails at its closest and at its widest.
func railSpan(scale string, code int) span {
	gauge, height := gaugeOf(scale), heightOf(code)
	return span{
		nearDiameter: height.Hi * roundShare.Hi, near: max(gauge.Lo, height.Hi) + height.Hi*headShare.Lo,
		farDiameter: height.Lo * roundShare.Lo, far: gauge.Hi + height.Lo*headShare.Hi,
	}
}

// RailPairInductance is that of the two rails of a track in henries per metre, by scale as
// the layout names it ("" unknown) and code (0 unknown), for rail that is not magnetic.
func RailPairInductance(scale string, code int) Range {
	s := railSpan(scale, code)
	return Range{PairInductance(s.nearDiameter, s.near), slowInductance(s.farDiameter, s.far)}
}

// RailPairCapacitance is that of the two rails of a track in farads per metre.
func RailPairCapacitance(scale string, code int) Range {
	s := railSpan(scale, code)
	return Range{
		PairCapacitance(s.farDiameter, s.far, EpsilonRail.Lo),
		PairCapacitance(s.nearDiameter, s.near, EpsilonRail.Hi),
	}
}
