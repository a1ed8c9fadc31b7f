package split

import (
	"math"
	"strings"

	"gapwise/netlist/layout"
)

// standing puts loads into the atoms they stand in; one on a bus counts where that bus's nearest feeder is.
func (x *instance) standing() {
	g := x.atoms.g
	var silent []string
	for i := range g.l.Loads {
		load := &g.l.Loads[i]
		n := x.atomOfLoad(load)
		switch {
		case n < 0:
		case load.Draws.Known():
			x.nodes[n].Load += milli(load.Draws.Hi)
		case load.Resistance.Said() || load.Capacitance.Said():
		default:
			silent = append(silent, loadName(load))
		}
	}
	if len(silent) > 0 {
		x.notes = append(x.notes, "not counted, for want of `draws`: "+strings.Join(silent, ", "))
	}
}

func loadName(load *layout.Load) string {
	switch {
	case load.Name != "":
		return load.Name
	case load.OnRail:
		return "the load at " + load.Place.Text
	default:
		return "the load at " + load.Tap.Text
	}
}

func (x *instance) atomOfLoad(load *layout.Load) int32 {
	g := x.atoms.g
	if load.OnRail {
		if p, ok := g.pointAt(load.Place); ok {
			return x.atoms.of[p]
		}
		return -1
	}
	tap := load.Tap
	for range len(g.l.Buses) {
		if tap.Bus < 0 {
			break
		}
		if n := x.nearestOn(tap); n >= 0 {
			return n
		}
		from := g.l.Buses[tap.Bus].From // a bus without feeders: what it hangs from
		if from.Kind != layout.FromTap {
			break
		}
		tap = from.Tap
	}
	return -1
}

// nearestOn is the atom of the feeder nearest to a tap on its bus, -1 for none.
func (x *instance) nearestOn(tap layout.Tap) int32 {
	g := x.atoms.g
	best, least := int32(-1), math.Inf(1)
	for f := range g.l.Feeders {
		spot := g.c.FeederSpot[f]
		if spot < 0 {
			continue
		}
		for _, other := range g.l.Feeders[f].From {
			if other.Bus != tap.Bus {
				continue
			}
			if d := math.Abs(other.At.Mid() - tap.At.Mid()); d < least {
				best, least = x.atoms.of[spot], d
			}
		}
	}
	return best
}
