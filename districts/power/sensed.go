package power

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"
	"gapwise/netlist/solve"
)

// Sensed is what a detector's leg carries with no train about, as mean absolute amperes under one bits.
type Sensed struct {
	Detector int32 // Layout.Detectors
	Head     *Head
	Volts    conductor.Range // across the legs there
	Wires    conductor.Range // what wire pairs and rails pass as capacitors
	Fixed    conductor.Range // terminators and loads
	Metres   float64         // of wire and track behind it
	Assumed  bool            // some length, spacing or value behind it is not said
}

// Amps is all of it.
func (s *Sensed) Amps() conductor.Range { return s.Wires.Plus(s.Fixed) }

// oneFrequency is that of one bits, in hertz.
const oneFrequency = 1 / (2 * dcc.OneHalf)

// Sensed lists what every detector of a head carries with nothing on its track, in their order.
func (h *Head) Sensed() []Sensed {
	var out []Sensed
	for _, w := range h.watchedNodes() {
		s := Sensed{Detector: w.detector, Head: h, Volts: h.Volts}
		behind := h.behind(w.leg, w.node)
		h.charge(&s, w.leg, behind)
		h.stand(&s, w.leg, behind)
		out = append(out, s)
	}
	return out
}

// watchedNode is a detector's leg, and the node behind it in the weak network.
type watchedNode struct {
	detector int32
	leg      int
	node     int32
}

// watchedNodes lists the detectors of a head, in their order.
func (h *Head) watchedNodes() []watchedNode {
	var out []watchedNode
	for leg := range h.Weak.Leg {
		l := &h.Weak.Leg[leg]
		for e := range l.Net.Edges {
			if k := &h.Study.C.Conductors[l.Net.Edges[e].Conductor]; k.Kind == circuit.DetectorLeg {
				out = append(out, watchedNode{k.Ref, leg, l.Net.Edges[e].J}) // laid from its source to what it watches
			}
		}
	}
	slices.SortStableFunc(out, func(x, y watchedNode) int { return cmp.Compare(x.detector, y.detector) })
	return out
}

// behind marks the nodes of a leg that hang on a node: all that can be reached without the detectors that lie nearer the source.
func (h *Head) behind(leg int, node int32) []bool {
	l := &h.Weak.Leg[leg]
	if node == solve.Ground {
		return nil
	}
	ground := int32(len(l.Net.Node))
	at := func(n int32) int32 {
		if n == solve.Ground {
			return ground
		}
		return n
	}
	start, list := incidence(l, at, len(l.Net.Node)+1)
	seen := make([]bool, len(l.Net.Node)+1)
	seen[node] = true
	queue := []int32{node}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, e := range list[start[n]:start[n+1]] {
			k := &l.Net.Edges[e]
			m := at(k.I) + at(k.J) - n
			upstream := h.Study.C.Conductors[k.Conductor].Kind == circuit.DetectorLeg && at(k.J) == n
			if !seen[m] && !upstream && m != ground {
				seen[m] = true
				queue = append(queue, m)
			}
		}
	}
	return seen
}

// charge adds what wires and rails behind a detector pass as capacitors: 4 V C f for a square wave.
func (h *Head) charge(s *Sensed, leg int, behind []bool) {
	l := h.Study.C.Layout
	farads := conductor.Range{}
	net := h.Weak.Leg[leg].Net
	for e := range net.Edges {
		edge := &net.Edges[e]
		if edge.I == solve.Ground || edge.J == solve.Ground || !behind[edge.I] || !behind[edge.J] {
			continue
		}
		k := &h.Study.C.Conductors[edge.Conductor]
		switch k.Kind {
		case circuit.BusSpan:
			farads = farads.Plus(busCapacitance(&l.Buses[k.Ref]).Times(k.Length()))
			s.Metres += k.Length()
			s.Assumed = s.Assumed || !l.Buses[k.Ref].Wire.Known()
		case circuit.RailLength:
			code := l.Tracks[l.Pieces[k.Ref].Index].Rail.Code
			farads = farads.Plus(conductor.RailPairCapacitance(l.Scale, code).Times(k.Length()))
			s.Metres += k.Length()
		}
	}
	s.Wires = conductor.Range{Lo: 4 * s.Volts.Lo * farads.Lo * oneFrequency, Hi: 4 * s.Volts.Hi * farads.Hi * oneFrequency}
}

// busCapacitance is that of a metre of a bus against its companion: as laid, beside another bus, or anywhere.
func busCapacitance(b *layout.Bus) conductor.Range {
	w := b.Wire
	if !w.Known() {
		w = network.UsualBus()
	}
	if b.Legs == layout.LegsBoth {
		return conductor.LaidCapacitance(w, b.Laid)
	}
	near := conductor.LaidCapacitance(w, layout.Laid{Kind: layout.LaidTwisted})
	for i := range b.Beside {
		if sp := b.Beside[i].Spacing; sp.Known() && sp.Lo > 0 {
			return conductor.LaidCapacitance(w, layout.Laid{Kind: layout.LaidApart, Spacing: sp})
		} else if sp.Known() {
			return near
		}
	}
	far := conductor.LaidCapacitance(w, layout.Laid{Kind: layout.LaidApart, Spacing: quantity.Length{Value: quantity.Exact(1)}})
	return conductor.Range{Lo: far.Lo, Hi: near.Hi}
}

// stand adds terminators and loads that lie behind a detector.
func (h *Head) stand(s *Sensed, leg int, behind []bool) {
	l := h.Study.C.Layout
	for i := range l.Terminators {
		t := &l.Terminators[i]
		if h.hangsBehind(leg, behind, t.OnRail, t.Place, t.Tap) {
			s.network(t.Resistance, t.Capacitance)
		}
	}
	for i := range l.Loads {
		x := &l.Loads[i]
		if !h.hangsBehind(leg, behind, x.OnRail, x.Place, x.Tap) {
			continue
		}
		if x.Draws.Known() {
			s.Fixed = s.Fixed.Plus(conductor.Range{Lo: x.Draws.Lo, Hi: x.Draws.Hi})
			continue
		}
		s.network(x.Resistance, x.Capacitance)
	}
}

// network adds a resistance, a capacitance, or both in series, across the legs.
func (s *Sensed) network(r quantity.Resistance, c quantity.Capacitance) {
	amps := func(volts, ohms, farads float64) float64 {
		switch {
		case !c.Known():
			return volts / ohms
		default:
			return dcc.Snubber{Ohms: ohms, Farads: farads}.MeanAmps(volts, dcc.OneHalf)
		}
	}
	switch {
	case !r.Known() && !c.Known(), r.State == quantity.Unknown, c.State == quantity.Unknown:
		s.Assumed = true
	default:
		s.Fixed = s.Fixed.Plus(conductor.Range{Lo: amps(s.Volts.Lo, r.Hi, c.Lo), Hi: amps(s.Volts.Hi, max(r.Lo, 1e-6), c.Hi)})
	}
}

// hangsBehind reports whether something across the legs hangs, with its one leg, behind a detector.
func (h *Head) hangsBehind(leg int, behind []bool, onRail bool, place layout.Place, tap layout.Tap) bool {
	x := h.Weak
	if !onRail {
		for i := range x.Taps {
			if p := &x.Taps[i]; p.Bus == tap.Bus && tap.At.Known() && p.At == tap.At.Mid() {
				return p.Node[leg] != solve.Ground && behind[p.Node[leg]]
			}
		}
		return false
	}
	way, _ := h.Study.wayAt(place)
	pair := x.railOn(way)
	if way < 0 || pair == nil {
		return false
	}
	e := &x.Leg[leg].Net.Edges[pair.Edge[leg]]
	return e.I != solve.Ground && behind[e.I]
}

// Uneven is a gap over which the volts of two neighbouring blocks differ because detectors drop them: by so
// many volts, from the least to the most, as a range.
type Uneven struct {
	Head  *Head
	Way   int32 // Circuit.Ways: the gap
	Far   int32 // spot on the side with fewer volts
	Volts conductor.Range
}

// Unevens lists the gaps of a head over which detectors make volts differ, in the circuit's order.
func (h *Head) Unevens() []Uneven {
	var out []Uneven
	for i := range h.Weak.Gaps {
		p := &h.Weak.Gaps[i]
		if !p.Side[0].OK || !p.Side[1].OK {
			continue
		}
		hi := h.Weak.sideVolts(&p.Side[1]) - h.Weak.sideVolts(&p.Side[0])
		lo := hi
		if q := h.Strong.gapOn(p.Way); q != nil && q.Side[0].OK && q.Side[1].OK {
			lo = h.Strong.sideVolts(&q.Side[1]) - h.Strong.sideVolts(&q.Side[0])
		}
		u := Uneven{Head: h, Way: p.Way, Far: h.Study.C.Ways[p.Way].B}
		if hi < 0 || lo < 0 {
			hi, lo, u.Far = -hi, -lo, h.Study.C.Ways[p.Way].A
		}
		if hi > 0 {
			u.Volts = conductor.Range{Lo: max(0, min(lo, hi)), Hi: max(lo, hi)}
			out = append(out, u)
		}
	}
	return out
}

func (x *Solved) sideVolts(s *network.Side) float64 {
	return x.Leg[0].Volts(s.Node[0]) + x.Leg[1].Volts(s.Node[1])
}
