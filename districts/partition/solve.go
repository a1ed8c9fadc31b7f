package partition

import (
	"context"
	"math"
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
	problem *Problem
	classes []class
	loads   *loads
	sweep   *sweep
	limit   int64
	work    int64
}

func newSolver(p *Problem, work int64) *solver {
	s := &solver{problem: p, loads: newLoads(p), sweep: newSweep(p), limit: work}
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
	return s
}

// narrow is how many borders a first, quick pass keeps of a layer, and wider by how much more the next one keeps.
const (
	narrow = 200
	wider  = 6
)

// seek sweeps with some demands, at first keeping few borders of a layer, so that a wider sweep need not look at what is
// worse than what was found; it ends when nothing was thrown away that could be better, or when half of the work left is done.
func (s *solver) seek(ctx context.Context, terms []Term, trains int, most pair) (outcome, error) {
	var best outcome
	until := s.work + (s.limit-s.work)/2
	for width := narrow; ; width *= wider {
		p := &pass{solver: s, terms: terms, trains: trains, most: most, width: width}
		if err := p.run(ctx); err != nil {
			return best, err
		}
		o := p.out
		if o.part == nil && best.part != nil {
			o.part, o.value = best.part, best.value
			o.bound = o.bound.lower(best.value)
		}
		if o.part != nil {
			most = o.value
		}
		best = o
		// the next pass does about as much more as it keeps
		if o.whole || o.part != nil && o.bound == o.value || s.work+p.made*wider > until {
			return best, nil
		}
	}
}

// solve finds the best division, term by term: a sum is made least under what the terms before have got, the trains
// by allowing fewer and fewer.
func (s *solver) solve(ctx context.Context) (*Result, error) {
	out := &Result{Feasible: Unknown, Width: s.sweep.width}
	var best outcome
	var known []Term // sums that are settled
	most := worst    // what they may come to
	trains := len(s.problem.Trains)
	for k, t := range s.problem.order() {
		if t == Trains {
			terms := known
			if k == 0 {
				terms = []Term{Cuts}
				o, err := s.seek(ctx, terms, trains, worst)
				if err != nil || o.part == nil {
					return s.none(out, o.whole), err
				}
				best = o
			}
			o, least, err := s.fewestTrains(ctx, terms, best, most)
			if err != nil {
				return nil, err
			}
			best, trains = o, s.trainsOf(o.part)
			out.Bound[k], out.Proven[k] = int64(least), least == trains
			continue
		}
		known = append(known, t)
		o, err := s.seek(ctx, known, trains, most)
		switch {
		case err != nil:
			return nil, err
		case o.part != nil:
			best = o
		case k == 0:
			return s.none(out, o.whole), nil
		}
		n := len(known) - 1
		if o.part == nil { // fewer borders fitted than before: what was found stands
			o.value, o.bound = pair{s.sumOf(best.part, known[0]), s.sumOf(best.part, known[n])}, pair{}
		}
		most[n] = o.value[n]
		out.Bound[k], out.Proven[k] = o.bound[n], o.whole || o.bound[n] == o.value[n]
	}
	value, err := s.problem.Evaluate(best.part)
	if err != nil {
		return nil, err
	}
	out.Part, out.Feasible, out.Value, out.Work = best.part, Found, value, s.work
	for k := range value {
		if out.Proven[k] {
			out.Bound[k] = value[k]
		}
	}
	return out, nil
}

// none is a result without a division; whole says that all were looked at.
func (s *solver) none(out *Result, whole bool) *Result {
	out.Work = s.work
	out.Why = s.why()
	if whole || out.Why.Node >= 0 || out.Why.Together || out.Why.Few {
		out.Feasible = Impossible
	}
	return out
}

// why looks for a plain reason.
func (s *solver) why() *Impossibility {
	most, sum := int64(0), int64(0)
	for _, c := range s.problem.Parts {
		most = max(most, c.MilliAmps)
		sum += c.MilliAmps
	}
	standing := int64(0)
	for v := range s.problem.Nodes {
		standing += s.problem.Nodes[v].Load
		limit := most
		if pin := s.problem.Nodes[v].Pin; pin >= 0 {
			limit = s.problem.Parts[pin].MilliAmps
		}
		if load, _ := s.problem.LoadOf([]int32{int32(v)}); load > limit {
			return &Impossibility{Node: int32(v), Over: load - limit}
		}
	}
	if len(s.problem.Nodes) < s.problem.Least {
		return &Impossibility{Node: -1, Few: true}
	}
	if standing > sum {
		return &Impossibility{Node: -1, Over: standing - sum, Together: true}
	}
	return &Impossibility{Node: -1}
}

// fewestTrains allows a district fewer and fewer trains while the sums stay what they may be. least is what no division
// falls below.
func (s *solver) fewestTrains(ctx context.Context, terms []Term, best outcome, most pair) (o outcome, least int, err error) {
	for v := range s.problem.Nodes {
		_, n := s.problem.LoadOf([]int32{int32(v)})
		least = max(least, n)
	}
	for n := s.trainsOf(best.part) - 1; n >= least; n = s.trainsOf(best.part) - 1 {
		o, err := s.seek(ctx, terms, n, most)
		if err != nil {
			return o, 0, err
		}
		if o.part == nil {
			if o.whole {
				least = n + 1
			}
			break
		}
		best = o
	}
	return best, least, nil
}

// members lists the nodes of each district that is used.
func members(part []int32) [][]int32 {
	out := make([][]int32, slices.Max(part)+1)
	for v, k := range part {
		out[k] = append(out[k], int32(v))
	}
	return slices.DeleteFunc(out, func(m []int32) bool { return len(m) == 0 })
}

// trainsOf is the most trains in a district of a division.
func (s *solver) trainsOf(part []int32) int {
	most := 0
	for _, nodes := range members(part) {
		_, n := s.problem.LoadOf(nodes)
		most = max(most, n)
	}
	return most
}

// sumOf is one of the sums of a division.
func (s *solver) sumOf(part []int32, t Term) int64 {
	value, err := s.problem.Evaluate(part)
	if err != nil {
		return math.MaxInt64
	}
	order := s.problem.order()
	return value[slices.Index(order[:], t)]
}

// name gives the districts of a division that a pass has traced their parts: those of a class in the order of their
// first nodes.
func (s *solver) name(set *sets, class []uint8) []int32 {
	out := make([]int32, len(class))
	next := make([]int, len(s.classes))
	part := map[int]int32{}
	for v := range class {
		root := set.of(v)
		k, named := part[root]
		if !named {
			c := class[v]
			k = s.classes[c].parts[next[c]]
			next[c]++
			part[root] = k
		}
		out[v] = k
	}
	return out
}

// sets are disjoint sets of nodes.
type sets struct{ up []int }

func newSets(n int) *sets {
	s := &sets{up: make([]int, n)}
	for i := range s.up {
		s.up[i] = i
	}
	return s
}

func (s *sets) of(v int) int {
	for s.up[v] != v {
		s.up[v] = s.up[s.up[v]]
		v = s.up[v]
	}
	return v
}

func (s *sets) join(a, b int) { s.up[s.of(a)] = s.of(b) }
