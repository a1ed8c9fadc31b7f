package conductor

import "math"

const (
	mu0  = 4e-7 * math.Pi // henries per metre
	eps0 = 8.8542e-12     // farads per metre
)

// InternalInductance is the most that the field inside the copper adds, in henries per
// metre of pair: mu0/(4 pi), two round wires of 1/(8 pi) each at low frequency.
const InternalInductance = 0.1e-6

// PairInductance is the external inductance in henries per metre of a pair of round wires,
// (mu0/pi) acosh(D/d), for a diameter and a spacing from centre to centre in metres. Wires
// that overlap count as touching, with none.
func PairInductance(diameter, spacing float64) float64 {
	return mu0 / math.Pi * acoshRatio(diameter, spacing)
}

// slowInductance is the whole inductance of a pair while the current fills the copper
// evenly: (mu0/pi)(ln(2D/d) + 1/4). It is above PairInductance and InternalInductance
// together, and for wires that nearly touch by as much again: at DCC's frequencies thin wire
// is on this side.
func slowInductance(diameter, spacing float64) float64 {
	return mu0/math.Pi*math.Log(2*max(1, spacing/diameter)) + InternalInductance
}

// PairCapacitance is the capacitance in farads per metre of a pair of round wires,
// pi epsilon/acosh(D/d). Wires that touch have no bound: positive infinity.
func PairCapacitance(diameter, spacing, epsilonR float64) float64 {
	return math.Pi * eps0 * epsilonR / acoshRatio(diameter, spacing)
}

func acoshRatio(diameter, spacing float64) float64 { return math.Acosh(max(1, spacing/diameter)) }
