package partition

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// holding is what a district has taken on. Nodes of one kind admit the same trains.
type holding struct {
	berths   []uint8 // by kind; more than can be of use are not counted
	standing int64   // milliamperes
	amps     int64   // milliamperes at the most, standing included
	trains   int     // that can be in it at once, at the most
}

// within reports whether h holds no more than o of anything.
func (h *holding) within(o *holding) bool {
	if h.standing > o.standing {
		return false
	}
	for k := range h.berths {
		if h.berths[k] > o.berths[k] {
			return false
		}
	}
	return true
}

// holdings knows every holding met by a number, and what two make together.
type holdings struct {
	p      *Problem
	most   int      // trains at once
	byAmps []int    // trains, the heaviest first
	kind   []int    // by node
	admits [][]bool // by kind and train
	full   []int    // by kind: more berths than that change nothing
	node   []uint32 // by node: its holding

	list  []holding
	known map[string]uint32
	sums  map[uint64]uint32
}

func newHoldings(p *Problem) *holdings {
	h := &holdings{p: p, most: p.AtOnce, kind: make([]int, len(p.Nodes)), known: map[string]uint32{}, sums: map[uint64]uint32{}}
	if h.most <= 0 || h.most > len(p.Trains) {
		h.most = len(p.Trains)
	}
	for t := range p.Trains {
		h.byAmps = append(h.byAmps, t)
	}
	slices.SortStableFunc(h.byAmps, func(a, b int) int { return -cmp.Compare(p.Trains[a].MilliAmps, p.Trains[b].MilliAmps) })
	for v := range p.Nodes {
		h.kind[v] = h.kindOf(&p.Nodes[v])
	}
	for v := range p.Nodes {
		berths := make([]uint8, len(h.admits))
		berths[h.kind[v]] = uint8(min(p.Nodes[v].Berths, h.full[h.kind[v]]))
		h.node = append(h.node, h.number(berths, p.Nodes[v].Load))
	}
	return h
}

// kindOf finds the kind of a node, a new one if need be.
func (h *holdings) kindOf(v *Node) int {
	admits := make([]bool, len(h.p.Trains))
	n := 0
	for t := range admits {
		admits[t] = v.Only == nil || slices.Contains(v.Only, t)
		if admits[t] {
			n++
		}
	}
	k := slices.IndexFunc(h.admits, func(o []bool) bool { return slices.Equal(o, admits) })
	if k < 0 {
		k = len(h.admits)
		h.admits = append(h.admits, admits)
		h.full = append(h.full, min(n, h.most))
	}
	return k
}

// number is that of a holding, a new one if need be.
func (h *holdings) number(berths []uint8, standing int64) uint32 {
	spelt := binary.AppendVarint(slices.Clone(berths), standing)
	if id, known := h.known[string(spelt)]; known {
		return id
	}
	x := holding{berths: berths, standing: standing}
	amps, trains := h.worst(berths)
	x.amps, x.trains = standing+amps, trains
	id := uint32(len(h.list))
	h.list = append(h.list, x)
	h.known[string(spelt)] = id
	return id
}

// sum is the holding of two districts made one.
func (h *holdings) sum(a, b uint32) uint32 {
	if a > b {
		a, b = b, a
	}
	pair := uint64(a)<<32 | uint64(b)
	if id, known := h.sums[pair]; known {
		return id
	}
	x, y := &h.list[a], &h.list[b]
	berths := make([]uint8, len(x.berths))
	for k := range berths {
		berths[k] = uint8(min(int(x.berths[k])+int(y.berths[k]), h.full[k]))
	}
	id := h.number(berths, x.standing+y.standing)
	h.sums[pair] = id
	return id
}

// worst is the worst placing of trains in so many berths of each kind. The sets of trains that find berths are a
// transversal matroid, cut off at how many move at once; the heaviest such set is found by taking trains in order of their
// current, each by an augmenting path (Edmonds 1971, from memory).
func (h *holdings) worst(berths []uint8) (amps int64, trains int) {
	stands := make([][]int, len(berths)) // trains, by kind
	for _, t := range h.byAmps {
		if trains == h.most {
			break
		}
		if h.place(t, berths, stands, make([]bool, len(berths))) {
			trains++
			amps += h.p.Trains[t].MilliAmps
		}
	}
	return amps, trains
}

// place finds a berth for a train, moving others where that makes room.
func (h *holdings) place(t int, berths []uint8, stands [][]int, seen []bool) bool {
	for k := range berths {
		if !h.admits[k][t] || seen[k] || berths[k] == 0 {
			continue
		}
		seen[k] = true
		if len(stands[k]) < int(berths[k]) {
			stands[k] = append(stands[k], t)
			return true
		}
		for i, o := range stands[k] {
			if h.place(o, berths, stands, seen) {
				stands[k][i] = t
				return true
			}
		}
	}
	return false
}

// of is the holding of some nodes together.
func (h *holdings) of(nodes []int32) *holding {
	id := h.number(make([]uint8, len(h.admits)), 0)
	for _, v := range nodes {
		id = h.sum(id, h.node[v])
	}
	return &h.list[id]
}

// LoadOf is the most that nodes can draw together, in milliamperes, and how many trains can be in them at once.
func (p *Problem) LoadOf(nodes []int32) (milliAmps int64, trains int) {
	x := newHoldings(p).of(nodes)
	return x.amps, x.trains
}
