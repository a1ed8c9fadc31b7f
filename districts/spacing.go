package districts

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// FarRail is rail that lies farther along the metal from every feeder of its own rail than
// asked: the parts of it on plain track, and the farthest point.
type FarRail struct {
	Parts    []RailPart
	Farthest float64 // metres from the nearest feeder
	Track    int32
	At       float64 // where that is
}

// railStep is one rail of a way: metal between two nodes.
type railStep struct {
	a, b   int32
	length float64
	part   RailPart
	plain  bool
}

// FarFromFeeders lists the rail that is more than within metres from the nearest feeder of
// the same rail, measured along rails and routes in which they are whole. A bond counts
// as no length. Rail that no feeder reaches is left out; where a setting of track work is
// what feeds it, the way through it counts. A feeder that may be broken is none.
func (t *Trace) FarFromFeeders(within float64) []FarRail {
	edges := t.railSteps()
	touch := newAdjacency(t.C.Nodes, len(edges), func(e int) (int32, int32) { return edges[e].a, edges[e].b })
	d := t.feederDistances(edges, touch)
	u := newUnionFind(len(edges))
	last := map[int32]int32{} // by node beyond reach: an edge there
	var out []FarRail
	type far struct {
		part     RailPart
		farthest float64
		at       float64
	}
	found := make([]far, len(edges))
	for i := range edges {
		e := &edges[i]
		if math.IsInf(d[e.a], 1) && math.IsInf(d[e.b], 1) {
			continue
		}
		for _, n := range [2]int32{e.a, e.b} {
			if d[n] <= within {
				continue
			}
			if o, seen := last[n]; seen {
				u.union(o, int32(i))
			}
			last[n] = int32(i)
		}
		lo, hi := max(0, within-d[e.a]), min(e.length, d[e.b]+e.length-within)
		if hi-lo <= 1e-6 {
			continue
		}
		peak := min(max((d[e.b]+e.length-d[e.a])/2, 0), e.length)
		f := far{farthest: min(d[e.a]+peak, d[e.b]+e.length-peak), at: e.part.From + peak, part: e.part}
		f.part.From, f.part.To = e.part.From+lo, e.part.From+hi
		found[i] = f
	}
	at := map[int32]int{}
	for i := range edges {
		if !edges[i].plain || found[i].farthest == 0 {
			continue
		}
		root := u.find(int32(i))
		n, seen := at[root]
		if !seen {
			n = len(out)
			at[root] = n
			out = append(out, FarRail{})
		}
		out[n].Parts = append(out[n].Parts, found[i].part)
		if found[i].farthest > out[n].Farthest {
			out[n].Farthest, out[n].Track, out[n].At = found[i].farthest, found[i].part.Track, found[i].at
		}
	}
	for i := range out {
		out[i].Parts = joinParts(out[i].Parts)
	}
	slices.SortStableFunc(out, func(x, y FarRail) int {
		return cmp.Or(cmp.Compare(x.Parts[0].Track, y.Parts[0].Track), cmp.Compare(x.Parts[0].From, y.Parts[0].From), cmp.Compare(x.Parts[0].Rail, y.Parts[0].Rail))
	})
	return out
}

// railSteps lists the rails of every way that metal runs along, and bonds.
func (t *Trace) railSteps() []railStep {
	var out []railStep
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		for r := range layout.Rail(2) {
			across := r
			if w.Turned {
				across = r.Other()
			}
			e := railStep{a: t.C.Spots[w.A].Node[r], b: t.C.Spots[w.B].Node[across], length: w.Length}
			switch w.Kind {
			case circuit.WayPit:
				continue
			case circuit.WayThrough:
				if w.Metal[r] != circuit.Joined && t.Fed[e.a] != InSetting && t.Fed[e.b] != InSetting {
					continue
				}
			default:
				k := w.Rails[r]
				if k < 0 || !t.C.Conductors[k].Sure {
					continue
				}
			}
			if w.Kind == circuit.WayTrack {
				e.plain = true
				e.part = RailPart{Track: t.C.Layout.Pieces[w.Piece].Index, Rail: r, From: t.C.Spots[w.A].At, To: t.C.Spots[w.B].At}
			}
			out = append(out, e)
		}
	}
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.BondWire {
			out = append(out, railStep{a: k.A, b: k.B})
		}
	}
	return out
}

// feederDistances are the metres of rail from every node to the nearest feeder, +Inf where
// none is reached (Dijkstra 1959, from all feeders at once).
func (t *Trace) feederDistances(edges []railStep, touch *adjacency) []float64 {
	d := make([]float64, t.C.Nodes)
	for n := range d {
		d[n] = math.Inf(1)
	}
	q := &spotQueue{}
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.FeederWire && k.Sure && d[k.B] > 0 {
			d[k.B] = 0
			heap.Push(q, spotAt{k.B, 0})
		}
	}
	for q.Len() > 0 {
		x := heap.Pop(q).(spotAt)
		if x.metres > d[x.spot] {
			continue
		}
		for _, i := range touch.of(x.spot) {
			e := &edges[i]
			if o, m := e.a+e.b-x.spot, x.metres+e.length; m < d[o] {
				d[o] = m
				heap.Push(q, spotAt{o, m})
			}
		}
	}
	return d
}
