package conductor

import (
	"math"

	"gapwise/netlist/quantity"
)

// How wires are built (common practice, no source).
const (
	strandedSpread = 1.15   // stranded copper over solid of the same area; seven strands have 1.134
	thinWall       = 0.1e-3 // metres of insulation, besides wallShare
	thickWall      = 0.8e-3
	wallShare      = 0.1 // of the copper's diameter
)

// WireDiameter is the diameter in metres of the bare copper, solid; that of the middle
// cross-section when the wire is a range.
func WireDiameter(w quantity.Wire) float64 { return diameter(w.Mid()) }

func diameter(area float64) float64 { return math.Sqrt(4 * area / math.Pi) }

// InsulatedDiameter is the diameter in metres over the insulation, from thin-walled solid to
// thick-walled stranded wire: a wall of 0.1 to 0.8 mm and a tenth of the copper's diameter
// (common practice, no source).
func InsulatedDiameter(w quantity.Wire) Range {
	d := Range{diameter(w.Lo), diameter(w.Hi)}
	return Range{
		d.Lo + 2*(thinWall+wallShare*d.Lo),
		d.Hi*strandedSpread + 2*(thickWall+wallShare*d.Hi),
	}
}

// CopperMass is the mass in kg of a metre of one conductor, of the middle cross-section when
// the wire is a range; 8890 kg per cubic metre (from memory).
func CopperMass(w quantity.Wire) float64 { return copperDense * w.Mid() }
