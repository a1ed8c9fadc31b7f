package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Feed is what one feeder brings to the rails: for each leg wired, the source and leg
// found at its tap (Source -1 when none is).
type Feed struct {
	Feeder int32
	Spot   int32
	Legs   [2]Label // by the leg the feeder was wired for
	Wired  [2]bool
	// Detector through which each leg comes, -1 none.
	Detector [2]int32
}

// Source of the feed: leg A's when it is wired, else leg B's; -1 unknown.
func (f *Feed) Source() int32 {
	if f.Wired[layout.A] {
		return f.Legs[layout.A].Source
	}
	return f.Legs[layout.B].Source
}

// newFeeds follows every whole feeder's wires back to its source and detector. The
// slice is parallel to Layout.Feeders; a feeder without a spot has Spot -1.
func newFeeds(c *circuit.Circuit) []Feed {
	wires := joinNets(c, func(_ int32, k *circuit.Conductor) bool { return isWire(k) && takesSwitch(c, k) })
	behind := joinNets(c, func(_ int32, k *circuit.Conductor) bool {
		return isWire(k) && k.Kind != circuit.DetectorLeg && takesSwitch(c, k)
	})
	detectorAt := map[int32]int32{}
	for d, node := range c.DetectorOut {
		detectorAt[behind.Of[node]] = int32(d)
	}
	feeds := make([]Feed, len(c.Layout.Feeders))
	for i := range feeds {
		feeds[i] = Feed{Feeder: int32(i), Spot: -1, Legs: [2]Label{{Source: -1}, {Source: -1}}, Detector: [2]int32{-1, -1}}
	}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind != circuit.FeederWire {
			continue
		}
		f := &feeds[k.Ref]
		f.Spot = c.FeederSpot[k.Ref]
		f.Wired[k.Leg] = true
		if ls := wires.Labels(k.A); len(ls) > 0 {
			f.Legs[k.Leg] = ls[0]
		}
		if d, found := detectorAt[behind.Of[k.A]]; found && len(behind.Labels(k.A)) == 0 {
			f.Detector[k.Leg] = d
		}
	}
	return feeds
}

// takesSwitch takes what holds in every setting, and a switch that is on.
func takesSwitch(c *circuit.Circuit, k *circuit.Conductor) bool {
	return k.Device < 0 || (c.Devices[k.Device].Kind == circuit.SwitchDevice && k.Position == 0)
}
