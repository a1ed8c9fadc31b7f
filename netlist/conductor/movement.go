package conductor

// What the benchwork does under the rail.
var (
	// BaseExpansion is that of plywood with temperature, 3.4e-6 per degree Fahrenheit.
	BaseExpansion = Value{Exact(3.4e-6 * 9 / 5), perKelvin, "expansion of plywood", "APA, note on thermal expansion of plywood"}
	// BaseHumidity is that of plywood with the air's humidity, 0.0002 in/in per 10 % RH.
	BaseHumidity = Value{Exact(0.0002 / 10), perHumidity, "swelling of plywood", "APA, Dimensional Stability and Flatness"}
	// AcrossGrainHumidity is that of solid wood across its grain, for benchwork that is not
	// plywood: 0.00119 to 0.00369 per 1 % moisture, of which 5 % RH make one.
	AcrossGrainHumidity = Value{Range{0.00119 / 5, 0.00369 / 5}, perHumidity, "swelling of solid wood across its grain", "USDA Wood Handbook FPL-GTR-190 table 13-5, aspen to red oak; trade column, 5 % RH per 1 % moisture"}
)

const perHumidity = "1/% RH"

// GapChange is by how many metres a gap opens (positive) or closes (negative) for a length
// of unbroken rail in metres that moves towards it. The base, which grows per kelvin of dT and
// per 1 % RH of dRH, carries the two sides apart; the rail, which grows per kelvin, fills
// the gap.
func GapChange(length, railPerK, basePerK, dT, basePerRH, dRH float64) float64 {
	return length * ((basePerK-railPerK)*dT + basePerRH*dRH)
}
