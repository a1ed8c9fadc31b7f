package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Detection is what hangs behind every detector, followed through breakers, reversers,
// changeovers, plugs and other detectors: a detector sees all of that. Of a device with
// positions every position counts.
type Detection struct {
	t *Trace
	// Reach is what each detector's watched leg leads to, by Layout.Detectors.
	Reach []DetectorReach
	// Above lists, for each feeder, the detectors that a leg of it passes, rising.
	Above [][]int32
}

// DetectorReach is what hangs behind one detector.
type DetectorReach struct {
	Feeders   []int32 // with a leg that passes it, rising
	OtherLeg  []int32 // feeders on its wire by the leg alone that it lets pass, rising
	Detectors []int32 // further detectors behind it, rising
	Sources   []int32 // breakers, reversers and the like behind it, by Circuit.Sources, rising
	Rail      bool    // anything else of the track hangs there: a bridge, a frog
	Load      bool    // a load hangs from its wire
	Around    bool    // its own wire is joined to what feeds it
}

// Detection follows the wires behind every detector.
func (t *Trace) Detection() *Detection {
	d := &Detection{t: t, Reach: make([]DetectorReach, len(t.C.Layout.Detectors)), Above: make([][]int32, len(t.Feeds))}
	if len(d.Reach) == 0 {
		return d
	}
	adj := nodeConductors(t.C)
	past := make([][]int32, len(d.Reach)) // nodes behind the leg let pass
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.PastDetector {
			past[k.Ref] = append(past[k.Ref], k.B)
		}
	}
	for i := range d.Reach {
		r := d.reach(adj, int32(i), past[i])
		d.Reach[i] = r
		for _, f := range r.Feeders {
			d.Above[f] = append(d.Above[f], int32(i))
		}
	}
	return d
}

// reach walks down from a detector, by the watched leg first and then by the other, from
// the nodes past.
func (d *Detection) reach(adj *adjacency, detector int32, past []int32) DetectorReach {
	c := d.t.C
	watched := walkDown(c, adj, c.DetectorOut[detector])
	r := DetectorReach{Around: watched.nodes[c.DetectorIn[detector]]}
	if r.Around {
		return r
	}
	r.Feeders, r.Detectors, r.Rail = watched.feeders, watched.detectors, watched.rail
	for s := range c.Sources {
		if out := c.Sources[s].Out; watched.nodes[out[0]] || watched.nodes[out[1]] {
			r.Sources = append(r.Sources, int32(s))
		}
	}
	r.Load = slices.ContainsFunc(c.Layout.Loads, func(l layout.Load) bool {
		return !l.OnRail && slices.Contains(watched.buses, l.Tap.Bus)
	})
	for _, n := range past {
		for _, f := range walkDown(c, adj, n).feeders {
			if !slices.Contains(r.Feeders, f) {
				r.OtherLeg = append(r.OtherLeg, f)
			}
		}
	}
	return r
}

// behind is what a walk down the wires came to; every list is rising.
type behind struct {
	nodes                     map[int32]bool
	feeders, detectors, buses []int32
	rail                      bool
}

// walkDown follows wire from a node: along buses either way, through devices from what
// feeds them to what they feed.
func walkDown(c *circuit.Circuit, adj *adjacency, from int32) behind {
	b := behind{nodes: map[int32]bool{from: true}}
	queue := []int32{from}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, i := range adj.of(n) {
			k := &c.Conductors[i]
			switch k.Kind {
			case circuit.BusSpan, circuit.WireEnd:
				b.buses = append(b.buses, k.Ref)
			case circuit.FeederWire:
				b.feeders = append(b.feeders, k.Ref)
				continue
			case circuit.DetectorLeg, circuit.PastDetector, circuit.BreakerLeg, circuit.ReverserLeg, circuit.ChangeoverLeg, circuit.PlugLeg, circuit.InLineLeg, circuit.PastInLine:
				if n != k.A {
					continue
				}
				if k.Kind == circuit.DetectorLeg {
					b.detectors = append(b.detectors, k.Ref)
				}
			default:
				b.rail = true
				continue
			}
			if o := k.A + k.B - n; !b.nodes[o] {
				b.nodes[o] = true
				queue = append(queue, o)
			}
		}
	}
	for _, list := range []*[]int32{&b.feeders, &b.detectors, &b.buses} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	return b
}

// Behind reports whether one detector hangs behind another.
func (d *Detection) Behind(inner, outer int32) bool {
	return inner >= 0 && outer >= 0 && slices.Contains(d.Reach[outer].Detectors, inner)
}

// Sees reports whether every one of some feeders passes a detector.
func (d *Detection) Sees(detector int32, feeders []int32) bool {
	return len(feeders) > 0 && !slices.ContainsFunc(feeders, func(f int32) bool { return !slices.Contains(d.Above[f], detector) })
}

// SourceDetector is the nearest detector that a source hangs behind, -1 for none.
func (d *Detection) SourceDetector(source int32) int32 {
	nearest := int32(-1)
	for i := range d.Reach {
		if slices.Contains(d.Reach[i].Sources, source) && (nearest < 0 || d.Behind(int32(i), nearest)) {
			nearest = int32(i)
		}
	}
	return nearest
}
