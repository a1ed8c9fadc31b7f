package network

import (
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// Element is what one conductor is electrically: ohms, henries of its own half of the loop
// that a leg and its companion make, and the volts it drops whatever the current (a
// detector). Assumed says that the ohms rest on a range for what the layout does not say,
// and Missing what that is.
type Element struct {
	Ohms, Henries, Volts conductor.Range
	Assumed              bool
	Missing              string
}

// least is the least resistance a conductor is given, in ohms: a tenth of a millimetre of heavy wire.
// Below it every one would be as good, and other programs that read the networks would lose digits.
const least = 1e-7

// Elements says what the conductors of a circuit are electrically, at a room temperature.
type Elements struct {
	c       *circuit.Circuit
	celsius conductor.Range
	stock   []railOhms // by piece
	gapAt   map[placeKey]bool
}

// placeKey is a place of a piece to a micrometre.
type placeKey struct {
	piece       int32
	micrometres int64
}

type railOhms struct {
	ohms  conductor.Range // a metre of one rail
	known bool
}

// NewElements reads the tables for a circuit.
func NewElements(c *circuit.Circuit) *Elements {
	e := &Elements{c: c, celsius: Room(c.Layout)}
	e.stock = make([]railOhms, len(c.Layout.Pieces))
	cache := map[layout.RailStock]railOhms{}
	for i := range c.Layout.Tracks {
		t := &c.Layout.Tracks[i]
		key := layout.RailStock{Code: t.Rail.Code, Metal: t.Rail.Metal}
		o, seen := cache[key]
		if !seen {
			o.ohms, o.known = conductor.RailOhms(key.Code, key.Metal, e.celsius)
			if !o.known {
				o.ohms = conductor.RailOhmsWidest(e.celsius)
			}
			cache[key] = o
		}
		e.stock[t.Piece] = o
	}
	e.gapAt = map[placeKey]bool{}
	for i := range c.Layout.Gaps {
		if p := &c.Layout.Gaps[i].Place; p.Piece >= 0 && p.End < 0 && p.At.Known() {
			e.gapAt[placeKey{int32(p.Piece), int64(math.Round(p.At.Mid() * 1e6))}] = true
		}
	}
	for i := range c.Layout.Pieces {
		if c.Layout.Pieces[i].Kind != layout.TrackPiece {
			e.stock[i] = e.neighbours(layout.PieceID(i))
		}
	}
	return e
}

// neighbours is the rail of track work: that of the tracks it stands on or joins.
func (e *Elements) neighbours(p layout.PieceID) railOhms {
	l := e.c.Layout
	var out railOhms
	take := func(q layout.PieceID) {
		if q < 0 || l.Pieces[q].Kind != layout.TrackPiece {
			return
		}
		o := e.stock[q]
		if out.ohms.Hi == 0 {
			out = o
			return
		}
		out.ohms.Lo, out.ohms.Hi = min(out.ohms.Lo, o.ohms.Lo), max(out.ohms.Hi, o.ohms.Hi)
		out.known = out.known && o.known
	}
	for i := range l.Pieces[p].Ends {
		take(l.Pieces[p].Ends[i].Joint.Piece)
	}
	if out.ohms.Hi == 0 && l.Pieces[p].Kind == layout.TurnoutPiece {
		take(l.Turnouts[l.Pieces[p].Index].OnTrack)
	}
	if out.ohms.Hi == 0 {
		out.ohms = conductor.RailOhmsWidest(e.celsius)
	}
	return out
}

// Room is the range of room temperature, in degrees Celsius: the owner's, or the usual one.
func Room(l *layout.Layout) conductor.Range {
	for i := range l.Limits {
		if x := &l.Limits[i]; x.Name == "temperature" && x.Value.Known() && x.Unit == layout.UnitCelsius {
			return conductor.Range{Lo: x.Value.Lo, Hi: x.Value.Hi}
		}
	}
	return conductor.RoomTemperature.Range
}

// Of is what a conductor is electrically. What conducts in one position of a device is as it
// is in that position.
func (e *Elements) Of(id int32) Element {
	k := &e.c.Conductors[id]
	l := e.c.Layout
	var x Element
	switch k.Kind {
	case circuit.RailLength:
		x = e.rail(k)
	case circuit.JointMetal:
		x.Ohms = joint(k.Joint)
	case circuit.PiecePart:
		x = e.part(k)
	case circuit.BondWire:
		b := &l.Bonds[k.Ref]
		x = e.wire(b.Wire, b.Length, assumedBond)
		x.Ohms = x.Ohms.Plus(conductor.Splice.Times(2))
		x.Henries = lead(b.Wire, x.length(b.Length, assumedBond))
	case circuit.FeederWire:
		f := &l.Feeders[k.Ref]
		x = e.wire(f.Wire, f.Length, assumedFeeder)
		x.Ohms = x.Ohms.Plus(conductor.Splice.Times(2))
		x.Henries = lead(f.Wire, x.length(f.Length, assumedFeeder))
	case circuit.BusSpan:
		x = e.span(k)
	case circuit.WireEnd:
		x.Ohms = conductor.BusSplice.Range
	case circuit.BreakerLeg:
		b := &l.Breakers[k.Ref]
		x.Ohms = share(orDefault(b.Resistance, conductor.BreakerResistance), b.Opens, k.Leg)
	case circuit.ReverserLeg:
		r := &l.Reversers[k.Ref]
		x.Ohms = share(orDefault(r.Resistance, conductor.ReverserResistance), r.Opens, k.Leg)
	case circuit.DetectorLeg:
		x.Ohms = conductor.DetectorSeries.Range
		x.Volts = conductor.DetectorDrop.Range
		if d := &l.Detectors[k.Ref]; d.Drop.Known() {
			x.Volts = conductor.Range{Lo: d.Drop.Lo, Hi: d.Drop.Hi}
		}
	case circuit.InLineLeg:
		x.Ohms = inLine(&l.InLines[k.Ref])
	case circuit.ChangeoverLeg:
		x.Ohms = conductor.FrogContact.Range
	case circuit.PlugLeg:
		x.Ohms = orDefault(l.Plugs[k.Ref].Resistance, conductor.PlugContact).Times(0.5)
	case circuit.BridgeFeed:
		x.Ohms = conductor.TurntableRing.Range
	}
	x.Ohms.Lo, x.Ohms.Hi = max(x.Ohms.Lo, least), max(x.Ohms.Hi, least)
	return x
}

func orDefault(r quantity.Resistance, v conductor.Value) conductor.Range {
	if r.Known() {
		return conductor.Range{Lo: r.Lo, Hi: r.Hi}
	}
	return v.Range
}

// share is one leg's part of a device's resistance, which is typed for the loop: all in the
// leg that it opens, or half in each.
func share(loop conductor.Range, opens layout.Opens, leg layout.Leg) conductor.Range {
	switch opens {
	case layout.OpensA, layout.OpensB:
		if (opens == layout.OpensA) == (leg == layout.A) {
			return loop
		}
		return conductor.Range{}
	default:
		return loop.Times(0.5)
	}
}

func inLine(x *layout.InLine) conductor.Range {
	if x.Resistance.Known() {
		return conductor.Range{Lo: x.Resistance.Lo, Hi: x.Resistance.Hi}
	}
	switch x.Kind {
	case layout.Lamp:
		return conductor.LampCold.Range
	case layout.Fuse:
		return conductor.FuseResistance.Range
	case layout.PTC:
		return conductor.PTCResistance.Range
	default:
		return conductor.FrogContact.Range
	}
}

func joint(m circuit.JointMake) conductor.Range {
	switch m {
	case circuit.SolderedJoint:
		return conductor.SolderedJoint.Range
	case circuit.PlainJoint:
		return conductor.PlainJoiner.Range
	case circuit.SlidingJoint:
		return conductor.SlidingJoint.Range
	case circuit.BondedJoint:
		return conductor.Splice.Times(2)
	case circuit.OneJoint:
		return conductor.Range{}
	case circuit.BridgedGap:
		return conductor.FrogContact.Range
	default:
		return conductor.PlainJoiner.Range
	}
}

// Celsius is the room temperature that the values are for.
func (e *Elements) Celsius() conductor.Range { return e.celsius }
