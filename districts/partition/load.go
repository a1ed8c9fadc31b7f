package partition

import (
	"cmp"
	"slices"
)

// loads answers what districts may come to draw. A district's load depends on how many berths of each kind it has: nodes
// of one kind admit the same trains.
type loads struct {
	p      *Problem
	most   int      // trains at once
	byAmps []int    // trains, the heaviest first
	kind   []int    // by node
	admits [][]bool // by kind and train
	full   []int    // by kind: more berths than that change nothing
	known  map[string]load
}

type load struct {
	amps   int64
	trains int
}

func newLoads(p *Problem) *loads {
	l := &loads{p: p, most: p.AtOnce, kind: make([]int, len(p.Nodes)), known: map[string]load{}}
	if l.most <= 0 || l.most > len(p.Trains) {
		l.most = len(p.Trains)
	}
	for t := range p.Trains {
		l.byAmps = append(l.byAmps, t)
	}
	slices.SortStableFunc(l.byAmps, func(a, b int) int { return -cmp.Compare(p.Trains[a].MilliAmps, p.Trains[b].MilliAmps) })
	for v := range p.Nodes {
		admits := make([]bool, len(p.Trains))
		for t := range admits {
			admits[t] = p.Nodes[v].Only == nil || slices.Contains(p.Nodes[v].Only, t)
		}
		k := slices.IndexFunc(l.admits, func(o []bool) bool { return slices.Equal(o, admits) })
		if k < 0 {
			k = len(l.admits)
			l.admits = append(l.admits, admits)
			n := 0
			for _, in := range admits {
				if in {
					n++
				}
			}
			l.full = append(l.full, min(n, l.most))
		}
		l.kind[v] = k
	}
	return l
}

// of is the worst placing of trains in so many berths of each kind. The sets of trains that find berths are a
// transversal matroid, cut off at how many move at once; the heaviest such set is found by taking trains in order of their
// current, each by an augmenting path (Edmonds 1971, from memory).
func (l *loads) of(berths []uint8) load {
	if x, known := l.known[string(berths)]; known {
		return x
	}
	var x load
	stands := make([][]int, len(berths)) // trains, by kind
	for _, t := range l.byAmps {
		if x.trains == l.most {
			break
		}
		if l.place(t, berths, stands, make([]bool, len(berths))) {
			x.trains++
			x.amps += l.p.Trains[t].MilliAmps
		}
	}
	l.known[string(berths)] = x
	return x
}

// place finds a berth for a train, moving others where that makes room.
func (l *loads) place(t int, berths []uint8, stands [][]int, seen []bool) bool {
	for k := range berths {
		if !l.admits[k][t] || seen[k] || berths[k] == 0 {
			continue
		}
		seen[k] = true
		if len(stands[k]) < int(berths[k]) {
			stands[k] = append(stands[k], t)
			return true
		}
		for i, o := range stands[k] {
			if l.place(o, berths, stands, seen) {
				stands[k][i] = t
				return true
			}
		}
	}
	return false
}

// LoadOf is the most that nodes can draw together, in milliamperes, and how many trains can be in them at once.
func (p *Problem) LoadOf(nodes []int32) (milliAmps int64, trains int) {
	l := newLoads(p)
	berths := make([]uint8, len(l.admits))
	var standing int64
	for _, v := range nodes {
		k := l.kind[v]
		berths[k] = uint8(min(int(berths[k])+p.Nodes[v].Berths, l.full[k]))
		standing += p.Nodes[v].Load
	}
	x := l.of(berths)
	return standing + x.amps, x.trains
}
