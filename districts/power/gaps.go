package power

import (
	"cmp"
	"slices"

	"gapwise/netlist/conductor"
	"gapwise/netlist/network"
)

// GapShort is the short that wheels make over a gap between a reversing section and what lies
// outside, while the two are in opposite phase: out by one side's wires and back by the other's. It is
// what makes the reverser act. Of the two rails it is the one that passes less.
//
// The section's own part is taken from the network in which its reverser stands straight; with its legs exchanged the same
// wires carry the current the other way round, and what lies above them is a leg of the same pair.
type GapShort struct {
	Way      int32
	Reverser int32 // guard of the weak network
	Outside  int32 // guard on the other side
	Loop     conductor.Range
	Drop     conductor.Range
	Assumed  bool            // some wire of the source has a size or length that is not said
	Short    conductor.Range // amperes of direct current, the short's own ohms included
}

// gapShorts lists the gaps of reversing sections of one head, in order of the circuit's ways.
func (h *Head) gapShorts() []GapShort {
	var out []GapShort
	assumed := h.assumed()
	for i := range h.Weak.Gaps {
		p := &h.Weak.Gaps[i]
		if !p.Side[0].OK || !p.Side[1].OK {
			continue
		}
		a, b := h.Weak.sideGuard(&p.Side[0]), h.Weak.sideGuard(&p.Side[1])
		inside := h.Weak.reverserAbove(a)
		outside := b
		if inside < 0 || inside == h.Weak.reverserAbove(b) {
			inside, outside = h.Weak.reverserAbove(b), a
		}
		if inside < 0 || h.Weak.reverserAbove(a) == h.Weak.reverserAbove(b) {
			continue
		}
		g := GapShort{Way: p.Way, Reverser: inside, Outside: outside, Assumed: assumed}
		ohms, volts := h.Weak.across(&p.Side[0], &p.Side[1])
		g.Loop.Hi, g.Drop.Hi = h.Inside.Hi+ohms, volts
		g.Loop.Lo = h.Inside.Lo
		if q := h.Strong.gapOn(p.Way); q != nil && q.Side[0].OK && q.Side[1].OK {
			ohms, volts = h.Strong.across(&q.Side[0], &q.Side[1])
			g.Loop.Lo += ohms
			g.Drop.Lo = volts
		}
		at := Point{Head: h, Loop: g.Loop, Drop: g.Drop}
		at.short(h.Study)
		g.Short = at.Short
		out = append(out, g)
	}
	return out
}

// assumed reports whether the ohms of any conductor rest on what the layout does not say.
func (h *Head) assumed() bool {
	for leg := range h.Weak.Leg {
		for e := range h.Weak.Leg[leg].Net.Edges {
			if h.Weak.Leg[leg].Net.Edges[e].Assumed {
				return true
			}
		}
	}
	return false
}

func (x *Solved) sideGuard(s *network.Side) int32 {
	return x.deeper(x.Leg[0].Guard(s.Node[0]), x.Leg[1].Guard(s.Node[1]))
}

// reverserAbove is the nearest reverser among a guard and those above it, -1 for none.
func (x *Solved) reverserAbove(guard int32) int32 {
	for _, g := range x.Above(guard) {
		if x.Guards[g].Kind == network.ReverserGuard {
			return g
		}
	}
	return -1
}

// across is the greater resistance of the two loops over a gap, and what detectors drop in it.
func (x *Solved) across(a, b *network.Side) (ohms, volts float64) {
	for leg := range x.Leg {
		own, other := &x.Leg[leg], &x.Leg[1-leg]
		if r := own.Ohms(a.Node[leg]) + other.Ohms(b.Node[1-leg]); r > ohms {
			ohms, volts = r, own.Volts(a.Node[leg])+other.Volts(b.Node[1-leg])
		}
	}
	return ohms, volts
}

func (x *Solved) gapOn(way int32) *network.GapPair {
	i, found := slices.BinarySearchFunc(x.Gaps, way, func(p network.GapPair, w int32) int { return cmp.Compare(p.Way, w) })
	if !found {
		return nil
	}
	return &x.Gaps[i]
}
