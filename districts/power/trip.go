package power

import (
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"
)

// Trip is what acts first, by current, on a short behind a guard: Guard of the weak network, at At. Held says that a lamp or a
// cab holds the current down, so that nothing need trip.
type Trip struct {
	Guard int32
	At    quantity.Current
	Held  bool
}

// Trip finds, of a guard and those above it, the one that needs the least current; ok is false when one on the way does not
// say, and nothing holds the current down.
func (h *Head) Trip(guard int32) (t Trip, ok bool) {
	ok = true
	for _, g := range h.Weak.Above(guard) {
		x := &h.Weak.Guards[g]
		switch {
		case x.LimitsTo.Known():
			t.Held = true
		case !x.TripsAt.Known():
			ok = ok && x.Kind == network.InLineGuard
		case !t.At.Known() || x.TripsAt.Lo < t.At.Lo:
			t.Guard, t.At = g, x.TripsAt
		}
	}
	return t, ok && t.At.Known() || t.Held
}
