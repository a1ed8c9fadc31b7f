package solve

import (
	"context"
	"slices"
)

// order is an elimination order that keeps the factor thin: order[k] is the node eliminated k-th. It
// is the approximate minimum degree method with element absorption, mass elimination and merging of
// indistinguishable nodes, after P. R. Amestoy, T. A. Davis and I. S. Duff, An approximate minimum
// degree ordering algorithm, SIAM J. Matrix Anal. Appl. 17 (1996).
//
// The graph after some eliminations is kept as a quotient graph: a node's neighbours are its
// remaining variables, and the members of the elements (eliminated nodes) that it touches. A node's
// list never grows: the new element takes the place of what led to it.
func order(ctx context.Context, g *graph) ([]int32, error) {
	degree, gone := degrees(g), make([]bool, g.n)
	q := newQuotient(g)
	q.order = peel(g, degree, gone, q.order)
	last := crowded(degree, gone)
	q.done = len(q.order) + len(last)
	q.begin(gone)
	for q.done < q.n {
		if q.steps++; q.steps%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		q.eliminate(q.least())
	}
	return append(q.order, last...), nil
}

const none = -1

// quotient is the quotient graph while nodes are eliminated.
type quotient struct {
	n, done, steps int
	order          []int32

	// A node's slot in lists: first its elements, then its variables.
	lists                  []int32
	start, elements, total []int32
	weight                 []int32 // nodes merged into this one, itself included; 0 once it is gone
	degree                 []int32 // bound on the nodes beside it

	// Nodes by degree, doubly linked; floor is below or at the least degree in use.
	head, next, prev []int32
	floor            int32

	// An element's members are arena[from:from+size]; size 0 once it is absorbed.
	arena      []int32
	from, size []int32
	bound      []int32 // weight of an element's members

	mark        []int32 // by node: the stamp when it was last a member of the new element
	stamp       int32
	outside     []int64 // by element: tag + weight of its members outside the new element
	same        []int64 // by node or element: the tag when it was last in a list compared
	tag         int64
	follow      []int32 // nodes that are ordered right after a node, as a chain
	tail        []int32
	bucket      []int32 // by hash: a chain of members of the new element, to find equals
	chain, hash []int32
}

func newQuotient(g *graph) *quotient {
	n := g.n
	q := &quotient{n: n, order: make([]int32, 0, n), lists: slices.Clone(g.list), floor: int32(n), stamp: 0, tag: 1}
	ints := func(fill int32) []int32 {
		s := make([]int32, n)
		if fill != 0 {
			for i := range s {
				s[i] = fill
			}
		}
		return s
	}
	q.start, q.elements, q.total = ints(0), ints(0), ints(0)
	q.weight, q.degree = ints(1), ints(0)
	q.head, q.next, q.prev = ints(none), ints(none), ints(none)
	q.from, q.size, q.bound = ints(0), ints(0), ints(0)
	q.mark, q.outside = ints(none), make([]int64, n)
	q.same = make([]int64, n)
	q.follow, q.tail = ints(none), ints(0)
	q.bucket, q.chain, q.hash = ints(none), ints(none), ints(0)
	q.arena = make([]int32, 0, len(g.list)+n)
	for i := range n {
		q.start[i] = g.start[i]
		q.total[i] = g.start[i+1] - g.start[i]
		q.tail[i] = int32(i)
	}
	return q
}

// begin files the nodes that are not gone by their degree, the lowest node of a degree in front.
func (q *quotient) begin(gone []bool) {
	for i := int32(q.n) - 1; i >= 0; i-- {
		if gone[i] {
			q.weight[i] = 0
			continue
		}
		for _, j := range q.lists[q.start[i] : q.start[i]+q.total[i]] {
			if !gone[j] {
				q.degree[i]++
			}
		}
		q.file(i)
	}
}

// file puts a node into the list of its degree.
func (q *quotient) file(i int32) {
	d := q.degree[i]
	q.next[i], q.prev[i] = q.head[d], none
	if q.head[d] != none {
		q.prev[q.head[d]] = i
	}
	q.head[d] = i
	q.floor = min(q.floor, d)
}

// unfile takes a node out of the list of its degree.
func (q *quotient) unfile(i int32) {
	if q.prev[i] != none {
		q.next[q.prev[i]] = q.next[i]
	} else {
		q.head[q.degree[i]] = q.next[i]
	}
	if q.next[i] != none {
		q.prev[q.next[i]] = q.prev[i]
	}
}

// least takes out a node of the least degree.
func (q *quotient) least() int32 {
	for q.head[q.floor] == none {
		q.floor++
	}
	i := q.head[q.floor]
	q.unfile(i)
	return i
}

// eliminate makes a node into an element and brings its members' lists up to date.
func (q *quotient) eliminate(p int32) {
	members := q.gather(p)
	weight := int32(0)
	for _, i := range members {
		weight += q.weight[i]
	}
	q.done += int(q.weight[p])
	q.measure(members)
	q.bound[p] = weight
	left := weight
	live := members[:0]
	for _, i := range members {
		if !q.update(p, i, weight) {
			left -= q.weight[i] // it goes with p
			q.done += int(q.weight[i])
			q.join(p, i)
			continue
		}
		live = append(live, i)
	}
	live = q.merge(live)
	for _, i := range live {
		q.degree[i] = max(0, min(q.degree[i], int32(q.n-q.done)-q.weight[i]))
		q.file(i)
	}
	q.from[p], q.size[p], q.bound[p] = int32(len(q.arena))-int32(len(members)), int32(len(live)), left
	q.arena = q.arena[:int(q.from[p])+len(live)]
	q.weight[p] = 0
	q.emit(p)
}

// gather lists the members of the element that p becomes: its variables and the members of its
// elements, which are absorbed. They are taken off the lists of degrees.
func (q *quotient) gather(p int32) []int32 {
	q.stamp++
	q.mark[p] = q.stamp
	at := len(q.arena)
	take := func(i int32) {
		if q.weight[i] > 0 && q.mark[i] != q.stamp {
			q.mark[i] = q.stamp
			q.unfile(i)
			q.arena = append(q.arena, i)
		}
	}
	own := q.lists[q.start[p] : q.start[p]+q.total[p]]
	for _, e := range own[:q.elements[p]] {
		for _, i := range q.arena[q.from[e] : q.from[e]+q.size[e]] {
			take(i)
		}
		q.size[e], q.bound[e] = 0, none
	}
	for _, i := range own[q.elements[p]:] {
		take(i)
	}
	return q.arena[at:]
}

// measure finds, for every element that a member touches, the weight of its members outside the new one.
func (q *quotient) measure(members []int32) {
	q.tag += int64(q.n) + 1
	for _, i := range members {
		for _, e := range q.lists[q.start[i] : q.start[i]+q.elements[i]] {
			if q.bound[e] == none {
				continue
			}
			if q.outside[e] < q.tag {
				q.outside[e] = q.tag + int64(q.bound[e])
			}
			q.outside[e] -= int64(q.weight[i])
		}
	}
}

// update rewrites member i's list for the new element p, and its degree. It is false when i has no
// neighbours but p's members: then it can be eliminated together with p.
func (q *quotient) update(p, i, weight int32) bool {
	own := q.lists[q.start[i] : q.start[i]+q.total[i]]
	degree, hash := int64(0), uint32(p)
	at := int32(0)
	for _, e := range own[:q.elements[i]] {
		switch {
		case q.bound[e] == none: // absorbed
		case q.outside[e] == q.tag:
			q.size[e], q.bound[e] = 0, none // all its members are in p
		default:
			degree += q.outside[e] - q.tag
			hash += uint32(e)
			own[at] = e
			at++
		}
	}
	kept := at
	for _, j := range own[q.elements[i]:] {
		if q.weight[j] > 0 && q.mark[j] != q.stamp {
			degree += int64(q.weight[j])
			hash += uint32(j)
			own[at] = j
			at++
		}
	}
	if degree == 0 {
		return false
	}
	// What led to p is gone, so there is room: p comes first, and each list gives its first
	// place for one at its end.
	own[at] = own[kept]
	own[kept] = own[0]
	own[0] = p
	q.elements[i], q.total[i] = kept+1, at+1
	q.hash[i] = int32(hash % uint32(q.n))
	q.degree[i] = int32(min(int64(q.degree[i]), degree)) + weight - q.weight[i]
	return true
}

// merge makes members with the same neighbours into one, and gives those that are left.
func (q *quotient) merge(members []int32) []int32 {
	for _, i := range members {
		h := q.hash[i]
		q.chain[i] = q.bucket[h]
		q.bucket[h] = i
	}
	for _, i := range members {
		h := q.hash[i]
		for a := q.bucket[h]; a != none && q.chain[a] != none; a = q.chain[a] {
			if q.weight[a] > 0 {
				q.mergeInto(a)
			}
		}
		q.bucket[h] = none
	}
	live := members[:0]
	for _, i := range members {
		if q.weight[i] > 0 {
			live = append(live, i)
		}
	}
	return live
}

// mergeInto merges into a what stands behind it in its chain and has the same neighbours.
func (q *quotient) mergeInto(a int32) {
	marked := false
	for b := q.chain[a]; b != none; b = q.chain[b] {
		if q.weight[b] == 0 || q.total[b] != q.total[a] || q.elements[b] != q.elements[a] || q.hash[b] != q.hash[a] {
			continue
		}
		if !marked {
			marked = true
			q.tag += int64(q.n) + 1
			for _, x := range q.lists[q.start[a] : q.start[a]+q.total[a]] {
				q.same[x] = q.tag
			}
		}
		if !slices.ContainsFunc(q.lists[q.start[b]:q.start[b]+q.total[b]], func(x int32) bool { return q.same[x] != q.tag }) {
			q.degree[a] -= q.weight[b]
			q.weight[a] += q.weight[b]
			q.weight[b] = 0
			q.join(a, b)
		}
	}
}

// join orders b, and what is ordered after it, after a.
func (q *quotient) join(a, b int32) {
	q.follow[q.tail[a]] = b
	q.tail[a] = q.tail[b]
	q.weight[b] = 0
}

// emit puts a node and all that goes with it into the order.
func (q *quotient) emit(p int32) {
	for i := p; i != none; i = q.follow[i] {
		q.order = append(q.order, i)
	}
}
