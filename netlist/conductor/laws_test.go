package conductor

import (
	"math"
	"testing"

	"gapwise/netlist/quantity"
	"pgregory.net/rapid"
)

func drawRange(t *rapid.T, label string, lo, hi float64) Range {
	a := rapid.Float64Range(lo, hi).Draw(t, label)
	b := rapid.Float64Range(lo, hi).Draw(t, label)
	return Range{min(a, b), max(a, b)}
}

// inside draws a number of a range.
func inside(t *rapid.T, label string, r Range) float64 {
	f := rapid.Float64Range(0, 1).Draw(t, label)
	return min(r.Hi, max(r.Lo, r.Lo+f*(r.Hi-r.Lo)))
}

// roughly allows for the last digits.
func roughly(r Range, v float64) bool {
	slack := 1e-12 * max(math.Abs(r.Lo), math.Abs(r.Hi))
	return Range{r.Lo - slack, r.Hi + slack}.Contains(v)
}

// area draws a cross-section that a layout may name, as likely small as large.
func area(t *rapid.T, label string) float64 {
	return math.Exp(rapid.Float64Range(math.Log(5e-9), math.Log(1.2e-4)).Draw(t, label))
}

func drawWire(t *rapid.T) quantity.Wire {
	if rapid.Bool().Draw(t, "awg") {
		return awg(rapid.IntRange(quantity.ThickestAWG, quantity.ThinnestAWG).Draw(t, "gauge"))
	}
	a, b := area(t, "area"), area(t, "area")
	switch rapid.IntRange(0, 3).Draw(t, "ends") {
	case 0:
		b = a
	case 1:
		b = quantity.AWGArea(rapid.IntRange(quantity.ThickestAWG, quantity.ThinnestAWG).Draw(t, "one end"))
	}
	return quantity.Wire{Value: quantity.Value{Lo: min(a, b), Hi: max(a, b), State: quantity.Known}}
}

func TestRangeContainsTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := drawRange(t, "r", -10, 10), drawRange(t, "s", -10, 10)
		x, y := inside(t, "x", r), inside(t, "y", s)
		f := rapid.Float64Range(-5, 5).Draw(t, "factor")
		for what, ok := range map[string]bool{
			"sum": roughly(r.Plus(s), x+y), "times": roughly(r.Times(f), f*x), "product": roughly(r.by(s), x*y),
			"both": r.with(s).Contains(x) && r.with(s).Contains(y), "middle": roughly(r, r.Mid()), "exact": Exact(x).Contains(x),
		} {
			if !ok {
				t.Fatalf("%s of %v in %v and %v in %v", what, x, r, y, s)
			}
		}
	})
}

// Whatever size and temperature the wire turns out to have, solid or stranded, its resistance
// is in the range.
func TestWireOhmsContainTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, celsius := drawWire(t), drawRange(t, "celsius", -60, 100)
		got := WireOhms(w, celsius)
		s := inside(t, "area", Range{w.Lo, w.Hi})
		lay := fineAllowance(s)
		if isAWG(w.Lo) && isAWG(w.Hi) {
			lay = strandedAWG
		}
		stranded := inside(t, "lay", Range{1, lay})
		truth := perMetre(CopperResistivity(inside(t, "temperature", celsius)), s) * stranded
		if !(got.Lo <= truth*(1+1e-12) && truth <= got.Hi*(1+1e-12)) {
			t.Fatalf("%v not in %v", truth, got)
		}
	})
}

// Thicker is never more, hotter is always more.
func TestWireOhmsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius := rapid.Float64Range(-60, 300).Draw(t, "celsius")
		a, b := area(t, "area"), area(t, "area")
		thin, thick := metric(min(a, b)*1e6), metric(max(a, b)*1e6)
		if x, y := WireOhms(thin, Exact(celsius)), WireOhms(thick, Exact(celsius)); x.Lo < y.Lo || x.Hi < y.Hi {
			t.Fatalf("%v %v, %v %v", thin.Lo, x, thick.Lo, y)
		}
		n := rapid.IntRange(quantity.ThickestAWG, quantity.ThinnestAWG-1).Draw(t, "gauge")
		if x, y := WireOhms(awg(n), Exact(celsius)), WireOhms(awg(n+1), Exact(celsius)); x.Hi >= y.Lo {
			t.Fatalf("%d AWG %v, next %v", n, x, y)
		}
		w := drawWire(t)
		if x, y := WireOhms(w, Exact(celsius)), WireOhms(w, Exact(celsius+1)); x.Lo >= y.Lo || x.Hi >= y.Hi {
			t.Fatalf("%v at %v °C, then %v", x, celsius, y)
		}
	})
}

// Warmer rail has more, and a wider room holds a narrower one.
func TestRailOhmsContainTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(metals).Draw(t, "metal").name
		code := rapid.IntRange(25, 350).Draw(t, "code")
		celsius := drawRange(t, "celsius", -60, 100)
		one := inside(t, "temperature", celsius)
		wide, _ := RailOhms(code, m, celsius)
		narrow, ok := RailOhms(code, m, Exact(one))
		if !ok || wide.Lo > narrow.Lo*(1+1e-12) || wide.Hi < narrow.Hi*(1-1e-12) {
			t.Fatalf("code %d %s: %v, at %v °C %v", code, m, wide, one, narrow)
		}
		if hotter, _ := RailOhms(code, m, Exact(one+10)); hotter.Lo <= narrow.Lo || hotter.Hi <= narrow.Hi {
			t.Fatalf("code %d %s: %v, hotter %v", code, m, narrow, hotter)
		}
	})
}

// L'C' = mu0 eps for any pair; wider apart is more L, less C.
func TestPairIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := math.Exp(rapid.Float64Range(math.Log(8e-5), math.Log(1.2e-2)).Draw(t, "diameter"))
		ratio := rapid.Float64Range(1.01, 1000).Draw(t, "ratio")
		epsilon := rapid.Float64Range(1, 4).Draw(t, "epsilon")
		l, c := PairInductance(d, ratio*d), PairCapacitance(d, ratio*d, epsilon)
		if want := mu0 * eps0 * epsilon; math.Abs(l*c/want-1) > 1e-9 {
			t.Fatalf("%v, want %v", l*c, want)
		}
		if PairInductance(d, 1.1*ratio*d) <= l || PairCapacitance(d, 1.1*ratio*d, epsilon) >= c {
			t.Fatal("wider apart")
		}
		if slow := slowInductance(d, ratio*d); slow < l+InternalInductance*(1-1e-12) || slow > l+InternalInductance+0.4e-6*math.Ln2 {
			t.Fatalf("%v slow, %v fast", slow, l)
		}
	})
}

// Any wire laid in any way: finite, in order, and the range holds what lies within it.
func TestLaidContainsTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWire(t)
		laid := apart(math.Exp(rapid.Float64Range(math.Log(1e-5), math.Log(1e3)).Draw(t, "spacing")))
		if rapid.Bool().Draw(t, "twisted") {
			laid = twisted
		}
		l, c := LaidInductance(w, laid), LaidCapacitance(w, laid)
		if !(l.Lo > 0 && l.Lo <= l.Hi && l.Hi < 1e-5) || !(c.Lo > 0 && c.Lo <= c.Hi && c.Hi < 1e-9) {
			t.Fatalf("L %v, C %v", l, c)
		}
		d, s := WireDiameter(w), max(laid.Spacing.Lo, WireDiameter(w)+2*(thickWall+wallShare*WireDiameter(w)))
		if laid == twisted || laid.Spacing.Lo >= s {
			if ext := PairInductance(d, s); ext < l.Lo || ext > l.Hi {
				t.Fatalf("%v not in %v", ext, l)
			}
		}
	})
}

// More current, warmer air, thinner wire and a neighbour each make it hotter, and where it
// settles the heat it makes leaves it.
func TestSteadyMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(10, 30).Draw(t, "gauge")
		amps := rapid.Float64Range(0.1, 6).Draw(t, "amps")
		ambient := rapid.Float64Range(-20, 50).Draw(t, "ambient")
		pair := rapid.Bool().Draw(t, "pair")
		got := SteadyCelsius(awg(n), amps, ambient, pair)
		if got >= copperMelts-1 {
			return
		}
		for what, hotter := range map[string]float64{
			"more current": SteadyCelsius(awg(n), amps*1.01, ambient, pair),
			"warmer air":   SteadyCelsius(awg(n), amps, ambient+1, pair),
			"thinner":      SteadyCelsius(awg(n+1), amps, ambient, pair),
		} {
			if hotter <= got {
				t.Fatalf("%d AWG, %v A: %v, %s %v", n, amps, got, what, hotter)
			}
		}
		alone, together := SteadyCelsius(awg(n), amps, ambient, false), SteadyCelsius(awg(n), amps, ambient, true)
		if together <= alone || alone <= ambient {
			t.Fatalf("air %v, alone %v, together %v", ambient, alone, together)
		}
		wires := 1.0
		if pair {
			wires = 2
		}
		made := wires * amps * amps * WireOhms(awg(n), Exact(got)).Hi
		if lost := surfaceOf(InsulatedDiameter(awg(n)).Lo, pair).loss(got, ambient); math.Abs(lost/made-1) > 1e-6 {
			t.Fatalf("makes %v W/m, loses %v", made, lost)
		}
	})
}

// A thicker wire never carries less, and the seconds that it bears a fault hold (k S)^2 = I^2 t.
func TestAmpacityMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := area(t, "area"), area(t, "area")
		thin, _, _ := Ampacity(metric(min(a, b) * 1e6))
		thick, _, _ := Ampacity(metric(max(a, b) * 1e6))
		if thin.Lo <= 0 || thin.Lo > thick.Lo || thin.Hi > thick.Hi {
			t.Fatalf("%v, thicker %v", thin, thick)
		}
		amps := rapid.Float64Range(0.1, 100).Draw(t, "amps")
		s, valid := AdiabaticSeconds(a, amps, KPVC)
		if valid != (s <= 5) || math.Abs(amps*amps*s/math.Pow(KPVC*a*1e6, 2)-1) > 1e-9 {
			t.Fatalf("%v s, %v", s, valid)
		}
	})
}

// A gap moves in proportion to the rail's length; what is added in time adds up.
func TestGapChangeLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dT, dRH := rapid.Float64Range(-40, 40).Draw(t, "dT"), rapid.Float64Range(-60, 60).Draw(t, "dRH")
		length := rapid.Float64Range(0, 50).Draw(t, "length")
		change := func(l, dT, dRH float64) float64 {
			return GapChange(l, 16.7e-6, BaseExpansion.Mid(), dT, BaseHumidity.Mid(), dRH)
		}
		if d := change(2*length, dT, dRH) - 2*change(length, dT, dRH); math.Abs(d) > 1e-12 {
			t.Fatalf("twice the length: %v off", d)
		}
		if d := change(length, dT, dRH) - change(length, dT, 0) - change(length, 0, dRH); math.Abs(d) > 1e-12 {
			t.Fatalf("heat and humidity: %v off", d)
		}
		if change(1, 1, 0) >= 0 || change(1, 0, 1) <= 0 {
			t.Fatal("warmth closes, humidity opens")
		}
	})
}
