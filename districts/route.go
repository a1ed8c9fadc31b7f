package districts

import (
	"container/heap"
	"slices"

	"gapwise/netlist/circuit"
)

// Pace is one way of a walk along the track, from spot From to spot To.
type Pace struct {
	Way      int32
	From, To int32
}

// Route is the shortest walk a train could take from one spot to another; nil when there
// is none, or none is needed. A train does not turn back: it leaves a spot by another way than it came, and
// inside track work it goes from one side to the other.
//
// The search is Dijkstra's over ways walked in either sense: number 2w is way w from its A
// to its B, 2w+1 from B to A.
func (t *Trace) Route(from, to int32) []Pace {
	if from == to {
		return nil
	}
	metres := map[int32]float64{}
	before := map[int32]int32{}
	done := map[int32]bool{}
	q := &spotQueue{}
	reach := func(walked int32, m float64, prev int32) {
		if old, found := metres[walked]; found && old <= m {
			return
		}
		metres[walked], before[walked] = m, prev
		heap.Push(q, spotAt{walked, m})
	}
	leave := func(spot int32, m float64, prev int32) {
		for _, k := range t.Ways.Of(spot) {
			w := &t.C.Ways[k]
			if prev >= 0 && (k == prev/2 || (inside(w) && inside(&t.C.Ways[prev/2]) && w.Kind == circuit.WayThrough)) {
				continue
			}
			if w.A == spot {
				reach(2*k, m+w.Length, prev)
			}
			if w.B == spot {
				reach(2*k+1, m+w.Length, prev)
			}
		}
	}
	leave(from, 0, -1)
	for q.Len() > 0 {
		x := heap.Pop(q).(spotAt).spot
		if done[x] {
			continue
		}
		done[x] = true
		end := t.walkedEnd(x)
		if end == to {
			return t.paces(x, before)
		}
		leave(end, metres[x], x)
	}
	return nil
}

// inside reports whether a way lies inside track work.
func inside(w *circuit.Way) bool {
	return w.Kind == circuit.WayThrough || w.Kind == circuit.WayPit
}

// walkedEnd is the spot at which a walked way ends.
func (t *Trace) walkedEnd(x int32) int32 {
	if x%2 == 0 {
		return t.C.Ways[x/2].B
	}
	return t.C.Ways[x/2].A
}

// paces unwinds a walk from its last way.
func (t *Trace) paces(last int32, before map[int32]int32) []Pace {
	var out []Pace
	for x := last; x >= 0; x = before[x] {
		w := &t.C.Ways[x/2]
		out = append(out, Pace{Way: x / 2, From: w.A + w.B - t.walkedEnd(x), To: t.walkedEnd(x)})
	}
	slices.Reverse(out)
	return out
}
