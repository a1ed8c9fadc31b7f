package circuit

import "gapwise/netlist/layout"

// sources lays every device of the power side and lists what districts hang from.
// Each device's output nodes exist before anything hangs from them, so the order of
// the file does not matter.
func (b *builder) sources() {
	l := b.l
	b.boosterOut = b.outs(len(l.Boosters))
	b.breakerOut = b.outs(len(l.Breakers))
	b.reverserOut = b.outs(len(l.Reversers))
	b.detectorOut = b.outs(len(l.Detectors))
	b.inLineOut = b.outs(len(l.InLines))
	b.changeoverOut = b.outs(len(l.Changeovers))
	b.plugOut = b.outs(len(l.Plugs))
	b.supplyOut = b.outs(len(l.Supplies))
	b.cabOut = b.outs(len(l.Cabs))
	b.c.DetectorIn, b.c.DetectorOut = make([]int32, len(l.Detectors)), make([]int32, len(l.Detectors))
	b.busNodes()
	b.listSources()
	for i := range l.Breakers {
		x := &l.Breakers[i]
		b.through(BreakerLeg, int32(i), b.sourceNodes(x.From), b.breakerOut[i], x.Entry)
	}
	for i := range l.Reversers {
		b.reverser(int32(i))
	}
	for i := range l.Detectors {
		x := &l.Detectors[i]
		in := b.sourceNodes(x.From)
		b.c.DetectorIn[i], b.c.DetectorOut[i] = in[x.Leg], b.detectorOut[i][x.Leg]
		b.leg(DetectorLeg, int32(i), in[x.Leg], b.detectorOut[i][x.Leg], x.Leg, x.Entry)
		b.leg(PastDetector, int32(i), in[x.Leg.Other()], b.detectorOut[i][x.Leg.Other()], x.Leg.Other(), x.Entry)
	}
	for i := range l.InLines {
		b.inLine(int32(i))
	}
	for i := range l.Changeovers {
		b.changeover(int32(i))
	}
	for i := range l.Plugs {
		b.plug(int32(i))
	}
	b.parents()
}

func (b *builder) outs(n int) [][2]int32 {
	out := make([][2]int32, n)
	for i := range out {
		out[i] = b.nodes()
	}
	return out
}

// sourceNodes are the nodes of legs A and B of what something hangs from, -1 where
// a leg is not carried there.
func (b *builder) sourceNodes(s layout.Source) [2]int32 {
	switch s.Kind {
	case layout.FromTap:
		return [2]int32{b.tapNode(s.Tap, layout.A), b.tapNode(s.Tap, layout.B)}
	case layout.FromBooster:
		return b.boosterOut[s.Index]
	case layout.FromBreaker:
		return b.breakerOut[s.Index]
	case layout.FromReverser:
		return b.reverserOut[s.Index]
	case layout.FromDetector:
		return b.detectorOut[s.Index]
	case layout.FromInLine:
		return b.inLineOut[s.Index]
	case layout.FromChangeover:
		return b.changeoverOut[s.Index]
	case layout.FromPlug:
		return b.plugOut[s.Index]
	case layout.FromSupply:
		return b.supplyOut[s.Index]
	case layout.FromCab:
		return b.cabOut[s.Index]
	default:
		return [2]int32{-1, -1}
	}
}

// leg adds one leg through a device, if the leg is there at all.
func (b *builder) leg(kind Kind, ref, in, out int32, leg layout.Leg, entry layout.Entry) {
	if in >= 0 && out >= 0 {
		b.join(Conductor{A: in, B: out, Ref: ref, Kind: kind, Leg: leg, Sure: true, Pos: entry.Pos})
	}
}

// legWhen adds one leg through a device in one of its positions.
func (b *builder) legWhen(kind Kind, ref, in, out int32, leg layout.Leg, entry layout.Entry, device int32, position int) {
	if in >= 0 && out >= 0 {
		b.joinWhen(Conductor{A: in, B: out, Ref: ref, Kind: kind, Leg: leg, Sure: true, Pos: entry.Pos}, device, position)
	}
}

func (b *builder) through(kind Kind, ref int32, in, out [2]int32, entry layout.Entry) {
	for leg := range layout.Leg(2) {
		b.leg(kind, ref, in[leg], out[leg], leg, entry)
	}
}

// swap adds a device that passes its legs straight in position 0 and crossed in 1.
func (b *builder) swap(kind Kind, ref int32, in, out [2]int32, entry layout.Entry, device int32) {
	for leg := range layout.Leg(2) {
		b.legWhen(kind, ref, in[leg], out[leg], leg, entry, device, 0)
		b.legWhen(kind, ref, in[leg.Other()], out[leg], leg, entry, device, 1)
	}
}

func (b *builder) reverser(i int32) {
	x := &b.l.Reversers[i]
	d := b.device(Device{Kind: ReverserDevice, Ref: i, Name: "reverser " + x.Name, Positions: []string{"straight", "crossed"}, Pos: x.Pos})
	b.swap(ReverserLeg, i, b.sourceNodes(x.From), b.reverserOut[i], x.Entry, d)
}

func (b *builder) inLine(i int32) {
	x := &b.l.InLines[i]
	in := b.sourceNodes(x.From)
	d := int32(-1)
	if x.Kind == layout.Switch {
		d = b.device(Device{Kind: SwitchDevice, Ref: i, Name: "switch " + x.Name, Positions: []string{"on", "off"}, Pos: x.Pos})
	}
	for leg := range layout.Leg(2) {
		opened := x.Legs == layout.OpensBoth || (x.Legs == layout.OpensA) == (leg == layout.A)
		switch {
		case !opened:
			b.leg(PastInLine, i, in[leg], b.inLineOut[i][leg], leg, x.Entry)
		case d >= 0:
			b.legWhen(InLineLeg, i, in[leg], b.inLineOut[i][leg], leg, x.Entry, d, 0)
		default:
			b.leg(InLineLeg, i, in[leg], b.inLineOut[i][leg], leg, x.Entry)
		}
	}
}

// changeover connects its output to one source a position. One that opens a single leg
// leaves the other on its first position.
func (b *builder) changeover(i int32) {
	x := &b.l.Changeovers[i]
	names := make([]string, len(x.Positions))
	for p := range x.Positions {
		names[p] = x.Positions[p].Name
	}
	d := b.device(Device{Kind: ChangeoverDevice, Ref: i, Name: "changeover " + x.Name, Positions: names, Pos: x.Pos})
	for p := range x.Positions {
		in := b.sourceNodes(x.Positions[p].From)
		if x.Positions[p].Crossed {
			in[0], in[1] = in[1], in[0]
		}
		for leg := range layout.Leg(2) {
			fixed := (x.Opens == layout.OpensA && leg == layout.B) || (x.Opens == layout.OpensB && leg == layout.A)
			switch {
			case fixed && p == 0:
				b.leg(ChangeoverLeg, i, in[leg], b.changeoverOut[i][leg], leg, x.Entry)
			case !fixed:
				b.legWhen(ChangeoverLeg, i, in[leg], b.changeoverOut[i][leg], leg, x.Entry, d, p)
			}
		}
	}
}

func (b *builder) plug(i int32) {
	x := &b.l.Plugs[i]
	in, out := b.sourceNodes(x.From), b.plugOut[i]
	switch x.Legs {
	case layout.PlugStraight:
		b.through(PlugLeg, i, in, out, x.Entry)
	case layout.PlugCrossed:
		b.through(PlugLeg, i, [2]int32{in[1], in[0]}, out, x.Entry)
	default:
		d := b.device(Device{Kind: PlugDevice, Ref: i, Name: "plug " + x.Name, Positions: []string{"straight", "crossed"}, Pos: x.Pos})
		b.swap(PlugLeg, i, in, out, x.Entry, d)
	}
}

// listSources fills Circuit.Sources: boosters, then breakers, reversers, cabs and
// supplies, each in the order of the file.
func (b *builder) listSources() {
	l := b.l
	add := func(kind SourceKind, ref int, name string, out [2]int32, entry layout.Entry, free bool) {
		n := int32(len(b.c.Sources))
		s := Source{Kind: kind, Ref: int32(ref), Name: name, Out: out, Parent: -1, Booster: -1, Free: free, Pos: entry.Pos}
		if kind == BoosterSource {
			s.Booster = n
		}
		b.c.Sources = append(b.c.Sources, s)
	}
	for i := range l.Boosters {
		add(BoosterSource, i, "booster "+l.Boosters[i].Name, b.boosterOut[i], l.Boosters[i].Entry, l.Boosters[i].Automatic)
	}
	for i := range l.Breakers {
		add(BreakerSource, i, "breaker "+l.Breakers[i].Name, b.breakerOut[i], l.Breakers[i].Entry, false)
	}
	for i := range l.Reversers {
		add(ReverserSource, i, "reverser "+l.Reversers[i].Name, b.reverserOut[i], l.Reversers[i].Entry, true)
	}
	for i := range l.Cabs {
		add(CabSource, i, "cab "+l.Cabs[i].Name, b.cabOut[i], l.Cabs[i].Entry, true)
	}
	for i := range l.Supplies {
		add(SupplySource, i, "supply "+l.Supplies[i].Name, b.supplyOut[i], l.Supplies[i].Entry, true)
	}
	for i := range l.Changeovers {
		add(ChangeoverSource, i, "changeover "+l.Changeovers[i].Name, b.changeoverOut[i], l.Changeovers[i].Entry, false)
	}
	for i := range l.Plugs {
		if !plugFixed(l.Plugs[i].Legs) {
			add(PlugSource, i, "plug "+l.Plugs[i].Name, b.plugOut[i], l.Plugs[i].Entry, true)
		}
	}
}

// plugFixed reports whether a plug goes in one way round only.
func plugFixed(p layout.PlugLegs) bool { return p == layout.PlugStraight || p == layout.PlugCrossed }

// parents finds the source above each breaker, reverser, changeover and loose plug, and
// the booster at the head.
func (b *builder) parents() {
	b.c.sourceAt = make(map[sourceKey]int32, len(b.c.Sources))
	for i := range b.c.Sources {
		b.c.sourceAt[sourceKey{b.c.Sources[i].Kind, b.c.Sources[i].Ref}] = int32(i)
	}
	for i := range b.c.Sources {
		s := &b.c.Sources[i]
		var crossed bool
		switch s.Kind {
		case BreakerSource:
			s.Parent, crossed = b.c.SourceAbove(b.l.Breakers[s.Ref].From)
		case ReverserSource:
			s.Parent, crossed = b.c.SourceAbove(b.l.Reversers[s.Ref].From)
		case PlugSource:
			s.Parent, crossed = b.c.SourceAbove(b.l.Plugs[s.Ref].From)
		case ChangeoverSource:
			if ps := b.l.Changeovers[s.Ref].Positions; len(ps) > 0 {
				s.Parent, crossed = b.c.SourceAbove(ps[0].From)
				crossed = crossed != ps[0].Crossed
			}
		}
		s.Crossed = crossed
	}
	for i := range b.c.Sources {
		if s := &b.c.Sources[i]; s.Kind == ChangeoverSource {
			s.Free = b.turnsOverByHand(s.Ref)
		}
	}
	for i := range b.c.Sources {
		at := int32(i)
		for range b.c.Sources {
			if b.c.Sources[at].Parent < 0 {
				break
			}
			at = b.c.Sources[at].Parent
		}
		if b.c.Sources[at].Kind == BoosterSource {
			b.c.Sources[i].Booster = at
		}
	}
}

// turnsOverByHand reports whether two positions of a changeover pass the legs of one phase
// straight and crossed: a reverser thrown by hand.
func (b *builder) turnsOverByHand(changeover int32) bool {
	if opens := b.l.Changeovers[changeover].Opens; opens == layout.OpensA || opens == layout.OpensB {
		return false // one leg cannot be turned over without the other
	}
	way := map[int32]bool{} // by phase, whether it comes crossed
	for _, p := range b.l.Changeovers[changeover].Positions {
		at, crossed := b.c.SourceAbove(p.From)
		if at < 0 {
			continue
		}
		crossed = crossed != p.Crossed
		for range b.c.Sources {
			if b.c.Sources[at].Free || b.c.Sources[at].Parent < 0 {
				break
			}
			crossed = crossed != b.c.Sources[at].Crossed
			at = b.c.Sources[at].Parent
		}
		if before, seen := way[at]; seen && before != crossed {
			return true
		}
		way[at] = crossed
	}
	return false
}

type sourceKey struct {
	kind SourceKind
	ref  int32
}

// SourceAbove walks up from what something hangs on to the first source of a district:
// its index in Sources, -1 when the way up is unknown, and whether a crossed plug on the
// way swaps the legs.
func (c *Circuit) SourceAbove(s layout.Source) (source int32, crossed bool) {
	l := c.Layout
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) + 1 {
		switch s.Kind {
		case layout.FromTap:
			if s.Tap.Bus < 0 {
				return -1, crossed
			}
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			s = l.InLines[s.Index].From
		case layout.FromPlug:
			if !plugFixed(l.Plugs[s.Index].Legs) {
				return c.sourceIndex(PlugSource, s.Index), crossed
			}
			crossed = crossed != (l.Plugs[s.Index].Legs == layout.PlugCrossed)
			s = l.Plugs[s.Index].From
		case layout.FromChangeover:
			return c.sourceIndex(ChangeoverSource, s.Index), crossed
		case layout.FromBooster:
			return c.sourceIndex(BoosterSource, s.Index), crossed
		case layout.FromBreaker:
			return c.sourceIndex(BreakerSource, s.Index), crossed
		case layout.FromReverser:
			return c.sourceIndex(ReverserSource, s.Index), crossed
		case layout.FromCab:
			return c.sourceIndex(CabSource, s.Index), crossed
		case layout.FromSupply:
			return c.sourceIndex(SupplySource, s.Index), crossed
		default:
			return -1, crossed
		}
	}
	return -1, crossed
}

// PlugAbove walks up from what something hangs on to the first plug that goes in one way
// round only, short of a district's source: its index in Layout.Plugs, -1 for none.
func (c *Circuit) PlugAbove(s layout.Source) int32 {
	l := c.Layout
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + 1 {
		switch s.Kind {
		case layout.FromTap:
			if s.Tap.Bus < 0 {
				return -1
			}
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			s = l.InLines[s.Index].From
		case layout.FromPlug:
			if plugFixed(l.Plugs[s.Index].Legs) {
				return s.Index
			}
			return -1
		default:
			return -1
		}
	}
	return -1
}

func (c *Circuit) sourceIndex(kind SourceKind, ref int32) int32 {
	if i, found := c.sourceAt[sourceKey{kind, ref}]; found {
		return i
	}
	return -1
}
