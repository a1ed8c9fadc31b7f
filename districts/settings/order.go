package settings

import "slices"

// order is a sequence of items with what is open after each.
type order struct {
	items []int32
	cost  float64
}

// startsTried bounds how many items an order is begun with.
const startsTried = 6

// order looks for a sequence in which few nets, levers and sets are open at a time: the next item
// is always the one that leaves the fewest, of equals the one whose nets have waited longest.
// Several beginnings are tried.
func (l *local) order() order {
	best := order{cost: -1}
	if len(l.items) == 0 {
		return best
	}
	firsts := []int32{0}
	for i := range l.items {
		if l.touches(int32(i), start(0)) || l.touches(int32(i), end(0)) {
			firsts = append(firsts, int32(i))
		}
	}
	firsts = append(firsts, int32(len(l.items)-1))
	slices.Sort(firsts)
	firsts = slices.Compact(firsts)
	step := (len(firsts) + startsTried - 1) / startsTried
	for i := 0; i < len(firsts) && (i == 0 || l.work > 0); i += step {
		if o := l.orderFrom(firsts[i]); best.cost < 0 || o.cost < best.cost {
			best = o
		}
	}
	return best
}

// touches reports whether an item has an edge at a net with a mark.
func (l *local) touches(it int32, mark uint16) bool {
	return slices.ContainsFunc(l.items[it].edges, func(e int32) bool {
		x := &l.edges[e]
		m := x.marks[0] | x.marks[1]
		if x.a >= 0 {
			m |= l.marks[x.a]
		}
		if x.b >= 0 {
			m |= l.marks[x.b]
		}
		return m&mark != 0
	})
}

// open counts what is still to come.
type open struct {
	total, left []int // by thing
	since       []int // the step at which it opened
}

func newOpen(n int) open { return open{make([]int, n), make([]int, n), make([]int, n)} }

// orderFrom makes a sequence that begins with an item.
func (l *local) orderFrom(first int32) order {
	things, of := l.things()
	w := newOpen(len(of))
	for _, list := range things {
		for _, t := range list {
			w.total[t]++
			w.left[t]++
		}
	}
	taken := make([]bool, len(l.items))
	near := map[int32]bool{first: true}
	o := order{items: make([]int32, 0, len(l.items))}
	width, from := 0, int32(0)
	for len(o.items) < len(l.items) {
		if len(near) == 0 {
			for taken[from] {
				from++
			}
			near[from] = true
		}
		l.work -= len(near)
		pick, score, age := int32(-1), 0, 0
		for it := range near {
			s, a := 0, len(l.items)
			for _, t := range things[it] {
				if w.left[t] == w.total[t] {
					s++
				} else {
					a = min(a, w.since[t])
				}
				if w.left[t] == 1 {
					s--
				}
			}
			if pick < 0 || s < score || s == score && (a < age || a == age && it < pick) {
				pick, score, age = it, s, a
			}
		}
		taken[pick] = true
		delete(near, pick)
		for _, t := range things[pick] {
			if w.left[t] == w.total[t] {
				w.since[t] = len(o.items)
				for _, it := range of[t] {
					if !taken[it] {
						near[it] = true
					}
				}
			}
			w.left[t]--
		}
		width += score
		o.items = append(o.items, pick)
		weight := 1.0
		for range min(width, 300) {
			weight *= 2.5
		}
		o.cost += weight
	}
	return o
}

// things lists what each item keeps open, nets, levers and sets under one numbering, and the items of
// each.
func (l *local) things() (things, of [][]int32) {
	nets, levers := len(l.marks), len(l.levers)
	things = make([][]int32, len(l.items))
	of = make([][]int32, nets+levers+len(l.sets))
	for i := range l.items {
		it := &l.items[i]
		list := slices.Clone(it.nets)
		list = append(list, int32(nets)+it.lever)
		if v := &l.levers[it.lever]; v.items[0] == int32(i) {
			for _, c := range v.sets {
				list = append(list, int32(nets+levers)+c)
			}
		}
		things[i] = list
		for _, t := range list {
			of[t] = append(of[t], int32(i))
		}
	}
	return things, of
}
