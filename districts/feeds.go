package districts

import (
	"slices"

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
	// Plug that goes in one way round only, through which it comes; -1 none.
	Plug int32
}

// Source of the feed: leg A's when it is wired, else leg B's; -1 unknown.
func (f *Feed) Source() int32 {
	if f.Wired[layout.A] {
		return f.Legs[layout.A].Source
	}
	return f.Legs[layout.B].Source
}

// newFeeds follows every whole feeder's wires back to its source and detector; where two
// sources are tied by a bus that ends at another, each bus counts as its own source's. The
// slice is parallel to Layout.Feeders; a feeder without a spot has Spot -1.
func newFeeds(c *circuit.Circuit, ties []WireTie) []Feed {
	takes := func(k *circuit.Conductor) bool { return isWire(k) && takesSwitch(c, k) && !tiedEnd(c, ties, k) }
	wires := joinNets(c, func(_ int32, k *circuit.Conductor) bool { return takes(k) })
	behind := joinNets(c, func(_ int32, k *circuit.Conductor) bool { return k.Kind != circuit.DetectorLeg && takes(k) })
	detectorAt := map[int32]int32{}
	for d, node := range c.DetectorOut {
		detectorAt[behind.Of[node]] = int32(d)
	}
	feeds := make([]Feed, len(c.Layout.Feeders))
	for i := range feeds {
		feeds[i] = Feed{Feeder: int32(i), Spot: -1, Legs: [2]Label{{Source: -1}, {Source: -1}}, Detector: [2]int32{-1, -1}, Plug: -1}
	}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind != circuit.FeederWire {
			continue
		}
		f := &feeds[k.Ref]
		f.Spot = c.FeederSpot[k.Ref]
		f.Plug = c.PlugAbove(layout.Source{Kind: layout.FromTap, Tap: c.Layout.Feeders[k.Ref].From[k.Leg]})
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

// tiedEnd reports whether a conductor is the far end of a bus by which two sources are tied.
func tiedEnd(c *circuit.Circuit, ties []WireTie, k *circuit.Conductor) bool {
	if k.Kind != circuit.WireEnd || !slices.ContainsFunc(ties, func(t WireTie) bool { return t.Bus == k.Ref }) {
		return false
	}
	taps := c.BusNodes[k.Ref].Node[k.Leg]
	return k.A == taps[len(taps)-1]
}

// Mixed reports whether a feeder takes its two legs from sources that have nothing to do
// with each other: neither lies behind the other, or one turns its phase by itself.
func (f *Feed) Mixed(c *circuit.Circuit) bool {
	a, b := f.Legs[layout.A].Source, f.Legs[layout.B].Source
	if f.Spot < 0 || !f.Wired[layout.A] || !f.Wired[layout.B] || a < 0 || b < 0 || a == b {
		return false
	}
	return !fixedBehind(c, a, b) && !fixedBehind(c, b, a)
}

// fixedBehind reports whether a source hangs from another through nothing that turns.
func fixedBehind(c *circuit.Circuit, s, above int32) bool {
	for range c.Sources {
		if s < 0 || s == above {
			return s == above
		}
		if c.Sources[s].Free {
			return false
		}
		s = c.Sources[s].Parent
	}
	return false
}

// InLineOf reports whether a feeder's leg passes an in-line part that works in that leg alone.
func (t *Trace) InLineOf(feeder int32, leg layout.Leg) bool {
	l := t.C.Layout
	tap := l.Feeders[feeder].From[leg]
	if tap.Bus < 0 {
		return false
	}
	only := [2]layout.Opens{layout.OpensA, layout.OpensB}[leg]
	s := l.Buses[tap.Bus].From
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) {
		switch {
		case s.Kind == layout.FromTap && s.Tap.Bus >= 0:
			s = l.Buses[s.Tap.Bus].From
		case s.Kind == layout.FromDetector:
			s = l.Detectors[s.Index].From
		case s.Kind == layout.FromInLine && l.InLines[s.Index].Legs == only:
			return true
		case s.Kind == layout.FromInLine:
			s = l.InLines[s.Index].From
		default:
			return false
		}
	}
	return false
}

// Behind reports whether a feeder hangs behind a plug, directly or through others.
func (t *Trace) Behind(feeder, plug int32) bool {
	return behindPlug(t.C, t.Feeds[feeder].Plug, plug)
}

// behindPlug reports whether a plug is another, or hangs behind it; -1 is none.
func behindPlug(c *circuit.Circuit, plug, other int32) bool {
	for range c.Layout.Plugs {
		if plug < 0 || plug == other {
			break
		}
		plug = c.PlugAbove(c.Layout.Plugs[plug].From)
	}
	return plug >= 0 && plug == other
}

// turnedByPlugs reports whether what hangs from a plug (-1 none) is the wrong way round because
// of it and the plugs above it.
func turnedByPlugs(c *circuit.Circuit, plug int32, wrong []int32) bool {
	turned := false
	for _, w := range wrong {
		turned = turned != behindPlug(c, plug, w)
	}
	return turned
}
