package quantity

import (
	"math"
	"strings"
	"testing"

	"gapwise/netlist/source"
)

// The printed bounds are the bounds, and both are inside.
func TestBoundsArePrintedRight(t *testing.T) {
	for _, k := range Kinds() {
		b := k.Bounds()
		if b.Why == "" || !(b.Min < b.Max) {
			t.Errorf("kind %d: %+v", k, b)
		}
		for text, want := range map[string]float64{b.MinText: b.Min, b.MaxText: b.Max} {
			v, err := Parse(k, text, source.Pos{})
			if err != nil || v.Lo != want || v.Hi != want {
				t.Errorf("kind %d: bound %q reads as %v, want %v (%v)", k, text, v.Lo, want, err)
			}
		}
	}
}

// Just outside its bounds a kind refuses, with the bound.
func TestBoundsHold(t *testing.T) {
	for _, c := range []struct {
		kind        Kind
		under, over string
	}{
		{KindLength, "0.0099 mm", "1000.1 m"},
		{KindLengthFromZero, "0.0099 mm", "1000.1 m"},
		{KindPosition, "0.0099 mm", "1000.1 m"},
		{KindWire, "0.0049 mm²", "120.1 mm²"},
		{KindResistance, "0.99 µΩ", "10.1 MΩ"},
		{KindResistanceFromZero, "0.99 µΩ", "10.1 MΩ"},
		{KindCurrent, "0.99 µA", "200.1 A"},
		{KindCurrentFromZero, "0.99 µA", "200.1 A"},
		{KindVoltage, "0.99 µV", "1000.1 V"},
		{KindVoltageFromZero, "0.99 µV", "1000.1 V"},
		{KindTime, "0.99 ns", "3600.1 s"},
		{KindCapacitance, "0.099 pF", "10.1 F"},
		{KindAngle, "", "360.1 deg"},
		{KindCrossingAngle, "0.99 deg", "90.1 deg"},
		{KindPercent, "0.00099 %", "100.1 %"},
		{KindTemperature, "-60.1 °C", "100.1 °C"},
		{KindCount, "0.99", "100.1"},
	} {
		b := c.kind.Bounds()
		for text, want := range map[string]string{c.under: "under the bound, " + b.MinText, c.over: "over the bound, " + b.MaxText} {
			if text == "" {
				continue
			}
			v, err := Parse(c.kind, text, source.Pos{})
			if err == nil || err.Message != want || !strings.Contains(err.Expected, b.MaxText) {
				t.Errorf("%q: %v, %+v, want %q", text, v.Lo, err, want)
			}
		}
	}
}

// AWG sizes lie inside the bounds of a wire, and all but fill them.
func TestWireBoundsHoldAWG(t *testing.T) {
	b := KindWire.Bounds()
	thin, thick := AWGArea(ThinnestAWG), AWGArea(ThickestAWG)
	if thin < b.Min || thick > b.Max {
		t.Errorf("%v .. %v outside %v .. %v", thin, thick, b.Min, b.Max)
	}
	if thin > b.Min*math.Pow(92, 2.0/39) {
		t.Errorf("AWG 41 would be inside: %v", b.Min)
	}
}
