package network

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/solve"
	"gapwise/netlist/source"
)

// GuardKind tells what a guard is.
type GuardKind uint8

const (
	SourceGuard   GuardKind = iota // the booster, cab or supply at the head; Ref: Circuit.Sources
	BreakerGuard                   // Ref: Layout.Breakers
	ReverserGuard                  // Ref: Layout.Reversers
	InLineGuard                    // a fuse, ptc or lamp; Ref: Layout.InLines
)

// Guard is what acts on a short behind it: it trips, or (a lamp) holds the current down to
// LimitsTo. Parent is the guard above it, -1 for the head. Above is, by leg, the node it hangs
// from.
type Guard struct {
	Kind     GuardKind
	Ref      int32
	Parent   int32
	Name     string
	TripsAt  quantity.Current
	TripTime quantity.Time
	LimitsTo quantity.Current
	Above    [2]int32
	Pos      source.Pos
}

func headGuard(c *circuit.Circuit, source int32) Guard {
	s := &c.Sources[source]
	g := Guard{Kind: SourceGuard, Ref: source, Parent: -1, Name: s.Name, Above: [2]int32{solve.Ground, solve.Ground}, Pos: s.Pos}
	switch s.Kind {
	case circuit.BoosterSource:
		b := &c.Layout.Boosters[s.Ref]
		g.TripsAt, g.TripTime = b.TripsAt, b.TripTime
	case circuit.CabSource:
		g.LimitsTo = c.Layout.Cabs[s.Ref].Rating
	}
	return g
}

// guardOf is the guard that a conductor brings in, if it brings in one.
func guardOf(l *layout.Layout, k *circuit.Conductor) (Guard, bool) {
	switch k.Kind {
	case circuit.BreakerLeg:
		b := &l.Breakers[k.Ref]
		return Guard{Kind: BreakerGuard, Ref: k.Ref, Name: "breaker " + b.Name, TripsAt: b.TripsAt, TripTime: b.TripTime, Pos: b.Pos}, true
	case circuit.ReverserLeg:
		r := &l.Reversers[k.Ref]
		return Guard{Kind: ReverserGuard, Ref: k.Ref, Name: "reverser " + r.Name, TripsAt: r.TripsAt, TripTime: r.TripTime, Pos: r.Pos}, true
	case circuit.InLineLeg:
		x := &l.InLines[k.Ref]
		if x.Kind == layout.Switch {
			return Guard{}, false
		}
		return Guard{Kind: InLineGuard, Ref: k.Ref, Name: layout.InLineKindWords[x.Kind] + " " + x.Name, TripsAt: x.TripsAt, LimitsTo: x.LimitsTo, Pos: x.Pos}, true
	default:
		return Guard{}, false
	}
}
