package power

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/dcc"
	"gapwise/netlist/network"
)

// mostExact bounds how many places behind one guard are worked out exactly.
const mostExact = 24

// Deciding is what the DCC waveform does to shorts behind one guard: Worst is the place with the least mean of those that
// were worked out, nil when the bound says of every place that its mean is enough; Left are places whose bound does
// not say so and that were not worked out.
type Deciding struct {
	Worst *Pulsed
	Left  int
}

// deciding finds, behind every guard of a booster, the places that decide whether a short trips it under the
// waveform. For every length of track a lower bound of the mean follows from two resistances of it, for direct current and with every conductor's
// raised by s times its inductance; where the bound is below what trips, the place is worked out, those with the least bound first.
func (h *Head) deciding(ctx context.Context) (out []Deciding, open *Open) {
	return h.DecidingAt(ctx, 1)
}

// DecidingAt is what the waveform does to shorts that should draw some times what trips: Deciding is that for once. open
// says why it could not be computed.
func (h *Head) DecidingAt(ctx context.Context, times float64) (out []Deciding, open *Open) {
	out = make([]Deciding, len(h.Weak.Guards))
	if h.Study.C.Sources[h.Source].Kind != circuit.BoosterSource {
		return out, nil
	}
	type candidate struct {
		x     *Solved
		pair  int
		t     float64
		bound float64
	}
	byGuard := make([][]candidate, len(out))
	for _, x := range h.weak() {
		var slow [2]Leg
		for leg := range x.Leg {
			if slow[leg], open = x.Leg[leg].slow(ctx, dcc.BoundRate/dcc.OneHalf); open != nil {
				return out, open
			}
		}
		for i := range x.Rails {
			p := &x.Rails[i]
			if !x.judged(p) {
				continue
			}
			g := h.guardIn(x, x.guardOf(p))
			trips := math.Inf(1)
			if g >= 0 {
				trips = times * h.Passes(g)
			}
			if math.IsInf(trips, 1) {
				continue
			}
			t, bound := h.meanBound(x, &slow, p)
			if bound < trips {
				byGuard[g] = append(byGuard[g], candidate{x, i, t, bound})
			}
		}
	}
	for g := range byGuard {
		slices.SortStableFunc(byGuard[g], func(a, b candidate) int { return cmp.Compare(a.bound, b.bound) })
		d := &out[g]
		for n, k := range byGuard[g] {
			if d.Worst != nil && k.bound >= d.Worst.Short.MeanAbs {
				break // no place that is left can be below
			}
			if n >= mostExact {
				d.Left = len(byGuard[g]) - n
				break
			}
			pt := k.x.at(&k.x.Rails[k.pair], k.t)
			pt.Guard = int32(g)
			pulsed, err := pt.Pulsed(ctx)
			if err != nil {
				return out, &Open{Why: err.Error(), Conductor: -1}
			}
			if d.Worst == nil || pulsed.Short.MeanAbs < d.Worst.Short.MeanAbs {
				d.Worst = &pulsed
			}
		}
	}
	return out, nil
}

// meanBound is the place of a length of track where the slow network has most, and a mean current that no
// place of that length falls below.
func (h *Head) meanBound(x *Solved, slow *[2]Leg, p *network.RailPair) (t, mean float64) {
	source := h.Inside.Hi + h.Study.Short.Hi
	fast := x.Along(p)
	held := slow[0].curve(p.Edge[0]).plus(slow[1].curve(p.Edge[1]))
	t = held.Max()
	drop := x.Leg[0].voltsAt(p.Edge[0]) + x.Leg[1].voltsAt(p.Edge[1])
	least := min(fast.At(0), fast.At(1)) // the curve is concave
	return t, dcc.MeanAtLeast(max(0, h.Volts.Lo-drop), dcc.OneHalf, 1/(source+least), 1/(source+held.At(t)))
}

// slow is a leg with every conductor's resistance raised by s times its inductance: what it is to a
// voltage that grows as e^(st).
func (l *Leg) slow(ctx context.Context, s float64) (Leg, *Open) {
	net := *l.Net
	net.Edges = slices.Clone(net.Edges)
	for e := range net.Edges {
		net.Edges[e].Ohms += s * net.Edges[e].Henries
	}
	x, err := factor(ctx, &net, net.System())
	if err != nil {
		return Leg{}, unsolved(&net, err)
	}
	return x, nil
}
