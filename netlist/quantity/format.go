package quantity

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Format prints v as a layout could type it: "unknown", a value, or a range. A value
// nobody typed is "not said". Reading it back and printing it again gives the same text.
func Format(k Kind, v Value) string {
	return v.print(k.print)
}

// print prints the two ends of v with one function.
func (v Value) print(one func(float64) string) string {
	switch v.State {
	case Unsaid:
		return "not said"
	case Unknown:
		return "unknown"
	}
	return join(one(v.Lo), one(v.Hi))
}

// print returns a number of k's SI unit in words.
func (k Kind) print(si float64) string {
	switch k {
	case KindWire:
		return FormatArea(si)
	case KindResistance, KindResistanceFromZero:
		return FormatResistance(si)
	case KindCurrent, KindCurrentFromZero:
		return FormatCurrent(si)
	case KindVoltage, KindVoltageFromZero:
		return FormatVoltage(si)
	case KindTime:
		return FormatTime(si)
	case KindCapacitance:
		return FormatCapacitance(si)
	case KindAngle, KindCrossingAngle:
		return FormatAngle(si)
	case KindPercent:
		return FormatPercent(si)
	case KindTemperature:
		return FormatTemperature(si)
	case KindCount:
		return FormatCount(si)
	default:
		return FormatPlace(si)
	}
}

// join makes a range of two printed ends: "7 .. 9 ft", "6 in .. 1 ft"; one of them when
// they are alike.
func join(low, high string) string {
	if low == high {
		return low
	}
	lowNumber, lowUnit := cutUnit(low)
	if _, highUnit := cutUnit(high); lowUnit == highUnit && lowUnit != "" {
		low = lowNumber
	}
	return low + " .. " + high
}

// cutUnit splits "6 1/2 in" into number and unit; the unit is "" when there is none, or
// more than one as in "4 ft 8 in".
func cutUnit(s string) (number, unit string) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 || strings.ContainsFunc(s[:i], unicode.IsLetter) {
		return s, ""
	}
	return s[:i], s[i+1:]
}

// step is a unit to print in, for sizes from a number of SI units on.
type step struct {
	size, from float64
	unit       string
}

func (s step) isPlain() bool { return s.size == 1 }

// scaled prints si with three significant digits in the first of steps that fits. The
// steps fall, the last one from 0 on; the plain one is where 0 is printed.
func scaled(si float64, steps []step) string {
	if !finite(si) {
		return "unknown"
	}
	rounded := math.Abs(significant(si))
	last := steps[len(steps)-1]
	if rounded < last.size*0.0005 {
		return "0 " + steps[slices.IndexFunc(steps, step.isPlain)].unit
	}
	fits := func(s step) bool { return rounded >= s.from*(1-1e-9) }
	s := steps[slices.IndexFunc(steps, fits)]
	return plain(significant(si/s.size)) + " " + s.unit
}

// FormatResistance prints ohms with three significant digits: "60 mΩ", "12 kΩ".
func FormatResistance(ohms float64) string {
	return scaled(ohms, []step{{1e6, 1e6, "MΩ"}, {1e3, 1e3, "kΩ"}, {1, 0.1, "Ω"}, {1e-3, 1e-4, "mΩ"}, {1e-6, 0, "µΩ"}})
}

// FormatCurrent prints amperes with three significant digits: "0.25 A", "60 mA".
func FormatCurrent(amperes float64) string {
	return scaled(amperes, []step{{1, 0.1, "A"}, {1e-3, 1e-4, "mA"}, {1e-6, 0, "µA"}})
}

// FormatVoltage prints volts with three significant digits: "14.8 V", "50 mV".
func FormatVoltage(volts float64) string {
	return scaled(volts, []step{{1, 0.1, "V"}, {1e-3, 1e-4, "mV"}, {1e-6, 0, "µV"}})
}

// FormatTime prints seconds with three significant digits: "40 ms", "58 µs".
func FormatTime(seconds float64) string {
	return scaled(seconds, []step{{1, 0.1, "s"}, {1e-3, 1e-4, "ms"}, {1e-6, 1e-7, "µs"}, {1e-9, 0, "ns"}})
}

// FormatCapacitance prints farads with three significant digits: "0.1 µF".
func FormatCapacitance(farads float64) string {
	return scaled(farads, []step{{1, 0.1, "F"}, {1e-6, 1e-7, "µF"}, {1e-9, 1e-10, "nF"}, {1e-12, 0, "pF"}})
}

// FormatPercent prints parts per hundred with three significant digits: "5 %".
func FormatPercent(percent float64) string {
	return scaled(percent, []step{{1, 0, "%"}})
}

// FormatCount prints a bare number with three significant digits.
func FormatCount(n float64) string {
	if !finite(n) {
		return "unknown"
	}
	return plain(significant(n))
}

// FormatAngle prints degrees to the tenth: "22.5 deg".
func FormatAngle(degrees float64) string { return tenths(degrees, "deg") }

// FormatTemperature prints degrees Celsius to the tenth: "-5 °C".
func FormatTemperature(celsius float64) string { return tenths(celsius, "°C") }

func tenths(v float64, unit string) string {
	if !finite(v) {
		return "unknown"
	}
	return plain(decimals(v, 1)) + " " + unit
}

// FormatArea prints square metres of wire as mm² with three significant digits.
func FormatArea(squareMetres float64) string {
	if !finite(squareMetres) {
		return "unknown"
	}
	return plain(significant(squareMetres*1e6)) + " mm²"
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// significant rounds v to three significant digits.
func significant(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 2, 64), 64)
	return r
}

// decimals rounds v to n decimals.
func decimals(v float64, n int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', n, 64), 64)
	return r
}

// plain prints a number without exponent, trailing zeros or a sign on 0.
func plain(v float64) string {
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
