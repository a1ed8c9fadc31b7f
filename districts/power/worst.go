package power

import (
	"gapwise/netlist/network"
)

// weakestPoints finds, for every guard, the point of track or the tap of a bus behind it (and behind no further one)
// where a short draws the least current, settings of track work included; points[g] is nil
// where it guards neither. Guards are those of the weak network.
func (h *Head) weakestPoints() []*Point {
	out := make([]*Point, len(h.Weak.Guards))
	least := make([]float64, len(out))
	for _, x := range h.weak() {
		for i := range x.Rails {
			p := &x.Rails[i]
			if !x.judged(p) {
				continue
			}
			g := h.guardIn(x, x.guardOf(p))
			if g < 0 {
				continue
			}
			c := x.Along(p)
			t := c.Max()
			drop := x.Leg[0].voltsAt(p.Edge[0]) + x.Leg[1].voltsAt(p.Edge[1])
			amps := max(0, h.Volts.Lo-drop) / (h.Inside.Hi + c.At(t) + h.Study.Short.Hi)
			if out[g] != nil && amps >= least[g] {
				continue
			}
			pt := x.at(p, t)
			pt.Guard = g
			out[g], least[g] = &pt, amps
		}
	}
	for i := range h.Weak.Taps {
		pt := h.Weak.atTap(i)
		if g := pt.Guard; out[g] == nil || pt.Short.Lo < least[g] {
			out[g], least[g] = &pt, pt.Short.Lo
		}
	}
	return out
}

// weak lists the weak networks: the one of every setting first.
func (h *Head) weak() []*Solved { return append([]*Solved{h.Weak}, h.Settings...) }

// guardIn is the number in the weak network of a guard of another one, -1 when it has none.
func (h *Head) guardIn(x *Solved, guard int32) int32 {
	if x == h.Weak {
		return guard
	}
	for g := range h.Weak.Guards {
		if sameGuard(h.Weak, x, int32(g), guard) {
			return int32(g)
		}
	}
	return -1
}

func sameGuard(x, y *Solved, g, o int32) bool {
	for g >= 0 && o >= 0 {
		if x.Guards[g].Kind != y.Guards[o].Kind || x.Guards[g].Ref != y.Guards[o].Ref {
			return false
		}
		g, o = x.Guards[g].Parent, y.Guards[o].Parent
	}
	return g < 0 && o < 0
}

// judged reports whether a length of track is judged in this network: in one of settings,
// only what is not fed without them.
func (x *Solved) judged(p *network.RailPair) bool {
	s := x.Head.Study
	if len(s.unsettled) > 0 && s.unsettled[s.T.Zones.Of[s.C.Ways[p.Way].A]] {
		return false
	}
	return x == x.Head.Weak || x.Head.Weak.railOn(p.Way) == nil
}
