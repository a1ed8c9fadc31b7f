package catalogue

import (
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// protection is what trips of a source or an in-line part. melts says that it is a fuse or a ptc:
// it takes seconds to act and says no time.
type protection struct {
	source int32 // -1 for an in-line part
	name   string
	trips  quantity.Current
	time   quantity.Time
	pos    source.Pos
	melts  bool
}

func protectionOf(c *rule.Case, s int32) (protection, bool) {
	src := &c.C.Sources[s]
	switch src.Kind {
	case circuit.BoosterSource:
		b := &c.L.Boosters[src.Ref]
		return protection{source: s, name: src.Name, trips: b.TripsAt, time: b.TripTime, pos: src.Pos}, true
	case circuit.BreakerSource:
		b := &c.L.Breakers[src.Ref]
		return protection{source: s, name: src.Name, trips: b.TripsAt, time: b.TripTime, pos: src.Pos}, true
	case circuit.ReverserSource:
		b := &c.L.Reversers[src.Ref]
		return protection{source: s, name: src.Name, trips: b.TripsAt, time: b.TripTime, pos: src.Pos}, true
	default:
		return protection{}, false
	}
}

// inLineProtection is that of a fuse or ptc: a fuse that does not say at what current it
// blows does so somewhere above its rating.
func inLineProtection(c *rule.Case, i int32) (protection, bool) {
	x := &c.L.InLines[i]
	if x.Kind != layout.Fuse && x.Kind != layout.PTC {
		return protection{}, false
	}
	p := protection{source: -1, name: layout.InLineKindWords[x.Kind] + " " + x.Name, trips: x.TripsAt, pos: x.Pos, melts: true}
	if x.Kind == layout.Fuse && !p.trips.Known() {
		p.trips = x.Rating
	}
	return p, true
}

// cutsOff is what a guard cuts off with, ok false for one that does not: a reverser changes over.
func cutsOff(c *rule.Case, g districts.Guard) (protection, bool) {
	switch {
	case g.InLine >= 0:
		return inLineProtection(c, g.InLine)
	case g.Source < 0 || c.C.Sources[g.Source].Kind == circuit.ReverserSource:
		return protection{}, false
	default:
		return protectionOf(c, g.Source)
	}
}

// lateness is how a protection compares with one above it.
type lateness struct {
	late  bool // it needs more current
	equal bool // it may need the same
	slow  bool // it takes as long, or longer
	timed bool // both say how long they take
}

func (own *protection) against(above *protection) lateness {
	v := lateness{late: own.trips.Hi > above.trips.Lo, equal: own.trips.Hi == above.trips.Lo}
	v.timed = own.time.Known() && above.time.Known()
	v.slow = v.timed && own.time.Hi >= above.time.Lo
	return v
}

// numbers are the current and the time that are at fault.
func (v lateness) numbers(own, above *protection, verb string) []finding.Number {
	var out []finding.Number
	if v.late || v.equal {
		out = append(out, finding.Number{Name: own.name + " " + verb + " at", Text: own.trips.String(), SI: own.trips.Hi, Unit: "A", Limit: "below " + above.trips.String(), Source: above.name + ", yours"})
	}
	if v.slow {
		out = append(out, finding.Number{Name: own.name + " " + verb + " after", Text: own.time.String(), SI: own.time.Hi, Unit: "s", Limit: "below " + above.time.String(), Source: above.name + ", yours"})
	}
	return out
}

// clearance is what part of the current and time above it a protection keeps to. Common
// practice, no source.
const clearance = 0.75

// wellBelow is a current with clearance below another, on a step of a setting: half an ampere,
// below 1 A a twentieth.
func wellBelow(amps float64) float64 {
	for _, step := range [...]float64{0.5, 0.05, 0.005} {
		if v := math.Floor(clearance*amps/step+1e-9) * step; v >= step*1.5 {
			return v
		}
	}
	return clearance * amps
}

// stepUp is the next step of a setting from a current on.
func stepUp(amps float64) float64 {
	step := 0.5
	if amps < 1 {
		step = 0.05
	}
	return math.Ceil(amps/step-1e-9) * step
}

// leastAbove is the lowest current at which anything above a guard cuts off, and what that is; ok is
// false where nothing above says.
func leastAbove(c *rule.Case, from layout.Source) (p protection, ok bool) {
	for _, g := range c.T.GuardsAbove(from) {
		if x, cuts := cutsOff(c, g); cuts && x.trips.Known() && (!ok || x.trips.Lo < p.trips.Lo) {
			p, ok = x, true
		}
	}
	return p, ok
}

// hangsFrom is what a breaker or reverser hangs from.
func hangsFrom(c *rule.Case, s int32) layout.Source {
	switch src := &c.C.Sources[s]; src.Kind {
	case circuit.BreakerSource:
		return c.L.Breakers[src.Ref].From
	case circuit.ReverserSource:
		return c.L.Reversers[src.Ref].From
	default:
		return layout.Source{}
	}
}
