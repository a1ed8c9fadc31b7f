package conductor

import (
	"math"

	"gapwise/netlist/quantity"
)

// The sources of ampacity.
const (
	bookAmps     = "Lessons in Electric Circuits vol. I ch. 12, free air at 30 °C, insulation for 60 °C"
	bookEstimate = bookAmps + ", that book's own estimate"
	bookBeyond   = bookAmps + ": figure of 10 AWG, the thickest quoted, which a thicker wire exceeds"
	thumb        = "rule of thumb: " + CommonPractice
	thumbScaled  = thumb + "; 26 AWG's figure scaled with the diameter to the power 1.5"
)

// ampacityCelsius is the insulation's limit in degrees Celsius that the figures are for.
const ampacityCelsius = 60

type ampacityRow struct {
	gauge  int
	amps   Range
	source string
}

// ampacityRows from the thickest. Nothing general is published below 20 AWG.
var ampacityRows = []ampacityRow{
	{10, Exact(40), bookAmps},
	{12, Exact(30), bookAmps},
	{14, Exact(25), bookAmps},
	{16, Exact(18), bookEstimate},
	{18, Exact(13), bookEstimate},
	{20, Exact(9), bookEstimate},
	{22, Range{3, 5}, thumb},
	{24, Range{2, 3}, thumb},
	{26, Range{1, 2}, thumb},
}

// Ampacity is what one wire in free air at 30 degrees Celsius carries for as long as it
// likes, in amperes, the insulation's limit in degrees Celsius, and the source in words. A
// size between two takes the thinner's; a range of sizes goes from the thin end's least to
// the thick end's most, with the thin end's source. Wires in a bundle carry less.
func Ampacity(w quantity.Wire) (amps Range, insulationCelsius float64, source string) {
	thin, source := ampacityOf(w.Lo)
	thick, _ := ampacityOf(w.Hi)
	return Range{thin.Lo, thick.Hi}, ampacityCelsius, source
}

func ampacityOf(area float64) (Range, string) {
	const slack = 1 - 1e-9
	if area*slack > quantity.AWGArea(ampacityRows[0].gauge) {
		return ampacityRows[0].amps, bookBeyond
	}
	for _, r := range ampacityRows {
		if area >= quantity.AWGArea(r.gauge)*slack {
			return r.amps, r.source
		}
	}
	last := ampacityRows[len(ampacityRows)-1]
	return last.amps.Times(math.Pow(area/quantity.AWGArea(last.gauge), 0.75)), thumbScaled
}
