package network

import (
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// assumed is what is taken for a wire of which the layout says nothing: areas in square
// metres, lengths in metres. Common practice, no source; whatever hangs on it is said
// not to be checked.
type assumed struct {
	thick, thin quantity.Wire
	length      conductor.Range
	what        string
}

func awg(n int) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
}

// UsualBus is the wire that a bus of unknown wire is taken for where its size matters little.
func UsualBus() quantity.Wire { return awg(16) }

// UsualFeederMetres is how long a feeder is taken to be whose length the layout does not say. Common practice, no source.
var UsualFeederMetres = conductor.Range{Lo: 0.1, Hi: 0.6}

var (
	assumedFeeder = assumed{awg(14), awg(24), UsualFeederMetres, "feeder"}
	assumedBond   = assumed{awg(14), awg(24), conductor.Range{Lo: 0.1, Hi: 2}, "bond"}
	assumedBus    = assumed{awg(12), awg(24), conductor.Range{}, "bus"}
)

// wire is a piece of copper of a size and length, either perhaps not said.
func (e *Elements) wire(w quantity.Wire, length quantity.Length, a assumed) Element {
	x := Element{}
	metres := x.length(length, a)
	ohms := x.ohms(w, a, e.celsius)
	x.Ohms = conductor.Range{Lo: ohms.Lo * metres.Lo, Hi: ohms.Hi * metres.Hi}
	return x
}

// length is a length in metres; what is not said is assumed, and marked so.
func (x *Element) length(length quantity.Length, a assumed) conductor.Range {
	if length.Known() {
		return conductor.Range{Lo: length.Lo, Hi: length.Hi}
	}
	x.Assumed, x.Missing = true, "length"
	return a.length
}

// ohms is the resistance of a metre of wire; a size that is not said is assumed.
func (x *Element) ohms(w quantity.Wire, a assumed, celsius conductor.Range) conductor.Range {
	if w.Known() {
		return conductor.WireOhms(w, celsius)
	}
	x.Assumed, x.Missing = true, "wire"
	return conductor.Range{Lo: conductor.WireOhms(a.thick, celsius).Lo, Hi: conductor.WireOhms(a.thin, celsius).Hi}
}

// lead is the inductance of one wire of a short pair whose spacing nobody measured: from
// wires that touch to a loop of unknown width.
func lead(w quantity.Wire, metres conductor.Range) conductor.Range {
	if !w.Known() {
		w = awg(20)
	}
	near := conductor.LaidInductance(w, layout.Laid{Kind: layout.LaidTwisted})
	return conductor.Range{Lo: near.Lo / 2 * metres.Lo, Hi: conductor.LoopInductance(w) / 2 * metres.Hi}
}

// span is one leg of a bus between two taps.
func (e *Elements) span(k *circuit.Conductor) Element {
	bus := &e.c.Layout.Buses[k.Ref]
	metres := stretched(k.Length(), bus.Length)
	var x Element
	ohms := x.ohms(bus.Wire, assumedBus, e.celsius)
	x.Ohms = conductor.Range{Lo: ohms.Lo * metres.Lo, Hi: ohms.Hi * metres.Hi}
	half := BusInductance(bus).Times(0.5)
	x.Henries = conductor.Range{Lo: half.Lo * metres.Lo, Hi: half.Hi * metres.Hi}
	return x
}

// BusInductance is what a metre of a bus and its companion have, in henries: the pair as
// it is laid; a leg alone beside another bus, or anywhere.
func BusInductance(bus *layout.Bus) conductor.Range {
	w := bus.Wire
	if !w.Known() {
		w = UsualBus()
	}
	if bus.Legs == layout.LegsBoth {
		return conductor.LaidInductance(w, bus.Laid)
	}
	near := conductor.LaidInductance(w, layout.Laid{Kind: layout.LaidTwisted})
	far := conductor.LoopInductance(w)
	for i := range bus.Beside {
		if s := bus.Beside[i].Spacing; s.Known() {
			beside := conductor.LaidInductance(w, layout.Laid{Kind: layout.LaidApart, Spacing: s})
			return conductor.Range{Lo: near.Lo, Hi: max(near.Hi, beside.Hi)}
		}
	}
	return conductor.Range{Lo: near.Lo, Hi: far}
}

// stretched is a part of something whose whole length is a range, in metres.
func stretched(part float64, whole quantity.Length) conductor.Range {
	if !whole.Known() || whole.Mid() <= 0 {
		return conductor.Exact(part)
	}
	return conductor.Range{Lo: part * whole.Lo / whole.Mid(), Hi: part * whole.Hi / whole.Mid()}
}

// rail is one rail of a length of track.
func (e *Elements) rail(k *circuit.Conductor) Element {
	t := &e.c.Layout.Tracks[e.c.Layout.Pieces[k.Ref].Index]
	metres := stretched(k.Length(), t.Length)
	x := e.laid(k.Ref, metres, t.Rail.Code)
	if n := e.defaultJoints(k, t); n > 0 {
		kind := layout.JointUnknown
		if f := int(t.Pos.File); f < len(e.c.Layout.JointDefaults) {
			kind = e.c.Layout.JointDefaults[f]
		}
		x.Ohms = x.Ohms.Plus(joint(jointMake(kind)).Times(n))
	}
	return x
}

// defaultJoints is how many joints of a default `every` lie in a length of rail: they count from the track's start, and one where
// a feeder hangs lies just beyond it.
func (e *Elements) defaultJoints(k *circuit.Conductor, t *layout.Track) float64 {
	if !t.JointEvery.Known() || t.JointEvery.Mid() <= 0 {
		return 0
	}
	every := t.JointEvery.Mid()
	const edge = 1e-6
	first := math.Ceil((k.From - edge) / every)
	if k.From < edge || e.gapAt[placeKey{k.Ref, int64(math.Round(k.From / edge))}] {
		first = math.Floor((k.From+edge)/every) + 1 // the start of a track is a joint of its own, and a gap is none
	}
	last := math.Ceil((k.To-edge)/every) - 1
	return max(0, last-first+1)
}

func jointMake(k layout.JointKind) circuit.JointMake {
	switch k {
	case layout.Soldered:
		return circuit.SolderedJoint
	case layout.Plain:
		return circuit.PlainJoint
	default:
		return circuit.UnknownJoint
	}
}

// laid is a length of one rail of a piece.
func (e *Elements) laid(piece int32, metres conductor.Range, code int) Element {
	o := e.stock[piece]
	half := conductor.RailPairInductance(e.c.Layout.Scale, code).Times(0.5)
	x := Element{
		Ohms:    conductor.Range{Lo: o.ohms.Lo * metres.Lo, Hi: o.ohms.Hi * metres.Hi},
		Henries: conductor.Range{Lo: half.Lo * metres.Lo, Hi: half.Hi * metres.Hi},
		Assumed: !o.known,
	}
	if x.Assumed {
		x.Missing = "rail"
	}
	return x
}

// unsaidBody is the length of track work that says none, in metres. Common practice, no
// source.
var unsaidBody = conductor.Range{Lo: 0.1, Hi: 0.45}

// part is a rail, contact or jumper inside track work.
func (e *Elements) part(k *circuit.Conductor) Element {
	switch k.Part {
	case circuit.StockLeft, circuit.StockRight, circuit.OuterLeft, circuit.OuterRight, circuit.RouteLeft, circuit.RouteRight, circuit.BridgeRail, circuit.ThroughRail:
		return e.laid(k.Ref, e.body(k.Ref), 0)
	case circuit.ClosureLeft, circuit.ClosureRight, circuit.FrogLegLeft, circuit.FrogLegRight, circuit.ClosureFrogLeft, circuit.ClosureFrogRight:
		return e.laid(k.Ref, e.body(k.Ref).Times(0.5), 0)
	case circuit.BladeTouchLeft, circuit.BladeTouchRight:
		p := &e.c.Layout.Pieces[k.Ref]
		if p.Kind == layout.TurnoutPiece {
			return Element{Ohms: orDefault(e.c.Layout.Turnouts[p.Index].BladeContact, conductor.BladeTouch)}
		}
		return Element{Ohms: conductor.BladeTouch.Range}
	case circuit.FrogContact, circuit.FrogDevicePart, circuit.FrogNorth, circuit.FrogSouth, circuit.FrogWest, circuit.FrogEast:
		return Element{Ohms: conductor.FrogContact.Range}
	case circuit.RingFeed:
		return Element{Ohms: conductor.TurntableRing.Range}
	default: // bonds, ties and jumpers: made with the piece, as good as one splice
		return Element{Ohms: conductor.Splice.Range}
	}
}

// body is the length of a piece of track work.
func (e *Elements) body(piece int32) conductor.Range {
	l := e.c.Layout
	var length quantity.Length
	switch p := &l.Pieces[piece]; p.Kind {
	case layout.TurnoutPiece:
		length = l.Turnouts[p.Index].Length
	case layout.ThreeWayPiece:
		length = l.ThreeWays[p.Index].Length
	case layout.CrossingPiece:
		length = l.Crossings[p.Index].Length
	case layout.TurntablePiece:
		length = l.Turntables[p.Index].Bridge
	case layout.TransferTablePiece:
		length = l.TransferTables[p.Index].Bridge
	}
	if length.Known() {
		return conductor.Range{Lo: length.Lo, Hi: length.Hi}
	}
	return unsaidBody
}
