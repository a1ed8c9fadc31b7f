package solve_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"gapwise/netlist/solve"
)

// TestEdgesRefused: edges that make no sense are named.
func TestEdgesRefused(t *testing.T) {
	for _, bad := range []solve.Edge{
		{I: 0, J: 1, G: 0},
		{I: 0, J: 1, G: math.Copysign(0, -1)},
		{I: 0, J: 1, G: -1},
		{I: 0, J: 1, G: math.NaN()},
		{I: 0, J: 1, G: math.Inf(1)},
		{I: 1, J: 1, G: math.Inf(-1)},
		{I: 0, J: 2, G: 1},
		{I: -2, J: 1, G: 1},
	} {
		good := []solve.Edge{{I: g, J: 0, G: 1}, {I: 0, J: 1, G: 1}}
		a, err := solve.Analyse(t.Context(), 2, good)
		if err != nil {
			t.Fatal(err)
		}
		var named *solve.EdgeError
		if _, err := solve.Analyse(t.Context(), 2, append(good, bad)); !errors.As(err, &named) || named.Edge != 2 {
			t.Errorf("Analyse with %v: %v", bad, err)
		}
		if _, err := a.Factor(t.Context(), []solve.Edge{good[0], bad}); !errors.As(err, &named) || named.Edge != 1 {
			t.Errorf("Factor with %v: %v", bad, err)
		}
	}
}

// TestPatternRefused: Factor takes only the edges that were analysed.
func TestPatternRefused(t *testing.T) {
	a, err := solve.Analyse(t.Context(), 2, []solve.Edge{{I: g, J: 0, G: 1}, {I: 0, J: 1, G: 1}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := a.Factor(t.Context(), []solve.Edge{{I: g, J: 0, G: 1}}); err == nil {
		t.Error("an edge less is taken")
	}
	var named *solve.EdgeError
	if _, err := a.Factor(t.Context(), []solve.Edge{{I: g, J: 0, G: 1}, {I: 1, J: 0, G: 1}}); !errors.As(err, &named) || named.Edge != 1 {
		t.Errorf("another edge: %v", err)
	}
}

// TestFloating names the lowest node without a path to ground.
func TestFloating(t *testing.T) {
	for _, c := range []struct {
		n     int
		edges []solve.Edge
		node  int32
	}{
		{1, nil, 0},
		{1, []solve.Edge{{I: 0, J: 0, G: 1}}, 0},
		{3, []solve.Edge{{I: g, J: 0, G: 1}, {I: 1, J: 2, G: 1}}, 1},
		{4, []solve.Edge{{I: g, J: 3, G: 1}, {I: 0, J: 3, G: 1}, {I: 1, J: 0, G: 1}}, 2},
	} {
		var floats *solve.FloatingError
		if _, err := solve.Analyse(t.Context(), c.n, c.edges); !errors.As(err, &floats) || floats.Node != c.node {
			t.Errorf("%v: %v, want node %d", c.edges, err, c.node)
		}
	}
}

// TestChangeRefused names edges that cannot change so, and nodes that a loss parts from ground.
func TestChangeRefused(t *testing.T) {
	edges := []solve.Edge{{I: g, J: 0, G: 1e3}, {I: 0, J: 1, G: 1e3}, {I: 1, J: 2, G: 7}, {I: 2, J: 0, G: 1e-3}, {I: 2, J: 3, G: 5}}
	f := factor(t, 4, edges)
	for _, c := range []struct {
		changes []solve.EdgeChange
		edge    int
	}{
		{[]solve.EdgeChange{{Edge: 5, G: 1}}, 5},
		{[]solve.EdgeChange{{Edge: -1, G: 1}}, -1},
		{[]solve.EdgeChange{{Edge: 0, G: 1}, {Edge: 2, G: -8}}, 2},
		{[]solve.EdgeChange{{Edge: 2, G: -4}, {Edge: 2, G: -4}}, 2},
		{[]solve.EdgeChange{{Edge: 3, G: math.NaN()}}, 3},
		{[]solve.EdgeChange{{Edge: 3, G: math.Inf(1)}}, 3},
	} {
		var named *solve.EdgeError
		if _, err := f.Change(c.changes); !errors.As(err, &named) || named.Edge != c.edge {
			t.Errorf("%v: %v", c.changes, err)
		}
	}
	for _, c := range []struct {
		lost []int
		node int32
	}{{[]int{0}, 0}, {[]int{4}, 3}, {[]int{2, 3}, 2}, {[]int{1, 2}, 1}} {
		var changes []solve.EdgeChange
		for _, k := range c.lost {
			changes = append(changes, solve.EdgeChange{Edge: k, G: -edges[k].G})
		}
		var floats *solve.FloatingError
		if _, err := f.Change(changes); !errors.As(err, &floats) || floats.Node != c.node {
			t.Errorf("without %v: %v, want node %d", c.lost, err, c.node)
		}
	}
}

// TestBadlyScaled: a rail that hangs on ground by next to nothing has volts whose last digit is
// more than the drop along it. Column and selected inverse both name the large conductance.
func TestBadlyScaled(t *testing.T) {
	edges := []solve.Edge{{I: g, J: 0, G: 1e-9}, {I: 0, J: 1, G: 3}, {I: 1, J: 2, G: 1e9}}
	f := factor(t, 3, edges)
	var scale *solve.BadlyScaledError
	if _, err := f.SelectedInverse(t.Context()); !errors.As(err, &scale) || scale.Edge != 2 || !strings.Contains(err.Error(), "Foster") {
		t.Errorf("selected inverse: %v", err)
	}
	huge := []solve.Edge{{I: g, J: 0, G: math.MaxFloat64}, {I: 0, J: g, G: math.MaxFloat64}}
	a, err := solve.Analyse(t.Context(), 1, huge)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := a.Factor(t.Context(), huge); !errors.As(err, &scale) || scale.Edge != 0 {
		t.Errorf("factor: %v", err)
	}
	open := factor(t, 2, []solve.Edge{{I: g, J: 0, G: 1}, {I: g, J: 1, G: 1e-310}})
	if _, err := open.Column(1); !errors.As(err, &scale) || scale.Edge != 1 {
		t.Errorf("next to nothing: %v", err)
	}
	x := []float64{1, 2, -1}
	if _, err := f.Solve(x); !errors.As(err, &scale) || scale.Edge == 0 {
		t.Errorf("solution: %v", err)
	}
}

// TestArgumentsRefused: nothing panics on lengths, nodes or amperes that make no sense.
func TestArgumentsRefused(t *testing.T) {
	f := factor(t, 2, []solve.Edge{{I: g, J: 0, G: 1}, {I: 0, J: 1, G: 1}})
	c, err := f.Change(nil)
	if err != nil {
		t.Fatal(err)
	}
	for what, call := range map[string]func() error{
		"short":        func() error { _, err := f.Solve([]float64{1}); return err },
		"not a number": func() error { _, err := f.Solve([]float64{1, math.NaN()}); return err },
		"infinite":     func() error { _, err := f.Solve([]float64{math.Inf(1), 1}); return err },
		"into":         func() error { return f.SolveInto(make([]float64, 3), make([]float64, 2)) },
		"column":       func() error { _, err := f.Column(2); return err },
		"difference":   func() error { _, err := f.Difference(0, -2); return err },
		"changed":      func() error { _, err := c.Solve([]float64{1}); return err },
		"at":           func() error { _, err := c.At(2, 0); return err },
		"at column":    func() error { _, err := c.At(0, 7); return err },
		"nodes":        func() error { _, err := solve.Analyse(t.Context(), -1, nil); return err },
	} {
		if call() == nil {
			t.Errorf("%s is taken", what)
		}
	}
}

// TestCancelled: a cancelled context ends every long step.
func TestCancelled(t *testing.T) {
	n, edges := grid(30)
	f := factor(t, n, edges)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for what, call := range map[string]func() error{
		"analysis": func() error { _, err := solve.Analyse(ctx, n, edges); return err },
		"factor":   func() error { _, err := f.Factor(ctx, edges); return err },
		"inverse":  func() error { _, err := f.SelectedInverse(ctx); return err },
	} {
		if err := call(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// TestSmallest: no node, and one.
func TestSmallest(t *testing.T) {
	f := factor(t, 0, []solve.Edge{{I: g, J: g, G: 1}})
	if x, err := f.Solve(nil); err != nil || len(x) != 0 {
		t.Errorf("no node: %v, %v", x, err)
	}
	if x, err := f.Difference(g, g); err != nil || len(x) != 0 {
		t.Errorf("no node: %v, %v", x, err)
	}
	if ii, ij, jj := inverse(t, f).Edge(0); ii != 0 || ij != 0 || jj != 0 {
		t.Errorf("ground to ground has %v, %v, %v", ii, ij, jj)
	}
	one := []solve.Edge{{I: 0, J: g, G: 2}, {I: g, J: 0, G: 2}, {I: 0, J: 0, G: 7}}
	v := inverse(t, factor(t, 1, one))
	if got := v.Diagonal(0); got != 0.25 {
		t.Errorf("two conductances of 2 in parallel have %v ohms", got)
	}
	for k, want := range [][3]float64{{0.25, 0, 0}, {0, 0, 0.25}, {0.25, 0.25, 0.25}} {
		if ii, ij, jj := v.Edge(k); [3]float64{ii, ij, jj} != want {
			t.Errorf("edge %d has %v, %v, %v", k, ii, ij, jj)
		}
	}
}

// TestIslands: parts of a network that meet only at ground do not see each other.
func TestIslands(t *testing.T) {
	n, edges := circuitLike(200, 5)
	both := append([]solve.Edge(nil), edges...)
	for _, e := range edges {
		for _, end := range []*int32{&e.I, &e.J} {
			if *end != g {
				*end += int32(n)
			}
		}
		both = append(both, e)
	}
	one, two := inverse(t, factor(t, n, edges)), inverse(t, factor(t, 2*n, both))
	for i := range int32(n) {
		if !near(one.Diagonal(i), two.Diagonal(i), 1e-13) || !near(one.Diagonal(i), two.Diagonal(i+int32(n)), 1e-13) {
			t.Fatalf("node %d: %v alone, %v and %v", i, one.Diagonal(i), two.Diagonal(i), two.Diagonal(i+int32(n)))
		}
	}
	x, err := factor(t, 2*n, both).Column(int32(n))
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		if x[i] != 0 || x[n+i] <= 0 {
			t.Fatalf("node %d has %v and %v volts", i, x[i], x[n+i])
		}
	}
}
