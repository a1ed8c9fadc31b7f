package quantity

import (
	"cmp"
	"slices"
)

// spelling is one way to type a unit. A blank in text stands for one or more blanks.
// Case counts where anyCase is not set: mΩ is not MΩ.
type spelling struct {
	text    []rune
	unit    *unit
	anyCase bool
}

// words are spellings whose meaning does not hang on case, typed in lower case.
func words(u *unit, texts ...string) []spelling { return spell(u, true, texts) }

// signs are spellings taken letter for letter.
func signs(u *unit, texts ...string) []spelling { return spell(u, false, texts) }

func spell(u *unit, anyCase bool, texts []string) []spelling {
	var out []spelling
	for _, t := range texts {
		out = append(out, spelling{text: []rune(t), unit: u, anyCase: anyCase})
	}
	return out
}

// table joins spellings, longest first, so that "mm2" is tried before "mm" and "mm"
// before "m".
func table(groups ...[]spelling) []spelling {
	all := slices.Concat(groups...)
	slices.SortStableFunc(all, func(a, b spelling) int { return cmp.Compare(len(b.text), len(a.text)) })
	return all
}

// The spellings of each unit. Ω is typed as U+03A9 or U+2126, µ as U+00B5 or U+03BC, and
// primes come straight, slanted or typographic, two single ones making an inch mark.
var (
	lengthSpellings = table(
		words(&foot, "ft", "foot", "feet"),
		signs(&foot, "'", "\u2032", "\u2019", "\u2018", "\u02b9", "\u02bc", "\u00b4", "`"),
		words(&inch, "in", "inch", "inches"),
		signs(&inch, "\"", "\u2033", "\u201d", "\u201c", "\u02ba",
			"''", "\u2032\u2032", "\u2019\u2019", "\u2018\u2018", "\u00b4\u00b4"),
		words(&metre, "m", "metre", "metres", "meter", "meters"),
		words(&centimetre, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
		words(&millimetre, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
		words(&kilometre, "km"),
	)
	wireSpellings = table(
		words(&squareMillimetre, "mm²", "mm2", "mm^2", "sq mm", "sq. mm", "sqmm"),
	)
	resistanceSpellings = table(
		signs(&one, "Ω", "\u2126"),
		words(&one, "ohm", "ohms"),
		signs(&milli, "mΩ", "m\u2126", "mohm", "mohms", "mOhm", "mOhms"),
		words(&milli, "milliohm", "milliohms"),
		signs(&kilo, "kΩ", "k\u2126", "KΩ", "K\u2126", "k", "K"),
		words(&kilo, "kohm", "kohms", "kilohm", "kilohms"),
		signs(&mega, "MΩ", "M\u2126", "Mohm", "Mohms", "MOhm", "MOhms"),
		words(&mega, "megohm", "megohms"),
		signs(&micro, "µΩ", "µ\u2126", "\u03bcΩ", "\u03bc\u2126", "uΩ", "u\u2126", "µohm", "\u03bcohm", "uohm"),
	)
	currentSpellings = table(
		words(&one, "a", "amp", "amps", "ampere", "amperes"),
		signs(&milli, "mA", "ma"),
		words(&milli, "milliamp", "milliamps"),
		signs(&micro, "µA", "\u03bcA", "uA"),
	)
	voltageSpellings = table(
		words(&one, "v", "volt", "volts"),
		signs(&milli, "mV", "mv"),
		words(&milli, "millivolt", "millivolts"),
		signs(&micro, "µV", "\u03bcV", "uV"),
		signs(&kilo, "kV", "kv"),
	)
	timeSpellings = table(
		words(&one, "s", "sec", "secs", "second", "seconds"),
		words(&milli, "ms", "msec", "millisecond", "milliseconds"),
		signs(&micro, "µs", "\u03bcs", "us", "usec"),
		words(&micro, "microsecond", "microseconds"),
		signs(&nano, "ns"),
		words(&minute, "min", "minute", "minutes"),
	)
	capacitanceSpellings = table(
		signs(&one, "F"),
		signs(&micro, "µF", "\u03bcF", "uF", "uf"),
		words(&micro, "microfarad", "microfarads"),
		signs(&nano, "nF", "nf"),
		signs(&pico, "pF", "pf"),
	)
	angleSpellings = table(
		words(&degree, "deg", "degs", "degree", "degrees"),
		signs(&degree, "°", "\u00ba", "\u02da"),
	)
	percentSpellings = table(
		signs(&one, "%"),
		words(&one, "percent", "per cent"),
	)
	temperatureSpellings = table(
		signs(&one, "°C", "\u00baC", "\u2103", "deg C", "C"),
		signs(&fahrenheit, "°F", "\u00baF", "\u2109", "deg F", "F"),
	)
)

// spellings of the units of k, longest first; none for a bare number.
func (k Kind) spellings() []spelling {
	switch k {
	case KindWire:
		return wireSpellings
	case KindResistance, KindResistanceFromZero:
		return resistanceSpellings
	case KindCurrent, KindCurrentFromZero:
		return currentSpellings
	case KindVoltage, KindVoltageFromZero:
		return voltageSpellings
	case KindTime:
		return timeSpellings
	case KindCapacitance:
		return capacitanceSpellings
	case KindAngle, KindCrossingAngle:
		return angleSpellings
	case KindPercent:
		return percentSpellings
	case KindTemperature:
		return temperatureSpellings
	case KindCount:
		return nil
	default:
		return lengthSpellings
	}
}
