package solve

import (
	"context"
	"slices"
)

// leastDegree is the approximate minimum degree method with element absorption, mass elimination
// and merging of indistinguishable nodes, after P. R. Amestoy, T. A. Davis and I. S. Duff, An
// approximate minimum degree ordering algorithm, SIAM J. Matrix Anal. Appl. 17 (1996).
//
// The graph after some eliminations is kept as a quotient graph: a node's neighbours are its
// remaining variables, and the members of the elements (eliminated nodes) that it touches. A node's
// list never grows: the new element takes the place of what led to it.
func leastDegree(ctx context.Context, g *graph) ([]int32, error) {
	gone := make([]bool, g.n)
	last := crowded(degrees(g), gone)
	q := newQuotient(g)
	q.done = len(last)
	q.begin(gone)
	for q.done < q.n {
		if q.steps++; q.steps%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		q.eliminate(q.least())
	}
	return append(q.order, last...), nil
}

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
	arena []int32
	from  []int
	size  []int32
	bound []int32 // weight of an element's members

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
	q := &quotient{n: n, order: make([]int32, 0, n), lists: slices.Clone(g.list), floor: int32(n), tag: 1}
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
	q.from, q.size, q.bound = make([]int, n), ints(0), ints(0)
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
