package settings

import "slices"

// arc is an edge between two vertices of the search for what lies on a way: 0 is all of From,
// 1 all of To.
type arc struct{ edge, a, b int32 }

// between lists the edges that lie on some way from nets of from to nets of to, consistency
// aside: those in one block (no vertex of which parts it) with an edge from the one to the other. Hopcroft
// and Tarjan, Algorithm 447, 1973. None when there is no way.
func (l *local) between(from, to []int32) []int32 {
	vertex := map[int32]int32{}
	for _, n := range from {
		vertex[n] = 0
	}
	for _, n := range to {
		vertex[n] = 1
	}
	queue := slices.Clone(from)
	count := int32(2)
	done := map[int32]bool{}
	arcs := []arc{{-1, 0, 1}}
	reached := false
	for at := 0; at < len(queue); at++ {
		for _, n := range l.group(queue[at]) {
			for _, e := range l.s.touch[n] {
				x := &l.s.p.Edges[e]
				if done[e] || !l.allowed(x) {
					continue
				}
				done[e] = true
				l.work--
				other := l.net(x.A)
				if other == queue[at] {
					other = l.net(x.B)
				}
				v, found := vertex[other]
				if !found {
					if l.stops(other) {
						continue
					}
					v = count
					count++
					vertex[other] = v
					queue = append(queue, other)
				}
				reached = reached || v == 1
				if u := vertex[queue[at]]; u != v {
					arcs = append(arcs, arc{e, u, v})
				}
			}
		}
	}
	if !reached {
		return nil
	}
	return block(arcs, count)
}

// block lists the edges of the arcs in one block with the first arc.
func block(arcs []arc, count int32) []int32 {
	beside := make([][]int32, count)
	for i, x := range arcs {
		beside[x.a] = append(beside[x.a], int32(i))
		beside[x.b] = append(beside[x.b], int32(i))
	}
	seen, low := make([]int32, count), make([]int32, count)
	next := make([]int, count)
	by := make([]int32, count) // the arc that led to a vertex
	var held []int32
	seen[0], low[0], seen[1], low[1] = 1, 1, 2, 2
	time := int32(2)
	by[0], by[1] = -1, 0
	held = append(held, 0)
	stack := []int32{1}
	for len(stack) > 0 {
		v := stack[len(stack)-1]
		if next[v] < len(beside[v]) {
			i := beside[v][next[v]]
			next[v]++
			w := arcs[i].a + arcs[i].b - v
			switch {
			case i == by[v]:
			case seen[w] == 0:
				time++
				seen[w], low[w], by[w] = time, time, i
				held = append(held, i)
				stack = append(stack, w)
			case seen[w] < seen[v]:
				held = append(held, i)
				low[v] = min(low[v], seen[w])
			}
			continue
		}
		stack = stack[:len(stack)-1]
		if v == 1 {
			break
		}
		parent := arcs[by[v]].a + arcs[by[v]].b - v
		low[parent] = min(low[parent], low[v])
		if low[v] >= seen[parent] { // parent parts what was found since from the rest
			cut := len(held) - 1
			for held[cut] != by[v] {
				cut--
			}
			held = held[:cut]
		}
	}
	var out []int32
	for _, i := range held {
		if e := arcs[i].edge; e >= 0 {
			out = append(out, e)
		}
	}
	return out
}
