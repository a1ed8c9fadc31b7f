package conductor

import (
	"fmt"
	"math"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

func apart(metres float64) layout.Laid {
	return layout.Laid{Kind: layout.LaidApart, Spacing: quantity.Length{Value: quantity.Exact(metres)}}
}

var twisted = layout.Laid{Kind: layout.LaidTwisted}

// Facts section 5, derived: six pairs of solid wire, external inductance, resistance, time
// constant and final current at 15 V.
func TestSixPairs(t *testing.T) {
	for i, r := range []struct {
		feet               float64
		gauge              int
		inches             float64
		uh, ohms, us, amps string
	}{
		{100, 14, 4, "58.850", "0.50507", "116.518", "29.699"},
		{100, 14, 0.125, "15.703", "0.50507", "31.090", "29.699"},
		{50, 14, 4, "29.425", "0.25254", "116.518", "59.397"},
		{30, 14, 1, "12.581", "0.15152", "83.031", "98.995"},
		{100, 12, 4, "56.022", "0.31764", "176.369", "47.223"},
		{50, 12, 0.15, "7.496", "0.15882", "47.198", "94.445"},
	} {
		what := fmt.Sprint("row ", i+1)
		w := awg(r.gauge)
		henries := PairInductance(WireDiameter(w), r.inches*inch) * r.feet * foot
		ohms := WireOhms(w, room20).Times(2 * r.feet * foot).Lo
		agrees(t, what+" uH", henries*1e6, r.uh)
		agrees(t, what+" ohm", ohms, r.ohms)
		agrees(t, what+" us", henries/ohms*1e6, r.us)
		agrees(t, what+" A", 15/ohms, r.amps)
		laid := LaidInductance(w, apart(r.inches*inch)).Times(r.feet * foot)
		if !laid.Contains(henries) {
			t.Errorf("%s: %v not in %v", what, henries, laid)
		}
	}
}

// T9: NEC ch. 9 table 9, 14 AWG in PVC conduit, 0.058 ohm/kft at 60 Hz: 0.1538 uH/ft of
// conductor, 30.8 uH for 100 ft of pair. Wires that lie loose in a conduit are between
// touching and an inch apart.
func TestTable9(t *testing.T) {
	henries := 0.058e-3 / (2 * math.Pi * 60) // a foot of conductor
	agrees(t, "T9 uH/ft", henries*1e6, "0.1538")
	agrees(t, "T9 uH per 100 ft of pair", henries*200*1e6, "30.8")
	perMetre := 2 * henries / foot
	touching, inchApart := LaidInductance(awg(14), twisted), LaidInductance(awg(14), apart(inch))
	if perMetre < touching.Lo || perMetre > inchApart.Hi {
		t.Errorf("T9 %v, touching %v, 1 in apart %v", perMetre, touching, inchApart)
	}
}

// Facts section 7, derived: 100 ft of pair in insulation of permittivity 3, and the current
// that charges it under 15 V at 8620.7 Hz, 4 V C f.
func TestPairCapacitance(t *testing.T) {
	for _, r := range []struct {
		gauge  int
		inches float64
		nf, ma string
	}{{14, 0.125, "1.975", "1.021"}, {22, 0.062, "1.648", "0.853"}} {
		c := PairCapacitance(WireDiameter(awg(r.gauge)), r.inches*inch, 3) * 100 * foot
		agrees(t, "nF", c*1e9, r.nf)
		agrees(t, "mA", 4*15*c*8620.7*1e3, r.ma)
		if laid := LaidCapacitance(awg(r.gauge), twisted).Times(100 * foot); !laid.Contains(c) {
			t.Errorf("%d AWG: %v not in %v", r.gauge, c, laid)
		}
	}
}

func TestInternalInductance(t *testing.T) {
	within(t, "mu0/(4 pi)", InternalInductance, mu0/(4*math.Pi), 1e-12)
	if l := PairInductance(2e-3, 1e-3); l != 0 {
		t.Errorf("overlapping wires: %v", l)
	}
	if c := PairCapacitance(2e-3, 2e-3, 3); !math.IsInf(c, 1) {
		t.Errorf("bare wires that touch: %v", c)
	}
}

func TestLaidSpacing(t *testing.T) {
	w := awg(14)
	insulated := InsulatedDiameter(w)
	for _, c := range []struct {
		laid  layout.Laid
		want  Range
		known bool
	}{
		{twisted, insulated, true},
		{apart(0.1), Exact(0.1), true},
		{apart(1e-5), Exact(insulated.Lo), true},
		{layout.Laid{}, Range{insulated.Lo, 1}, false},
		{layout.Laid{Kind: layout.LaidUnknown}, Range{insulated.Lo, 1}, false},
		{layout.Laid{Kind: layout.LaidApart}, Range{insulated.Lo, 1}, false},
	} {
		if got, known := LaidSpacing(w, c.laid); got != c.want || known != c.known {
			t.Errorf("%+v: %v %v", c.laid, got, known)
		}
	}
	unknown := LaidInductance(w, layout.Laid{})
	for _, laid := range []layout.Laid{twisted, apart(0.05), apart(1)} {
		if l := LaidInductance(w, laid); unknown.with(l) != unknown {
			t.Errorf("%+v: %v outside %v", laid, l, unknown)
		}
		if l := LaidInductance(w, laid); LoopInductance(w) < l.Hi {
			t.Errorf("%+v: %v over a loop of unknown width", laid, l)
		}
	}
}

// RP151: NMRA RP-15.1 table 1, height, base and head in inches.
func TestRailSection(t *testing.T) {
	for _, r := range []struct {
		code               int
		height, base, head float64
	}{{100, .100, .090, .045}, {83, .083, .080, .040}, {70, .070, .070, .035}} {
		h := heightOf(r.code)
		within(t, "height", h.Mid(), r.height*inch, 1e-12)
		head := Range{h.Lo * headShare.Lo, h.Hi * headShare.Hi}
		if x := r.head * inch; x < head.Lo*(1-1e-9) || x > head.Hi*(1+1e-9) {
			t.Errorf("code %d: head %v not in %v", r.code, x, head)
		}
		// The round wire that a rail acts like is neither thinner than its head nor thicker
		// than the round that its height and base fit in.
		if d := h.Mid() * roundShare.Lo; d < r.head*inch {
			t.Errorf("code %d: round %v", r.code, d)
		}
		if d := h.Mid() * roundShare.Hi; d > math.Hypot(r.height, r.base)*inch {
			t.Errorf("code %d: round %v", r.code, d)
		}
	}
}

// A pair of rails: the wider the gauge the more inductance and the less capacitance; a scale
// or code that is not said holds all of them.
func TestRailPair(t *testing.T) {
	unknown, unknownC := RailPairInductance("", 0), RailPairCapacitance("", 0)
	var last, lastC Range
	for i, scale := range []string{"Z", "N", "TT", "HO", "S", "O", "large"} {
		l, c := RailPairInductance(scale, 83), RailPairCapacitance(scale, 83)
		if i > 0 && (l.Lo <= last.Lo || l.Hi <= last.Hi || c.Lo >= lastC.Lo || c.Hi >= lastC.Hi) {
			t.Errorf("%s: %v %v after %v %v", scale, l, c, last, lastC)
		}
		last, lastC = l, c
		if unknown.with(l) != unknown || unknownC.with(c) != unknownC {
			t.Errorf("%s: %v %v outside %v %v", scale, l, c, unknown, unknownC)
		}
	}
	if RailPairInductance("OO", 100) != RailPairInductance("HO", 100) {
		t.Error("OO runs on HO's gauge")
	}
	// By hand: 16.5 mm and a head of 1.2 mm over a round of 2 mm, 0.4 uH/m acosh(8.85).
	if l := RailPairInductance("HO", 100); !l.Contains(0.4e-6 * math.Log(2*8.85)) {
		t.Errorf("HO code 100: %v", l)
	}
}
