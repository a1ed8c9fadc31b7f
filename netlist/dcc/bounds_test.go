package dcc_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/dcc"
)

// sums draws branches of time constants from far below to far above a half-bit, either end included.
func sums(t *rapid.T) []dcc.Branch {
	bs := make([]dcc.Branch, rapid.IntRange(1, 6).Draw(t, "branches"))
	for k := range bs {
		x := math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "x"))
		g := math.Pow(10, rapid.Float64Range(-4, 0).Draw(t, "g"))
		bs[k] = dcc.Branch{R: 1 / g, L: dcc.OneHalf / x / g}
		switch rapid.IntRange(0, 5).Draw(t, "end") {
		case 0:
			bs[k].L = 0
		case 1:
			bs[k].R *= 1e-9
		}
	}
	return bs
}

// TestBoundsHold holds the bounds from two admittances against random sums of branches.
func TestBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bs := sums(t)
		s := dcc.Steady(15, dcc.OneHalf, bs)
		y0, ys := admittance(bs, 0), admittance(bs, dcc.BoundRate/dcc.OneHalf)
		for _, c := range []struct {
			what       string
			lo, is, hi float64
		}{
			{"peak", dcc.PeakAtLeast(15, dcc.OneHalf, y0, ys), s.Peak, dcc.PeakAtMost(15, dcc.OneHalf, y0, ys)},
			{"mean", dcc.MeanAtLeast(15, dcc.OneHalf, y0, ys), s.MeanAbs, dcc.MeanAtMost(15, dcc.OneHalf, y0, ys)},
			{"rms", dcc.RMSAtLeast(15, dcc.OneHalf, y0, ys), s.RMS, dcc.RMSAtMost(15, dcc.OneHalf, y0, ys)},
			{"mean of the peak", dcc.MeanOfPeak * s.Peak, s.MeanAbs, s.Peak},
			{"rms of the peak", dcc.RMSOfPeak * s.Peak, s.RMS, s.Peak},
			{"mean and rms", 0, s.MeanAbs, s.RMS},
		} {
			if !(c.lo <= c.is*(1+1e-6) && c.is <= c.hi*(1+1e-6)) {
				t.Fatalf("%s of %v is %v, not in %v..%v", c.what, bs, c.is, c.lo, c.hi)
			}
		}
	})
}

// TestBoundsRise: less or more in place of ys keeps a bound on its side.
func TestBoundsRise(t *testing.T) {
	for _, bound := range []func(volts, half, y0, ys float64) float64{
		dcc.PeakAtLeast, dcc.PeakAtMost, dcc.MeanAtLeast, dcc.MeanAtMost, dcc.RMSAtLeast, dcc.RMSAtMost,
	} {
		last := 0.0
		for y := 0.0; y <= 1; y += 1.0 / 4096 {
			is := bound(15, dcc.OneHalf, 2, 2*y)
			if is < last*(1-1e-6) {
				t.Errorf("a bound falls from %v to %v at %v", last, is, y)
			}
			last = is
		}
		near(t, "a resistance", last, 30, 1e-12)
		near(t, "rounding", bound(15, dcc.OneHalf, 2, 2+1e-10), 30, 1e-15)
		for _, bad := range []float64{
			bound(math.NaN(), 1, 1, 1), bound(15, 0, 1, 1), bound(15, 1, 0, 0), bound(15, 1, 1, 2),
			bound(15, 1, 1, -1), bound(15, 1, 1, math.NaN()), bound(15, 1, math.Inf(1), 1),
		} {
			if !math.IsNaN(bad) {
				t.Errorf("nonsense is bounded by %v", bad)
			}
		}
	}
}

// TestBoundsAreTight shows networks that come to the bounds: no larger constant would hold.
func TestBoundsAreTight(t *testing.T) {
	const long = 1e6 // half-bits of a large inductance's time constant
	mix := func(resistive, inductive float64) ([]dcc.Branch, float64, float64) {
		// An inductance alone has a peak of VT/2L.
		r := 2 * dcc.OneHalf / 4 / inductive
		bs := []dcc.Branch{{R: 1 / resistive}, {R: r / dcc.OneHalf / long, L: r}}
		return bs, admittance(bs, 0), admittance(bs, dcc.BoundRate/dcc.OneHalf)
	}
	// The wave from -(√2-1) to 1 of the peak.
	bs, y0, ys := mix(1-1/math.Sqrt2, 1/math.Sqrt2)
	s := dcc.Steady(1, dcc.OneHalf, bs)
	near(t, "least peak", s.Peak, dcc.PeakAtLeast(1, dcc.OneHalf, y0, ys), 1e-5)
	near(t, "least mean", s.MeanAbs, dcc.MeanAtLeast(1, dcc.OneHalf, y0, ys), 1e-5)
	near(t, "least mean of the peak", s.MeanAbs, dcc.MeanOfPeak*s.Peak, 1e-5)
	bs, y0, ys = mix(0.25, 0.75)
	s = dcc.Steady(1, dcc.OneHalf, bs)
	near(t, "least rms", s.RMS, dcc.RMSAtLeast(1, dcc.OneHalf, y0, ys), 1e-5)
	near(t, "least rms of the peak", s.RMS, dcc.RMSOfPeak*s.Peak, 1e-5)

	// A branch alone is the upper bound of the peak, beside one of much inductance a part of it is.
	for _, x := range []float64{2.4, 4, 8, 20} {
		bs := []dcc.Branch{{R: 1, L: dcc.OneHalf / x}}
		near(t, "most peak", dcc.Steady(1, dcc.OneHalf, bs).Peak, dcc.PeakAtMost(1, dcc.OneHalf, 1, x/(x+2)), 1e-9)
	}
	bs = []dcc.Branch{{R: 1, L: dcc.OneHalf / 2.304093}, {R: 1e-3, L: long * dcc.OneHalf}}
	y0, ys = admittance(bs, 0), admittance(bs, dcc.BoundRate/dcc.OneHalf)
	near(t, "most peak", dcc.Steady(1, dcc.OneHalf, bs).Peak, dcc.PeakAtMost(1, dcc.OneHalf, y0, ys), 1e-5)
	for _, x := range []float64{9, 20, 100} {
		bs := []dcc.Branch{{R: 1, L: dcc.OneHalf / x}}
		s := dcc.Steady(1, dcc.OneHalf, bs)
		near(t, "most mean", s.MeanAbs, dcc.MeanAtMost(1, dcc.OneHalf, 1, x/(x+2)), 1e-9)
		near(t, "most rms", s.RMS, dcc.RMSAtMost(1, dcc.OneHalf, 1, x/(x+2)), 1e-9)
	}
}

// TestBoundsWidth says what two admittances are worth: how far apart the bounds lie at most.
func TestBoundsWidth(t *testing.T) {
	peak, mean, rms := 0.0, 0.0, 0.0
	for y := 1e-4; y < 1; y += 1e-4 {
		peak = math.Max(peak, dcc.PeakAtMost(1, 1, 1, y)/dcc.PeakAtLeast(1, 1, 1, y))
		mean = math.Max(mean, dcc.MeanAtMost(1, 1, 1, y)/dcc.MeanAtLeast(1, 1, 1, y))
		rms = math.Max(rms, dcc.RMSAtMost(1, 1, 1, y)/dcc.RMSAtLeast(1, 1, 1, y))
	}
	printed(t, "peak", peak, 1.529, 0.0005)
	printed(t, "mean", mean, 2.50, 0.005)
	printed(t, "rms", rms, 2.18, 0.005)
}

// TestAverageBound: the average of the current over a half-bit is at least V(2Y(c/T)-Y(0)) for c
// of 1.2963 and more, 4/3 among them, and for no less.
func TestAverageBound(t *testing.T) {
	most := 0.0
	for x := 1e-3; x < 1e4; x *= 1.0005 {
		th := math.Tanh(x / 2)
		most = math.Max(most, x*th/(x-th)) // 1 - 2 tanh(x/2)/x = 1 - 2c/(x+c) solved for c
	}
	printed(t, "least c", most, 1.2963, 0.00005)
}
