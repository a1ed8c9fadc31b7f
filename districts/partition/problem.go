// Package partition divides a small graph of blocks into connected districts under capacities, best by three
// terms one after the other, with a proof or with bounds.
//
// The method is dynamic programming over a frontier: nodes are taken in an order in which few of
// them border on what is still to come, and of all divisions of what lies behind only those are told apart that differ
// at the border: which border nodes are in one district, and how much each such district has taken on. Track plans are nearly
// planar and mostly chains, so borders stay narrow and the result is exact; where they do not, a bound on work thins out
// the divisions that are kept, and what was thrown away bounds the result.
package partition

import (
	"context"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// Problem is a graph to be divided. Quantities are whole numbers, so that results compare exactly.
type Problem struct {
	Nodes  []Node
	Edges  []Edge     // parallel edges and self-loops are legal
	Parts  []Capacity // the districts that may be used, at most so many
	Least  int        // at least so many have to be used
	Trains []Train    // that may move
	AtOnce int        // at most so many of them at once; 0: all
	Order  [3]Term    // how the terms rank; all zero: Cuts, Trains, Bus
}

// Node is what stays in one piece.
type Node struct {
	Berths int   // how many trains can stand in it at once
	Near   int64 // millimetres from the power place
	Load   int64 // milliamperes that stand there always
	Only   []int // trains that may come, indexes into Problem.Trains; nil: all
	Pin    int   // the district it has to be in, an index into Problem.Parts; -1: any
}

// Edge joins two nodes. Cuts are what would have to be cut anew to part them there; 0 where gaps are.
type Edge struct {
	A, B int32
	Cuts int32
}

// Capacity is what a district may draw, in milliamperes, its margin taken off.
type Capacity struct{ MilliAmps int64 }

// Train is one train, in milliamperes.
type Train struct{ MilliAmps int64 }

// Term of the objective.
type Term uint8

const (
	Cuts   Term = iota // the sum of Edge.Cuts between districts
	Trains             // the most trains, over districts, that can be in one at once: what one short stops
	Bus                // the sum over districts of the least Near of their nodes
)

func (t Term) String() string { return [...]string{"cuts", "trains", "bus"}[t] }

// Feasibility says what came of a search.
type Feasibility uint8

const (
	Found      Feasibility = iota
	Impossible             // no division exists
	Unknown                // the work ran out before one was found
)

// Result is the best division found. Value and Bound are in the order of Problem.Order: Bound[k] holds for divisions that have
// Value in the terms before k, and Proven[k] says that Value[k] is the least of those.
type Result struct {
	Part     []int32 // by node; nil when none was found
	Value    [3]int64
	Bound    [3]int64
	Proven   [3]bool
	Feasible Feasibility
	Why      *Impossibility // nil when one was found
	Work     int64          // divisions of parts of the graph that were made
	Width    int            // the most nodes at the border
}

// Impossibility is the plainest reason that was found why there is no division.
type Impossibility struct {
	Node     int32 // that no district can carry by itself, -1 when that is not it
	Over     int64 // milliamperes by which it, or everything together, exceeds what there is
	Together bool  // what stands always exceeds all districts together
	Few      bool  // there are fewer nodes than districts that have to be used
}

// InputError refuses a problem that makes no sense.
type InputError struct{ What string }

func (e *InputError) Error() string { return "partition: " + e.What }

// DivisionError says what is wrong with a division.
type DivisionError struct{ What string }

func (e *DivisionError) Error() string { return "partition: " + e.What }

// order is Order with its default.
func (p *Problem) order() [3]Term {
	if p.Order == [3]Term{} {
		return [3]Term{Cuts, Trains, Bus}
	}
	return p.Order
}

func (p *Problem) check() error {
	n := int32(len(p.Nodes))
	for i, e := range p.Edges {
		if e.A < 0 || e.A >= n || e.B < 0 || e.B >= n || e.Cuts < 0 {
			return &InputError{fmt.Sprintf("edge %d makes no sense", i)}
		}
	}
	for i := range p.Nodes {
		v := &p.Nodes[i]
		if v.Berths < 0 || v.Load < 0 || v.Near < 0 || v.Pin < -1 || v.Pin >= len(p.Parts) {
			return &InputError{fmt.Sprintf("node %d makes no sense", i)}
		}
		for _, t := range v.Only {
			if t < 0 || t >= len(p.Trains) {
				return &InputError{fmt.Sprintf("node %d admits a train that is not there", i)}
			}
		}
	}
	for i, t := range p.Trains {
		if t.MilliAmps < 0 {
			return &InputError{fmt.Sprintf("train %d draws less than nothing", i)}
		}
	}
	o := p.order()
	sorted := o
	slices.Sort(sorted[:])
	switch {
	case n == 0:
		return &InputError{"there are no nodes"}
	case len(p.Parts) == 0:
		return &InputError{"there are no districts"}
	case p.Least < 0 || p.Least > len(p.Parts):
		return &InputError{"more districts have to be used than there are"}
	case len(p.Trains) > 250:
		return &InputError{"there are too many trains"}
	case len(p.Parts) > 250:
		return &InputError{"there are too many districts"}
	case sorted != [3]Term{Cuts, Trains, Bus}:
		return &InputError{"the order of terms names one twice"}
	}
	return nil
}

// Evaluate is what a division is worth, in the order of the terms. The error is a *DivisionError where a district is not
// connected, exceeds what it may draw, or lacks a node that belongs to it.
func (p *Problem) Evaluate(part []int32) (value [3]int64, err error) {
	if err := p.check(); err != nil {
		return value, err
	}
	if len(part) != len(p.Nodes) {
		return value, &DivisionError{fmt.Sprintf("%d nodes, %d are divided", len(p.Nodes), len(part))}
	}
	members := make([][]int32, len(p.Parts))
	for v, k := range part {
		if k < 0 || int(k) >= len(p.Parts) {
			return value, &DivisionError{fmt.Sprintf("node %d is in no district", v)}
		}
		if pin := p.Nodes[v].Pin; pin >= 0 && pin != int(k) {
			return value, &DivisionError{fmt.Sprintf("node %d belongs to district %d", v, pin)}
		}
		members[k] = append(members[k], int32(v))
	}
	var cuts, trains, bus int64
	g := simple.NewUndirectedGraph()
	for v := range p.Nodes {
		g.AddNode(simple.Node(v))
	}
	for _, e := range p.Edges {
		switch {
		case part[e.A] != part[e.B]:
			cuts += int64(e.Cuts)
		case e.A != e.B:
			g.SetEdge(g.NewEdge(simple.Node(e.A), simple.Node(e.B)))
		}
	}
	used := 0
	for k, nodes := range members {
		if len(nodes) == 0 {
			continue
		}
		used++
		load, n := p.LoadOf(nodes)
		if load > p.Parts[k].MilliAmps {
			return value, &DivisionError{fmt.Sprintf("district %d draws %d mA of %d", k, load, p.Parts[k].MilliAmps)}
		}
		trains = max(trains, int64(n))
		near := p.Nodes[nodes[0]].Near
		for _, v := range nodes {
			near = min(near, p.Nodes[v].Near)
		}
		bus += near
	}
	if used < p.Least {
		return value, &DivisionError{fmt.Sprintf("%d districts are used, %d have to be", used, p.Least)}
	}
	if parts := len(topo.ConnectedComponents(g)); parts != used {
		return value, &DivisionError{fmt.Sprintf("%d districts lie in %d pieces", used, parts)}
	}
	terms := [...]int64{Cuts: cuts, Trains: trains, Bus: bus}
	for i, t := range p.order() {
		value[i] = terms[t]
	}
	return value, nil
}

// Solve finds the best division. It ends when work divisions of parts of the graph have been made; the result is the same on
// every machine. The error is ctx's, or an *InputError.
func Solve(ctx context.Context, p *Problem, work int64) (*Result, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := newSolver(p, work)
	return s.solve(ctx)
}

// DefaultWork ends a graph of 150 blocks within a minute.
const DefaultWork = 12_000_000
