package quantity

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"gapwise/netlist/source"
	"pgregory.net/rapid"
)

func anyKind() *rapid.Generator[Kind] { return rapid.SampledFrom(Kinds()) }

// within draws a value inside the bounds of k, as likely small as large. Lengths stay a
// hand short of a kilometre, where the nearest 1/8 in is over the bound.
func within(t *rapid.T, k Kind, label string) float64 {
	b := k.Bounds()
	top := b.Max
	if top == 1e3 {
		top = 999.9
	}
	if b.Min <= 0 {
		return rapid.Float64Range(b.Min, top).Draw(t, label)
	}
	return min(top, max(b.Min, math.Exp(rapid.Float64Range(math.Log(b.Min), math.Log(top)).Draw(t, label))))
}

// What is printed can be read, is near what was meant, and prints the same again.
func TestPrintReadPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind().Draw(t, "kind")
		v := Exact(within(t, k, "low"))
		if rapid.Bool().Draw(t, "range") {
			high := within(t, k, "high")
			v.Lo, v.Hi = min(v.Lo, high), max(v.Lo, high)
		}
		text := Format(k, v)
		back, err := Parse(k, text, source.Pos{})
		if err != nil {
			t.Fatalf("%v .. %v prints as %q: %s", v.Lo, v.Hi, text, err.Message)
		}
		if again := Format(k, back); again != text {
			t.Fatalf("%q prints again as %q", text, again)
		}
		for _, end := range [][2]float64{{v.Lo, back.Lo}, {v.Hi, back.Hi}} {
			if off := math.Abs(end[0] - end[1]); off > tolerance(k, end[0]) {
				t.Fatalf("%v prints as %q, %v off", end[0], text, off)
			}
		}
	})
}

// tolerance is half the last digit that print leaves of si.
func tolerance(k Kind, si float64) float64 {
	const slack = 1 + 1e-9
	switch k {
	case KindLength, KindLengthFromZero, KindPosition:
		if inches := si / in; inches < 0.499 {
			return slack * in * max(0.005*inches, 0.001)
		}
		return slack * in / 16
	case KindAngle, KindCrossingAngle, KindTemperature:
		return slack * 0.05
	}
	return slack * 0.005 * math.Abs(si)
}

// Printing keeps order: a larger value never reads back smaller.
func TestPrintKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind().Draw(t, "kind")
		low := within(t, k, "low")
		high := min(within(t, k, "high"), low+math.Abs(low)*rapid.Float64Range(0, 0.1).Draw(t, "step"))
		low, high = min(low, high), max(low, high)
		a, errA := Parse(k, Format(k, Exact(low)), source.Pos{})
		b, errB := Parse(k, Format(k, Exact(high)), source.Pos{})
		if errA != nil || errB != nil || a.Lo > b.Lo {
			t.Fatalf("%v < %v but %q, %q (%v, %v)", low, high, Format(k, Exact(low)), Format(k, Exact(high)), errA, errB)
		}
	})
}

// A larger number of one unit is a larger value.
func TestReadKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom([]Kind{KindLength, KindResistance, KindCurrent, KindVoltage, KindTime, KindCapacitance, KindTemperature}).Draw(t, "kind")
		unit := string(rapid.SampledFrom(k.spellings()).Draw(t, "unit").text)
		a := rapid.IntRange(1, 1e6).Draw(t, "a")
		b := rapid.IntRange(1, 1e6).Draw(t, "b")
		text := func(n int) string { return strconv.FormatFloat(float64(n)/1e3, 'f', -1, 64) + " " + unit }
		va, errA := Parse(k, text(a), source.Pos{})
		vb, errB := Parse(k, text(b), source.Pos{})
		if errA == nil && errB == nil && (a < b) != (va.Lo < vb.Lo) {
			t.Fatalf("%s is %v, %s is %v", text(a), va.Lo, text(b), vb.Lo)
		}
		r, err := Parse(k, text(a)+" .. "+text(b), source.Pos{})
		if errA == nil && errB == nil && (err == nil) != (a <= b) {
			t.Fatalf("%s .. %s: %+v, %v", text(a), text(b), r, err)
		}
	})
}

// Feet and inches to the sixteenth are one float however they are spelled.
func TestSpellingsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet := rapid.IntRange(1, 3000).Draw(t, "feet")
		inches := rapid.IntRange(0, 11).Draw(t, "inches")
		part := rapid.IntRange(1, 15).Draw(t, "sixteenths")
		sixteenths := (feet*12+inches)*16 + part
		decimal := strconv.FormatFloat(float64(inches)+float64(part)/16, 'f', -1, 64)
		tenthsOfMicron := strconv.Itoa(sixteenths * 254000 / 16)
		millimetres := tenthsOfMicron[:len(tenthsOfMicron)-4] + "." + tenthsOfMicron[len(tenthsOfMicron)-4:]
		want := float64(sixteenths) * 254 / (16 * 1e4)
		for _, text := range []string{
			fmt.Sprintf("%d ft %d %d/16 in", feet, inches, part),
			fmt.Sprintf("%d'-%d-%d/16\"", feet, inches, part),
			fmt.Sprintf("%d' %s\"", feet, decimal),
			fmt.Sprintf("%d/16 in", sixteenths),
			fmt.Sprintf("%d %d/16\u2033", feet*12+inches, part),
			millimetres + " mm",
		} {
			if l, err := ParsePosition(text, source.Pos{}); err != nil || l.Lo != want {
				t.Fatalf("%q: %v, want %v (%v)", text, l.Lo, want, err)
			}
		}
	})
}
