package conductor

// Annealed copper as IEC 60028 has it (from memory; every published wire table that the
// tests quote agrees with it).
const (
	copperAt20  = 17.241e-9 // ohm metre
	copperPerK  = 0.00393   // of the value at 20 degrees Celsius
	copperMelts = 1083      // degrees Celsius
	copperDense = 8890      // kg per cubic metre
)

// warmed is how much a resistance known at 20 degrees Celsius grows, for a coefficient
// per kelvin. It never falls below a tenth: down there the straight line ends.
func warmed(perK, celsius float64) float64 { return max(0.1, 1+perK*(celsius-20)) }

// CopperResistivity is that of annealed copper in ohm metres.
func CopperResistivity(celsius float64) float64 { return copperAt20 * warmed(copperPerK, celsius) }

// perMetre is the resistance in ohms of a metre of metal of a resistivity in ohm metres and
// a cross-section in square metres.
func perMetre(resistivity, area float64) float64 { return resistivity / area }
