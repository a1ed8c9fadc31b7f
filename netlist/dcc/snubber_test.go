package dcc_test

import (
	"math"
	"testing"

	"gapwise/netlist/dcc"
)

// TestSnubberHeat is facts.md section 6 (derived there; 15 V with a circuit simulator).
func TestSnubberHeat(t *testing.T) {
	s := dcc.Snubber{Ohms: 100, Farads: 0.1e-6}
	printed(t, "12 V", s.Watts(12, dcc.OneHalf), 0.494, 0.0005)
	printed(t, "15 V", s.Watts(15, dcc.OneHalf), 0.7712, 0.00005)
	printed(t, "18 V", s.Watts(18, dcc.OneHalf), 1.110, 0.0005)
	printed(t, "22 V", s.Watts(22, dcc.OneHalf), 1.659, 0.0005)
	printed(t, "15 V, zeros", s.Watts(15, dcc.ZeroHalf), 0.450, 0.0005)
	printed(t, "no ohms", dcc.Snubber{Farads: 0.1e-6}.Watts(15, dcc.OneHalf), 0.776, 0.0005)
	printed(t, "no farads", dcc.Snubber{Ohms: 100}.Watts(15, dcc.OneHalf), 0, 0)
	printed(t, "so many ohms that nothing is filled", dcc.Snubber{Ohms: 1e9, Farads: 1e-6}.Watts(15, dcc.OneHalf), 15*15/1e9, 1e-12)
}

// TestCapacitiveCurrent is facts.md section 7 (derived there; the snubber with a simulator).
func TestCapacitiveCurrent(t *testing.T) {
	nano := dcc.Snubber{Farads: 1e-9}
	printed(t, "mA per nF", nano.MeanAmps(15, dcc.OneHalf)*1e3, 0.5172, 0.00005)
	printed(t, "nF like an axle of 15 kΩ", 15/15e3/nano.MeanAmps(15, dcc.OneHalf), 1.933, 0.0005)
	printed(t, "nF like 100 kΩ", 15/100e3/nano.MeanAmps(15, dcc.OneHalf), 0.290, 0.0005)
	for _, pair := range []struct{ diameter, spacing, nano, milliamps float64 }{{1.6277, 0.125, 1.975, 1.021}, {0.6438, 0.062, 1.648, 0.853}} {
		c := dcc.Snubber{Farads: 30.48 * math.Pi * 3 * 8.8542e-12 / math.Acosh(pair.spacing*25.4/pair.diameter)}
		printed(t, "100 ft of pair, nF", c.Farads*1e9, pair.nano, 0.0005)
		printed(t, "100 ft of pair, mA", c.MeanAmps(-15, dcc.OneHalf)*1e3, pair.milliamps, 0.0005)
	}
	printed(t, "snubber, mA", dcc.Snubber{Ohms: 100, Farads: 0.1e-6}.MeanAmps(15, dcc.OneHalf)*1e3, 51.4, 0.05)
}

// TestSnubberSteps: heat and current of a snubber, followed step by step.
func TestSnubberSteps(t *testing.T) {
	s := dcc.Snubber{Ohms: 330, Farads: 47e-9}
	const steps, volts = 20000, 15.0
	h := dcc.OneHalf / steps
	filled, watts, amps := 0.0, 0.0, 0.0
	for n := range 12 {
		v := volts * float64(1-n%2*2)
		watts, amps = 0, 0
		for range steps {
			next := (filled*(s.Ohms*s.Farads-h/2) + v*h) / (s.Ohms*s.Farads + h/2)
			i := s.Farads * (next - filled) / h
			watts += i * i * s.Ohms / steps
			amps += math.Abs(i) / steps
			filled = next
		}
	}
	near(t, "watts", s.Watts(volts, dcc.OneHalf), watts, 1e-4)
	near(t, "amps", s.MeanAmps(volts, dcc.OneHalf), amps, 1e-4)
	near(t, "no ohms", dcc.Snubber{Farads: 1e-9}.Step(9, 1), 9, 0)
}

// TestRinging: a pair of 14 AWG wires 4 in apart, its L' and C' from facts.md section 5 (µ0/π
// acosh(D/d) and L'C' = µ0ε of air). Waves go at the speed of light there.
func TestRinging(t *testing.T) {
	a := math.Acosh(4 * 25.4 / 1.6277)
	p := dcc.Pair{Henries: 4e-7 * a, Farads: math.Pi * 8.8542e-12 / a}
	near(t, "surge ohms", p.SurgeOhms(), 119.917*a, 1e-4) // √(µ0/ε0)/π
	near(t, "travel", p.TravelSeconds(299.792458), 1e-6, 1e-5)
	near(t, "slowest edge", dcc.EdgeSeconds(15, dcc.Slew), 12.5e-6, 1e-12)
	near(t, "length", p.RingsFrom(0.3e-6), 14.99, 1e-3)
	if p.RingsFrom(dcc.EdgeSeconds(-8.5, dcc.Slew)) < 300 {
		t.Error("the slowest edge rings on a layout")
	}
	// Ten metres of cord in PVC, 0.6 of the speed of light, is where 30 ft of common practice lies.
	cord := dcc.Pair{Henries: 0.55e-6, Farads: 55e-12}
	if l := cord.RingsFrom(dcc.FastEdge); l < 8 || l > 11 {
		t.Errorf("cord rings from %v m", l)
	}
}

func TestTerminate(t *testing.T) {
	for _, c := range []struct{ surge, volts, ohms, farads, watts, rating float64 }{
		{100, 15, 100, 100e-9, 0.771, 2}, // a part of 1/2 W is undersized at 15 V: facts.md section 6
		{60, 12, 100, 100e-9, 0.494, 1},
		{128, 18, 120, 100e-9, 1.100, 3},
		{579, 15, 560, 15e-9, 0.116, 0.25},
		{5000, 22, 680, 15e-9, 0.249, 0.5},
		{100, 100, 100, 100e-9, 34.27, math.NaN()},
	} {
		x := dcc.Terminate(c.surge, c.volts)
		if x.Ohms != c.ohms || x.Farads != c.farads || x.Rating != c.rating && !(math.IsNaN(x.Rating) && math.IsNaN(c.rating)) {
			t.Errorf("for %v ohms at %v V: %+v", c.surge, c.volts, x)
		}
		printed(t, "watts", x.Watts, c.watts, 0.005)
		if rc := x.Ohms * x.Farads; rc < 7e-6 || rc > 13e-6 {
			t.Errorf("%v ohms and %v farads make %v s", x.Ohms, x.Farads, rc)
		}
	}
	for _, x := range []dcc.Terminator{dcc.Terminate(0, 15), dcc.Terminate(math.NaN(), 15), dcc.Terminate(100, math.NaN())} {
		if !math.IsNaN(x.Ohms) || !math.IsNaN(x.Watts) || !math.IsNaN(x.Rating) {
			t.Errorf("nonsense is terminated by %+v", x)
		}
	}
	if r := dcc.Rating(math.NaN()); !math.IsNaN(r) {
		t.Error("heat unknown is rated", r)
	}
}
