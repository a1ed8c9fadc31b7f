package oracle

import (
	"math"
	"testing"
)

// AWG wire at 20 °C, solid: facts.md section 3 (D, and the public table within 0.03 %).
func TestGauges(t *testing.T) {
	for text, want := range map[string]float64{"12 AWG": 5.211, "AWG 14": 8.285, "16AWG": 13.174, "24 awg": 84.213, "30 AWG": 338.55} {
		w, ok := readWire(text)
		if !ok {
			t.Errorf("%s is not read", text)
		}
		near1(t, text, w.ohmsPerMetre(exactly(20)).lo*1000, want, want*2e-4)
	}
	// 2/0 AWG is 0.3648 in (from memory)
	w, _ := readWire("2/0 AWG")
	near1(t, "2/0", math.Sqrt(4/math.Pi*w.area.lo)/0.0254, 0.3648, 0.0001)
	// NEC ch. 9 table 8, 75 °C: 14 AWG 3.07 ohm/kft solid, 3.14 with seven strands (T8)
	w, _ = readWire("14 AWG")
	hot := w.ohmsPerMetre(exactly(75)).scaled(304.8)
	near1(t, "T8 solid", hot.lo, 3.07, 0.006)
	near1(t, "T8 stranded", hot.hi, 3.14, 0.03)
}

// IEC 60228 class 5 at 20 °C, in ohms a kilometre (I228).
func TestMetricWire(t *testing.T) {
	for text, want := range map[string]float64{"0.5 mm²": 39, "0.75 mm2": 26, "2.5 mm²": 7.98, "1 .. 1.5 mm²": 19.5} {
		w, ok := readWire(text)
		if !ok {
			t.Errorf("%s is not read", text)
		}
		near1(t, text, w.ohmsPerMetre(exactly(20)).hi*1000, want, 1e-9)
	}
	for _, text := range []string{"", "unknown", "thick", "15", "AWG", "0 mm²"} {
		if _, ok := readWire(text); ok {
			t.Errorf("%q is read", text)
		}
	}
}

func TestAmounts(t *testing.T) {
	for _, tt := range []struct {
		text  string
		units map[string]float64
		want  interval
	}{
		{"60 mΩ", ohmUnits, exactly(0.06)},
		{"0.1 \u2126", ohmUnits, exactly(0.1)},
		{"5 .. 20 mohm", ohmUnits, interval{0.005, 0.02}},
		{"1/2 A", ampUnits, exactly(0.5)},
		{"2½ A", ampUnits, exactly(2.5)},
		{"14 .. 15 V", voltUnits, interval{14, 15}},
		{"500 mV .. 1 V", voltUnits, interval{0.5, 1}},
		{"15 ms", secondUnits, exactly(0.015)},
		{"5 .. 35 °C", celsiusUnits, interval{5, 35}},
		{"5 %", percentUnits, exactly(0.05)},
	} {
		got := amount(tt.text, tt.units)
		near1(t, tt.text, got.lo, tt.want.lo, 1e-12)
		near1(t, tt.text, got.hi, tt.want.hi, 1e-12)
	}
	for _, text := range []string{"", "unknown", "3 V", "3", "2 .. 1 A", "x A"} {
		if v := amount(text, ampUnits); v.known() {
			t.Errorf("%q is %v A", text, v)
		}
	}
}

// Rail that was measured, in milliohms a metre (RA, RB of facts.md section 4).
func TestRail(t *testing.T) {
	v, ok := readRail("code 100 nickel silver").ohmsPerMetre(exactly(20))
	near1(t, "code 100", v.lo, 0.0571, 1e-4)
	near1(t, "code 100", v.hi, 0.076, 1e-4)
	if !ok {
		t.Error("code 100 is not known")
	}
	for text, want := range map[string]float64{"code 83 nickel silver": 0.108, "code 70 nickel silver": 0.206, "code 100 brass": 0.0189} {
		v, ok := readRail(text).ohmsPerMetre(exactly(20))
		if !ok || v.lo > want+1e-9 || v.hi < want-1e-9 {
			t.Errorf("%s: %v has not %v", text, v, want)
		}
	}
	for _, text := range []string{"", "unknown", "code 83", "nickel silver"} {
		if _, ok := readRail(text).ohmsPerMetre(exactly(20)); ok {
			t.Errorf("rail %q is known", text)
		}
	}
	thin, _ := readRail("code 55 nickel silver").ohmsPerMetre(exactly(20))
	thick, _ := readRail("code 83 nickel silver").ohmsPerMetre(exactly(20))
	if thin.lo <= thick.lo || thin.hi <= thick.hi {
		t.Errorf("code 55 has %v, code 83 %v", thin, thick)
	}
}

// The open textbook's 25 A for 14 AWG in free air at 30 °C with insulation for 60 °C (LEC ch. 12) is a rounded
// figure of building wire, so only its neighbourhood is asked for.
func TestCelsius(t *testing.T) {
	w, _ := readWire("14 AWG")
	if got := w.celsius(25, 30, false); got < 50 || got > 85 {
		t.Errorf("14 AWG at 25 A has %.1f °C", got)
	}
	near1(t, "no current", w.celsius(0, 30, false), 30, 0.01)
	if one, two := w.celsius(15, 30, false), w.celsius(15, 30, true); two <= one {
		t.Errorf("alone %.1f °C, in a pair %.1f °C", one, two)
	}
}

// facts.md section 6: 28 AWG stands 5 A for 3.47 s, 26 AWG 8 A for 3.43 s; 22 AWG at 3 A is past the formula.
func TestStands(t *testing.T) {
	for _, tt := range []struct {
		wire       string
		amps, want float64
	}{{"28 AWG", 5, 3.47}, {"26 AWG", 8, 3.43}, {"30 AWG", 10, 0.343}} {
		w, _ := readWire(tt.wire)
		near1(t, tt.wire, w.stands(tt.amps), tt.want, 0.005*tt.want+0.005)
	}
	w, _ := readWire("22 AWG")
	if !math.IsInf(w.stands(3), 1) {
		t.Error("22 AWG at 3 A is within the formula")
	}
}
