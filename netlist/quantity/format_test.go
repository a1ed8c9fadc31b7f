package quantity

import (
	"math"
	"testing"
)

func TestFormatLength(t *testing.T) {
	for _, c := range []struct {
		metres float64
		want   string
	}{
		{56 * in, "4 ft 8 in (1.42 m)"},
		{6.5 * in, "6 1/2 in (165 mm)"},
		{3 * ft, "3 ft (914 mm)"},
		{11.96 * in, "1 ft (304 mm)"},
		{11.93 * in, "11 7/8 in (303 mm)"},
		{23.96 * in, "2 ft (609 mm)"},
		{150.5 * in, "12 ft 6 1/2 in (3.82 m)"},
		{3.8, "12 ft 5 5/8 in (3.80 m)"},
		{0.9996, "3 ft 3 3/8 in (1.00 m)"},
		{1000, "3280 ft 10 1/8 in (1000.00 m)"},
		{0, "0 in (0 mm)"},
		{math.Copysign(0, -1), "0 in (0 mm)"},
		{-1e-9, "0 in (0 mm)"},
		{-56 * in, "-4 ft 8 in (-1.42 m)"},
		{0.8e-3, "1/32 in (0.8 mm)"},
		{1e-3, "0.039 in (1 mm)"},
		{0.0625 * in, "1/16 in (1.59 mm)"},
		{0.25 * in, "1/4 in (6.35 mm)"},
		{0.3 * in, "0.3 in (7.62 mm)"},
		{0.499 * in, "0.499 in (13 mm)"},
		{0.4996 * in, "1/2 in (13 mm)"},
		{0.01e-3, "0.000394 in (0.01 mm)"},
		{9.996e-3, "0.394 in (10 mm)"},
		{math.NaN(), "unknown"},
		{math.Inf(1), "unknown"},
	} {
		if got := FormatLength(c.metres); got != c.want {
			t.Errorf("%v m: %q, want %q", c.metres, got, c.want)
		}
	}
}

func TestFormatNumbers(t *testing.T) {
	for _, c := range []struct {
		print func(float64) string
		si    float64
		want  string
	}{
		{FormatResistance, 0.06, "60 mΩ"},
		{FormatResistance, 0.1, "0.1 Ω"},
		{FormatResistance, 0.09996, "0.1 Ω"},
		{FormatResistance, 0.50507, "0.505 Ω"},
		{FormatResistance, 999.6, "1 kΩ"},
		{FormatResistance, 12e3, "12 kΩ"},
		{FormatResistance, 1.5e6, "1.5 MΩ"},
		{FormatResistance, 27.604e-6, "27.6 µΩ"},
		{FormatResistance, 0, "0 Ω"},
		{FormatResistance, math.Copysign(0, -1), "0 Ω"},
		{FormatResistance, math.Inf(1), "unknown"},
		{FormatCurrent, 0.06, "60 mA"},
		{FormatCurrent, 0.25, "0.25 A"},
		{FormatCurrent, 29.699, "29.7 A"},
		{FormatCurrent, -0.3, "-0.3 A"},
		{FormatCurrent, -1e-15, "0 A"},
		{FormatCurrent, 5e-6, "5 µA"},
		{FormatVoltage, 0.83, "0.83 V"},
		{FormatVoltage, 14.96, "15 V"},
		{FormatVoltage, 0.0345, "34.5 mV"},
		{FormatVoltage, 230, "230 V"},
		{FormatVoltage, 12345, "12300 V"},
		{FormatTime, 0.04, "40 ms"},
		{FormatTime, 2, "2 s"},
		{FormatTime, 58e-6, "58 µs"},
		{FormatTime, 20e-9, "20 ns"},
		{FormatCapacitance, 0.1e-6, "0.1 µF"},
		{FormatCapacitance, 1.9753e-9, "1.98 nF"},
		{FormatCapacitance, 0, "0 F"},
		{FormatPercent, 16.63, "16.6 %"},
		{FormatPercent, 5, "5 %"},
		{FormatAngle, 22.5, "22.5 deg"},
		{FormatAngle, -0.01, "0 deg"},
		{FormatTemperature, -5, "-5 °C"},
		{FormatTemperature, 20, "20 °C"},
		{FormatArea, 2.0809e-6, "2.08 mm²"},
		{FormatCount, 4.5, "4.5"},
		{FormatCount, math.NaN(), "unknown"},
		{FormatAngle, math.NaN(), "unknown"},
		{FormatArea, math.NaN(), "unknown"},
		{FormatMetric, math.NaN(), "unknown"},
		{FormatPlace, math.NaN(), "unknown"},
	} {
		if got := c.print(c.si); got != c.want {
			t.Errorf("%v: %q, want %q", c.si, got, c.want)
		}
	}
}

func TestPrintRanges(t *testing.T) {
	span := func(lo, hi float64) Value { return Value{Lo: lo, Hi: hi, State: Known} }
	for _, c := range []struct {
		got, want string
	}{
		{Length{span(7*ft, 9*ft)}.String(), "7 .. 9 ft"},
		{Length{span(7*ft, 9*ft)}.Both(), "7 .. 9 ft (2.13 .. 2.74 m)"},
		{Length{span(6*in, 12*in)}.String(), "6 in .. 1 ft"},
		{Length{span(6.5*in, 8*in)}.String(), "6 1/2 .. 8 in"},
		{Length{span(27*in, 40*in)}.Both(), "2 ft 3 in .. 3 ft 4 in (686 mm .. 1.02 m)"},
		{Length{span(0, 123*in)}.String(), "0 in .. 10 ft 3 in"},
		{Length{Exact(56 * in)}.Both(), "4 ft 8 in (1.42 m)"},
		{Length{Value{State: Unknown}}.Both(), "unknown"},
		{Length{}.Both(), "not said"},
		{Resistance{span(0.05, 0.09)}.String(), "50 .. 90 mΩ"},
		{Resistance{span(0.05, 0.5)}.String(), "50 mΩ .. 0.5 Ω"},
		{Current{span(1, 1.0001)}.String(), "1 A"},
		{Voltage{span(0, 12)}.String(), "0 .. 12 V"},
		{Time{span(0.005, 0.02)}.String(), "5 .. 20 ms"},
		{Capacitance{Exact(1e-7)}.String(), "0.1 µF"},
		{Angle{Exact(60)}.String(), "60 deg"},
		{Percent{Exact(5)}.String(), "5 %"},
		{Temperature{span(-5, 35)}.String(), "-5 .. 35 °C"},
		{Wire{Exact(2.5e-6), 0, false}.Both(), "2.5 mm²"},
		{Wire{Exact(AWGArea(14)), 14, true}.Both(), "14 AWG (2.08 mm²)"},
		{Wire{Exact(AWGArea(-1)), -1, true}.Both(), "2/0 AWG (67.4 mm²)"},
		{Wire{span(AWGArea(18), AWGArea(16)), 0, false}.Both(), "0.823 .. 1.31 mm²"},
		{Wire{Value{State: Unknown}, 0, false}.Both(), "unknown"},
		{Format(KindCount, span(6, 8)), "6 .. 8"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
