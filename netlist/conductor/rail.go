package conductor

import "strconv"

const ohmPerMetre = "Ω/m"

// The two places that rail was measured at.
const (
	sampled = `web page "Track Resistance", samples of 5 in at 1 A`
	bridged = `wiki page "Rail Size", bridge at 60 Hz and 1 A`
)

// The two measurements of code 100 nickel silver, in ohm per metre: 1.45 mΩ/in and 76 mΩ/m.
const (
	sampled100 = 1.45e-3 / 25.4e-3
	bridged100 = 76e-3
)

// spread is by how much two careful measurements of the same rail differ, 1.33. Rail that one
// source alone measured is taken to be as much off either way.
const spread = bridged100 / sampled100

// measured is a rail with its ohms per metre.
type measured struct {
	code   int
	metal  string
	ohms   Range
	source string
}

// once is a rail that one source measured.
func once(code int, metal string, ohms float64, source string) measured {
	return measured{
		code, metal,
		Range{ohms / spread, ohms * spread},
		source + ", taken to be a third off either way, by which two sources differ on code 100",
	}
}

var measuredRails = []measured{
	{100, "nickel silver", Range{sampled100, bridged100}, sampled + "; " + bridged},
	once(83, "nickel silver", 108e-3, bridged),
	once(70, "nickel silver", 206e-3, bridged),
	once(100, "brass", 0.48e-3/25.4e-3, sampled),
}

// area100 is the cross-section in square metres that rail of code 100 may have (from memory);
// it grows with the code squared.
var area100 = Range{2.0e-6, 3.3e-6}

// RailAt20 is the resistance of one rail in ohms per metre at 20 degrees Celsius with its
// source: as measured, or else an estimate. False when code (0) or metal is not known.
func RailAt20(code int, metalName string) (Value, bool) {
	m, ok := findMetal(metalName)
	if !ok || code <= 0 {
		return Value{}, false
	}
	v := Value{Unit: ohmPerMetre, What: "code " + strconv.Itoa(code) + " " + m.name + " rail"}
	for _, r := range measuredRails {
		if r.code == code && r.metal == m.name {
			v.Range, v.Source = r.ohms, r.source
			return v, true
		}
	}
	v.Range, v.Source = estimate(code, m)
	return v, true
}

// estimate scales what was measured of the metal with the code squared, as a cross-section
// grows, and keeps the widest, resistivity over area included.
func estimate(code int, m metal) (Range, string) {
	area := area100.Times(square(code) / square(100))
	out := Range{perMetre(m.resistivity.Lo, area.Hi), perMetre(m.resistivity.Hi, area.Lo)}
	source := "estimate " + Memory + ": resistivity over area"
	for _, r := range measuredRails {
		if r.metal == m.name {
			out = out.with(r.ohms.Times(square(r.code) / square(code)))
			source = "estimate " + Memory + ": measured rail of the metal scaled with the code squared, and resistivity over area"
		}
	}
	return out, source
}

func square(code int) float64 { return float64(code) * float64(code) }

// RailOhms is the resistance in ohms of a metre of one rail at temperatures in degrees
// Celsius, with the measured spread. False when code or metal is not known; RailOhmsWidest
// then serves. The measurements are taken to be at 20 degrees Celsius, which their sources
// do not say.
func RailOhms(code int, metalName string, celsius Range) (Range, bool) {
	v, ok := RailAt20(code, metalName)
	if !ok {
		return Range{}, false
	}
	m, _ := findMetal(metalName)
	return v.by(m.warmth(celsius)), true
}

// warmth is by how much the resistance of the metal differs from that at 20 degrees Celsius.
func (m metal) warmth(celsius Range) Range {
	out := Exact(warmed(m.perK.Lo, celsius.Lo))
	for _, k := range []float64{m.perK.Lo, m.perK.Hi} {
		for _, t := range []float64{celsius.Lo, celsius.Hi} {
			out = out.with(Exact(warmed(k, t)))
		}
	}
	return out
}

// RailOhmsWidest is the resistance in ohms of a metre of one rail of which code or metal is
// not known: from the thickest aluminium to the thinnest nickel silver in common use (common
// practice, no source). Steel below about code 50, stainless steel below about code 70 and copper
// above code 264, which are not in common use, lie outside.
func RailOhmsWidest(celsius Range) Range {
	thick, _ := RailOhms(highestCommon, "aluminium", celsius)
	thin, _ := RailOhms(lowestCommon, "nickel silver", celsius)
	return Range{thick.Lo, thin.Hi}
}

// railRows are the rails that were measured, for `explain`.
func railRows() []Value {
	var out []Value
	for _, r := range measuredRails {
		v, _ := RailAt20(r.code, r.metal)
		out = append(out, v)
	}
	return out
}
