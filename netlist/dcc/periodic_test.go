package dcc_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gapwise/netlist/dcc"
)

// closed is facts.md section 5's formulas (derived there).
func closed(volts, half float64, b dcc.Branch) dcc.Short {
	x := half * b.R / b.L
	th := math.Tanh(x / 2)
	i := volts / b.R
	return dcc.Short{Peak: i * th, MeanAbs: i * (1 - 2*math.Log1p(th)/x), RMS: i * math.Sqrt(1-2*th/x)}
}

func TestOneBranch(t *testing.T) {
	for _, half := range []float64{dcc.OneHalfMin, dcc.OneHalf, dcc.ZeroHalf, dcc.ZeroHalfMax} {
		for tau := 1e-9; tau < 5e-4; tau *= 1.7 {
			b := dcc.Branch{R: 0.7, L: 0.7 * tau}
			nearShort(t, "half", dcc.Steady(-15, half, []dcc.Branch{b}), closed(15, half, b), 1e-10)
		}
	}
}

// TestEnds: without inductance all is V/R; without resistance the peak is VT/2L, the mean half of
// it and the rms the peak by √3 (facts.md section 5, derived). What comes near either end comes
// near its values.
func TestEnds(t *testing.T) {
	const volts, half = 12.0, dcc.OneHalf
	flat := dcc.Short{Peak: 4, MeanAbs: 4, RMS: 4}
	peak := volts * half / 2 / 1e-4
	saw := dcc.Short{Peak: peak, MeanAbs: peak / 2, RMS: peak / math.Sqrt(3)}
	for _, small := range []float64{0, 1e-320, 1e-300, 1e-40, 1e-22} {
		nearShort(t, "little inductance", dcc.Steady(volts, half, []dcc.Branch{{R: 3, L: small}}), flat, 1e-9)
		nearShort(t, "little resistance", dcc.Steady(volts, half, []dcc.Branch{{R: small, L: 1e-4}}), saw, 1e-9)
	}
	for r := 1e-15; r < 1e-8; r *= 10 {
		nearShort(t, "little resistance", dcc.Steady(volts, half, []dcc.Branch{{R: r, L: 1e-4}}), saw, 1e-8)
	}
	two := []dcc.Branch{{R: 0, L: 2e-4}, {R: 1e-13, L: 2e-4}}
	nearShort(t, "two of little resistance", dcc.Steady(volts, half, two), saw, 1e-9)
}

// TestSplit: one branch in parts that have its time constant is the same short.
func TestSplit(t *testing.T) {
	whole := []dcc.Branch{{R: 0.5, L: 40e-6}}
	parts := []dcc.Branch{{R: 2, L: 160e-6}, {R: 2, L: 160e-6}, {R: 1, L: 80e-6}, {R: math.Inf(1), L: 1}, {R: 1, L: math.Inf(1)}}
	for _, p := range []dcc.Pattern{dcc.Ones, dcc.Zeros, dcc.IdlePacket} {
		nearShort(t, p.String(), dcc.Periodic(15, p.Halves(), parts), dcc.Periodic(15, p.Halves(), whole), 1e-12)
	}
	a, b := dcc.Start(15, dcc.IdlePacket.Halves(), parts), dcc.Start(15, dcc.IdlePacket.Halves(), whole)
	for n := range a {
		nearShort(t, "start", a[n], b[n], 1e-10)
	}
}

func TestNonsense(t *testing.T) {
	good := []dcc.Branch{{R: 1, L: 1e-5}}
	for _, s := range []dcc.Short{
		dcc.Steady(math.NaN(), 58e-6, good),
		dcc.Steady(math.Inf(1), 58e-6, good),
		dcc.Steady(15, 0, good),
		dcc.Steady(15, -1, good),
		dcc.Steady(15, math.Inf(1), good),
		dcc.Steady(15, 58e-6, []dcc.Branch{{R: -1, L: 1e-5}}),
		dcc.Steady(15, 58e-6, []dcc.Branch{{R: 1, L: math.NaN()}}),
		dcc.Periodic(15, nil, good),
		dcc.Periodic(15, []float64{58e-6}, good),
		dcc.Start(15, []float64{58e-6, 0}, good)[0],
	} {
		if !math.IsNaN(s.Peak) || !math.IsNaN(s.MeanAbs) || !math.IsNaN(s.RMS) {
			t.Errorf("nonsense gives %v", s)
		}
	}
	for _, s := range []dcc.Short{
		dcc.Steady(15, 58e-6, []dcc.Branch{{R: 1}, {}}),
		dcc.Periodic(15, []float64{58e-6, 57e-6}, []dcc.Branch{{L: 1e-5}}), // grows with every bit
	} {
		if !math.IsInf(s.Peak, 1) || !math.IsInf(s.MeanAbs, 1) || !math.IsInf(s.RMS, 1) {
			t.Errorf("a current without bounds is %v", s)
		}
	}
	for _, s := range []dcc.Short{dcc.Steady(0, 58e-6, []dcc.Branch{{}}), dcc.Steady(15, 58e-6, nil)} {
		if s != (dcc.Short{}) {
			t.Errorf("no current is %v", s)
		}
	}
}

// TestAgainstSteps follows random sums of branches step by step with the trapezoidal rule, from no
// current (Start) and for as long as it takes to repeat (Periodic); halves may differ.
func TestAgainstSteps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 1))
	for range 12 {
		bs := make([]dcc.Branch, 1+rnd.IntN(5))
		for k := range bs {
			r := 0.1 + 3*rnd.Float64()
			bs[k] = dcc.Branch{R: r, L: r * math.Pow(10, -5+1.3*rnd.Float64())}
			if rnd.IntN(6) == 0 {
				bs[k].L = 0
			}
		}
		halves := make([]float64, 2*(1+rnd.IntN(3)))
		for k := range halves {
			halves[k] = (55 + 60*rnd.Float64()) * 1e-6
		}
		const volts, periods = 15, 24
		var all []float64
		for range periods {
			all = append(all, halves...)
		}
		steps := stepped(volts, all, bs)
		for n, s := range dcc.Start(volts, all[:6], bs[:]) {
			nearShort(t, "start", s, steps[n], 1e-5)
		}
		nearShort(t, "periodic", dcc.Periodic(volts, halves, bs), joined(steps[len(steps)-len(halves):], halves), 1e-5)
	}
}

// joined is one Short of several half-bits.
func joined(parts []dcc.Short, halves []float64) dcc.Short {
	var s dcc.Short
	total := 0.0
	for n, p := range parts {
		s.Peak = math.Max(s.Peak, p.Peak)
		s.MeanAbs += p.MeanAbs * halves[n]
		s.RMS += p.RMS * p.RMS * halves[n]
		total += halves[n]
	}
	return dcc.Short{Peak: s.Peak, MeanAbs: s.MeanAbs / total, RMS: math.Sqrt(s.RMS / total)}
}

// stepped gives each half-bit by 1000 steps of the trapezoidal rule.
func stepped(volts float64, halves []float64, bs []dcc.Branch) []dcc.Short {
	amps := make([]float64, len(bs))
	out := make([]dcc.Short, len(halves))
	for n, half := range halves {
		const steps = 1000
		h := half / steps
		v := volts * float64(1-n%2*2)
		for k, b := range bs {
			if b.L == 0 {
				amps[k] = v / b.R
			}
		}
		was := total(amps)
		s := dcc.Short{Peak: math.Abs(was)}
		for range steps {
			for k, b := range bs {
				if b.L > 0 {
					amps[k] = (amps[k]*(b.L-b.R*h/2) + v*h) / (b.L + b.R*h/2)
				}
			}
			now := total(amps)
			s.Peak = math.Max(s.Peak, math.Abs(now))
			if was*now < 0 {
				s.MeanAbs += (was*was + now*now) / math.Abs(now-was) / 2 / steps
			} else {
				s.MeanAbs += math.Abs(was+now) / 2 / steps
			}
			s.RMS += (was*was + was*now + now*now) / 3 / steps
			was = now
		}
		s.RMS = math.Sqrt(s.RMS)
		out[n] = s
	}
	return out
}

func total(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum
}

// TestWorst: one bits are the weakest for a loop with inductance, and of equal patterns the first
// counts.
func TestWorst(t *testing.T) {
	ones, zeros := 0, 0
	halves := dcc.IdlePacket.Halves()
	for _, h := range halves {
		switch h {
		case dcc.OneHalf:
			ones++
		case dcc.ZeroHalf:
			zeros++
		}
	}
	if ones != 2*31 || zeros != 2*11 || len(halves) != 2*42 {
		t.Errorf("an idle packet of %d, %d, %d halves", ones, zeros, len(halves))
	}
	rnd := rand.New(rand.NewPCG(5, 2))
	for range 40 {
		bs := make([]dcc.Branch, 1+rnd.IntN(4))
		for k := range bs {
			r := 0.1 + 3*rnd.Float64()
			bs[k] = dcc.Branch{R: r, L: r * math.Pow(10, -6.5+3*rnd.Float64())}
		}
		worst, by := dcc.WorstOfEach(15, bs)
		nearShort(t, "worst", worst, dcc.Steady(15, dcc.OneHalf, bs), 1e-9)
		if by != (dcc.By{}) {
			t.Errorf("%v is weakest under %v", bs, by)
		}
		for _, p := range []dcc.Pattern{dcc.Ones, dcc.Zeros, dcc.IdlePacket} {
			s := dcc.Periodic(15, p.Halves(), bs)
			if s.Peak < worst.Peak*(1-1e-9) || s.MeanAbs < worst.MeanAbs*(1-1e-9) || s.RMS < worst.RMS*(1-1e-9) {
				t.Errorf("%v under %v is %v, less than %v", bs, p, s, worst)
			}
		}
	}
	for r := 0.1; r < 3; r += 0.1 {
		if _, p := dcc.Worst(15, []dcc.Branch{{R: r}, {R: 2 * r}, {R: 1, L: 1e-15}}); p != dcc.Ones {
			t.Errorf("resistances of %v and more are weakest under %v", r, p)
		}
	}
}

// TestFirstHalves: from no current a short without resistance climbs to twice its steady peak in
// the first half-bit, and back to none in the second.
func TestFirstHalves(t *testing.T) {
	s := dcc.Start(15, []float64{58e-6, 58e-6}, []dcc.Branch{{L: 58e-6}})
	for n := range s {
		nearShort(t, "half", s[n], dcc.Short{Peak: 15, MeanAbs: 7.5, RMS: 15 / math.Sqrt(3)}, 1e-12)
	}
}

// TestSteps are facts.md W18 and W19, LEC ch. 16, as printed.
func TestSteps(t *testing.T) {
	printed(t, "W18", dcc.Branch{R: 1, L: 1}.Step(15, 3.5), 14.547, 0.0005)
	printed(t, "W19", dcc.Snubber{Ohms: 10e3, Farads: 100e-6}.Step(15, 7.25), 14.989, 0.0005)
}

// TestAnything: no input makes the currents panic, or less than nothing.
func TestAnything(t *testing.T) {
	odd := []float64{0, -1, 1, 1e-320, 1e-200, 1e-30, 1e-6, 58e-6, 1e6, 1e200, 1e308, math.Inf(1), math.Inf(-1), math.NaN()}
	rnd := rand.New(rand.NewPCG(5, 9))
	one := func() float64 { return odd[rnd.IntN(len(odd))] }
	for range 3000 {
		bs := make([]dcc.Branch, rnd.IntN(4))
		for k := range bs {
			bs[k] = dcc.Branch{R: one(), L: one()}
		}
		halves := make([]float64, rnd.IntN(5))
		for k := range halves {
			halves[k] = one()
		}
		for _, s := range append(dcc.Start(one(), halves, bs), dcc.Periodic(one(), halves, bs)) {
			if s.Peak < 0 || s.MeanAbs < 0 || s.RMS < 0 {
				t.Fatalf("%v under %v is %v", bs, halves, s)
			}
		}
	}
}

// BenchmarkWorst is one deciding point of a layout.
func BenchmarkWorst(b *testing.B) {
	bs := make([]dcc.Branch, 16)
	for k := range bs {
		bs[k] = dcc.Branch{R: 1 + float64(k), L: 1e-5 * float64(1+k*k)}
	}
	for b.Loop() {
		dcc.Worst(15, bs)
	}
}
