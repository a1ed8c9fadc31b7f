package power

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"
	"gapwise/netlist/solve"
)

// Seen is what one detector sees of the wiring behind it with no train there.
type Seen struct {
	Detector int32
	Head     *Head
	Parts    []SeenPart      // the largest first
	Siemens  conductor.Range // of all parts together
	Unknown  []SeenPart      // terminators and loads of which the layout does not say enough
}

// SeenKind tells what a SeenPart is.
type SeenKind uint8

// The kinds of parts, and what Ref indexes in each.
const (
	SeenBus        SeenKind = iota // Layout.Buses
	SeenFeeders                    // all feeders together; Ref -1
	SeenRails                      // all rails and track work together; Ref -1
	SeenTerminator                 // Layout.Terminators
	SeenLoad                       // Layout.Loads
)

// SeenPart is one part of it, as the conductance that lets through as much current on average, in
// siemens, under one bits. Farads are of wires and rails, over Metres of them.
type SeenPart struct {
	Kind    SeenKind
	Ref     int32
	Metres  conductor.Range
	Farads  conductor.Range
	Siemens conductor.Range
}

// Resting lists what every detector sees with no train, in the layout's order. Detectors that are
// behind no source whose volts are known, and such as have another way around them, are left out.
//
// The mean absolute current of a capacitance is 4 f C V, f that of one bits (58 µs a half): it
// swings by 2 V twice a cycle. Current of resistances and of capacitances has one sign in a
// half-bit, so that means add up.
func (s *Study) Resting() []Seen {
	var out []Seen
	for d := range s.C.Layout.Detectors {
		if x, ok := s.resting(int32(d)); ok {
			out = append(out, x)
		}
	}
	return out
}

func (s *Study) resting(detector int32) (Seen, bool) {
	leg := int(s.C.Layout.Detectors[detector].Leg)
	for _, h := range s.Heads {
		if !h.Known() {
			continue
		}
		weak, ok := h.Weak.behindDetector(leg, detector)
		if !ok {
			continue
		}
		strong, ok := h.Strong.behindDetector(leg, detector)
		if !ok {
			continue
		}
		x := Seen{Detector: detector, Head: h}
		x.laid(s, &weak, &strong)
		x.standing(s, &weak, &strong)
		slices.SortStableFunc(x.Parts, func(a, b SeenPart) int { return -cmp.Compare(a.Siemens.Hi, b.Siemens.Hi) })
		for _, p := range x.Parts {
			x.Siemens = x.Siemens.Plus(p.Siemens)
		}
		return x, true
	}
	return Seen{}, false
}

// reached is the part of one leg's network that hangs behind a detector.
type reached struct {
	x    *Solved
	leg  int
	node []bool // by node of the leg
}

// behindDetector finds what of a leg hangs behind a detector; ok is false where it is not in this
// network, or where something feeds it around the detector.
func (x *Solved) behindDetector(leg int, detector int32) (r reached, ok bool) {
	l := &x.Leg[leg]
	gate := slices.IndexFunc(l.Net.Edges, func(e network.Edge) bool {
		k := &x.Head.Study.C.Conductors[e.Conductor]
		return k.Kind == circuit.DetectorLeg && k.Ref == detector
	})
	if gate < 0 {
		return r, false
	}
	start, list := incidence(l, func(n int32) int32 {
		if n == solve.Ground {
			return int32(len(l.Net.Node))
		}
		return n
	}, len(l.Net.Node)+1)
	r = reached{x: x, leg: leg, node: make([]bool, len(l.Net.Node))}
	queue := []int32{l.Net.Edges[gate].J}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if n == solve.Ground {
			return r, false
		}
		if r.node[n] {
			continue
		}
		r.node[n] = true
		for _, e := range list[start[n]:start[n+1]] {
			if int(e) != gate {
				queue = append(queue, l.Net.Edges[e].I+l.Net.Edges[e].J-n)
			}
		}
	}
	return r, true
}

// has reports whether a conductor of the leg lies behind the detector.
func (r *reached) has(edge int32) bool {
	e := &r.x.Leg[r.leg].Net.Edges[edge]
	return e.I != solve.Ground && e.J != solve.Ground && r.node[e.I] && r.node[e.J]
}

// conductors lists what lies behind, as the circuit numbers it.
func (r *reached) conductors() map[int32]bool {
	out := map[int32]bool{}
	for e := range r.x.Leg[r.leg].Net.Edges {
		if r.has(int32(e)) {
			out[r.x.Leg[r.leg].Net.Edges[e].Conductor] = true
		}
	}
	return out
}

// at reports whether a place of the rails or of a bus lies behind.
func (r *reached) at(onRail bool, p layout.Place, tap layout.Tap) bool {
	if !onRail {
		return slices.ContainsFunc(r.x.Taps, func(t network.TapPair) bool {
			return t.Bus == tap.Bus && t.At == tap.At.Mid() && t.Node[r.leg] != solve.Ground && r.node[t.Node[r.leg]]
		})
	}
	way, _ := r.x.Head.Study.wayAt(p)
	pair := r.x.railOn(way)
	return way >= 0 && pair != nil && r.has(pair.Edge[r.leg])
}

// laid adds the capacitance of wires and rails: of what surely hangs there, and of all that may.
func (x *Seen) laid(s *Study, weak, strong *reached) {
	sure := weak.conductors()
	all := strong.conductors()
	l := s.C.Layout
	buses := make([]SeenPart, len(l.Buses))
	feeders, rails := SeenPart{Kind: SeenFeeders, Ref: -1}, SeenPart{Kind: SeenRails, Ref: -1}
	works := map[int32]bool{}
	for id := range s.C.Conductors {
		if !all[int32(id)] {
			continue
		}
		k := &s.C.Conductors[id]
		switch k.Kind {
		case circuit.BusSpan:
			buses[k.Ref].add(partOf(k.Length(), l.Buses[k.Ref].Length), busFarads(&l.Buses[k.Ref]), sure[int32(id)])
		case circuit.FeederWire:
			f := &l.Feeders[k.Ref]
			feeders.add(lengthOr(f.Length, unsaidFeeder), conductor.LaidCapacitance(wireOr(f.Wire), layout.Laid{}), sure[int32(id)])
		case circuit.RailLength:
			t := &l.Tracks[l.Pieces[k.Ref].Index]
			rails.add(partOf(k.Length(), t.Length), conductor.RailPairCapacitance(l.Scale, t.Rail.Code), sure[int32(id)])
		case circuit.PiecePart:
			works[k.Ref] = true
		}
	}
	for p := range l.Pieces {
		if works[int32(p)] {
			rails.add(conductor.Range{Hi: mostWorkRail}, conductor.RailPairCapacitance(l.Scale, 0), false)
		}
	}
	for b := range buses {
		buses[b].Kind, buses[b].Ref = SeenBus, int32(b)
		x.take(buses[b])
	}
	x.take(feeders)
	x.take(rails)
}

// What is taken for what the layout does not say, in metres: the length of a feeder, and the most
// rail of one leg that a piece of track work has. Common practice, no source.
var unsaidFeeder = conductor.Range{Lo: 0.1, Hi: 0.6}

const mostWorkRail = 1.0

// add adds a length with its capacitance by the metre; what is not sure counts at the high end only.
func (p *SeenPart) add(metres, perMetre conductor.Range, sure bool) {
	if !sure {
		metres.Lo = 0
	}
	p.Metres = p.Metres.Plus(metres)
	p.Farads = p.Farads.Plus(conductor.Range{Lo: metres.Lo * perMetre.Lo, Hi: metres.Hi * perMetre.Hi})
}

// take keeps a part that has some capacitance.
func (x *Seen) take(p SeenPart) {
	if !(p.Farads.Hi > 0) || math.IsInf(p.Farads.Hi, 1) {
		return
	}
	p.Siemens = conductor.Range{Lo: swing(p.Farads.Lo), Hi: swing(p.Farads.Hi)}
	x.Parts = append(x.Parts, p)
}

// swing is the conductance that a capacitance is like under one bits: 4 f C.
func swing(farads float64) float64 {
	return dcc.Snubber{Farads: farads}.MeanAmps(1, dcc.OneHalf)
}

// shielded is what the other wires of a bundle may leave of a lone wire's capacitance to the leg
// that it is not of. Common practice, no source.
const shielded = 0.5

// busFarads is the capacitance to the other leg of a metre of a bus. A leg alone has it to
// the bus that it lies beside, or to whatever is near.
func busFarads(b *layout.Bus) conductor.Range {
	w := wireOr(b.Wire)
	if b.Legs == layout.LegsBoth {
		return conductor.LaidCapacitance(w, b.Laid)
	}
	out := conductor.LaidCapacitance(w, layout.Laid{})
	for i := range b.Beside {
		if s := b.Beside[i].Spacing; s.Known() {
			near := conductor.LaidCapacitance(w, layout.Laid{Kind: layout.LaidApart, Spacing: s})
			out = conductor.Range{Lo: max(out.Lo, shielded*near.Lo), Hi: near.Hi}
			break
		}
	}
	return out
}

// wireOr is a wire, or any from 24 to 12 AWG where the layout does not say. Common practice,
// no source.
func wireOr(w quantity.Wire) quantity.Wire {
	if w.Known() {
		return w
	}
	v := quantity.Exact(quantity.AWGArea(24))
	v.Hi = quantity.AWGArea(12)
	return quantity.Wire{Value: v}
}

func lengthOr(l quantity.Length, unsaid conductor.Range) conductor.Range {
	if l.Known() {
		return conductor.Range{Lo: l.Lo, Hi: l.Hi}
	}
	return unsaid
}

// partOf is a part of something whose whole length is a range, in metres.
func partOf(part float64, whole quantity.Length) conductor.Range {
	if !whole.Known() || whole.Mid() <= 0 {
		return conductor.Exact(part)
	}
	return conductor.Range{Lo: part * whole.Lo / whole.Mid(), Hi: part * whole.Hi / whole.Mid()}
}

// standing adds terminators and loads.
func (x *Seen) standing(s *Study, weak, strong *reached) {
	add := func(p SeenPart, sure, said bool) {
		switch {
		case !said:
			x.Unknown = append(x.Unknown, p)
		case p.Siemens.Hi > 0:
			if !sure {
				p.Siemens.Lo = 0
			}
			x.Parts = append(x.Parts, p)
		}
	}
	l := s.C.Layout
	for i := range l.Terminators {
		t := &l.Terminators[i]
		if strong.at(t.OnRail, t.Place, t.Tap) {
			p := SeenPart{Kind: SeenTerminator, Ref: int32(i)}
			var said bool
			p.Siemens, said = acrossSiemens(t.Resistance, t.Capacitance)
			add(p, weak.at(t.OnRail, t.Place, t.Tap), said)
		}
	}
	for i := range l.Loads {
		t := &l.Loads[i]
		if strong.at(t.OnRail, t.Place, t.Tap) {
			p := SeenPart{Kind: SeenLoad, Ref: int32(i)}
			said := t.Draws.Known()
			if said {
				p.Siemens = conductor.Range{Lo: t.Draws.Lo / x.Head.Volts.Hi, Hi: t.Draws.Hi / max(x.Head.Volts.Lo, x.Head.Volts.Hi/10)}
			} else {
				p.Siemens, said = acrossSiemens(t.Resistance, t.Capacitance)
			}
			add(p, weak.at(t.OnRail, t.Place, t.Tap), said)
		}
	}
}

// acrossSiemens is what a resistance and a capacitance in series, or one of them alone, let through
// under one bits.
func acrossSiemens(r quantity.Resistance, c quantity.Capacitance) (g conductor.Range, said bool) {
	switch {
	case c.Known():
		least, most := dcc.Snubber{Farads: c.Lo}, dcc.Snubber{Farads: c.Hi}
		if r.Known() {
			least.Ohms, most.Ohms = r.Hi, r.Lo
		}
		return conductor.Range{Lo: least.MeanAmps(1, dcc.OneHalf), Hi: most.MeanAmps(1, dcc.OneHalf)}, true
	case r.Known() && r.Lo > 0:
		return conductor.Range{Lo: 1 / r.Hi, Hi: 1 / r.Lo}, true
	default:
		return conductor.Range{}, false
	}
}
