package partition

import (
	"context"
	"slices"
)

// class is districts of one capacity that nothing tells apart, or one that nodes are pinned to.
type class struct {
	milliAmps int64
	count     int
	parts     []int32 // Problem.Parts
	pinned    bool
}

// takes reports whether a node with a pin may be in a district of the class.
func (c *class) takes(pin int) bool {
	return pin < 0 || c.pinned && c.parts[0] == int32(pin)
}

type solver struct {
	problem     *Problem
	order       [3]Term
	classes     []class
	holdings    *holdings
	there, back *sweep
	limit, work int64
	passes      int
	width       int // of the first round
	wider       int // how many times as wide each further round is
	floors      []*floor
	mixed       map[limits]int64 // known berths of all kinds that a district may have, -1 when there are too many mixes

	part   []int32 // the best found
	value  [3]int64
	bound  [3]int64
	proven [3]bool
	never  bool // there is no division
}

func newSolver(p *Problem, work int64) *solver {
	s := &solver{problem: p, order: p.order(), holdings: newHoldings(p), there: newSweep(p), limit: work, width: narrow, wider: wider, mixed: map[limits]int64{}}
	s.back = s.there.backwards(p)
	for k := range p.Parts {
		pinned := slices.ContainsFunc(p.Nodes, func(v Node) bool { return v.Pin == k })
		i := slices.IndexFunc(s.classes, func(c class) bool {
			return !pinned && !c.pinned && c.milliAmps == p.Parts[k].MilliAmps
		})
		if i < 0 {
			i = len(s.classes)
			s.classes = append(s.classes, class{milliAmps: p.Parts[k].MilliAmps, pinned: pinned})
		}
		s.classes[i].count++
		s.classes[i].parts = append(s.classes[i].parts, int32(k))
	}
	for k, t := range s.order {
		s.bound[k] = s.plain(t)
	}
	return s
}

// narrow is how many borders of a layer the first round keeps, and wider how many times more each further round.
const (
	narrow = 100
	wider  = 4
	widest = 1 << 30
)

// solve goes through the terms in rounds, each keeping more borders than the one before, until all is proved or the work is
// done. What a round does depends on no limit: with more work the same is done, and then more.
func (s *solver) solve(ctx context.Context) (*Result, error) {
	if s.why() == nil {
		for width := s.width; !s.settled(); width = min(width*s.wider, widest) {
			if err := s.round(ctx, width); err != nil {
				return nil, err
			}
		}
	}
	out := &Result{Part: s.part, Work: s.work, Width: s.there.width}
	switch {
	case s.part != nil:
		out.Value, out.Bound, out.Proven = s.value, s.bound, s.proven
	default:
		out.Feasible = Unknown
		out.Why = s.why()
		if s.never || out.Why != nil {
			out.Feasible = Impossible
		}
		if out.Why == nil {
			out.Why = &Impossibility{Node: -1}
		}
	}
	return out, nil
}

// settled reports whether there is nothing more to do.
func (s *solver) settled() bool {
	return s.never || s.work >= s.limit || s.part != nil && s.proven == [3]bool{true, true, true}
}

// round seeks better by each term that is not settled.
func (s *solver) round(ctx context.Context, width int) error {
	if s.order[0] == Trains && s.part == nil {
		// some division to begin with
		if _, err := s.sweep(ctx, s.order[1:2], len(s.problem.Trains), worst, width); err != nil || s.part == nil {
			return err
		}
	}
	for k, t := range s.order {
		if s.settled() {
			return nil
		}
		if s.proven[k] {
			continue
		}
		var err error
		if t == Trains {
			err = s.fewerTrains(ctx, k, width)
		} else {
			err = s.lowerSum(ctx, k, width)
		}
		if err != nil || s.part == nil {
			return err
		}
	}
	return nil
}

// sums are the terms up to the k-th that are sums.
func (s *solver) sums(k int) []Term {
	return slices.DeleteFunc(slices.Clone(s.order[:k+1]), func(t Term) bool { return t == Trains })
}

// best is what the best division has of some sums.
func (s *solver) best(terms []Term) pair {
	if s.part == nil {
		return worst
	}
	out := worst
	for i, t := range terms {
		out[i] = s.value[slices.Index(s.order[:], t)]
	}
	return out
}

// sweep makes a pass and takes up what it finds.
func (s *solver) sweep(ctx context.Context, terms []Term, trains int, most pair, width int) (outcome, error) {
	p := s.newPass(terms, trains, most, width)
	if err := p.run(ctx); err != nil {
		return p.out, err
	}
	if p.out.part != nil {
		return p.out, s.take(p.out.part)
	}
	if s.part == nil && p.out.dropped == worst {
		s.never = true
	}
	return p.out, nil
}

// lowerSum seeks better by a sum.
func (s *solver) lowerSum(ctx context.Context, k, width int) error {
	terms := s.sums(k)
	trains := len(s.problem.Trains)
	at := slices.Index(s.order[:], Trains)
	if at < k {
		trains = int(s.value[at])
	}
	o, err := s.sweep(ctx, terms, trains, s.best(terms), width)
	if err != nil || s.part == nil {
		return err
	}
	if !o.dropped.less(s.best(terms)) {
		for j := range k + 1 {
			if s.order[j] != Trains && (at > k || j > at) { // terms that rank before the trains are not bound to their number
				s.prove(j, s.value[j])
			}
		}
		return nil
	}
	// a second sum is bounded only among the best by the first
	n := len(terms) - 1
	if first := slices.Index(s.order[:], terms[0]); n == 0 || s.proven[first] {
		s.prove(k, o.bound[n])
	}
	return nil
}

// fewerTrains allows a district fewer and fewer trains while the sums that rank before stay what they are.
func (s *solver) fewerTrains(ctx context.Context, k, width int) error {
	terms := s.sums(k)
	most := s.best(terms)
	if len(terms) == 0 {
		terms = s.order[1:2]
	}
	for !s.proven[k] {
		n := s.value[k] - 1
		o, err := s.sweep(ctx, terms, int(n), most, width)
		if err != nil {
			return err
		}
		if s.value[k] > n {
			if o.dropped == worst {
				s.prove(k, n+1)
			}
			return nil
		}
	}
	return nil
}

// prove raises the bound of a term.
func (s *solver) prove(k int, bound int64) {
	s.bound[k] = min(max(s.bound[k], bound), s.value[k])
	s.proven[k] = s.bound[k] == s.value[k]
}

// take takes up a division if it is better. Bounds of terms behind the first that it betters are void: they held
// for what the terms before were.
func (s *solver) take(part []int32) error {
	value, err := s.problem.Evaluate(part)
	if err != nil {
		return err
	}
	k := 0
	if s.part != nil {
		for k < 3 && value[k] == s.value[k] {
			k++
		}
		if k == 3 || value[k] > s.value[k] {
			return nil
		}
	}
	s.part, s.value = part, value
	for ; k < 3; k++ {
		s.prove(k, 0)
		for j := k + 1; j < 3; j++ {
			s.bound[j] = s.plain(s.order[j])
		}
	}
	return nil
}
