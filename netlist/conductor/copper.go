package conductor

import (
	"math"

	"gapwise/netlist/quantity"
)

// Copper at 20 °C: ohm metres, and its change for each kelvin. IEC 60028, from memory; tables that can be
// checked agree (see the tests).
const (
	CopperAt20    = 17.241e-9
	CopperPerK    = 0.00393
	copperDensity = 8890 // kg/m³, IEC 60028, from memory
)

// CopperResistivity is copper's at a temperature, in ohm metres.
func CopperResistivity(celsius float64) float64 {
	return CopperAt20 * (1 + CopperPerK*(celsius-20))
}

// warmer is by what resistance grows from 20 °C.
func warmer(celsius float64) float64 { return 1 + CopperPerK*(celsius-20) }

// strandedOver is how much more a seven-strand wire has than a solid one of the same AWG size, at the most: 1.24 to 1.21 ohm
// per 1000 ft at 10 AWG, NEC Chapter 9 Table 8, as quoted.
const strandedOver = 1.24 / 1.21

// metric is a row of IEC 60228:2004 Tables 1 to 3, as quoted: the greatest resistance of plain copper
// at 20 °C, in ohms per kilometre.
type metric struct{ mm2, class12, class5 float64 }

var metrics = []metric{
	{0.5, 36.0, 39.0}, {0.75, 24.5, 26.0}, {1, 18.1, 19.5}, {1.5, 12.1, 13.3}, {2.5, 7.41, 7.98}, {4, 4.61, 4.95}, {6, 3.08, 3.30}, {10, 1.83, 1.91},
}

// WireOhms is the resistance of a metre of one conductor, in ohms: of an AWG size from solid to seven-strand; of a
// metric size from its nominal area to the greatest that IEC 60228 allows a class 5 conductor (sizes that the standard's table does not have
// take the largest allowance of the table). A range of sizes widens it. The wire has to be known.
func WireOhms(w quantity.Wire, celsius Range) Range {
	lo := CopperResistivity(celsius.Lo) / w.Hi
	if w.HasGauge {
		return Range{lo, CopperResistivity(celsius.Hi) / w.Lo * strandedOver}
	}
	return Range{lo, metricMost(w.Lo) * warmer(celsius.Hi)}
}

// metricMost is the greatest resistance of a class 5 conductor at 20 °C, in ohms a metre.
func metricMost(area float64) float64 {
	most := 0.0
	for _, m := range metrics {
		if math.Abs(area*1e6-m.mm2) < 1e-6 {
			return m.class5 / 1000
		}
		most = max(most, m.class5/1000*m.mm2*1e-6/CopperAt20)
	}
	return most * CopperAt20 / area
}

// MetricMost is the greatest resistance at 20 °C that IEC 60228 allows a metric size, in ohms a metre,
// by class (1, 2 or 5); ok is false for a size or class that its table, as quoted here, does not have.
func MetricMost(area float64, class int) (ohms float64, ok bool) {
	for _, m := range metrics {
		if math.Abs(area*1e6-m.mm2) > 1e-6 {
			continue
		}
		switch class {
		case 1, 2:
			return m.class12 / 1000, true
		case 5:
			return m.class5 / 1000, true
		}
	}
	return 0, false
}

// WireDiameter is that of the bare conductor, in metres: of a solid one of the same area, at the middle of a range.
func WireDiameter(w quantity.Wire) float64 { return math.Sqrt(4 / math.Pi * w.Mid()) }

// InsulatedDiameter is that of the conductor with its insulation, in metres: 0.25 mm to 0.8 mm of it all round, from
// thin hook-up wire to building wire. Common practice, no source.
func InsulatedDiameter(w quantity.Wire) Range {
	d := WireDiameter(w)
	return Range{d + 2*0.25e-3, 1.15*d + 2*0.8e-3}
}

// CopperMass is the mass of a metre of one conductor, in kilograms.
func CopperMass(w quantity.Wire) float64 { return w.Mid() * copperDensity }
