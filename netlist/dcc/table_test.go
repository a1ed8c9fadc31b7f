package dcc_test

import (
	"math"
	"testing"

	"gapwise/netlist/dcc"
)

// TestFactsTable is facts.md section 5, rows 1 to 6 and the variants of row 1 (derived there, row
// 1 with a circuit simulator), to half a unit of the last digit. Inputs are made anew from the
// wire: diameters by ASTM B258 (from memory there), 17.241 nΩ·m, L' = µ0/π acosh(D/d).
func TestFactsTable(t *testing.T) {
	for _, row := range []struct {
		what                 string
		feet, gauge, spacing float64 // inches
		moreHenries          float64 // per metre
		moreOhms, half       float64
		microhenries, ohms   float64
		peak, mean, rms      float64
	}{
		{"1", 100, 14, 4, 0, 0, 58e-6, 58.850, 0.50507, 7.243, 3.658, 4.216},
		{"2", 100, 14, 0.125, 0, 0, 58e-6, 15.703, 0.50507, 21.736, 12.212, 13.783},
		{"3", 50, 14, 4, 0, 0, 58e-6, 29.425, 0.25254, 14.485, 7.317, 8.431},
		{"4", 30, 14, 1, 0, 0, 58e-6, 12.581, 0.15152, 33.235, 16.948, 19.493},
		{"5", 100, 12, 4, 0, 0, 58e-6, 56.022, 0.31764, 7.696, 3.865, 4.459},
		{"6", 50, 12, 0.15, 0, 0, 58e-6, 7.496, 0.15882, 51.684, 27.354, 31.232},
		{"1, 0.1 µH/m inside", 100, 14, 4, 0.1e-6, 0, 58e-6, 61.898, 0.50507, 6.899, 3.482, 4.013},
		{"1, 0.3 Ω more", 100, 14, 4, 0, 0.3, 58e-6, 58.850, 0.80507, 7.027, 3.603, 4.139},
		{"1, zeros", 100, 14, 4, 0, 0, 100e-6, 58.850, 0.50507, 12.016, 6.186, 7.101},
	} {
		metres := row.feet * 0.3048
		d := 0.127e-3 * math.Pow(92, (36-row.gauge)/39)
		b := dcc.Branch{
			R: 2*metres*17.241e-9/(math.Pi*d*d/4) + row.moreOhms,
			L: metres * (4e-7*math.Acosh(row.spacing*0.0254/d) + row.moreHenries),
		}
		s := dcc.Steady(15, row.half, []dcc.Branch{b})
		printed(t, row.what+": µH", b.L*1e6, row.microhenries, 0.0005)
		printed(t, row.what+": Ω", b.R, row.ohms, 0.000005)
		printed(t, row.what+": peak", s.Peak, row.peak, 0.0005)
		printed(t, row.what+": mean", s.MeanAbs, row.mean, 0.0005)
		printed(t, row.what+": rms", s.RMS, row.rms, 0.0005)
	}
}

// TestSimulatedRow is row 1 with the simulator's own digits, whose time steps are worth the last ones.
func TestSimulatedRow(t *testing.T) {
	s := dcc.Steady(15, dcc.OneHalf, []dcc.Branch{{R: 0.50507, L: 58.850e-6}})
	printed(t, "peak", s.Peak, 7.2427, 0.0005)
	printed(t, "mean", s.MeanAbs, 3.6583, 0.0005)
	printed(t, "rms", s.RMS, 4.2157, 0.0005)
}

// TestStandard is NMRA S-9.1, 3/07/2020, Tables 1 to 3, as facts.md section 2 has them.
func TestStandard(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"one sent", dcc.OneHalfMin * 1e6, 55},
		{"one sent", dcc.OneHalfMax * 1e6, 61},
		{"one received", dcc.OneHalfReceivedMin * 1e6, 52},
		{"one received", dcc.OneHalfReceivedMax * 1e6, 64},
		{"zero sent", dcc.ZeroHalfMin * 1e6, 95},
		{"zero sent", dcc.ZeroHalfMax * 1e6, 9900},
		{"zero received", dcc.ZeroHalfReceivedMin * 1e6, 90},
		{"zero received", dcc.ZeroHalfReceivedMax * 1e6, 10000},
		{"stretched zero", dcc.ZeroBitMax * 1e6, 12000},
		{"mismatch sent", dcc.OneMismatchSent * 1e6, 3},
		{"mismatch received", dcc.OneMismatchReceived * 1e6, 6},
		{"slew sent, V/µs", dcc.Slew * 1e-6, 2.4},
		{"slew received, V/µs", dcc.SlewReceived * 1e-6, 2},
		{"frequency of ones", 1 / (2 * dcc.OneHalf), 8620.7},
		{"frequency of zeros", 1 / (2 * dcc.ZeroHalf), 5000},
	} {
		printed(t, c.what, c.got, c.want, 0.05)
	}
	for _, c := range []struct{ got, want dcc.Volts }{
		{dcc.VoltsN, dcc.Volts{Min: 8.5, Nominal: 12, Max: 22}},
		{dcc.VoltsHO, dcc.Volts{Min: 8.5, Nominal: 15, Max: 22}},
		{dcc.VoltsLarge, dcc.Volts{Min: 8.5, Nominal: 18, Max: 22}},
		{dcc.DecoderVoltsN, dcc.Volts{Min: 7, Nominal: 12, Max: 24}},
		{dcc.DecoderVoltsHO, dcc.Volts{Min: 7, Nominal: 15, Max: 27}},
		{dcc.DecoderVoltsLarge, dcc.Volts{Min: 7, Nominal: 18, Max: 27}},
	} {
		if c.got != c.want {
			t.Errorf("volts %v, want %v", c.got, c.want)
		}
	}
}

// printed compares with a printed figure, to half a unit of its last digit.
func printed(t *testing.T, what string, got, want, half float64) {
	t.Helper()
	if !(math.Abs(got-want) <= half*(1+1e-9)) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

// near compares relatively.
func near(t testing.TB, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

func nearShort(t testing.TB, what string, got, want dcc.Short, relative float64) {
	t.Helper()
	near(t, what+": peak", got.Peak, want.Peak, relative)
	near(t, what+": mean", got.MeanAbs, want.MeanAbs, relative)
	near(t, what+": rms", got.RMS, want.RMS, relative)
}
