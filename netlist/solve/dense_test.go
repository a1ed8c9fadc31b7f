package solve_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// dense is the conductance matrix.
func dense(n int, edges []solve.Edge) *mat.SymDense {
	a := mat.NewSymDense(n, nil)
	for _, e := range edges {
		if e.I == e.J {
			continue
		}
		if e.I >= 0 {
			a.SetSym(int(e.I), int(e.I), a.At(int(e.I), int(e.I))+e.G)
		}
		if e.J >= 0 {
			a.SetSym(int(e.J), int(e.J), a.At(int(e.J), int(e.J))+e.G)
		}
		if e.I >= 0 && e.J >= 0 {
			a.SetSym(int(e.I), int(e.J), a.At(int(e.I), int(e.J))-e.G)
		}
	}
	return a
}

func denseInverse(t rapid.TB, n int, edges []solve.Edge) *mat.SymDense {
	var chol mat.Cholesky
	if !chol.Factorize(dense(n, edges)) {
		t.Fatal("gonum finds no Cholesky factor")
	}
	var inv mat.SymDense
	if err := chol.InverseTo(&inv); err != nil && !errors.As(err, new(mat.Condition)) {
		t.Fatal(err)
	}
	return &inv
}

// TestAgainstDense compares every entry of the selected inverse, a column and a solution with
// gonum's.
func TestAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f, want := factor(t, n, edges), denseInverse(t, n, edges)
		v := inverse(t, f)
		for i := range n {
			if got := v.Diagonal(int32(i)); !near(got, want.At(i, i), 1e-7) {
				t.Fatalf("diagonal %d is %v, want %v", i, got, want.At(i, i))
			}
		}
		for k, e := range edges {
			_, ij, _ := v.Edge(k)
			if e.I >= 0 && e.J >= 0 && !near(ij, want.At(int(e.I), int(e.J)), 1e-7) {
				t.Fatalf("edge %d has %v, want %v", k, ij, want.At(int(e.I), int(e.J)))
			}
		}
		i := rapid.IntRange(0, n-1).Draw(t, "column")
		col, err := f.Column(int32(i))
		if err != nil {
			t.Fatal(err)
		}
		b := make([]float64, n)
		for j := range n {
			if !near(col[j], want.At(i, j), 1e-7) {
				t.Fatalf("column %d has %v at %d, want %v", i, col[j], j, want.At(i, j))
			}
			b[j] = float64(j%7) - 3
		}
		x, err := f.Solve(b)
		if err != nil {
			t.Fatal(err)
		}
		var y mat.VecDense
		y.MulVec(want, mat.NewVecDense(n, b))
		scale := mat.Norm(&y, math.Inf(1))
		for j := range n {
			if math.Abs(x[j]-y.AtVec(j)) > 1e-7*scale {
				t.Fatalf("volts %d are %v, want %v", j, x[j], y.AtVec(j))
			}
		}
	})
}

// TestChange compares a network with changed conductances with a factorisation of its own.
func TestChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f := factor(t, n, edges)
		changed := append([]solve.Edge(nil), edges...)
		var changes []solve.EdgeChange
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			k := rapid.IntRange(0, len(edges)-1).Draw(t, "edge")
			g := -changed[k].G
			if rapid.Bool().Draw(t, "more") {
				g = changed[k].G * rapid.Float64Range(-0.9, 10).Draw(t, "times")
			}
			if changed[k] != edges[k] || g == 0 {
				continue
			}
			changes = append(changes, solve.EdgeChange{Edge: k, G: g})
			changed[k].G += g
		}
		left := changed[:0:0]
		for _, e := range changed {
			if e.G > 0 {
				left = append(left, e)
			}
		}
		c, err := f.Change(changes)
		var floats *solve.FloatingError
		a, analyseErr := solve.Analyse(context.Background(), n, left)
		if errors.As(analyseErr, &floats) {
			if !errors.As(err, &floats) {
				t.Fatalf("nodes float, and Change says %v", err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		g, err := a.Factor(context.Background(), left)
		if err != nil {
			t.Fatal(err)
		}
		v, w := inverse(t, f), inverse(t, g)
		for i := range int32(n) {
			if got, want := v.Diagonal(i)-c.Less(i, i), w.Diagonal(i); math.Abs(got-want) > 1e-9*max(want, v.Diagonal(i)) {
				t.Fatalf("node %d has %v ohms, want %v", i, got, want)
			}
		}
		b := make([]float64, n)
		b[n-1] = 1
		x, err := c.Solve(b)
		if err != nil {
			t.Fatal(err)
		}
		y, err := g.Solve(b)
		if err != nil {
			t.Fatal(err)
		}
		for i := range x {
			if math.Abs(x[i]-y[i]) > 1e-9*max(y[n-1], v.Diagonal(int32(n-1))) {
				t.Fatalf("node %d has %v volts, want %v", i, x[i], y[i])
			}
		}
	})
}
