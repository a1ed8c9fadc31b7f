package power

import (
	"context"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/solve"

	"gapwise/districts"
)

// Sizer computes one head of a study again and again with other wires. It serves one goroutine.
type Sizer struct {
	study   *Study
	source  int32
	groups  [][]districts.Setting
	scratch *network.Scratch
	corners [2]sized // weak and strong; what does not depend on wire
}

// sized is a district at a corner, its legs analysed: wires have any size.
type sized struct {
	*network.District
	leg [2]*solve.Analysis
}

// NewSizer makes ready for a head of the study.
func (s *Study) NewSizer(h *Head) *Sizer {
	return &Sizer{study: s, source: h.Source, groups: h.groups, scratch: s.builder.NewScratch()}
}

// head is the head with the wires of l, not yet computed.
func (z *Sizer) head(l *layout.Layout) *Head {
	c := *z.study.C
	c.Layout = l
	t := *z.study.T
	t.C = &c
	s := &Study{C: &c, T: &t, Short: z.study.Short, Trains: z.study.Trains, builder: z.study.builder.Resized(&c), unsettled: z.study.unsettled}
	s.Elements = s.builder.Elements()
	h := &Head{Study: s, Source: z.source, groups: z.groups}
	s.Heads = []*Head{h}
	return h
}

// Whole is a study of the one head with the wires of l, which differ from the study's in buses, feeders and
// bonds alone, and in how buses are laid. The error is ctx's only.
func (z *Sizer) Whole(ctx context.Context, l *layout.Layout) (*Study, error) {
	h := z.head(l)
	if err := h.solve(ctx, z.scratch); err != nil {
		return nil, err
	}
	if err := h.solveSettings(ctx, z.scratch); err != nil {
		return nil, err
	}
	return h.Study, h.study(ctx)
}

// Corners is the head with the wires of l at both corners and no more, without settings of track work: what a
// search asks thousands of times. nil when the network cannot be solved. The error is ctx's only.
func (z *Sizer) Corners(ctx context.Context, l *layout.Layout) (*Head, error) {
	h := z.head(l)
	h.setVolts()
	for i, corner := range [...]network.Corner{network.Weak, network.Strong} {
		x, err := z.sized(ctx, h, i, corner)
		if err != nil || x == nil {
			return nil, err
		}
		if corner == network.Weak {
			h.Weak = x
		} else {
			h.Strong = x
		}
	}
	return h, nil
}

// sized solves a head at one corner; nil when it cannot be solved. The error is ctx's only.
func (z *Sizer) sized(ctx context.Context, h *Head, i int, corner network.Corner) (*Solved, error) {
	base := &z.corners[i]
	if base.District == nil {
		d, err := h.Study.builder.Build(ctx, z.scratch, h.Source, corner, nil)
		if err != nil || d.Meet >= 0 {
			return nil, err
		}
		base.District = d
	}
	x := &Solved{Head: h, District: base.Resized(h.Study.Elements)}
	for leg, net := range x.Legs {
		edges := net.System()
		if base.leg[leg] == nil {
			a, err := solve.Analyse(ctx, len(net.Node), edges)
			if err != nil {
				return nil, ctx.Err()
			}
			base.leg[leg] = a
		}
		f, err := base.leg[leg].Factor(ctx, edges)
		if err != nil {
			return nil, ctx.Err()
		}
		inverse, err := f.SelectedInverse(ctx)
		if err != nil {
			return nil, ctx.Err()
		}
		x.Leg[leg] = Leg{Net: net, Factor: f, Inverse: inverse}
	}
	return x, nil
}

// Added is what trains at one place lose, or lose more.
type Added struct {
	Volts, Amps float64
	Way         int32
	T           float64
}

// FavourableDrops is, by guard, the most volts that wires, joints and rails lose anywhere on track behind it with every resistance low, from
// the two heaviest trains together there: where that is too much, it is too much however good the joints are. By Rayleigh's law no thicker
// wire raises it. Way is -1 where nothing is lost.
func (h *Head) FavourableDrops() []Added {
	x := h.Strong
	out := make([]Added, len(h.Weak.Guards))
	for g := range out {
		out[g].Way = -1
	}
	two := h.twoHeaviest()
	for i := range x.Rails {
		p := &x.Rails[i]
		if h.Weak.railOn(p.Way) == nil || !h.Weak.judged(p) {
			continue
		}
		g := x.guardOf(p)
		if int(g) >= len(out) || !sameGuard(h.Weak, x, g, g) {
			continue
		}
		c := x.Along(p)
		t, amps := c.Max(), min(two, h.Passes(g))
		if volts := amps * c.At(t); volts > out[g].Volts {
			out[g] = Added{Volts: volts, Amps: amps, Way: p.Way, T: t}
		}
	}
	return out
}

// twoHeaviest is what the two trains that draw most draw together.
func (h *Head) twoHeaviest() float64 {
	two := 0.0
	for i := range min(2, len(h.Study.Trains)) {
		two += h.Study.Trains[i].Amps
	}
	return two
}

// LeastShorts is, by guard, the least direct current of a short anywhere on track or bus behind it and behind no
// further one, in amperes; infinite where it guards neither. By Rayleigh's law no thicker wire lowers it.
func (h *Head) LeastShorts() []float64 {
	x := h.Weak
	out := make([]float64, len(x.Guards))
	for g := range out {
		out[g] = math.Inf(1)
	}
	take := func(g int32, ohms, drop float64) {
		out[g] = min(out[g], max(0, h.Volts.Lo-drop)/(h.Inside.Hi+ohms+h.Study.Short.Hi))
	}
	for i := range x.Rails {
		p := &x.Rails[i]
		if !x.judged(p) {
			continue
		}
		c := x.Along(p)
		take(x.guardOf(p), c.At(c.Max()), x.Leg[0].voltsAt(p.Edge[0])+x.Leg[1].voltsAt(p.Edge[1]))
	}
	for i := range x.Taps {
		p := &x.Taps[i]
		a, b := &x.Leg[0], &x.Leg[1]
		take(x.deeper(a.Guard(p.Node[0]), b.Guard(p.Node[1])), a.Ohms(p.Node[0])+b.Ohms(p.Node[1]), a.Volts(p.Node[0])+b.Volts(p.Node[1]))
	}
	return out
}

// AddedVolts is, by guard, the most that trains at a point of track lose there for its wires being no thicker than they are: with every
// train that may move at once at that point, less the same with the wires of free. By Rayleigh's law it is never negative where
// those are thicker, and no thicker wire raises it. Way is -1 where nothing is lost. Both heads are of one Sizer.
func (h *Head) AddedVolts(free *Head) []Added {
	x := h.Weak
	out := make([]Added, len(x.Guards))
	for g := range out {
		out[g].Way = -1
	}
	for i := range x.Rails {
		p := &x.Rails[i]
		if !x.judged(p) {
			continue
		}
		g := x.guardOf(p)
		amps, rest, _, _ := h.amps(g)
		c, f := x.Along(p), free.Weak.Along(&free.Weak.Rails[i])
		more := Curve{c.C0 - f.C0, c.C1 - f.C1, c.C2 - f.C2}
		t := more.highest()
		volts := amps * more.At(t)
		if rest > 0 {
			volts += rest * (x.hangsAt(g) - free.Weak.hangsAt(g))
		}
		if volts > out[g].Volts {
			out[g] = Added{Volts: volts, Amps: amps + rest, Way: p.Way, T: t}
		}
	}
	return out
}

// highest is where a curve that may bend either way is highest between 0 and 1.
func (c Curve) highest() float64 {
	t := c.Max()
	for _, o := range [...]float64{0, 1} {
		if c.At(o) > c.At(t) {
			t = o
		}
	}
	return t
}

// LeastShares is, for each wire that own picks, the least share of a current behind its guard that its worst conductor
// can come to carry, whatever the other wires are between those of thick and those of thin, its own wire being the same in both. With R
// the inverse, and g a conductor's own conductance, the share of an ampere drawn at its end j is g (R_jj - R_ij), which is
// g (r + R_jj - R_ii)/2 with r the resistance between its ends; all three only fall as wire gets thicker (Rayleigh).
func LeastShares(thick, thin *Head, own func(kind circuit.Kind, ref int32) bool) []Carried {
	var out []Carried
	type key struct {
		kind circuit.Kind
		ref  int32
	}
	at := map[key]int{}
	for leg := range thick.Weak.Leg {
		a, b := &thick.Weak.Leg[leg], &thin.Weak.Leg[leg]
		for e := range a.Net.Edges {
			edge := &a.Net.Edges[e]
			k := &thick.Study.C.Conductors[edge.Conductor]
			if b.Net.Edges[e].Conductor != edge.Conductor || !own(k.Kind, k.Ref) {
				continue
			}
			wire, isWire := thick.Study.wireOf(k)
			if !isWire {
				continue
			}
			ii, ij, jj := a.Inverse.Edge(e)
			between := ii + jj - 2*ij
			share := (between + max(jj-b.Ohms(edge.I), ii-b.Ohms(edge.J))) / (2 * b.Net.Edges[e].Ohms)
			c := Carried{Kind: k.Kind, Ref: k.Ref, Conductor: edge.Conductor, Wire: wire, Head: thick, Guard: thick.weaker(a.Guard(edge.I), a.Guard(edge.J)), Share: min(1, max(0, share))}
			c.Steady = thick.Passes(c.Guard) * c.Share
			n, seen := at[key{k.Kind, k.Ref}]
			switch {
			case !seen:
				at[key{k.Kind, k.Ref}] = len(out)
				out = append(out, c)
			case c.Steady > out[n].Steady:
				out[n] = c
			}
		}
	}
	return out
}

// weaker is the one of two guards that lets less current pass.
func (h *Head) weaker(a, b int32) int32 {
	if h.Passes(b) < h.Passes(a) {
		return b
	}
	return a
}

// setVolts reads the source's volts and its inside.
func (h *Head) setVolts() {
	src := &h.Study.C.Sources[h.Source]
	l := h.Study.C.Layout
	h.Inside = conductor.Range{}
	switch src.Kind {
	case circuit.BoosterSource:
		b := &l.Boosters[src.Ref]
		if b.Volts.Known() {
			h.Volts = conductor.Range{Lo: b.Volts.Lo, Hi: b.Volts.Hi}
		}
		h.Inside = conductor.BoosterInside.Range
		if b.Inside.Known() {
			h.Inside, h.InsideSaid = conductor.Range{Lo: b.Inside.Lo, Hi: b.Inside.Hi}, true
		}
	case circuit.CabSource:
		if v := l.Cabs[src.Ref].Volts; v.Known() {
			h.Volts = conductor.Range{Lo: v.Lo, Hi: v.Hi}
		}
	case circuit.SupplySource:
		if v := l.Supplies[src.Ref].Volts; v.Known() {
			h.Volts = conductor.Range{Lo: v.Lo, Hi: v.Hi}
		}
	}
}
