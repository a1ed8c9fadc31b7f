package partition

import (
	"context"
	"slices"
)

// pass is one sweep over the graph under one set of demands.
type pass struct {
	*solver
	terms     []Term // the sums that count, in their order
	trains    int    // the most that a district may hold
	most      pair   // what is worse is not wanted
	width     int    // the most borders kept of one layer
	backwards bool
	sweep     *sweep
	measures  []measure
	ahead     *ahead

	floor *floor
	ways  [][]way // by layer
	from  scratch

	out outcome
}

// outcome of a pass.
type outcome struct {
	part []int32
	// dropped is the least, as pairs rank, that what was thrown away for want of room might come to, and bound that sum by sum; never
	// where nothing was.
	dropped, bound pair
}

func (s *solver) newPass(terms []Term, trains int, most pair, width int) *pass {
	s.passes++
	s.work++
	p := &pass{solver: s, terms: terms, trains: trains, most: most, width: width, sweep: s.there}
	if s.passes%2 == 0 {
		p.backwards, p.sweep = true, s.back
	}
	p.measures = s.room(trains)
	p.ahead = newAhead(p)
	p.floor = newFloor(p)
	p.out = outcome{bound: worst, dropped: worst}
	return p
}

func (p *pass) countsBus() bool { return slices.Contains(p.terms, Bus) }

// sum is what a step adds, as far as it counts.
func (p *pass) sum(cuts, near int64) (out pair) {
	for i, t := range p.terms {
		if t == Cuts {
			out[i] = cuts
		} else {
			out[i] = near
		}
	}
	return out
}

// run sweeps over the graph.
func (p *pass) run(ctx context.Context) error {
	now := &layer{}
	now.put((&border{closed: make([]uint8, len(p.classes))}).append(nil), pair{}, pair{}, way{from: -1})
	coming := make([]int64, len(p.measures))
	for i := range coming {
		coming[i] = p.measures[i].total
	}
	nodes := 0
	for i, v := range p.sweep.order {
		for m := range coming {
			coming[m] -= p.measures[m].node[v]
		}
		next, err := p.step(ctx, now, i, nodes, coming)
		if err != nil {
			return err
		}
		if next == nil {
			for _, least := range now.least {
				p.drop(least)
			}
			return nil
		}
		nodes = len(p.sweep.stays[i])
		now = p.thin(next, i, nodes, coming)
		p.ways = append(p.ways, now.way)
	}
	p.floors = append(p.floors, p.floor)
	if best := p.best(now); best >= 0 {
		p.out.part = p.trace(best)
	}
	return nil
}

// best is the entry of the last layer with the least value, -1 when there is none.
func (p *pass) best(l *layer) int32 {
	best := int32(-1)
	for i := range l.value {
		p.from.b.read(l.at(i), 0, len(p.classes))
		if p.from.b.closedInAll() >= p.problem.Least && (best < 0 || l.value[i].less(l.value[best])) {
			best = int32(i)
		}
	}
	return best
}

// drop notes what something that is thrown away might have come to.
func (p *pass) drop(least pair) {
	p.out.bound = p.out.bound.lower(least)
	if least.less(p.out.dropped) {
		p.out.dropped = least
	}
}

// often is after how many borders a pass looks whether it is to end.
const often = 1024

// step takes one node: every border of a layer is carried on in every way that the demands allow; nil when the work
// runs out.
func (p *pass) step(ctx context.Context, now *layer, i, nodes int, coming []int64) (*layer, error) {
	next := &layer{}
	for e := range now.len() {
		if e%often == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		if p.work >= p.limit {
			return nil, nil
		}
		p.from.b.read(now.at(e), nodes, len(p.classes))
		c := carry{pass: p, at: i, entry: int32(e), value: now.value[e], coming: coming, into: next}
		c.node()
	}
	return next, nil
}
