package dcc

import (
	"math"
	"testing"
)

// TestLines holds every line of the lower bounds against the curve that proves it, for branches of
// all time constants, and shows that none could be raised.
func TestLines(t *testing.T) {
	mean := func(u, x float64) float64 {
		return 1 - 2*u + 2/x*(1-2*math.Exp(-u*x)/(1+math.Exp(-x)))
	}
	rms := func(p, x float64) float64 {
		q := 1 - 2*math.Tanh(x/2)/x
		return q * (p + 2*(1-p)/x) / math.Sqrt(p*p+(1-p)*(1-p)/3)
	}
	for _, c := range []struct {
		what  string
		lines []line
		curve func(by, x float64) float64
	}{{"mean", meanLines[:], mean}, {"rms", rmsLines[:], rms}} {
		for _, l := range c.lines {
			least := math.Inf(1)
			for x := 1e-2; x < 1e7; x *= 1.001 {
				least = math.Min(least, c.curve(l.by, x)-l.slope*x/(x+BoundRate)-l.level)
			}
			if least < -1e-9 || least > 2e-4 {
				t.Errorf("%s: the line of %v lies %v from its curve", c.what, l.by, least)
			}
		}
	}
}

// TestTouches: the lines of the upper bounds touch their curves, and lie above them.
func TestTouches(t *testing.T) {
	for _, c := range []struct {
		what  string
		touch touch
		curve func(x float64) float64
	}{
		{"peak", peakTouch, func(x float64) float64 { return math.Tanh(x / 2) }},
		{"mean", meanTouch, func(x float64) float64 { return 1 - 2*math.Log1p(math.Tanh(x/2))/x }},
		{"rms", rmsTouch, func(x float64) float64 { return math.Sqrt(1 - 2*math.Tanh(x/2)/x) }},
	} {
		least, at := math.Inf(1), 0.0
		for x := 1e-2; x < 1e7; x *= 1.0001 {
			y := x / (x + BoundRate)
			if gap := c.touch.slope*y - c.curve(x); gap < least {
				least, at = gap, y
			}
		}
		if least < 0 || least > 1e-6 || math.Abs(at-c.touch.y) > 1e-3 {
			t.Errorf("%s: the line lies %v above the curve at %v", c.what, least, at)
		}
		// Beyond the touch the curve bends down, so that it is the hull there.
		const step = 1e-4
		for y := c.touch.y + step; y < 1-2*step; y += step {
			f := func(y float64) float64 { return c.curve(BoundRate * y / (1 - y)) }
			if f(y-step)+f(y+step) > 2*f(y)+1e-12 {
				t.Errorf("%s: the curve bends up at %v", c.what, y)
			}
		}
	}
}

// TestPhi: the series and the closed form of phi2 meet, and both start at their limits.
func TestPhi(t *testing.T) {
	if phi1(0) != 1 || phi2(0) != 0.5 {
		t.Error(phi1(0), phi2(0))
	}
	for _, z := range []float64{0.3, 0.45, 0.49999, 0.5, 0.6} {
		want := (z - 1 + math.Exp(-z)) / z / z
		if math.Abs(phi2(z)-want) > 1e-13 {
			t.Errorf("phi2(%v) is %v, want %v", z, phi2(z), want)
		}
	}
}
