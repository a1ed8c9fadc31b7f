package power

import (
	"slices"

	"gapwise/netlist/circuit"

	"gapwise/districts"
)

// mended is the circuit as it will be when crossed feeders are put right: their two wires change
// rails, and are not among those set aside. Volts are computed for that, so that one crossed feeder is not
// told again as a long way between its neighbours.
func mended(t *districts.Trace) (*circuit.Circuit, []bool) {
	without := t.Explained()
	if len(t.Polarity.WrongFeeders) == 0 {
		return t.C, without
	}
	c := *t.C
	c.Conductors = slices.Clone(c.Conductors)
	without = slices.Clone(without)
	stray := t.Stray()
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind != circuit.FeederWire || !slices.Contains(t.Polarity.WrongFeeders, k.Ref) || slices.Contains(stray, k.Ref) {
			continue
		}
		spot := &c.Spots[c.FeederSpot[k.Ref]]
		k.Rail = k.Rail.Other()
		k.B = spot.Node[k.Rail]
		without[i] = false
	}
	return &c, without
}

// unsettled marks the track, by block as wired, that a feeder of another district reaches: how it will
// be fed once that is put right is not known, so it is not judged.
func unsettled(t *districts.Trace) map[int32]bool {
	out := map[int32]bool{}
	for _, f := range t.Stray() {
		if spot := t.C.FeederSpot[f]; spot >= 0 {
			out[t.Zones.Of[spot]] = true
		}
	}
	return out
}
