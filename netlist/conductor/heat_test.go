package conductor

import (
	"math"
	"testing"

	"gapwise/netlist/quantity"
)

// steadyAmps is the current at which a wire settles at a temperature, in air at 30 °C.
func steadyAmps(w quantity.Wire, celsius float64) float64 {
	lo, hi := 0.0, 200.0
	for range 50 {
		if m := (lo + hi) / 2; SteadyCelsius(w, m, 30, false) > celsius {
			hi = m
		} else {
			lo = m
		}
	}
	return lo
}

// LEC ch. 12: amperes in free air at 30 °C that insulation for 60 and for 90 °C bears. Seven of
// the twelve are the tables' own, those of 20 to 16 AWG but for 18 and 16 at 90 °C the book's
// estimates. The heat balance comes within 25 % of each.
func TestAmpacityAgainstHeat(t *testing.T) {
	for _, r := range []struct {
		gauge  int
		at60   float64
		at90   float64
		source string
	}{
		{10, 40, 55, bookAmps},
		{12, 30, 40, bookAmps},
		{14, 25, 35, bookAmps},
		{16, 18, 24, bookEstimate},
		{18, 13, 18, bookEstimate},
		{20, 9, 12.5, bookEstimate},
	} {
		w := awg(r.gauge)
		got60, got90 := steadyAmps(w, 60), steadyAmps(w, 90)
		t.Logf("%v: 60 °C %.1f A, printed %v (%+.0f %%); 90 °C %.1f A, printed %v (%+.0f %%)", w,
			got60, r.at60, 100*(got60/r.at60-1), got90, r.at90, 100*(got90/r.at90-1))
		within(t, w.String()+" at 60 °C", got60, r.at60, 0.25)
		within(t, w.String()+" at 90 °C", got90, r.at90, 0.25)
		amps, limit, source := Ampacity(w)
		if amps != Exact(r.at60) || limit != 60 || source != r.source {
			t.Errorf("%v: %v A at %v °C, %s", w, amps, limit, source)
		}
	}
}

// Below 20 AWG: 22 AWG 3-5 A, 24 AWG 2-3 A, 26 AWG 1-2 A, common practice, no source. They
// keep clear of what the heat balance allows one wire in free air.
func TestSmallWireAmpacity(t *testing.T) {
	for _, r := range []struct {
		gauge  int
		amps   Range
		source string
	}{
		{21, Range{3, 5}, thumb},
		{22, Range{3, 5}, thumb},
		{24, Range{2, 3}, thumb},
		{26, Range{1, 2}, thumb},
	} {
		amps, _, source := Ampacity(awg(r.gauge))
		if amps != r.amps || source != r.source {
			t.Errorf("%d AWG: %v %s", r.gauge, amps, source)
		}
		if steady := steadyAmps(awg(r.gauge), 60); steady < amps.Hi {
			t.Errorf("%d AWG: %v A by heat", r.gauge, steady)
		}
	}
	amps, _, source := Ampacity(awg(30))
	if source != thumbScaled || amps.Hi <= 0.9 || amps.Hi >= 1.1 {
		t.Errorf("30 AWG: %v %s", amps, source)
	}
	if amps, _, source := Ampacity(awg(4)); amps != Exact(40) || source != bookBeyond {
		t.Errorf("4 AWG: %v %s", amps, source)
	}
	span := quantity.Wire{Value: quantity.Value{Lo: quantity.AWGArea(22), Hi: quantity.AWGArea(14), State: quantity.Known}}
	if amps, _, source := Ampacity(span); amps != (Range{3, 25}) || source != thumb {
		t.Errorf("22 .. 14 AWG: %v %s", amps, source)
	}
}

// What cannot settle below copper's melting point says so, and so does a current that is
// no number.
func TestSteadyAtTheEnds(t *testing.T) {
	for _, c := range []struct{ amps, want float64 }{{0, 25}, {1000, copperMelts}, {math.Inf(1), copperMelts}, {math.NaN(), copperMelts}} {
		if got := SteadyCelsius(awg(24), c.amps, 25, true); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%v A: %v", c.amps, got)
		}
	}
}

// A textbook's worked example (from memory): a horizontal steam pipe of 0.1 m at 165 °C in air
// at 23 °C has a Nusselt number of 23.3, with air of 0.0313 W per metre and kelvin. By hand, for a
// cylinder of 2 mm, 40 K above air at 280 K: Rayleigh number 29.3, Nusselt number 1.356.
func TestConvection(t *testing.T) {
	within(t, "pipe", convection(0.1, 165, 23), 23.3*0.0313/0.1, 0.02)
	within(t, "wire", convection(2e-3, 320-kelvin, 280-kelvin), 1.356*0.0263/2e-3, 0.005)
}

// By hand: a string around two circles of 2 mm is 10.28 mm long; a surface at 60 °C in a room
// at 30 °C radiates 197.65 W per square metre with emissivity 0.9.
func TestSurface(t *testing.T) {
	pair := surfaceOf(2e-3, true)
	agrees(t, "mm around a pair", pair.perimeter*1e3, "10.28")
	agrees(t, "mm around one", surfaceOf(2e-3, false).perimeter*1e3, "6.28")
	if pair.wires != 2 {
		t.Errorf("a pair has %v wires", pair.wires)
	}
	radiated := pair.loss(60, 30)/pair.perimeter - 30*convection(pair.perimeter/math.Pi, 60, 30)
	agrees(t, "W per m2 radiated", radiated, "197.65")
}
