// Package solve solves networks of resistors: a sparse Cholesky factorisation (as L D Lᵀ) of the
// grounded conductance matrix, the entries of its inverse on the factor's pattern, single columns,
// and changes of a few conductances without a new factorisation.
//
// The matrix A has, for nodes i and j, the sum of the conductances at i on its diagonal and minus
// the conductance between i and j beside it; A⁻¹ has the voltage at i by one ampere into j. A is a
// symmetric M-matrix: it is positive definite when every node has a path to ground, needs no
// pivoting, and no entry of its inverse is negative.
//
// Literature: T. A. Davis, Direct Methods for Sparse Linear Systems, SIAM 2006, for the whole; each
// file names its own.
package solve

import (
	"fmt"
	"math"
)

// Ground is the node every voltage is measured from.
const Ground = -1

// Edge is a conductance of G siemens between nodes I and J, either of which may be Ground. Edges
// may be parallel; one from a node to itself carries no current and is left out.
type Edge struct {
	I, J int32
	G    float64
}

// EdgeError says that an edge cannot be taken: its ends or its conductance make no sense.
type EdgeError struct {
	Edge int
	What string
}

func (e *EdgeError) Error() string { return fmt.Sprintf("edge %d: %s", e.Edge, e.What) }

// FloatingError says that a node has no path to ground.
type FloatingError struct{ Node int32 }

func (e *FloatingError) Error() string { return fmt.Sprintf("node %d has no path to ground", e.Node) }

// BadlyScaledError says that the conductances lie too far apart for the arithmetic, and names the
// edge at which it fails most. What is the test that failed, and By how much.
type BadlyScaledError struct {
	Edge int
	What string
	By   float64
}

func (e *BadlyScaledError) Error() string {
	return fmt.Sprintf("edge %d is badly scaled: %s %.2g", e.Edge, e.What, e.By)
}

// check refuses edges that make no sense, and more of them than the indices can count.
func check(n int, edges []Edge) error {
	if n < 0 || n >= math.MaxInt32 || len(edges) > math.MaxInt32/2 {
		return fmt.Errorf("solve: %d nodes and %d edges are not a network it can take", n, len(edges))
	}
	for k := range edges {
		e := &edges[k]
		switch {
		case e.I < Ground || e.J < Ground || int(e.I) >= n || int(e.J) >= n:
			return &EdgeError{k, fmt.Sprintf("its ends %d and %d are not among %d nodes", e.I, e.J, n)}
		case math.IsNaN(e.G) || math.IsInf(e.G, 0) || e.G <= 0:
			return &EdgeError{k, fmt.Sprintf("a conductance of %v siemens is not one", e.G)}
		}
	}
	return nil
}
