// Package partition divides a small graph of blocks into connected districts under capacities, best by three
// terms one after the other, with a proof or with bounds.
//
// The method is dynamic programming over a frontier: nodes are taken in an order in which few of
// them border on what is still to come, and of all divisions of what lies behind only those are told apart that differ
// at the border: which border nodes are in one district, and how much each such district has taken on. Track plans are nearly
// planar and mostly chains, so borders stay narrow. Sweeps go to and fro over that order, each keeping more than the ones before; what
// a sweep has learnt about the nodes that it took first bounds what the next one, from the other end, still has before it.
// What was thrown away for want of room bounds the result; where it cannot be better than what was found, that is proved the best.
package partition

import "context"

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
	Work     int64          // divisions of parts of the graph that were made, and sweeps
	Width    int            // the most nodes at the border
}

// Impossibility is the plainest reason that was found why there is no division. Node -1, and nothing else set: the pieces just
// cannot be put together so that each district is connected and within what it may draw.
type Impossibility struct {
	Node     int32 // that no district can carry by itself, -1 when that is not it
	Over     int64 // milliamperes by which it, or everything together, exceeds what there is
	Together bool  // what stands always exceeds all districts together
	Few      bool  // there are fewer nodes than districts that have to be used
	Berths   int   // berths that all districts together cannot have, however they are dealt out; 0 when that is not it
	More     int   // with Together or Berths: how many more districts, like the largest there is, would have to be at the least
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

// Solve finds the best division. It ends when work divisions of parts of the graph have been made; the result is the same on
// every machine, and more work never makes it worse. The error is ctx's, or an *InputError.
func Solve(ctx context.Context, p *Problem, work int64) (*Result, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	return newSolver(p, work).solve(ctx)
}

// DefaultWork ends a graph of 150 blocks within a minute.
const DefaultWork = 12_000_000
