package gauge

import (
	"errors"
	"fmt"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/rule"
)

// Strands is how the copper of a wire is made.
type Strands uint8

const (
	StrandsUnsaid Strands = iota // taken as Stranded, which loses a little more
	Stranded
	Solid
)

// TableAsk is one run of wire, out and back, that no layout describes. Volts, Amps and Length have to be known;
// of the rest, what is not takes a default that the table names.
type TableAsk struct {
	Volts  quantity.Voltage // of the booster
	Amps   quantity.Current // what trains draw at the far end
	Length quantity.Length  // one way

	Trip     quantity.Current // as much as Amps
	TripTime quantity.Time    // a dead short is then not judged
	Laid     layout.Laid      // UsualSpacing apart
	Ambient  quantity.Temperature
	Inside   quantity.Resistance // of the booster, both legs together
	Short    quantity.Resistance // of the short itself
	Strands  Strands

	// WireDrop is the most that the wire may lose: volts, or with Relative parts of the volts. 0 takes DefaultWireDrop, and
	// what all wiring may lose besides.
	WireDrop float64
	Relative bool
	Margin   float64         // how far above its trip a short has to draw, in parts of it
	Metric   bool            // mm² before AWG
	Sizes    []quantity.Wire // no others are looked at; empty: what shops keep
	Feeder   bool            // a feeder, not a bus: only words differ
}

// Taken is a value that was not given, and where what stands for it comes from.
type Taken struct{ Name, Text, Source string }

// UsualSpacing is how far apart, in metres, the wires of a run are taken to lie: 4 in. Common practice, no source.
const UsualSpacing = 0.1016

// mostVolts is where a voltage stops being low: 42.4 V peak, non-sinusoidal alternating current, Pocket Guide to the NEC 2005, notes
// to Tables 11(A) and 11(B).
const mostVolts = 42.4

// The errors of an ask that makes no sense.
var (
	ErrIncomplete = errors.New("a table of wire needs the volts, the amperes that trains draw, and the length one way")
	ErrLimits     = errors.New("a loss or a margin below nothing is no limit")
	ErrMains      = fmt.Errorf("over %s is no low voltage: stop, have a licensed electrician look at it and follow the local electrical code", quantity.FormatVoltage(mostVolts))
)

// single is one run in numbers.
type single struct {
	volts, inside, short, celsius, length conductor.Range
	amps, trip, seconds                   float64 // seconds 0: not said
	margin, most                          float64 // most volts lost
	whole                                 bool    // what all wiring may lose counts too
	laid                                  layout.Laid
	strands                               Strands
	beside                                int // runs side by side
	feeder                                bool
}

func rangeOf(v quantity.Value) conductor.Range { return conductor.Range{Lo: v.Lo, Hi: v.Hi} }

// settle turns an ask into numbers, and names what was taken for what is not known.
func (a *TableAsk) settle() (single, []Taken, error) {
	switch {
	case !a.Volts.Known() || !a.Amps.Known() || !a.Length.Known() || !(a.Volts.Lo > 0) || !(a.Amps.Hi > 0) || !(a.Length.Lo > 0):
		return single{}, nil, ErrIncomplete
	case a.Volts.Hi > mostVolts:
		return single{}, nil, ErrMains
	case !(a.Margin >= 0) || !(a.WireDrop >= 0):
		return single{}, nil, ErrLimits
	}
	s := single{
		volts: rangeOf(a.Volts.Value), length: rangeOf(a.Length.Value), amps: a.Amps.Hi, trip: a.Trip.Hi,
		margin: a.Margin, most: DefaultWireDrop, whole: a.WireDrop <= 0, laid: a.Laid, strands: a.Strands, beside: 1, feeder: a.Feeder,
	}
	var taken []Taken
	take := func(name, text, source string) { taken = append(taken, Taken{name, text, source}) }
	if !a.Trip.Known() {
		s.trip = a.Amps.Hi
		take("trip", quantity.FormatCurrent(s.trip)+", the same as the trains draw", "least that lets them run")
	}
	if a.Trip.Known() && a.Trip.Lo < s.amps {
		return s, nil, fmt.Errorf("a trip of %s is below the %s that the trains draw: it would trip in use", quantity.FormatCurrent(a.Trip.Lo), quantity.FormatCurrent(s.amps))
	}
	if a.TripTime.Known() {
		s.seconds = a.TripTime.Hi
	} else {
		take("trip time", "not known: how long each wire stands a dead short is shown, and not judged", "look it up in the manual of the booster or breaker")
	}
	if s.laid.Kind != layout.LaidTwisted && (s.laid.Kind != layout.LaidApart || !s.laid.Spacing.Known()) {
		s.laid = layout.Laid{Kind: layout.LaidApart, Spacing: quantity.Length{Value: quantity.Exact(UsualSpacing)}}
		take("spacing", "the two wires "+quantity.FormatLength(UsualSpacing)+" apart", rule.CommonPractice)
	}
	fallback := func(to *conductor.Range, v quantity.Value, name string, of conductor.Value, one func(float64) string) {
		if *to = rangeOf(v); !v.Known() {
			*to = of.Range
			take(name, rule.RangeText(of.Range, one)+", "+of.What, of.Source)
		}
	}
	fallback(&s.celsius, a.Ambient.Value, "ambient", conductor.RoomTemperature, quantity.FormatTemperature)
	fallback(&s.inside, a.Inside.Value, "inside", conductor.BoosterInside, quantity.FormatResistance)
	fallback(&s.short, a.Short.Value, "short", conductor.ShortItself, quantity.FormatResistance)
	if s.strands == StrandsUnsaid {
		take("strands", "stranded, which loses a little more than solid", rule.CommonPractice)
	}
	switch {
	case a.WireDrop > 0 && a.Relative:
		s.most = a.WireDrop * s.volts.Lo
	case a.WireDrop > 0:
		s.most = a.WireDrop
	}
	return s, taken, nil
}

// need is what a short has to draw, in amperes.
func (s *single) need() float64 { return s.trip * (1 + s.margin) }
