package solve_test

import (
	"runtime"
	"slices"
	"sync"
	"testing"

	"gapwise/netlist/solve"
)

// whole computes what there is of a network.
func whole(t *testing.T, n int, edges []solve.Edge) []float64 {
	f := factor(t, n, edges)
	v := inverse(t, f)
	var out []float64
	for i := range int32(n) {
		out = append(out, v.Diagonal(i))
	}
	for k := range edges {
		_, ij, _ := v.Edge(k)
		out = append(out, ij)
	}
	x, err := f.Solve(out[:n])
	if err != nil {
		t.Fatal(err)
	}
	return append(out, x...)
}

// TestWorkers compares results bit by bit, computed by one and by several at once.
func TestWorkers(t *testing.T) {
	n, edges := grid(40)
	before := runtime.GOMAXPROCS(1)
	want := whole(t, n, edges)
	runtime.GOMAXPROCS(4)
	got := make([][]float64, 8)
	var wg sync.WaitGroup
	for k := range got {
		wg.Go(func() { got[k] = whole(t, n, edges) })
	}
	wg.Wait()
	runtime.GOMAXPROCS(before)
	for k := range got {
		if !slices.Equal(got[k], want) {
			t.Errorf("run %d differs", k)
		}
	}
}

// TestSharedFactor solves with one factor from several goroutines.
func TestSharedFactor(t *testing.T) {
	n, edges := circuitLike(2000, 2)
	f := factor(t, n, edges)
	want := make([][]float64, 8)
	for k := range want {
		var err error
		if want[k], err = f.Column(int32(k)); err != nil {
			t.Fatal(err)
		}
	}
	var wg sync.WaitGroup
	for k := range want {
		wg.Go(func() {
			x, b := make([]float64, n), make([]float64, n)
			for range 20 {
				clear(b)
				b[k] = 1
				if err := f.SolveInto(x, b); err != nil || !slices.Equal(x, want[k]) {
					t.Errorf("column %d differs (%v)", k, err)
				}
				c, err := f.Change([]solve.EdgeChange{{Edge: k + 1, G: 1}})
				if err != nil {
					t.Error(err)
				} else if c.Less(int32(k), int32(k)) < 0 {
					t.Errorf("more conductance at edge %d makes more ohms", k+1)
				}
			}
		})
	}
	wg.Wait()
}

// TestEdgesAreCopied: who changes his edges later changes no factor.
func TestEdgesAreCopied(t *testing.T) {
	n, edges := circuitLike(50, 2)
	f := factor(t, n, edges)
	want := inverse(t, f).Foster()
	for k := range edges {
		edges[k] = solve.Edge{I: 0, J: 0, G: 1e30}
	}
	if got := inverse(t, f).Foster(); got != want {
		t.Errorf("Foster's sum went from %v to %v", want, got)
	}
}

// TestNoAllocation: the calls that are made for every point allocate nothing.
func TestNoAllocation(t *testing.T) {
	n, edges := circuitLike(500, 2)
	f := factor(t, n, edges)
	v := inverse(t, f)
	c, err := f.Change([]solve.EdgeChange{{Edge: 3, G: 1}})
	if err != nil {
		t.Fatal(err)
	}
	x, b := make([]float64, n), make([]float64, n)
	b[7] = 1
	for what, call := range map[string]func(){
		"edge":     func() { v.Edge(9) },
		"diagonal": func() { v.Diagonal(9) },
		"less":     func() { c.Less(3, 9) },
		"solve":    func() { _ = f.SolveInto(x, b) },
	} {
		if got := testing.AllocsPerRun(200, call); got >= 1 {
			t.Errorf("%s allocates %v times", what, got)
		}
	}
}
