package districts

import (
	"container/heap"

	"gapwise/netlist/circuit"
)

// Pace is one way of a walk along the track, from spot From to spot To. Against says that
// it is walked from the way's B to its A.
type Pace struct {
	Way      int32
	From, To int32
}

// Route is the shortest walk a train could take from one spot to another; nil when
// there is none. A train does not turn back inside a turnout: from one leg it goes to the
// points and on.
func (t *Trace) Route(from, to int32) []Pace {
	type state struct {
		spot    int32
		through bool // arrived by a route through track work
	}
	type reached struct {
		metres float64
		via    int32
		prev   state
	}
	best := map[state]reached{}
	q := &spotQueue{}
	push := func(s state, r reached) {
		if old, found := best[s]; found && old.metres <= r.metres {
			return
		}
		best[s] = r
		code := s.spot * 2
		if s.through {
			code++
		}
		heap.Push(q, spotAt{code, r.metres})
	}
	start := state{from, false}
	push(start, reached{via: -1})
	push(state{from, true}, reached{via: -1})
	for q.Len() > 0 {
		x := heap.Pop(q).(spotAt)
		s := state{x.spot / 2, x.spot%2 == 1}
		if x.metres > best[s].metres {
			continue
		}
		if s.spot == to {
			var paces []Pace
			for best[s].via >= 0 {
				r := best[s]
				paces = append(paces, Pace{Way: r.via, From: r.prev.spot, To: s.spot})
				s = r.prev
			}
			for i, j := 0, len(paces)-1; i < j; i, j = i+1, j-1 {
				paces[i], paces[j] = paces[j], paces[i]
			}
			return paces
		}
		for _, k := range t.Ways.Of(s.spot) {
			w := &t.C.Ways[k]
			inside := w.Kind == circuit.WayThrough || w.Kind == circuit.WayPit
			if inside && s.through && best[s].via >= 0 && w.Kind == circuit.WayThrough {
				continue
			}
			push(state{w.A + w.B - s.spot, inside}, reached{metres: x.metres + w.Length, via: k, prev: s})
		}
	}
	return nil
}
