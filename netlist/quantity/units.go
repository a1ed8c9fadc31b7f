package quantity

// unit turns a typed number into SI: (number - offset) * mul / div. Multiplier and
// divisor stay apart, and whole, so that one length has one float however it was
// spelled, up to twelve digits: 1 ft, 12 in and 30.48 cm are equal to the last bit.
type unit struct {
	mul, div float64
	offset   float64
	part     *unit   // the unit that may follow it: inches after feet
	per      float64 // how many of part make one of this
	dot      bool    // an abbreviation that may carry a dot: "in."
	many     string  // its plural, where it may be one of two
}

// The inch is 25.4 mm exactly (international yard and pound agreement of 1959, from
// memory).
var (
	inch       = unit{mul: 254, div: 1e4, dot: true, many: "inches"}
	foot       = unit{mul: 3048, div: 1e4, dot: true, many: "feet", part: &inch, per: 12}
	millimetre = unit{mul: 1, div: 1e3}
	centimetre = unit{mul: 1, div: 1e2, many: "centimetres"}
	metre      = unit{mul: 1, div: 1, many: "metres", part: &centimetre, per: 100}
	kilometre  = unit{mul: 1e3, div: 1}

	squareMillimetre = unit{mul: 1, div: 1e6}

	mega  = unit{mul: 1e6, div: 1}
	kilo  = unit{mul: 1e3, div: 1}
	one   = unit{mul: 1, div: 1}
	milli = unit{mul: 1, div: 1e3}
	micro = unit{mul: 1, div: 1e6}
	nano  = unit{mul: 1, div: 1e9}
	pico  = unit{mul: 1, div: 1e12}

	minute = unit{mul: 60, div: 1}

	degree     = unit{mul: 1, div: 1, dot: true}
	fahrenheit = unit{mul: 5, div: 9, offset: 32}
)
