package split

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"gapwise/districts/partition"
	"gapwise/rules"
	"gapwise/rules/finding"
)

// MostDistricts bounds how many districts are tried, and may be asked for.
const MostDistricts = 24

// Split divides the layout of a check. The error is ctx's, or an *AskError.
func Split(ctx context.Context, r *rules.Report, ask Ask) (*Answer, error) {
	w, err := newWholes(r.Layout, ask.Whole)
	if err != nil {
		return nil, err
	}
	if ask.Work <= 0 {
		ask.Work = partition.DefaultWork
	}
	g := newGround(r.Layout, r.Trace)
	x, err := newInstance(newAtoms(g, w), &ask)
	if err != nil {
		return nil, err
	}
	out := &Answer{Layout: r.Layout, Ask: ask, From: x.place, LeftOut: g.left, Notes: x.notes, Nodes: len(x.nodes)}
	if n := r.Count(finding.Fault); n > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("a check finds %s in the layout as it is; put them right first, for what is wired otherwise than it seems makes a division wrong", plural(n, "fault")))
	}
	all := make([]int32, len(x.nodes))
	for i := range all {
		all[i] = int32(i)
	}
	p := x.problem(nil, &ask)
	out.Total, _ = p.LoadOf(all)
	out.With = x.kind(&ask, out.Total)
	devices := g.existing(out.With)
	amps, err := ratings(&ask, out.With, devices)
	if err != nil {
		return nil, err
	}
	if x.boosterTooSmall(out) {
		return out, nil
	}
	s := &search{ctx: ctx, x: x, ask: &ask, ratings: amps}
	if len(ask.Ratings) == 0 {
		s.there = len(devices)
	}
	found, err := s.run(out)
	if err != nil {
		return nil, err
	}
	out.Work, out.Feasible = s.work, found.Feasible
	if found.Feasible != partition.Found {
		return out, s.explain(out, found)
	}
	for k, term := range s.order() {
		out.Terms = append(out.Terms, Term{term, found.Value[k], found.Bound[k], found.Proven[k]})
	}
	if ask.With == Auto && out.With == Breakers && oneOnly(found.Part) {
		out.With = Boosters // the present one does by itself
		devices = g.existing(Boosters)
	}
	x.districts(out, found.Part, amps, devices)
	x.cuts(out, found.Part)
	x.noteIdle(out, devices)
	x.noteBoosters(out)
	if out.plan, err = newPlan(ctx, x, out, found.Part); err != nil {
		return nil, err
	}
	return out, out.check(ctx, r)
}

func oneOnly(part []int32) bool {
	return !slices.ContainsFunc(part, func(k int32) bool { return k != part[0] })
}

// problem is the instance with some ratings.
func (x *instance) problem(amps []float64, ask *Ask) *partition.Problem {
	p := &partition.Problem{Nodes: x.nodes, Edges: x.edges, Trains: x.trains, AtOnce: x.atOnce, Order: ask.Order}
	for _, a := range amps {
		p.Parts = append(p.Parts, partition.Capacity{MilliAmps: capacity(a, ask.Margin)})
	}
	return p
}

// search seeks a division for a number of districts, or the fewest.
type search struct {
	ctx     context.Context
	x       *instance
	ask     *Ask
	ratings []float64
	work    int64
	there   int // districts that devices are there for
}

// all seeks a division that uses all districts, and where there is none, one that uses fewer.
func (s *search) all(out *Answer, n int) (*partition.Result, error) {
	r, err := s.with(n, n, s.ask.Work)
	if err != nil || r.Feasible == partition.Found {
		return r, err
	}
	fewer, err := s.with(n, 0, s.ask.Work)
	if err == nil && fewer.Feasible == partition.Found {
		out.Notes = append(out.Notes, fmt.Sprintf("the track cannot be cut into %s: there are too few places to cut it", districtsText(n)))
	}
	return fewer, err
}

func (s *search) order() [3]partition.Term {
	if s.ask.Order == [3]partition.Term{} {
		return [3]partition.Term{partition.Cuts, partition.Trains, partition.Bus}
	}
	return s.ask.Order
}

// with seeks a division into at most n districts, and at least so many.
func (s *search) with(n, least int, work int64) (*partition.Result, error) {
	amps := make([]float64, n)
	for i := range amps {
		amps[i] = nth(s.ratings, i)
	}
	p := s.x.problem(amps, s.ask)
	p.Least = least
	r, err := partition.Solve(s.ctx, p, work)
	var input *partition.InputError
	if errors.As(err, &input) {
		return nil, refuse("the layout cannot be divided: %s", input.What)
	}
	if err == nil {
		s.work += r.Work
	}
	return r, err
}

// run seeks what was asked for: so many districts, or those of the devices that are there and as few more as will do.
func (s *search) run(out *Answer) (*partition.Result, error) {
	asked := s.ask.Districts
	if asked == 0 && len(s.ask.Ratings) > 1 {
		asked = len(s.ask.Ratings)
	}
	if asked > 0 {
		out.Most = asked
		return s.all(out, asked)
	}
	if s.there > 1 {
		out.Most = s.there
		r, err := s.with(s.there, s.there, s.ask.Work)
		if err != nil || r.Feasible == partition.Found {
			return r, err
		}
	}
	out.Fewest = true
	var last *partition.Result
	for n := 1; n <= min(MostDistricts, len(s.x.nodes)); n++ {
		r, err := s.with(n, 0, s.ask.Work)
		if err != nil {
			return nil, err
		}
		out.Most, last = n, r
		if r.Feasible == partition.Found {
			return r, nil
		}
		out.Fewest = out.Fewest && r.Feasible == partition.Impossible
		if r.Why != nil && r.Why.Node >= 0 && n >= len(s.ratings) {
			return r, nil // one piece is too much for any of them
		}
	}
	if !out.Fewest {
		last.Feasible = partition.Unknown
	}
	return last, nil
}
