package dcc

import "math"

// BoundRate, divided by the half-bit, is the real frequency s at which the bounds below take the
// admittance ys; y0 is the admittance for direct current. One solve with every R raised by sL
// gives ys. Any network of resistances and inductances is a sum of branches, so with x = T R/L of
// a branch, y = x/(x+2) is its part of ys and f(x) its part of a measure, the pair (ys,
// measure)/y0 lies in the hull of the curve (y, f), and the bounds are the edges of that hull. At
// 2 the lower bound of the peak is the diagonal itself; a smaller or larger rate is worse at one
// end or the other.
//
// All bounds rise with ys; in place of ys, those from below take less, those from above more. The
// lower bounds of mean and rms fall with y0 and take more in its place.
const BoundRate = 2

// share is ys/y0, or not a number where the arguments make no sense.
func share(volts, half, y0, ys float64) float64 {
	if math.IsNaN(volts) || !(half > 0) || !(y0 > 0) || !(ys >= 0) || math.IsInf(y0, 1) || ys > y0*(1+same) {
		return unknown
	}
	return min(1, ys/y0)
}

// PeakAtLeast is V·ys, as tanh(x/2) ≥ x/(x+2). It is sharp: a resistance beside an inductance of
// many half-bits attains it.
func PeakAtLeast(volts, half, y0, ys float64) float64 {
	return math.Abs(volts) * y0 * share(volts, half, y0, ys)
}

// PeakAtMost is sharp, too: up to where a line from the origin touches the curve it is attained by a
// branch beside one of far more inductance, and beyond by a single branch.
func PeakAtMost(volts, half, y0, ys float64) float64 {
	return atMost(volts, y0, share(volts, half, y0, ys), peakTouch, func(x float64) float64 { return math.Tanh(x / 2) })
}

// MeanAtMost holds because the mean of a sum's absolute value is at most the sum of the means.
func MeanAtMost(volts, half, y0, ys float64) float64 {
	return atMost(volts, y0, share(volts, half, y0, ys), meanTouch, func(x float64) float64 {
		return 1 - 2*math.Log1p(math.Tanh(x/2))/x
	})
}

// RMSAtMost holds because the rms of a sum is at most the sum of the rms.
func RMSAtMost(volts, half, y0, ys float64) float64 {
	return atMost(volts, y0, share(volts, half, y0, ys), rmsTouch, func(x float64) float64 {
		return math.Sqrt(1 - 2*math.Tanh(x/2)/x)
	})
}

// touch is where the line from the origin touches a curve from above.
type touch struct{ slope, y float64 }

var (
	peakTouch = touch{1.528846, 0.535326} // at x = 2.304093
	meanTouch = touch{1.033994, 0.818012} // at x = 8.9897
	rmsTouch  = touch{1.090360, 0.737148} // at x = 5.6089
)

func atMost(volts, y0, y float64, t touch, curve func(x float64) float64) float64 {
	part := t.slope * y
	if y > t.y {
		part = min(part, curve(BoundRate*y/(1-y)))
	}
	if y == 1 {
		part = 1
	}
	return math.Abs(volts) * y0 * part
}

// line is a lower bound of a measure: slope·ys + level·y0. By is the weight over the half-bit that
// proves it.
type line struct{ slope, level, by float64 }

// MeanAtLeast is the best of several lines. The mean absolute is at least the average of the current
// with any sign in front, so with minus up to uT and plus after it, which for a branch is
//
//	1-2u + 2/x (1 - 2e^(-ux)/(1+e^-x)) ≥ slope·y + level.
//
// The first line, of u = 1-1/√2, is MeanOfPeak times the least peak, the last, of u = 0, the
// average itself: 1.52885·ys - 0.52885·y0.
func MeanAtLeast(volts, half, y0, ys float64) float64 {
	return atLeast(volts, y0, share(volts, half, y0, ys), meanLines[:])
}

// MeanOfPeak is the least part of its peak that the mean absolute of a steady short can be. The
// current rises and bends down; if it crosses zero at uT and ends at its peak I, it lies above its
// chord after uT and below that chord's extension before, and its mean absolute is at least I
// (1-2u+2u²)/(1-u)/2, which is least at u = 1-1/√2. A resistance beside a large inductance attains
// it.
const MeanOfPeak = math.Sqrt2 - 1

// RMSOfPeak is the same of the rms: the peak is at most the average of (6u-2) times the current
// (see Bracket), and the rms of 6u-2 is 2. A resistance beside a large inductance of three times
// its current attains it.
const RMSOfPeak = 0.5

// RMSAtLeast is the best of several lines. The rms is at least the average of the current with any
// weight in front whose own rms is 1, so with p + (1-p)(2u-1) brought to that, which for a branch is,
// with q = 1 - 2/x tanh(x/2),
//
//	q (p + 2(1-p)/x)/√(p²+(1-p)²/3) ≥ slope·y + level.
//
// The first line, of p = 1/4, is RMSOfPeak times the least peak.
func RMSAtLeast(volts, half, y0, ys float64) float64 {
	return atLeast(volts, y0, share(volts, half, y0, ys), rmsLines[:])
}

func atLeast(volts, y0, y float64, lines []line) float64 {
	best := 0 * y
	for _, l := range lines {
		best = max(best, l.slope*y+l.level)
	}
	return math.Abs(volts) * y0 * best
}

// meanLines are by u.
var meanLines = [...]line{
	{MeanOfPeak, 0, 1 - 1/math.Sqrt2},
	{0.4405, -0.00056, 0.28},
	{0.4837, -0.00372, 0.26},
	{0.5298, -0.00988, 0.24},
	{0.5541, -0.01418, 0.23},
	{0.6054, -0.02543, 0.21},
	{0.6605, -0.04052, 0.19},
	{0.7198, -0.05986, 0.17},
	{0.7840, -0.08402, 0.15},
	{0.8536, -0.11363, 0.13},
	{0.9294, -0.14946, 0.11},
	{1.0126, -0.19262, 0.09},
	{1.1540, -0.27401, 0.06},
	{1.2622, -0.34226, 0.04},
	{1.3854, -0.42541, 0.02},
	{1.52885, -0.52885, 0},
}

// rmsLines are by p.
var rmsLines = [...]line{
	{RMSOfPeak, 0, 0.25},
	{0.5404, -0.00107, 0.27},
	{0.5817, -0.00426, 0.29},
	{0.6236, -0.00952, 0.31},
	{0.6658, -0.01679, 0.33},
	{0.7290, -0.03117, 0.36},
	{0.7707, -0.04285, 0.38},
	{0.8322, -0.06311, 0.41},
	{0.8723, -0.07819, 0.43},
	{0.9304, -0.10265, 0.46},
	{0.9859, -0.12880, 0.49},
	{1.0554, -0.16533, 0.53},
	{1.1040, -0.19335, 0.56},
	{1.1640, -0.23076, 0.60},
	{1.2186, -0.26755, 0.64},
	{1.2799, -0.31195, 0.69},
	{1.3340, -0.35397, 0.74},
	{1.52885, -0.52885, 1},
}
