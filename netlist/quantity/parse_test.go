package quantity

import (
	"fmt"
	"math"
	"testing"

	"gapwise/netlist/source"
)

const (
	in = 0.0254 // metres, exactly; see units.go
	ft = 0.3048
)

// near allows for the rounding of the wanted value's own arithmetic.
func near(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-14*math.Max(math.Abs(a), math.Abs(b))
}

// spelled lists every spelling the language takes, with its value in SI.
var spelled = []struct {
	kind   Kind
	text   string
	lo, hi float64
}{
	// lengths, imperial
	{KindLength, "12 ft 6 1/2 in", 150.5 * in, 150.5 * in},
	{KindLength, "12' 6½\"", 150.5 * in, 150.5 * in},
	{KindLength, "12'6½\"", 150.5 * in, 150.5 * in},
	{KindLength, "12 ft 6.5 in", 150.5 * in, 150.5 * in},
	{KindLength, "12ft6.5in", 150.5 * in, 150.5 * in},
	{KindLength, "12 feet 6 1/2 inches", 150.5 * in, 150.5 * in},
	{KindLength, "1 foot 1 inch", 13 * in, 13 * in},
	{KindLength, "12 ft. 6 1/2 in.", 150.5 * in, 150.5 * in},
	{KindLength, "12 FT 6 1/2 IN", 150.5 * in, 150.5 * in},
	{KindLength, "12\u2032 6\u00bd\u2033", 150.5 * in, 150.5 * in},
	{KindLength, "12\u2019 6\u00bd\u201d", 150.5 * in, 150.5 * in},
	{KindLength, "12\u2018 6\u00bd\u201c", 150.5 * in, 150.5 * in},
	{KindLength, "12\u00b4 6\u00bd\u00b4\u00b4", 150.5 * in, 150.5 * in},
	{KindLength, "12\u02b9 6\u00bd\u02ba", 150.5 * in, 150.5 * in},
	{KindLength, "12` 6''", 150 * in, 150 * in},
	{KindLength, "12\u2032 6\u2032\u2032", 150 * in, 150 * in},
	{KindLength, "12\u02bc 6\u2019\u2019", 150 * in, 150 * in},
	{KindLength, "5'-6\"", 66 * in, 66 * in},
	{KindLength, "5' - 6\"", 66 * in, 66 * in},
	{KindLength, "5'\u20116\"", 66 * in, 66 * in},
	{KindLength, "5'-6-1/2\"", 66.5 * in, 66.5 * in},
	{KindLength, "5'-0\"", 60 * in, 60 * in},
	{KindLength, "5'-0 1/2\"", 60.5 * in, 60.5 * in},
	{KindLength, "0 ft 6 in", 6 * in, 6 * in},
	{KindLength, "6 1/2 in", 6.5 * in, 6.5 * in},
	{KindLength, "6-1/2 in", 6.5 * in, 6.5 * in},
	{KindLength, "6 ½ in", 6.5 * in, 6.5 * in},
	{KindLength, "6-½ in", 6.5 * in, 6.5 * in},
	{KindLength, "6 1\u20442 in", 6.5 * in, 6.5 * in},
	{KindLength, "6 1\u22152 in", 6.5 * in, 6.5 * in},
	{KindLength, "1/2 in", 0.5 * in, 0.5 * in},
	{KindLength, "½ in", 0.5 * in, 0.5 * in},
	{KindLength, "⅓ in", in / 3, in / 3},
	{KindLength, "⅔ in", in * 2 / 3, in * 2 / 3},
	{KindLength, "¼ in", in / 4, in / 4},
	{KindLength, "¾ in", in * 3 / 4, in * 3 / 4},
	{KindLength, "⅕ in", in / 5, in / 5},
	{KindLength, "⅖ in", in * 2 / 5, in * 2 / 5},
	{KindLength, "⅗ in", in * 3 / 5, in * 3 / 5},
	{KindLength, "⅘ in", in * 4 / 5, in * 4 / 5},
	{KindLength, "⅙ in", in / 6, in / 6},
	{KindLength, "⅚ in", in * 5 / 6, in * 5 / 6},
	{KindLength, "⅐ in", in / 7, in / 7},
	{KindLength, "⅛ in", in / 8, in / 8},
	{KindLength, "1⅜ in", in * 11 / 8, in * 11 / 8},
	{KindLength, "1⅝ in", in * 13 / 8, in * 13 / 8},
	{KindLength, "1⅞ in", in * 15 / 8, in * 15 / 8},
	{KindLength, "⅑ in", in / 9, in / 9},
	{KindLength, "⅒ in", in / 10, in / 10},
	{KindLength, "3/2 in", 1.5 * in, 1.5 * in},
	{KindLength, "1/2 ft", 6 * in, 6 * in},
	{KindLength, "14 in", 14 * in, 14 * in},
	{KindLength, "\t3 ft  2 in ", 38 * in, 38 * in},
	// lengths, metric
	{KindLength, "3.8 m", 3.8, 3.8},
	{KindLength, "3.80 m", 3.8, 3.8},
	{KindLength, "380 cm", 3.8, 3.8},
	{KindLength, "3800mm", 3.8, 3.8},
	{KindLength, "0.5 m", 0.5, 0.5},
	{KindLength, "½ m", 0.5, 0.5},
	{KindLength, "1 m 20 cm", 1.2, 1.2},
	{KindLength, "2 metres", 2, 2},
	{KindLength, "1 meter", 1, 1},
	{KindLength, "28 millimetres", 0.028, 0.028},
	{KindLength, "2 centimeters", 0.02, 0.02},
	{KindLength, "0.5 km", 500, 500},
	// ranges
	{KindLength, "7 .. 9 ft", 7 * ft, 9 * ft},
	{KindLength, "7..9ft", 7 * ft, 9 * ft},
	{KindLength, "7 ..9 ft", 7 * ft, 9 * ft},
	{KindLength, "7.5..9.5 ft", 7.5 * ft, 9.5 * ft},
	{KindLength, "7' .. 9'", 7 * ft, 9 * ft},
	{KindLength, "6 in .. 1 ft", 6 * in, 12 * in},
	{KindLength, "6 in. .. 1 ft.", 6 * in, 12 * in},
	{KindLength, "6 in...7 in", 6 * in, 7 * in},
	{KindLength, "6in..7in", 6 * in, 7 * in},
	{KindLength, "2 ft 3 in .. 3 ft 4 in", 27 * in, 40 * in},
	{KindLength, "2½ .. 3 ft", 30 * in, 36 * in},
	{KindLength, "1/2 .. 3/4 in", 0.5 * in, 0.75 * in},
	{KindLength, "50 cm .. 1 m", 0.5, 1},
	{KindLength, "8 .. 8 in", 8 * in, 8 * in},
	{KindLengthFromZero, "0 .. 10 ft 3 in", 0, 123 * in},
	{KindLengthFromZero, "0 in .. 3 ft", 0, 36 * in},
	{KindLengthFromZero, "2 .. 3 ft", 2 * ft, 3 * ft},
	// positions
	{KindPosition, "0", 0, 0},
	{KindPosition, "0 in", 0, 0},
	{KindPosition, "0 .. 3 ft", 0, 3 * ft},
	{KindPosition, "0 ft 0 in", 0, 0},
	{KindPosition, "0.0 m", 0, 0},
	{KindPosition, "0 .. 0", 0, 0},
	{KindPosition, "4 ft", 4 * ft, 4 * ft},
	// wires
	{KindWire, "2.5 mm²", 2.5e-6, 2.5e-6},
	{KindWire, "2.5mm²", 2.5e-6, 2.5e-6},
	{KindWire, "2.5 mm2", 2.5e-6, 2.5e-6},
	{KindWire, "2.5 mm^2", 2.5e-6, 2.5e-6},
	{KindWire, "2.5 sq mm", 2.5e-6, 2.5e-6},
	{KindWire, "2.5 sq. mm", 2.5e-6, 2.5e-6},
	{KindWire, "2.5 sqmm", 2.5e-6, 2.5e-6},
	{KindWire, "0.5 .. 0.75 mm²", 0.5e-6, 0.75e-6},
	// the rest
	{KindResistance, "40 mΩ", 0.04, 0.04},
	{KindResistance, "40 m\u2126", 0.04, 0.04},
	{KindResistance, "40 mohm", 0.04, 0.04},
	{KindResistance, "40 mOhms", 0.04, 0.04},
	{KindResistance, "40 milliohms", 0.04, 0.04},
	{KindResistance, "0.1 Ω", 0.1, 0.1},
	{KindResistance, "0.1 \u2126", 0.1, 0.1},
	{KindResistance, "0.1 ohm", 0.1, 0.1},
	{KindResistance, "100 Ohms", 100, 100},
	{KindResistance, "12 kΩ", 12e3, 12e3},
	{KindResistance, "12 k\u2126", 12e3, 12e3},
	{KindResistance, "12 kohm", 12e3, 12e3},
	{KindResistance, "12 KOhm", 12e3, 12e3},
	{KindResistance, "12k", 12e3, 12e3},
	{KindResistance, "1 MΩ", 1e6, 1e6},
	{KindResistance, "1 Mohm", 1e6, 1e6},
	{KindResistance, "1 megohm", 1e6, 1e6},
	{KindResistance, "50 µΩ", 50e-6, 50e-6},
	{KindResistance, "50 \u03bcΩ", 50e-6, 50e-6},
	{KindResistance, "50 uohm", 50e-6, 50e-6},
	{KindResistance, "50 .. 500 mΩ", 0.05, 0.5},
	{KindResistance, "900 mΩ .. 1 Ω", 0.9, 1},
	{KindResistanceFromZero, "0 .. 0.5 Ω", 0, 0.5},
	{KindCurrent, "5 A", 5, 5},
	{KindCurrent, "5A", 5, 5},
	{KindCurrent, "5 amps", 5, 5},
	{KindCurrent, "1 ampere", 1, 1},
	{KindCurrent, "250 mA", 0.25, 0.25},
	{KindCurrent, "250 ma", 0.25, 0.25},
	{KindCurrent, "250 milliamps", 0.25, 0.25},
	{KindCurrent, "500 µA", 0.0005, 0.0005},
	{KindCurrent, "500 uA", 0.0005, 0.0005},
	{KindCurrentFromZero, "0 .. 1 A", 0, 1},
	{KindVoltage, "15 V", 15, 15},
	{KindVoltage, "15v", 15, 15},
	{KindVoltage, "15 volts", 15, 15},
	{KindVoltage, "700 mV", 0.7, 0.7},
	{KindVoltage, "10 µV", 10e-6, 10e-6},
	{KindVoltage, "0.23 kV", 230, 230},
	{KindVoltage, "14 .. 15 V", 14, 15},
	{KindVoltageFromZero, "0 .. 12 V", 0, 12},
	{KindTime, "40 ms", 0.04, 0.04},
	{KindTime, "2 s", 2, 2},
	{KindTime, "2 sec", 2, 2},
	{KindTime, "1 second", 1, 1},
	{KindTime, "40 milliseconds", 0.04, 0.04},
	{KindTime, "58 us", 58e-6, 58e-6},
	{KindTime, "58 µs", 58e-6, 58e-6},
	{KindTime, "58 \u03bcs", 58e-6, 58e-6},
	{KindTime, "20 ns", 20e-9, 20e-9},
	{KindTime, "1 min", 60, 60},
	{KindTime, "5..20 ms", 0.005, 0.02},
	{KindTime, "0 .. 20 ms", 0, 0.02},
	{KindCapacitance, "0.1 µF", 0.1e-6, 0.1e-6},
	{KindCapacitance, "0.1 \u03bcF", 0.1e-6, 0.1e-6},
	{KindCapacitance, "0.1 uF", 0.1e-6, 0.1e-6},
	{KindCapacitance, "100 nF", 0.1e-6, 0.1e-6},
	{KindCapacitance, "470 pF", 470e-12, 470e-12},
	{KindCapacitance, "1 F", 1, 1},
	{KindCapacitance, "2 microfarads", 2e-6, 2e-6},
	{KindAngle, "60 deg", 60, 60},
	{KindAngle, "60°", 60, 60},
	{KindAngle, "60 \u00ba", 60, 60},
	{KindAngle, "60 degrees", 60, 60},
	{KindAngle, "0 deg", 0, 0},
	{KindAngle, "0", 0, 0},
	{KindAngle, "22 1/2 deg.", 22.5, 22.5},
	{KindCrossingAngle, "60 deg", 60, 60},
	{KindPercent, "5 %", 5, 5},
	{KindPercent, "5%", 5, 5},
	{KindPercent, "2.5 percent", 2.5, 2.5},
	{KindPercent, "0 .. 5 %", 0, 5},
	{KindTemperature, "5 .. 35 °C", 5, 35},
	{KindTemperature, "20 C", 20, 20},
	{KindTemperature, "20 deg C", 20, 20},
	{KindTemperature, "20 \u2103", 20, 20},
	{KindTemperature, "0 °C", 0, 0},
	{KindTemperature, "0 .. 35 °C", 0, 35},
	{KindTemperature, "-10 .. 35 °C", -10, 35},
	{KindTemperature, "\u221210 °C", -10, -10},
	{KindTemperature, "-10½ °C", -10.5, -10.5},
	{KindTemperature, "41 °F", 5, 5},
	{KindTemperature, "0 .. 32 F", -160.0 / 9, 0},
	{KindCount, "6", 6, 6},
	{KindCount, "4.5", 4.5, 4.5},
	{KindCount, "6 .. 8", 6, 8},
}

func TestParse(t *testing.T) {
	at := source.Pos{File: 1, Line: 2, Col: 3}
	for _, c := range spelled {
		v, err := Parse(c.kind, c.text, at)
		if err != nil {
			t.Errorf("%q: %s", c.text, err.Message)
			continue
		}
		if !v.Known() || !near(v.Lo, c.lo) || !near(v.Hi, c.hi) {
			t.Errorf("%q: %v .. %v, want %v .. %v", c.text, v.Lo, v.Hi, c.lo, c.hi)
		}
		if v.Text != c.text || v.Pos != at {
			t.Errorf("%q: text %q at %v", c.text, v.Text, v.Pos)
		}
	}
}

// One length is one float in every spelling, so that two names of a place are equal.
func TestOneLengthOneFloat(t *testing.T) {
	groups := [][]string{
		{"1 ft", "12 in", "12\"", "30.48 cm", "304.8 mm", "0.3048 m", "0.0003048 km", "1 foot"},
		{"12 ft 6 1/2 in", "12' 6½\"", "150.5 in", "150 1/2 in", "301/2 in", "3.8227 m", "382.27 cm", "3822.7 mm"},
		{"1/8 in", "⅛ in", "0.125 in", "3.175 mm", "0.3175 cm"},
		{"9 ft 6 in", "9½ ft", "9.5 ft", "114 in", "2.8956 m"},
	}
	for _, group := range groups {
		first, err := ParseLength(group[0], source.Pos{})
		if err != nil {
			t.Fatalf("%q: %s", group[0], err.Message)
		}
		for _, text := range group[1:] {
			if l, err := ParseLength(text, source.Pos{}); err != nil || l.Lo != first.Lo {
				t.Errorf("%q is %v, %q is %v (%v)", group[0], first.Lo, text, l.Lo, err)
			}
		}
	}
}

func TestUnknown(t *testing.T) {
	for _, k := range Kinds() {
		for _, text := range []string{"unknown", " unknown\t"} {
			v, err := Parse(k, text, source.Pos{Line: 7})
			if err != nil || v.State != Unknown || v.Known() || !v.Said() || v.Text != text || v.Pos.Line != 7 {
				t.Errorf("kind %d: %+v, %v", k, v, err)
			}
		}
	}
}

// Each typed function asks for its own kind.
func TestTyped(t *testing.T) {
	type result struct {
		lo  float64
		err *Error
	}
	at := source.Pos{}
	for _, c := range []struct {
		name string
		text string
		read func(string) result
		want float64
		not  string
	}{
		{"length", "1 m", func(s string) result { v, err := ParseLength(s, at); return result{v.Lo, err} }, 1, "0 m"},
		{"length from zero", "0 .. 1 m", func(s string) result { v, err := ParseLengthFromZero(s, at); return result{v.Hi, err} }, 1, "0 m"},
		{"position", "0", func(s string) result { v, err := ParsePosition(s, at); return result{v.Lo, err} }, 0, "3"},
		{"wire", "1 mm²", func(s string) result { v, err := ParseWire(s, at); return result{v.Lo, err} }, 1e-6, "1 mm"},
		{"resistance", "1 Ω", func(s string) result { v, err := ParseResistance(s, at); return result{v.Lo, err} }, 1, "0 .. 1 Ω"},
		{"resistance from zero", "0 .. 1 Ω", func(s string) result { v, err := ParseResistanceFromZero(s, at); return result{v.Hi, err} }, 1, "0 Ω"},
		{"current", "1 A", func(s string) result { v, err := ParseCurrent(s, at); return result{v.Lo, err} }, 1, "0 .. 1 A"},
		{"current from zero", "0 .. 1 A", func(s string) result { v, err := ParseCurrentFromZero(s, at); return result{v.Hi, err} }, 1, "0 A"},
		{"voltage", "1 V", func(s string) result { v, err := ParseVoltage(s, at); return result{v.Lo, err} }, 1, "0 .. 1 V"},
		{"voltage from zero", "0 .. 1 V", func(s string) result { v, err := ParseVoltageFromZero(s, at); return result{v.Hi, err} }, 1, "0 V"},
		{"time", "1 s", func(s string) result { v, err := ParseTime(s, at); return result{v.Lo, err} }, 1, "0 s"},
		{"capacitance", "1 F", func(s string) result { v, err := ParseCapacitance(s, at); return result{v.Lo, err} }, 1, "1 V"},
		{"angle", "120 deg", func(s string) result { v, err := ParseAngle(s, at); return result{v.Lo, err} }, 120, "361 deg"},
		{"crossing angle", "60 deg", func(s string) result { v, err := ParseCrossingAngle(s, at); return result{v.Lo, err} }, 60, "120 deg"},
		{"percent", "1 %", func(s string) result { v, err := ParsePercent(s, at); return result{v.Lo, err} }, 1, "0 %"},
		{"temperature", "-1 °C", func(s string) result { v, err := ParseTemperature(s, at); return result{v.Lo, err} }, -1, "1 %"},
		{"count", "6", func(s string) result { v, err := ParseCount(s, at); return result{v.Lo, err} }, 6, "6 ft"},
	} {
		if r := c.read(c.text); r.err != nil || r.lo != c.want {
			t.Errorf("%s %q: %v, %v", c.name, c.text, r.lo, r.err)
		}
		if r := c.read(c.not); r.err == nil {
			t.Errorf("%s took %q", c.name, c.not)
		}
	}
}

func ExampleParseLength() {
	l, _ := ParseLength("12' 6½\"", source.Pos{})
	fmt.Println(l, l.Both())
	_, err := ParseLength("3,8 m", source.Pos{})
	fmt.Println(err)
	// Output:
	// 12 ft 6 1/2 in 12 ft 6 1/2 in (3.82 m)
	// a comma splits; write 3.8 m
}
