package conductor

// How much a metre of plywood benchwork moves for each kelvin, and for each per cent of relative humidity: 3.4e-6 per °F and 0.0002 in
// an inch per 10 % (APA, Dimensional Stability & Flatness, and thermal note, as quoted).
var (
	BaseExpansion = Value{Exact(3.4e-6 * 1.8), "/K", "plywood, warmth", "APA thermal note, as quoted"}
	BaseHumidity  = Value{Exact(0.0002 / 10), "/%", "plywood, humidity", "APA Dimensional Stability & Flatness, as quoted"}
)

// RailExpansion is how much a metre of rail grows for each kelvin; false for a metal that is not known.
func RailExpansion(metal string) (Value, bool) {
	m, known := metalOf(metal)
	if !known {
		return Value{}, false
	}
	switch m {
	case nickelSilver:
		return Value{Exact(16.7e-6), "/K", "nickel silver rail", "data sheet UNS C77000, 20 to 300 °C"}, true
	case brass:
		return Value{Exact(19.9e-6), "/K", "brass rail", "data sheet UNS C26000, 20 to 200 °C"}, true
	default:
		return Value{Range{11e-6, 12e-6}, "/K", "steel rail", FromMemory}, true
	}
}

// GapChange is by how much a gap opens (positive) or closes when it gets dT kelvin warmer and dRH per cent more humid, in metres: length metres of rail
// on a base that moves by itself.
func GapChange(length, railPerK, basePerK, dT, basePerRH, dRH float64) float64 {
	return length * ((basePerK-railPerK)*dT + basePerRH*dRH)
}
