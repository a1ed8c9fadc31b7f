package oracle

import (
	"strings"
	"unicode"
)

// units are what quantities of each kind are written in.
var (
	ohmUnits     = map[string]float64{"Ω": 1, "ohm": 1, "ohms": 1, "mΩ": 1e-3, "mohm": 1e-3, "kΩ": 1e3, "kohm": 1e3}
	voltUnits    = map[string]float64{"V": 1, "mV": 1e-3}
	ampUnits     = map[string]float64{"A": 1, "mA": 1e-3}
	secondUnits  = map[string]float64{"s": 1, "ms": 1e-3, "µs": 1e-6, "us": 1e-6}
	celsiusUnits = map[string]float64{"°C": 1, "C": 1}
	percentUnits = map[string]float64{"%": 0.01}
)

// amount reads "60 mΩ" or "0.1 .. 0.5 Ω"; it is notKnown where the text is empty, unknown or none of the units'.
func amount(text string, units map[string]float64) interval {
	left, right, ranged := strings.Cut(text, "..")
	if !ranged {
		right = left
	}
	hi, unit, ok := quantityIn(right, "", units)
	if !ok {
		return notKnown
	}
	lo, _, ok := quantityIn(left, unit, units)
	if !ok || lo > hi {
		return notKnown
	}
	return interval{lo, hi}
}

// quantityIn reads one number and its unit; a bare number takes the unit of the other bound.
func quantityIn(text, other string, units map[string]float64) (float64, string, bool) {
	text = strings.TrimSpace(text)
	at := strings.LastIndexFunc(text, func(r rune) bool { return unicode.IsNumber(r) || r == '.' })
	if at < 0 {
		return 0, "", false
	}
	for at++; at < len(text) && text[at]&0xC0 == 0x80; at++ { // the rest of a fraction's rune
	}
	terms, err := scanTerms(text[:at])
	unit := strings.TrimSpace(text[at:])
	if unit == "" {
		unit = other
	}
	unit = strings.ReplaceAll(unit, "\u2126", "Ω") // the ohm sign and the letter omega look alike
	by, known := units[unit]
	if err != nil || len(terms) != 1 || terms[0].unit != "" || (!known && terms[0].number != 0) {
		return 0, "", false
	}
	return terms[0].number * by, unit, true
}

// or takes a default where a quantity is not known.
func (v interval) or(fallback interval) interval {
	if v.known() {
		return v
	}
	return fallback
}

// lengthOf reads a length, notKnown where there is none.
func lengthOf(text string) interval {
	lo, hi, err := lengthRange(text)
	if err != nil {
		return notKnown
	}
	return interval{lo, hi}
}
