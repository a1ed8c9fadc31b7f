package conductor

import (
	"math"
	"slices"

	"gapwise/netlist/quantity"
)

// strandedAWG is how much more a seven-strand AWG wire has than a solid one: the largest of
// the ratios in NEC chapter 9 table 8, that of 12 AWG.
const strandedAWG = 1.98 / 1.93

// metricRow is a nominal size with the largest resistance that IEC 60228:2004 table 3 allows
// plain copper of class 5, flexible wire, at 20 degrees Celsius. Classes 1 and 2 are allowed less.
type metricRow struct {
	area float64 // square metres
	fine float64 // ohm per metre, class 5
}

var metricRows = []metricRow{
	{0.5e-6, 39.0e-3},
	{0.75e-6, 26.0e-3},
	{1e-6, 19.5e-3},
	{1.5e-6, 13.3e-3},
	{2.5e-6, 7.98e-3},
	{4e-6, 4.95e-3},
	{6e-6, 3.30e-3},
	{10e-6, 1.91e-3},
}

// allowance is how much more than bare area says a wire of class 5 may have.
func (r metricRow) allowance() float64 { return r.fine * r.area / copperAt20 }

// widestAllowance is that of the 1.5 and 2.5 mm2 rows, taken for sizes well outside the table.
const widestAllowance = 1.157

// outside is by what factor beyond its first and last row the table's allowance has become
// the widest one.
const outside = 1.6

// fineAllowance is the lay allowance of a wire of any metric size: the row's own at a size
// of the table, in proportion between two, and the widest one outside. That the sizes
// between and outside follow the rows is our own assumption.
func fineAllowance(area float64) float64 {
	first, last := metricRows[0], metricRows[len(metricRows)-1]
	lowArea, low := first.area/outside, widestAllowance
	for _, r := range metricRows {
		if area <= r.area {
			return between(area, lowArea, r.area, low, r.allowance())
		}
		lowArea, low = r.area, r.allowance()
	}
	return between(area, lowArea, last.area*outside, low, widestAllowance)
}

// between interpolates in the logarithm of x and stays inside y0 and y1.
func between(x, x0, x1, y0, y1 float64) float64 {
	f := math.Log(x/x0) / math.Log(x1/x0)
	return y0 + (y1-y0)*min(1, max(0, f))
}

// isAWG reports whether a cross-section is that of an AWG size to the last digits, as it is
// when the layout named one.
func isAWG(area float64) bool {
	i, exact := slices.BinarySearch(awgAreas[:], area)
	near := func(i int) bool {
		return i >= 0 && i < len(awgAreas) && math.Abs(awgAreas[i]/area-1) < 1e-9
	}
	return exact || near(i-1) || near(i)
}

// awgAreas are the cross-sections of the AWG sizes in square metres, thin first.
var awgAreas = func() (out [quantity.ThinnestAWG - quantity.ThickestAWG + 1]float64) {
	for i := range out {
		out[i] = quantity.AWGArea(quantity.ThinnestAWG - i)
	}
	return out
}()
