package power

import (
	"context"

	"gapwise/netlist/circuit"
)

// Loss is what one wire, joiner or tap less does: Conductor breaks, in one leg. Dead says that rail hangs on it
// alone; else Point is the place whose loop grows most above what it may have, Before and After its resistance in ohms, and
// Drop and Short what trains lose there and a short draws then, at the weak corner.
type Loss struct {
	Head      *Head
	Conductor int32
	Leg       int
	Dead      bool
	Point     Point
	Before    float64
	After     float64
	Short     float64 // amperes
	Drop      float64 // volts that wiring loses with the trains that may move at once
}

// breakable reports whether a conductor is one that breaks by itself: a feeder's wire with its tap and its joint to the rail, a
// plain or sliding joiner, the joint of a bus to its source.
func breakable(k *circuit.Conductor) bool {
	switch k.Kind {
	case circuit.FeederWire, circuit.WireEnd:
		return true
	case circuit.JointMetal:
		return k.Joint == circuit.PlainJoint || k.Joint == circuit.SlidingJoint
	default:
		return false
	}
}

// mostLossWork bounds the nodes that one source's losses touch: beyond it the rest is left out, and said so.
const mostLossWork = 1 << 28

// Losses works out, for one source, what the loss of every wire, joiner and tap does by itself: for
// each the place that suffers most. left is how many a bound on work left out. The error is ctx's, or that of a network that could not be solved.
//
// Without a conductor of conductance g between nodes i and j, with z = R(e_i - e_j), the resistance at x grows by
// g z_x² / (1 - g (z_i - z_j)) (Sherman and Morrison), and by nothing outside the mesh of the conductor and what hangs from it.
func (h *Head) Losses(ctx context.Context) (out []Loss, left int, err error) {
	x := h.Weak
	work := mostLossWork
	for leg := range x.Leg {
		l := &x.Leg[leg]
		mesh, size := meshes(l)
		for e := range l.Net.Edges {
			k := &h.Study.C.Conductors[l.Net.Edges[e].Conductor]
			if !breakable(k) {
				continue
			}
			loss := Loss{Head: h, Conductor: l.Net.Edges[e].Conductor, Leg: leg}
			if size[mesh[e]] == 1 {
				loss.Dead = true
				out = append(out, loss)
				continue
			}
			if work -= len(l.Net.Node) + len(x.Rails); work < 0 {
				left++
				continue
			}
			if err := ctx.Err(); err != nil {
				return nil, 0, err
			}
			if err := h.lose(&loss, l, int32(e)); err != nil {
				return nil, 0, err
			}
			out = append(out, loss)
		}
	}
	return out, left, nil
}

// lose finds the place that suffers most from the loss of a conductor that is no bridge.
func (h *Head) lose(loss *Loss, l *Leg, e int32) error {
	x := h.Weak
	edge := &l.Net.Edges[e]
	z, err := l.Factor.Difference(edge.I, edge.J)
	if err != nil {
		return err
	}
	g := 1 / edge.Ohms
	scale := g / (1 - g*(potential(z, edge.I)-potential(z, edge.J)))
	worst, rail, at := -1.0, -1, 0.0
	for i := range x.Rails {
		p := &x.Rails[i]
		k := &l.Net.Edges[p.Edge[loss.Leg]]
		zi, zj := potential(z, k.I), potential(z, k.J)
		if zi == 0 && zj == 0 || !x.judged(p) {
			continue
		}
		c := x.Along(p)
		if p.Edge[loss.Leg] == e {
			continue // the conductor itself
		}
		grown := c.plus(curveOf(scale*zi*zi, scale*zi*zj, scale*zj*zj, 0))
		t := grown.Max()
		if over := grown.At(t) - h.allowed(x.guardOf(p)); rail < 0 || over > worst {
			worst, rail, at = over, i, t
		}
	}
	if rail < 0 {
		loss.Point = Point{Head: h, Way: -1, Bus: -1}
		return nil
	}
	p := &x.Rails[rail]
	loss.Point = x.at(p, at)
	k := &l.Net.Edges[p.Edge[loss.Leg]]
	c := x.Along(p)
	zi, zj := potential(z, k.I), potential(z, k.J)
	loss.Before = h.Inside.Hi + c.At(at)
	loss.After = loss.Before + curveOf(scale*zi*zi, scale*zi*zj, scale*zj*zj, 0).At(at)
	loss.Short = max(0, h.Volts.Lo-loss.Point.Drop.Hi) / (loss.After + h.Study.Short.Hi)
	amps, _, _, _ := h.amps(loss.Point.Guard)
	loss.Drop = amps * (loss.After - h.Inside.Hi)
	return nil
}

// allowed is the loop, in ohms without the source's inside, at which a short behind a guard would just trip it: so that
// places behind guards of different currents can be held against each other.
func (h *Head) allowed(guard int32) float64 {
	passes := h.Passes(guard)
	if passes <= 0 || h.Volts.Lo <= 0 {
		return 0
	}
	return h.Volts.Lo/passes - h.Inside.Hi - h.Study.Short.Hi
}

// WorstLosses picks, of losses that leave rail alive, the one after which a short draws least of what would trip it, and the one after
// which trains lose most; nil where there is none.
func (h *Head) WorstLosses(losses []Loss) (short, drop *Loss) {
	part := func(l *Loss) float64 { return l.Short / h.Passes(l.Point.Guard) }
	for i := range losses {
		l := &losses[i]
		if l.Dead || l.Point.Way < 0 {
			continue
		}
		if short == nil || part(l) < part(short) {
			short = l
		}
		if drop == nil || l.Drop > drop.Drop {
			drop = l
		}
	}
	return short, drop
}
