package circuit

import (
	"slices"

	"gapwise/netlist/layout"
)

// taps collects the places of every bus where something hangs.
func (b *builder) taps() {
	l := b.l
	b.tapAt = make([][]float64, len(l.Buses))
	for i := range l.Buses {
		b.tapAt[i] = append(b.tapAt[i], 0)
		if l.Buses[i].Length.Known() {
			b.tapAt[i] = append(b.tapAt[i], l.Buses[i].Length.Mid())
		}
	}
	tap := func(t layout.Tap) {
		switch {
		case t.Bus < 0 || t.Unknown:
		case t.At.Known():
			b.tapAt[t.Bus] = append(b.tapAt[t.Bus], t.At.Mid())
		default:
			b.leaveOut("where "+t.Text+" is", "the length of the bus is unknown; it is taken to be at its last tap that is measured", t.Pos)
		}
	}
	source := func(s layout.Source) {
		if s.Kind == layout.FromTap {
			tap(s.Tap)
		}
	}
	for i := range l.Feeders {
		tap(l.Feeders[i].From[0])
		if l.Feeders[i].From[1] != l.Feeders[i].From[0] {
			tap(l.Feeders[i].From[1])
		}
	}
	for i := range l.Buses {
		source(l.Buses[i].From)
		tap(l.Buses[i].Returns)
	}
	for i := range l.Breakers {
		source(l.Breakers[i].From)
	}
	for i := range l.Reversers {
		source(l.Reversers[i].From)
	}
	for i := range l.Detectors {
		source(l.Detectors[i].From)
	}
	for i := range l.InLines {
		source(l.InLines[i].From)
	}
	for i := range l.Plugs {
		source(l.Plugs[i].From)
	}
	for i := range l.Changeovers {
		for p := range l.Changeovers[i].Positions {
			source(l.Changeovers[i].Positions[p].From)
		}
	}
	for i := range l.Turntables {
		source(l.Turntables[i].From)
	}
	for i := range l.TransferTables {
		source(l.TransferTables[i].From)
	}
	for i := range l.Turnouts {
		tap(l.Turnouts[i].FrogTap)
	}
	for i := range l.Terminators {
		tap(l.Terminators[i].Tap)
	}
	for i := range l.Loads {
		tap(l.Loads[i].Tap)
	}
	for i := range b.tapAt {
		slices.Sort(b.tapAt[i])
		b.tapAt[i] = slices.Compact(b.tapAt[i])
	}
}

// busNodes gives every tap its nodes.
func (b *builder) busNodes() {
	b.c.BusNodes = make([]BusTaps, len(b.l.Buses))
	for i := range b.l.Buses {
		taps := BusTaps{At: b.tapAt[i]}
		for leg := range layout.Leg(2) {
			taps.Node[leg] = make([]int32, len(taps.At))
			for k := range taps.At {
				taps.Node[leg][k] = -1
				if b.l.Buses[i].Legs.Carries(leg) {
					taps.Node[leg][k] = b.node()
				}
			}
		}
		b.c.BusNodes[i] = taps
	}
}

// tapNode is the node of one leg at a tap, -1 when the bus is unknown or does not carry it.
func (b *builder) tapNode(t layout.Tap, leg layout.Leg) int32 {
	if t.Bus < 0 || t.Unknown {
		return -1
	}
	if !t.At.Known() { // from the end of a bus of unknown length
		nodes := b.c.BusNodes[t.Bus].Node[leg]
		return nodes[len(nodes)-1]
	}
	k, found := slices.BinarySearch(b.c.BusNodes[t.Bus].At, t.At.Mid())
	if !found {
		return -1
	}
	return b.c.BusNodes[t.Bus].Node[leg][k]
}

// buses lays the spans of every bus, hangs it from its source and closes those that return.
func (b *builder) buses() {
	for i := range b.l.Buses {
		bus := &b.l.Buses[i]
		from := b.sourceNodes(bus.From)
		taps := &b.c.BusNodes[i]
		for leg := range layout.Leg(2) {
			if !bus.Legs.Carries(leg) {
				continue
			}
			n := taps.Node[leg]
			if from[leg] >= 0 {
				b.join(Conductor{A: from[leg], B: n[0], Ref: int32(i), Kind: WireEnd, Leg: leg, Sure: true, Pos: bus.Pos})
			}
			for k := 1; k < len(n); k++ {
				b.join(Conductor{A: n[k-1], B: n[k], Ref: int32(i), Kind: BusSpan, Leg: leg, Sure: true, From: taps.At[k-1], To: taps.At[k], Pos: bus.Pos})
			}
			if back := b.tapNode(bus.Returns, leg); back >= 0 {
				b.join(Conductor{A: n[len(n)-1], B: back, Ref: int32(i), Kind: WireEnd, Leg: leg, Sure: true, From: taps.At[len(n)-1], To: taps.At[len(n)-1], Pos: bus.Pos})
			}
		}
		if bus.From.Kind == layout.FromUnknown || bus.From.Kind == layout.SourceUnsaid {
			b.leaveOut("what bus "+bus.Name+" hangs from", "the layout says it is unknown", bus.Pos)
		}
	}
}

// feeders hangs every whole feeder between its taps and its rails.
func (b *builder) feeders() {
	for i := range b.l.Feeders {
		f := &b.l.Feeders[i]
		if b.c.FeederSpot[i] < 0 && f.Place.Piece >= 0 && f.Place.End >= 0 {
			b.c.FeederSpot[i] = b.c.EndSpot[f.Place.Piece][f.Place.End]
		}
		spot := b.c.FeederSpot[i]
		if spot < 0 || f.Broken == layout.Yes {
			continue
		}
		for leg := range layout.Leg(2) {
			rail := f.ARail
			if leg == layout.B {
				rail = rail.Other()
			}
			if !inRails(f.Rails, rail) {
				continue
			}
			tap := b.tapNode(f.From[leg], leg)
			if tap < 0 {
				if leg == layout.A || f.From[leg].Unknown != f.From[layout.A].Unknown {
					b.leaveOut("leg "+leg.String()+" of the feeder at "+f.Place.Text, "the layout does not say what it hangs from", f.Pos)
				}
				continue
			}
			b.join(Conductor{A: tap, B: b.c.Spots[spot].Node[rail], Ref: int32(i), Kind: FeederWire, Rail: rail, Leg: leg, Sure: f.Broken != layout.YesNoUnknown, To: f.Length.Mid(), Pos: f.Pos})
		}
	}
}

// bonds lays the wires from rail to rail.
func (b *builder) bonds() {
	for i := range b.l.Bonds {
		bond := &b.l.Bonds[i]
		spots := b.bondSpot[i]
		for side, place := range [2]layout.Place{bond.From, bond.To} {
			if spots[side] < 0 && place.Piece >= 0 && place.End >= 0 {
				spots[side] = b.c.EndSpot[place.Piece][place.End]
			}
		}
		if spots[0] < 0 || spots[1] < 0 {
			continue
		}
		from, to := b.c.Spots[spots[0]].Node, b.c.Spots[spots[1]].Node
		wire := func(r, s layout.Rail) {
			b.join(Conductor{A: from[r], B: to[s], Ref: int32(i), Kind: BondWire, Rail: r, Sure: true, To: bond.Length.Mid(), Pos: bond.Pos})
		}
		if bond.Both {
			wire(layout.Left, layout.Left)
			wire(layout.Right, layout.Right)
		} else {
			wire(bond.Rails[0], bond.Rails[1])
		}
	}
}
