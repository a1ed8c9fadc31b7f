package dcc_test

import (
	"math"
	"testing"

	"gapwise/netlist/dcc"
)

// TestTable holds the steady short on a square wave against facts.md section 5, rows 1 to 6 and row 1's variants, which
// are derived from the closed forms and checked there with a circuit simulator for row 1; compared with half a unit of the last digit printed.
func TestTable(t *testing.T) {
	for _, row := range []struct {
		what            string
		microhenries    float64
		ohms, half      float64
		peak, mean, rms float64
	}{
		{"1", 58.850, 0.50507, 58e-6, 7.243, 3.658, 4.216},
		{"2", 15.703, 0.50507, 58e-6, 21.736, 12.212, 13.783},
		{"3", 29.425, 0.25254, 58e-6, 14.485, 7.317, 8.431},
		{"4", 12.581, 0.15152, 58e-6, 33.235, 16.948, 19.493},
		{"5", 56.022, 0.31764, 58e-6, 7.696, 3.865, 4.459},
		{"6", 7.496, 0.15882, 58e-6, 51.684, 27.354, 31.232},
		{"1 with 0.1 µH/m inside", 58.850 + 3.048, 0.50507, 58e-6, 6.899, 3.482, 4.013},
		{"1 with 0.3 Ω more", 58.850, 0.80507, 58e-6, 7.027, 3.603, 4.139},
		{"1 with zero bits", 58.850, 0.50507, 100e-6, 12.016, 6.186, 7.101},
	} {
		got := dcc.Steady(15, row.half, []dcc.Branch{{R: row.ohms, L: row.microhenries * 1e-6}})
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"peak", got.Peak, row.peak}, {"mean", got.MeanAbs, row.mean}, {"rms", got.RMS, row.rms}} {
			// the inputs are printed to five digits, which can move the last digit of the result
			if math.Abs(c.got-c.want) > 0.0005+5e-5*c.want {
				t.Errorf("row %s: %s is %.4f, want %.3f", row.what, c.what, c.got, c.want)
			}
		}
	}
}

// TestLimits holds the ends of the range: without inductance all three are V/R, without resistance peak is VT/(2L),
// mean VT/(4L) and rms the peak by root three (facts.md section 5, derived).
func TestLimits(t *testing.T) {
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	s := dcc.Steady(12, dcc.OneHalf, []dcc.Branch{{R: 3}})
	near("resistive peak", s.Peak, 4)
	near("resistive mean", s.MeanAbs, 4)
	near("resistive rms", s.RMS, 4)
	l := 100e-6
	s = dcc.Steady(12, dcc.OneHalf, []dcc.Branch{{L: l}})
	peak := 12 * dcc.OneHalf / 2 / l
	near("inductive peak", s.Peak, peak)
	near("inductive mean", s.MeanAbs, peak/2)
	near("inductive rms", s.RMS, peak/math.Sqrt(3))
}
