package settings

import (
	"container/heap"
	"slices"
)

// unit is what a lever costs in the lower bound; it is divided by how many edges of the lever a
// way may need.
const unit = 720720

// reach is a net with what it took to come there.
type reach struct{ cost, net int }

type reaches []reach

func (r reaches) Len() int { return len(r) }
func (r reaches) Less(i, j int) bool {
	return r[i].cost < r[j].cost || r[i].cost == r[j].cost && r[i].net < r[j].net
}
func (r reaches) Swap(i, j int) { r[i], r[j] = r[j], r[i] }
func (r *reaches) Push(x any)   { *r = append(*r, x.(reach)) }
func (r *reaches) Pop() any {
	last := (*r)[len(*r)-1]
	*r = (*r)[:len(*r)-1]
	return last
}

// web is the local problem as vertices: its nets, then all stops that a way starts at, then all that it
// ends at.
type web struct {
	at   [][]int32 // edges by vertex
	ends [][2]int  // by edge; -1 for an end that is neither
}

func (l *local) web() *web {
	n := len(l.marks)
	w := &web{at: make([][]int32, n+2), ends: make([][2]int, len(l.edges))}
	for i := range l.edges {
		x := &l.edges[i]
		for j, a := range [2]int32{x.a, x.b} {
			v := -1
			switch {
			case a >= 0:
				v = int(a)
			case x.marks[j]&start(0) != 0:
				v = n
			case x.marks[j]&end(0) != 0:
				v = n + 1
			}
			w.ends[i][j] = v
			if v >= 0 {
				w.at[v] = append(w.at[v], int32(i))
			}
		}
	}
	return w
}

// search runs Dijkstra's algorithm from all starts to the nearest end. cost says what an edge
// costs after the way that led to a vertex, negative for not at all.
func (l *local) search(w *web, cost func(e int32, by []int32, v int) int) (total int, by []int32, last int, ok bool) {
	n := len(l.marks)
	by = make([]int32, n+2) // the edge that led to a vertex
	least := make([]int, n+2)
	for v := range by {
		by[v], least[v] = -1, -1
	}
	var queue reaches
	push := func(v, c int) { least[v] = c; heap.Push(&queue, reach{c, v}) }
	for v := range n {
		if l.marks[v]&start(0) != 0 {
			push(v, 0)
		}
	}
	push(n, 0)
	done := make([]bool, n+2)
	for len(queue) > 0 {
		x := heap.Pop(&queue).(reach)
		if done[x.net] {
			continue
		}
		done[x.net] = true
		if x.net == n+1 || x.net < n && l.marks[x.net]&end(0) != 0 {
			return x.cost, by, x.net, true
		}
		for _, e := range w.at[x.net] {
			l.work--
			other := w.ends[e][0] + w.ends[e][1] - x.net
			if w.ends[e][0] < 0 || w.ends[e][1] < 0 || done[other] || other == n {
				continue
			}
			c := cost(e, by, x.net)
			if c >= 0 && (least[other] < 0 || x.cost+c < least[other]) {
				by[other] = e
				push(other, x.cost+c)
			}
		}
	}
	return 0, by, -1, false
}

// leverOf is the local lever of an edge.
func (l *local) leverOf(e int32) int32 {
	return l.leverAt[l.s.leverOf[l.s.p.Edges[l.edges[e].edge].Device]]
}

// least is a number of levers that no way does with fewer of. A way uses at most as many edges of a
// lever as join something new, so an edge is given that share of it.
func (l *local) least() int {
	w := l.web()
	share := make([]int, len(l.levers))
	for i := range l.levers {
		if v := &l.levers[i]; !v.held {
			most := 1
			for _, x := range v.values {
				most = max(most, l.joins(&x, w))
			}
			share[i] = unit / most
		}
	}
	total, _, _, _ := l.search(w, func(e int32, _ []int32, _ int) int { return share[l.leverOf(e)] })
	return (total + unit - 1) / unit
}

// joins counts the edges of a value that join something new.
func (l *local) joins(x *value, w *web) int {
	n := 0
	to := map[int]int{}
	find := func(v int) int {
		for {
			next, found := to[v]
			if !found {
				return v
			}
			v = next
		}
	}
	for _, on := range x.on {
		for _, e := range on {
			a, b := find(w.ends[e][0]), find(w.ends[e][1])
			if a != b {
				to[a] = b
				n++
			}
		}
	}
	return n
}

// greedy looks for a way each of whose edges agrees with the one that was nearest before it. It
// finds a valid setting, not always the one of fewest levers, and may miss what there is.
func (l *local) greedy() (at []int16, ok bool) {
	w := l.web()
	_, by, last, ok := l.search(w, func(e int32, by []int32, v int) int {
		own := l.leverOf(e)
		left, used := slices.Clone(l.levers[own].domain), false
		l.restrict(left, own, e)
		l.along(w, by, v, func(o int32) {
			if l.leverOf(o) == own {
				l.restrict(left, own, o)
				used = true
			}
		})
		switch {
		case !slices.Contains(left, true):
			return -1
		case used || l.levers[own].held:
			return 0
		default:
			return 1
		}
	})
	if !ok {
		return nil, false
	}
	at = make([]int16, len(l.levers))
	left := make([][]bool, len(l.levers))
	for i := range at {
		at[i], left[i] = -1, slices.Clone(l.levers[i].domain)
	}
	used := make([]bool, len(l.levers))
	l.along(w, by, last, func(e int32) {
		own := l.leverOf(e)
		l.restrict(left[own], own, e)
		used[own] = true
	})
	for i := range at {
		if used[i] {
			at[i] = int16(slices.Index(left[i], true))
		}
	}
	return at, len(l.sets) == 0 || l.valid(at)
}

// restrict leaves the positions of a lever in which an edge conducts.
func (l *local) restrict(left []bool, lever, e int32) {
	full := &l.s.levers[l.levers[lever].id]
	x := &l.s.p.Edges[l.edges[e].edge]
	m := full.member(x.Device)
	for p := range left {
		left[p] = left[p] && full.at[p][m] == x.Position
	}
}

// along calls f with the edges of the way that led to a vertex, the last first.
func (l *local) along(w *web, by []int32, v int, f func(e int32)) {
	for by[v] >= 0 {
		l.work--
		e := by[v]
		f(e)
		v = w.ends[e][0] + w.ends[e][1] - v
	}
}

// valid reports whether a choice, with what is given, extends to a valid setting of all devices that
// holds nothing told.
func (l *local) valid(at []int16) bool {
	given := slices.Clone(l.q.Given)
	for i, p := range at {
		if p < 0 {
			continue
		}
		full := &l.s.levers[l.levers[i].id]
		for k, d := range full.members {
			if full.at[p][k] >= 0 {
				given = append(given, Setting{d, full.at[p][k]})
			}
		}
	}
	a := l.s.Solve(&Query{Given: given, Told: l.q.Told, Work: max(l.work, 1)})
	l.work -= a.Work
	return a.Verdict == Found
}
