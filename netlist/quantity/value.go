// Package quantity holds what a layout measures: lengths, wires, volts, amps and the
// rest, each a value, a range or unknown, each with the place it was typed at.
// Inside, everything is SI; the owner's spelling is kept for messages.
package quantity

import "gapwise/netlist/source"

// State tells apart what was not said, what was said to be unknown, and what is known.
type State uint8

// The states of a value. The zero value is Unsaid: no rule may treat it as fine.
const (
	Unsaid State = iota
	Unknown
	Known
)

// Value is a number of SI units with Lo <= Hi, equal unless a range was typed.
// Text is the owner's spelling, Pos where it stands.
type Value struct {
	Lo, Hi float64
	State  State
	Text   string
	Pos    source.Pos
}

// Exact is a known value without a place, for defaults and tests.
func Exact(si float64) Value { return Value{Lo: si, Hi: si, State: Known} }

// Known reports whether a number (or range) is at hand.
func (v Value) Known() bool { return v.State == Known }

// Said reports whether the owner typed anything, `unknown` included.
func (v Value) Said() bool { return v.State != Unsaid }

// Mid is the middle of the range; 0 unless Known.
func (v Value) Mid() float64 { return (v.Lo + v.Hi) / 2 }

// Typed values. The embedded Value's unit is in the comment.
type (
	Length      struct{ Value } // metres
	Resistance  struct{ Value } // ohms
	Current     struct{ Value } // amperes
	Voltage     struct{ Value } // volts
	Time        struct{ Value } // seconds
	Capacitance struct{ Value } // farads
	Angle       struct{ Value } // degrees
	Percent     struct{ Value } // parts per hundred
	Temperature struct{ Value } // degrees Celsius
)

// Wire is a copper conductor: Value is its cross-section in square metres. Gauge is
// set (HasGauge) when it was typed as one AWG size, and 0 is then a real size: 0 is 1/0,
// -1 is 2/0, -2 is 3/0, -3 is 4/0, as the formula of AWGDiameter counts.
type Wire struct {
	Value
	Gauge    int
	HasGauge bool
}
