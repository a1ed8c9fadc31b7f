package gauge

import (
	"math"
	"strings"
	"testing"

	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// ideal is a run from a source of no resistance into a dead short, of solid copper at one temperature, judged by loss alone.
func ideal(volts, amps, metres, celsius float64) *single {
	return &single{
		volts: conductor.Exact(volts), celsius: conductor.Exact(celsius), length: conductor.Exact(metres),
		amps: amps, most: math.Inf(1), strands: Solid, beside: 1,
		laid: layout.Laid{Kind: layout.LaidTwisted},
	}
}

// at20 is copper's temperature of facts.md's derived rows.
const at20 = 20.0

// warmAs is the temperature at which copper has a resistivity in ohm metres.
func warmAs(resistivity float64) float64 {
	return at20 + (resistivity/conductor.CopperResistivity(at20)-1)/(conductor.CopperResistivity(at20+1)/conductor.CopperResistivity(at20)-1)
}

// copper is solid wire of a cross-section in square metres, with no allowance of a standard.
func copper(area float64) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(area), HasGauge: true}
}

func awg(n int) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
}

func round(diameter float64) quantity.Wire { return copper(math.Pi / 4 * diameter * diameter) }

const circularMil = 5.067075e-10 // square metres

// printed compares with a printed figure, to half a unit of its last digit.
func printed(t *testing.T, what string, got, want, half float64) {
	t.Helper()
	if !(math.Abs(got-want) <= half*(1+1e-9)) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

// TestPublishedLosses are worked examples of facts.md section 9 with the source's own figures.
func TestPublishedLosses(t *testing.T) {
	// W8, D.C. Distribution 13.2: the taps' moments, 32700 A m, as one tap of 220 A; 1.164 cm² for 10 V
	s := ideal(240, 220, 32700.0/220, warmAs(1.78e-8))
	printed(t, "W8", s.row(copper(1.164e-4)).Drop, 10, 0.005)

	// W12, voltage drop example 1: 4.99 Ω/kft is NEC chapter 9 table 8, 75 °C, stranded. Our allowance for strands is the largest
	// of that table, so that 3.992 V and 16.63 % come out as 4.008 and 16.7.
	s = ideal(24, 4, 100*foot, 75)
	s.strands = Stranded
	r := s.row(awg(16))
	printed(t, "W12, V", r.Drop, 4.0, 0.05)
	printed(t, "W12, %", 100*r.DropPart, 16.7, 0.05)

	// W13, voltage drop example 2: K = 12.9 Ω cmil/ft
	s = ideal(120, 20, 100*foot, warmAs(12.9*circularMil/foot))
	for _, c := range []struct{ cmil, volts, percent float64 }{{6530, 7.9, 6.6}, {16510, 3.1, 2.6}} {
		r := s.row(copper(c.cmil * circularMil))
		printed(t, "W13, V", r.Drop, c.volts, 0.05)
		printed(t, "W13, %", 100*r.DropPart, c.percent, 0.05)
	}

	// W14, Lessons in Electric Circuits ch. 12: 10.09 Ω cmil/ft, 116,035 cmil lose 10 V at 25 A over 2300 ft each way
	s = ideal(230, 25, 2300*foot, warmAs(10.09*circularMil/foot))
	printed(t, "W14, V", s.row(copper(116035*circularMil)).Drop, 10, 0.001)

	// W15, the same in 14 AWG, 4107 cmil, and a dead short
	r = s.row(copper(4107 * circularMil))
	printed(t, "W15, Ω a wire", r.Loop.Hi/2, 5.651, 0.0005)
	printed(t, "W15, Ω", r.Loop.Hi, 11.301, 0.0005)
	printed(t, "W15, A", r.Short, 20.352, 0.0007) // the book divides rounded ohms
}

// TestPublishedLengths are NEM 604:2013, W9 to W11 of facts.md: 17.8 nΩ m, and 0.5 V a conductor.
func TestPublishedLengths(t *testing.T) {
	for _, c := range []struct {
		what         string
		wire         quantity.Wire
		amps, metres float64
		half         float64
	}{
		{"W9, unrounded", round(0.5e-3), 1.2, 4.60, 0.005},
		{"W9, area rounded", copper(0.20e-6), 1.2, 4.7, 0.05},
		{"W10, 0.40 mm", round(0.4e-3), 1, 3.5, 0.05},
		{"W10, 0.80 mm", round(0.8e-3), 1, 14.1, 0.05},
		{"W10, 1.50 mm", round(1.5e-3), 1, 49.6, 0.05},
		// the standard cuts 21.07 and 42.13 short; the figures are facts.md's derived ones
		{"W11, 0.14 mm²", copper(0.14e-6), 1, 3.93, 0.005},
		{"W11, 0.75 mm²", copper(0.75e-6), 1, 21.07, 0.005},
		{"W11, 1.50 mm²", copper(1.5e-6), 1, 42.13, 0.005},
	} {
		s := ideal(15, c.amps, 1, warmAs(17.8e-9))
		s.most = DefaultWireDrop
		metres, by := s.reach(c.wire)
		printed(t, c.what, metres, c.metres, c.half)
		if by != LimitWireDrop {
			t.Errorf("%s ends by %s", c.what, by)
		}
	}
}

// TestFeetToPercent is facts.md section 5 (derived there): 15 V, 5 A, 20 °C, feet to 2.5, 5 and 10 %.
func TestFeetToPercent(t *testing.T) {
	for _, c := range []struct {
		gauge int
		feet  [3]float64
	}{
		{10, [3]float64{37.5, 75.1, 150.2}},
		{12, [3]float64{23.6, 47.2, 94.4}},
		{14, [3]float64{14.8, 29.7, 59.4}},
		{16, [3]float64{9.3, 18.7, 37.4}},
		{22, [3]float64{2.3, 4.6, 9.3}},
	} {
		for i, part := range []float64{0.025, 0.05, 0.1} {
			s := ideal(15, 5, 1, at20)
			s.most = part * 15
			metres, _ := s.reach(awg(c.gauge))
			printed(t, quantity.AWGName(c.gauge), metres/foot, c.feet[i], 0.05)
		}
	}
}

// TestFactsPulsed are rows 1 to 6 of facts.md section 5 (derived there, row 1 with a circuit simulator): a dead short at the end, external
// inductance only. The table's own inductance has the careful end of strands and insulation, and is never less.
func TestFactsPulsed(t *testing.T) {
	for _, c := range []struct {
		what            string
		feet            float64
		gauge           int
		spacing         float64 // inches
		direct          float64
		peak, mean, rms float64
	}{
		{"1", 100, 14, 4, 29.699, 7.243, 3.658, 4.216},
		{"2", 100, 14, 0.125, 29.699, 21.736, 12.212, 13.783},
		{"3", 50, 14, 4, 59.397, 14.485, 7.317, 8.431},
		{"4", 30, 14, 1, 98.995, 33.235, 16.948, 19.493},
		{"5", 100, 12, 4, 47.223, 7.696, 3.865, 4.459},
		{"6", 50, 12, 0.15, 94.445, 51.684, 27.354, 31.232},
	} {
		s := ideal(15, 5, c.feet*foot, at20)
		s.laid = layout.Laid{Kind: layout.LaidApart, Spacing: quantity.Length{Value: quantity.Exact(c.spacing * inch)}}
		wire := awg(c.gauge)
		external := conductor.PairInductance(conductor.WireDiameter(wire), c.spacing*inch)
		ohms, most := s.loop(wire, s.length.Hi)
		direct, pulsed := s.weakest(ohms, external*s.length.Hi)
		printed(t, c.what+": direct", direct, c.direct, 0.0005)
		printed(t, c.what+": peak", pulsed.Peak, c.peak, 0.0005)
		printed(t, c.what+": mean", pulsed.MeanAbs, c.mean, 0.0005)
		printed(t, c.what+": rms", pulsed.RMS, c.rms, 0.0005)
		r := s.row(wire)
		if most < external*s.length.Hi || r.Pulsed.MeanAbs > c.mean || r.Pulsed.MeanAbs < c.mean/2 {
			t.Errorf("%s: the table has %g µH and a mean of %g A", c.what, most*1e6, r.Pulsed.MeanAbs)
		}
	}
	// row 1, 0.3 Ω in the path, as a booster's inside or a short's own
	s := ideal(15, 5, 1, at20)
	s.inside, s.short = conductor.Exact(0.1), conductor.Exact(0.2)
	_, pulsed := s.weakest(0.50507, 58.850e-6)
	printed(t, "1 with 0.3 Ω: peak", pulsed.Peak, 7.027, 0.0005)
	printed(t, "1 with 0.3 Ω: mean", pulsed.MeanAbs, 3.603, 0.0005)
	printed(t, "1 with 0.3 Ω: rms", pulsed.RMS, 4.139, 0.0005)
}

// TestFactsHeat is the table of facts.md section 6 (derived there; k of IEC 60364-4-43, Table 43A): seconds of a dead short, "not covered"
// past 5 s, and watts a foot of pair at 5 A and 20 °C.
func TestFactsHeat(t *testing.T) {
	const past = 0
	for _, c := range []struct {
		gauge   int
		mm2     float64    // as printed: the seconds follow from it
		seconds [4]float64 // at 3, 5, 8, 10 A
		watts   float64
	}{
		{30, 0.0509, [4]float64{3.81, 1.37, 0.536, 0.343}, 5.16},
		{28, 0.0810, [4]float64{past, 3.47, 1.36, 0.867}, 3.24},
		{26, 0.1288, [4]float64{past, past, 3.43, 2.19}, 2.04},
		{24, 0.2047, [4]float64{past, past, past, past}, 1.28},
		{22, 0.3255, [4]float64{past, past, past, past}, 0.807},
	} {
		for i, amps := range []float64{3, 5, 8, 10} {
			s := ideal(15, 1, 1e-9, at20)
			s.inside = conductor.Exact(15 / amps)
			s.seconds = 6
			r := s.row(copper(c.mm2 * 1e-6))
			want := c.seconds[i]
			if r.Valid != (want > past) {
				t.Errorf("%d AWG at %g A: %g s, valid %t", c.gauge, amps, r.Stands, r.Valid)
			}
			miss, told := s.miss(LimitEnergy, &r)
			if told != (r.Stands < s.seconds) || told && r.Valid == strings.Contains(miss.Text(), "not covered past 5 s") {
				t.Errorf("%d AWG at %g A: told %t, %s", c.gauge, amps, told, miss.Text())
			}
			if r.Valid {
				printed(t, quantity.AWGName(c.gauge)+", s", r.Stands, want, 0.005)
			}
		}
		s := ideal(15, 5, foot, at20)
		printed(t, quantity.AWGName(c.gauge)+", W/ft", 5*s.row(awg(c.gauge)).Drop, c.watts, 0.005)
	}
}

// TestPulsedIsTheLeast: of one bits, zero bits and idle packets each measure is the least.
func TestPulsedIsTheLeast(t *testing.T) {
	s := ideal(15, 5, 1, at20)
	_, pulsed := s.weakest(0.50507, 58.850e-6)
	for _, half := range []float64{dcc.OneHalf, dcc.ZeroHalf} {
		if p := dcc.Steady(15, half, []dcc.Branch{{R: 0.50507, L: 58.850e-6}}); pulsed.MeanAbs > p.MeanAbs*(1+1e-9) || pulsed.Peak > p.Peak*(1+1e-9) {
			t.Errorf("half-bits of %g s draw %+v, the least is %+v", half, p, pulsed)
		}
	}
}
