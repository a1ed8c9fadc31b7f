package conductor

import (
	"math"
	"strings"
)

// measured is a row of measured rail: ohms a metre of one rail, and who measured.
type measured struct {
	code   int
	metal  string
	ohms   Range
	source string
}

// spread is by how much two careful measurements of one kind of rail differ: 76 to 57.1 milliohms a metre for
// code 100 nickel silver (web pages "Rail Size" and "Track Resistance"). A kind that only one measured gets it downwards too:
// of the two the higher is the one that also measured the rest.
const spread = 57.1 / 76

var rails = []measured{
	{100, nickelSilver, Range{57.1e-3, 76e-3}, `web pages "Track Resistance" and "Rail Size", measured`},
	{83, nickelSilver, Range{108e-3 * spread, 108e-3}, `web page "Rail Size", measured; the spread is that of code 100`},
	{70, nickelSilver, Range{206e-3 * spread, 206e-3}, `web page "Rail Size", measured; the spread is that of code 100`},
	{100, brass, Range{18.9e-3, 18.9e-3 / spread}, `web page "Track Resistance", measured; the spread is that of nickel silver`},
}

const (
	nickelSilver = "nickel silver"
	brass        = "brass"
	steel        = "steel"
)

// overNickelSilver is the resistivity of other metals against nickel silver's: brass 61.6 and nickel silver
// 230 nanoohm metres (data sheets UNS C26000 and C73100), 186 by the measured rails; carbon steel 130 to 200, from memory.
var overNickelSilver = map[string]Range{
	nickelSilver: {1, 1},
	brass:        {61.6 / 230, 18.9 / 57.1},
	steel:        {0.45, 1.05},
}

// metalOf reads a metal's name as people type it.
func metalOf(metal string) (string, bool) {
	m := strings.ToLower(strings.TrimSpace(metal))
	if m == "nickel-silver" || m == "ns" {
		m = nickelSilver
	}
	_, known := overNickelSilver[m]
	return m, known
}

// RailMetalKnown reports whether a metal has a resistivity here.
func RailMetalKnown(metal string) bool {
	_, known := metalOf(metal)
	return known
}

// perKelvin is the change of a rail's resistance for each kelvin: nickel silver and brass from
// memory, steel from memory.
var perKelvin = map[string]float64{nickelSilver: 0.0003, brass: 0.0015, steel: 0.005}

// estimate is how far an estimated rail may be off, either way: cross-section goes with the square of the code in rails of one shape,
// and RP-15.1 does not give the web. From memory.
const estimate = 1.35

// RailOhms is the resistance of a metre of one rail, in ohms, by code (thousandths of an inch) and
// metal, from its low to its high end; false when code or metal are not known. What nobody measured is
// estimated from code 100 nickel silver, and the range is wider for it.
func RailOhms(code int, metal string, celsius Range) (Range, bool) {
	m, known := metalOf(metal)
	if !known || code <= 0 {
		return Range{}, false
	}
	r, found := Range{}, false
	for _, x := range rails {
		if x.code == code && x.metal == m {
			r, found = x.ohms, true
		}
	}
	if !found {
		scale := math.Pow(100/float64(code), 2)
		r = rails[0].ohms.Times(scale).By(overNickelSilver[m])
		r.Lo, r.Hi = r.Lo/estimate, r.Hi*estimate
	}
	a := perKelvin[m]
	return Range{r.Lo * (1 + a*(celsius.Lo-20)), r.Hi * (1 + a*(celsius.Hi-20))}, true
}

// RailSource says where the resistance of a rail comes from.
func RailSource(code int, metal string) string {
	m, known := metalOf(metal)
	if !known || code <= 0 {
		return "unknown rail"
	}
	for _, x := range rails {
		if x.code == code && x.metal == m {
			return x.source
		}
	}
	return "estimated from code 100 nickel silver by the square of the code; " + FromMemory
}

// RailOhmsWidest is the range for a rail of which nothing is said: from code 100 brass to code 55
// nickel silver.
func RailOhmsWidest(celsius Range) Range {
	lo, _ := RailOhms(100, brass, celsius)
	hi, _ := RailOhms(55, nickelSilver, celsius)
	return Range{lo.Lo, hi.Hi}
}
