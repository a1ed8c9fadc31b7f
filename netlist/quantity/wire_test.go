package quantity

import (
	"math"
	"strconv"
	"testing"

	"gapwise/netlist/source"
)

// half is half a unit of the last digit of a printed number.
func half(t *testing.T, printed string) (value, tolerance float64) {
	t.Helper()
	value, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		t.Fatal(err)
	}
	places := 0
	for i := range printed {
		if printed[i] == '.' {
			places = len(printed) - i - 1
		}
	}
	return value, 0.5*math.Pow10(-places) + 1e-12
}

// The wire table of facts.md section 3 (diameter and area computed there from the formula
// of ASTM B258, a second computation by another hand).
func TestAWGTable(t *testing.T) {
	for _, row := range []struct {
		size           int
		diameter, area string // mm, mm²
	}{
		{10, "2.5882", "5.2612"},
		{12, "2.0525", "3.3088"},
		{14, "1.6277", "2.0809"},
		{16, "1.2908", "1.3087"},
		{18, "1.0237", "0.8230"},
		{20, "0.8118", "0.5176"},
		{22, "0.6438", "0.3255"},
		{24, "0.5106", "0.2047"},
		{26, "0.4049", "0.1288"},
		{28, "0.3211", "0.0810"},
		{30, "0.2546", "0.0509"},
	} {
		if want, tol := half(t, row.diameter); math.Abs(AWGDiameter(row.size)*1e3-want) > tol {
			t.Errorf("AWG %d: diameter %v mm, table %s", row.size, AWGDiameter(row.size)*1e3, row.diameter)
		}
		if want, tol := half(t, row.area); math.Abs(AWGArea(row.size)*1e6-want) > tol {
			t.Errorf("AWG %d: area %v mm², table %s", row.size, AWGArea(row.size)*1e6, row.area)
		}
	}
}

// Printed in Lessons in Electric Circuits, vol. I DC, ch. 12, "Conductor size": diameter
// in inches, area in circular mils (a mil is 0.001 in; the area is the diameter squared).
func TestAWGPublished(t *testing.T) {
	for _, row := range []struct {
		size         int
		inches, cmil string
	}{
		{14, "0.06408", "4107"},
		{24, "0.02010", "404.0"},
	} {
		w, err := ParseWire(strconv.Itoa(row.size)+" AWG", source.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		const mil = 0.0254e-3
		cmil := w.Lo / (math.Pi / 4 * mil * mil)
		if want, tol := half(t, row.cmil); math.Abs(cmil-want) > tol {
			t.Errorf("AWG %d: %v cmil, book %s", row.size, cmil, row.cmil)
		}
		if want, tol := half(t, row.inches); math.Abs(AWGDiameter(row.size)/0.0254-want) > tol {
			t.Errorf("AWG %d: %v in, book %s", row.size, AWGDiameter(row.size)/0.0254, row.inches)
		}
	}
}

// The two sizes that define the scale (ASTM B258, from memory): AWG 36 is 0.005 in and
// 4/0 is 0.46 in.
func TestAWGDefinition(t *testing.T) {
	for size, inches := range map[int]float64{36: 0.005, ThickestAWG: 0.46} {
		if d := AWGDiameter(size) / 0.0254; math.Abs(d-inches) > 1e-12 {
			t.Errorf("AWG %d: %v in, want %v", size, d, inches)
		}
	}
}

// Every spelling of every size, and back.
func TestEverySize(t *testing.T) {
	for n := ThickestAWG; n <= ThinnestAWG; n++ {
		names := []string{strconv.Itoa(n)}
		if n <= 0 {
			names = []string{strconv.Itoa(1-n) + "/0"}
		}
		if n == 0 {
			names = append(names, "0")
		}
		for _, name := range names {
			for _, text := range []string{name + " AWG", "AWG " + name, name + "AWG", "AWG" + name, name + " awg", "awg" + name, "Awg  " + name} {
				w, err := ParseWire(text, source.Pos{})
				if err != nil {
					t.Errorf("%q: %s", text, err.Message)
					continue
				}
				if !w.HasGauge || w.Gauge != n || w.Lo != AWGArea(n) || w.Hi != w.Lo {
					t.Errorf("%q: %+v", text, w)
				}
				if w.String() != AWGName(n) {
					t.Errorf("%q prints as %q", text, w)
				}
			}
		}
		if n > ThickestAWG && AWGArea(n) >= AWGArea(n-1) {
			t.Errorf("AWG %d is no thinner than AWG %d", n, n-1)
		}
	}
}

// A range of sizes is the cross-sections between them, whichever way it was typed.
func TestAWGRange(t *testing.T) {
	for _, text := range []string{"16 .. 18 AWG", "18 .. 16 AWG", "AWG 16 .. 18", "16 AWG .. AWG 18", "16 AWG .. 18 AWG"} {
		w, err := ParseWire(text, source.Pos{})
		if err != nil || w.Lo != AWGArea(18) || w.Hi != AWGArea(16) || w.HasGauge {
			t.Errorf("%q: %+v, %v", text, w, err)
		}
	}
	for _, text := range []string{"1/0 .. 4/0 AWG", "AWG 4/0 .. 1/0"} {
		w, err := ParseWire(text, source.Pos{})
		if err != nil || w.Lo != AWGArea(0) || w.Hi != AWGArea(-3) || w.HasGauge {
			t.Errorf("%q: %+v, %v", text, w, err)
		}
	}
	if w, err := ParseWire("14 .. 14 AWG", source.Pos{}); err != nil || !w.HasGauge || w.Gauge != 14 {
		t.Errorf("14 .. 14 AWG: %+v, %v", w, err)
	}
	if w, err := ParseWire("20 AWG .. 1 mm²", source.Pos{}); err != nil || w.Lo != AWGArea(20) || w.Hi != 1e-6 {
		t.Errorf("20 AWG .. 1 mm²: %+v, %v", w, err)
	}
	if w, err := ParseWire("1 mm² .. 20 AWG", source.Pos{}); err == nil {
		t.Errorf("1 mm² .. 20 AWG: %+v", w)
	}
	if w, err := ParseWire("2.5 mm²", source.Pos{}); err != nil || w.HasGauge || w.Both() != "2.5 mm²" {
		t.Errorf("2.5 mm²: %+v, %v", w, err)
	}
}
