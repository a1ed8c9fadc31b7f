package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// BareBridge is a pair of rails on the two sides of a gap of which the one hangs from leg A
// and the other from leg B of one booster, both past every breaker and reverser: none of
// those on the way opens that leg. Rails, Legs and Paths are those of the way's A side, then
// of its B side; a path starts at the booster. Crossed says that reversers stand crossed.
type BareBridge struct {
	Rails   [2]layout.Rail
	Legs    [2]layout.Leg
	Paths   [2][]Step
	Crossed bool
}

// PastBreakers is what hangs together whatever breakers and reversers trip, with reversers
// straight and crossed.
type PastBreakers struct {
	t    *Trace
	nets [2][]int32 // by node
}

// PastBreakers joins what no breaker or reverser parts. What does not say which legs it
// opens is taken to open both; so is a fuse, a lamp or a ptc in a leg, since those act in
// its place.
func (t *Trace) PastBreakers() *PastBreakers {
	t.lookup()
	p := &PastBreakers{t: t}
	for position := range int16(2) {
		u := newUnionFind(t.C.Nodes)
		for i := range t.C.Conductors {
			if t.unopened(int32(i), position) {
				u.union(t.C.Conductors[i].A, t.C.Conductors[i].B)
			}
		}
		p.nets[position] = u.flatten()
	}
	return p
}

// Bridge finds a bare bridge at a way between two districts of one booster, each of which
// leaves exactly one leg unopened.
func (p *PastBreakers) Bridge(way, booster int32) (BareBridge, bool) {
	c := p.t.C
	out, spots := c.Sources[booster].Out, [2]int32{c.Ways[way].A, c.Ways[way].B}
	for position := range int16(2) {
		b, found := p.legs(spots, out, position)
		if !found || b.Legs[0] == b.Legs[1] {
			continue
		}
		for side, spot := range spots {
			node := c.Spots[spot].Node[b.Rails[side]]
			b.Paths[side] = shortestWalk(c, p.t.conductorsAt(), []int32{out[b.Legs[side]]}, func(n int32) bool { return n == node }, func(k int32) bool {
				return p.t.unopened(k, position)
			})
		}
		return b, true
	}
	return BareBridge{}, false
}

// legs tells which leg is unopened beside each of two spots, and in which rail; found is
// false unless it is one on either side.
func (p *PastBreakers) legs(spots, out [2]int32, position int16) (b BareBridge, found bool) {
	net := p.nets[position]
	b.Crossed = position == 1
	for side, spot := range spots {
		n := 0
		for rail := range layout.Rail(2) {
			for leg := range layout.Leg(2) {
				if net[p.t.C.Spots[spot].Node[rail]] == net[out[leg]] {
					b.Rails[side], b.Legs[side] = rail, leg
					n++
				}
			}
		}
		if n != 1 {
			return b, false
		}
	}
	return b, true
}

// unopened reports whether current passes a conductor whatever trips, with reversers in a
// position. Where a gap is missing, none does.
func (t *Trace) unopened(i int32, position int16) bool {
	l, k := t.C.Layout, &t.C.Conductors[i]
	if t.missing[i] {
		return false
	}
	switch k.Kind {
	case circuit.BreakerLeg:
		return leaves(l.Breakers[k.Ref].Opens, k.Leg)
	case circuit.ReverserLeg:
		in := k.Leg
		if k.Position == 1 {
			in = in.Other()
		}
		return k.Position == position && leaves(l.Reversers[k.Ref].Opens, in)
	case circuit.InLineLeg:
		return l.InLines[k.Ref].Kind == layout.Switch && takesSwitch(t.C, k)
	case circuit.ChangeoverLeg:
		return false
	default:
		return k.Device < 0
	}
}

// leaves reports whether a device is known to leave a leg closed when it trips.
func leaves(o layout.Opens, leg layout.Leg) bool {
	return (o == layout.OpensA && leg == layout.B) || (o == layout.OpensB && leg == layout.A)
}
