package gauge

import (
	"container/heap"
	"context"
	"encoding/binary"
	"math"
	"slices"
	"sort"
)

// demands say whether a choice of sizes will do. A choice is one option a run of wire, by index, thin first.
type demands interface {
	// meetsMonotone reports whether the demands hold that no thicker wire anywhere can break.
	meetsMonotone(ctx context.Context, choice []int) (bool, error)
	// excluded reports that option k of run i breaks a demand whatever the others are between lo and hi.
	excluded(ctx context.Context, lo, hi []int, i, k int) (bool, error)
	// meets reports whether every demand holds.
	meets(ctx context.Context, choice []int) (bool, error)
}

// found is what a search has found.
type found struct {
	best   []int // nil for none
	cost   float64
	bound  float64 // no choice that meets every demand costs less; infinite when there is none
	proven bool    // best is the cheapest, or there is none
	work   int
}

// Work of one look at a choice: the monotone demands alone, or all.
const (
	quickWork = 1
	wholeWork = 4
)

// search finds the cheapest choice that meets every demand. cost is by run and option; runs of
// options are ordered thin first, and need not rise in cost. start are choices to begin from.
//
// A box of choices lo..hi is cut down by what its thickest corner shows: when option k of a run fails the monotone demands
// with every other run at its thickest, so does every choice in the box with option k or a thinner one. The box's cheapest choice bounds it; boxes
// are taken in order of their bounds, so that the first whose cheapest choice meets everything proves it.
//
// Only what costs less than below is sought; of the rest it is not said whether it meets the demands.
func search(ctx context.Context, cost [][]float64, d demands, start [][]int, below float64, work int) (found, error) {
	s := &searcher{cost: cost, demands: d, limit: work, whole: map[string]bool{}}
	s.out.cost = below
	if err := s.begin(ctx, start); err != nil {
		return s.out, err
	}
	root := &box{lo: make([]int, len(cost)), hi: make([]int, len(cost))}
	for i := range cost {
		root.hi[i] = len(cost[i]) - 1
	}
	if err := s.push(ctx, root); err != nil {
		return s.out, err
	}
	for s.boxes.Len() > 0 {
		b := heap.Pop(&s.boxes).(*box)
		if b.bound >= s.out.cost {
			s.boxes = nil
			break
		}
		if s.out.work >= s.limit {
			s.out.bound = b.bound
			return s.out, nil
		}
		if err := s.expand(ctx, b); err != nil {
			return s.out, err
		}
	}
	s.out.proven, s.out.bound = true, s.out.cost
	return s.out, nil
}

// box is a set of choices: every option of run i from lo[i] to hi[i].
type box struct {
	lo, hi   []int
	cheapest []int
	bound    float64
	number   int
}

type boxHeap []*box

func (h boxHeap) Len() int { return len(h) }
func (h boxHeap) Less(i, j int) bool {
	if h[i].bound != h[j].bound {
		return h[i].bound < h[j].bound
	}
	return h[i].number > h[j].number // the younger first: it is nearer to a choice
}
func (h boxHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *boxHeap) Push(x any)   { *h = append(*h, x.(*box)) }
func (h *boxHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}

type searcher struct {
	demands
	cost      [][]float64
	limit     int
	boxes     boxHeap
	number    int
	out       found
	good, bad [][]int         // least that meet the monotone demands, most that do not
	whole     map[string]bool // by choice: whether all demands are met
}

// monotone asks for the monotone demands, unless the answer follows from another choice's.
func (s *searcher) monotone(ctx context.Context, choice []int) (bool, error) {
	for _, g := range s.good {
		if noThinner(choice, g) {
			return true, nil
		}
	}
	for _, b := range s.bad {
		if noThinner(b, choice) {
			return false, nil
		}
	}
	s.out.work += quickWork
	ok, err := s.meetsMonotone(ctx, choice)
	if err != nil {
		return false, err
	}
	own := slices.Clone(choice)
	if ok {
		s.good = append(slices.DeleteFunc(s.good, func(g []int) bool { return noThinner(g, own) }), own)
	} else {
		s.bad = append(slices.DeleteFunc(s.bad, func(b []int) bool { return noThinner(own, b) }), own)
	}
	return ok, nil
}

// noThinner reports whether every run of a is at least as thick as in b.
func noThinner(a, b []int) bool {
	for i := range a {
		if a[i] < b[i] {
			return false
		}
	}
	return true
}

// choiceKey tells choices apart.
func choiceKey(choice []int) string {
	var key []byte
	for _, k := range choice {
		key = binary.AppendUvarint(key, uint64(k))
	}
	return string(key)
}

// all asks for all demands.
func (s *searcher) all(ctx context.Context, choice []int) (bool, error) {
	key := choiceKey(choice)
	ok, known := s.whole[key]
	if known {
		return ok, nil
	}
	ok, err := s.monotone(ctx, choice)
	if err != nil {
		return false, err
	}
	if ok {
		s.out.work += wholeWork
		if ok, err = s.meets(ctx, choice); err != nil {
			return false, err
		}
	}
	s.whole[key] = ok
	return ok, nil
}

func (s *searcher) price(choice []int) float64 {
	sum := 0.0
	for i, k := range choice {
		sum += s.cost[i][k]
	}
	return sum
}

// take keeps a choice that meets everything if it is the cheapest so far.
func (s *searcher) take(choice []int) {
	if c := s.price(choice); c < s.out.cost {
		s.out.best, s.out.cost = slices.Clone(choice), c
	}
}

// begin makes the best of the choices to begin from: each run as thin as it can be, one after the other, as long as
// anything is saved.
func (s *searcher) begin(ctx context.Context, start [][]int) error {
	for _, from := range start {
		ok, err := s.all(ctx, from)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		if err := s.descend(ctx, slices.Clone(from)); err != nil {
			return err
		}
	}
	return nil
}

func (s *searcher) descend(ctx context.Context, at []int) error {
	for again := true; again; {
		again = false
		for _, i := range s.byPrice() {
			from := at[i]
			least, err := s.thinnest(ctx, at, i)
			if err != nil {
				return err
			}
			for k := least; k < len(s.cost[i]); k++ {
				if s.cost[i][k] >= s.cost[i][from] || s.out.work >= s.limit/2 {
					continue
				}
				at[i] = k
				ok, err := s.all(ctx, at)
				if err != nil {
					return err
				}
				if ok {
					again = true
					break
				}
				at[i] = from
			}
		}
	}
	s.take(at)
	return nil
}

// thinnest is the thinnest option of a run that the monotone demands allow, the others as they are.
func (s *searcher) thinnest(ctx context.Context, at []int, i int) (int, error) {
	try := slices.Clone(at)
	var failed error
	least := sort.Search(at[i], func(k int) bool {
		if failed != nil {
			return true
		}
		try[i] = k
		var ok bool
		ok, failed = s.monotone(ctx, try)
		return ok
	})
	return least, failed
}

// byPrice lists the runs, those first in which most can be saved.
func (s *searcher) byPrice() []int {
	out := make([]int, len(s.cost))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := slices.Max(s.cost[a])-slices.Min(s.cost[a]), slices.Max(s.cost[b])-slices.Min(s.cost[b])
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// push cuts a box down and queues it, unless nothing in it can be cheaper and meet the demands.
func (s *searcher) push(ctx context.Context, b *box) error {
	for i := range b.lo {
		ok, err := s.raise(ctx, b, i)
		if err != nil || !ok {
			return err
		}
	}
	b.cheapest = make([]int, len(b.lo))
	for i := range b.lo {
		b.cheapest[i] = b.lo[i]
		for k := b.lo[i]; k <= b.hi[i]; k++ {
			if s.cost[i][k] < s.cost[i][b.cheapest[i]] {
				b.cheapest[i] = k
			}
		}
	}
	b.bound = s.price(b.cheapest)
	if b.bound >= s.out.cost {
		return nil
	}
	// what costs too much even beside the cheapest of all others is out; that may rule out more below
	cut := false
	for i := range b.hi {
		for b.hi[i] > b.lo[i] && b.bound-s.cost[i][b.cheapest[i]]+s.cost[i][b.hi[i]] >= s.out.cost {
			b.hi[i]--
			cut = true
		}
	}
	if cut {
		return s.push(ctx, b)
	}
	s.number++
	b.number = s.number
	heap.Push(&s.boxes, b)
	return nil
}

// raise lifts the thin end of one run of a box; ok is false when nothing is left.
func (s *searcher) raise(ctx context.Context, b *box, i int) (ok bool, err error) {
	corner := slices.Clone(b.hi)
	for ; b.lo[i] <= b.hi[i]; b.lo[i]++ {
		corner[i] = b.lo[i]
		if ok, err = s.monotone(ctx, corner); err != nil {
			return false, err
		}
		if !ok {
			continue
		}
		s.out.work += 2 * quickWork
		out, err := s.excluded(ctx, b.lo, b.hi, i, b.lo[i])
		if err != nil {
			return false, err
		}
		if !out {
			return true, nil
		}
	}
	return false, nil
}

// expand tries a box's cheapest choice, and divides the box where it fails.
func (s *searcher) expand(ctx context.Context, b *box) error {
	ok, err := s.all(ctx, b.cheapest)
	if err != nil {
		return err
	}
	if ok {
		s.take(b.cheapest)
		return nil
	}
	i := s.widest(b)
	if i < 0 {
		return nil
	}
	// without the cheapest option of the widest run; options need not rise in cost, so what lies on its either side is apart
	k := b.cheapest[i]
	for _, part := range [...][2]int{{k, k}, {b.lo[i], k - 1}, {k + 1, b.hi[i]}} {
		if part[0] > part[1] {
			continue
		}
		next := &box{lo: slices.Clone(b.lo), hi: slices.Clone(b.hi)}
		next.lo[i], next.hi[i] = part[0], part[1]
		if err := s.push(ctx, next); err != nil {
			return err
		}
	}
	return nil
}

// widest is the run of a box in which the step above the cheapest option costs most; -1 when every run has one option.
func (s *searcher) widest(b *box) int {
	best, step := -1, -1.0
	for i := range b.lo {
		if b.lo[i] == b.hi[i] {
			continue
		}
		least := math.Inf(1)
		for k := b.lo[i]; k <= b.hi[i]; k++ {
			if k != b.cheapest[i] {
				least = min(least, s.cost[i][k]-s.cost[i][b.cheapest[i]])
			}
		}
		if least > step {
			best, step = i, least
		}
	}
	return best
}
