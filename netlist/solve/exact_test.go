package solve_test

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// exactInverse inverts a conductance matrix with 400 binary digits, by Gauss and Jordan.
func exactInverse(n int, edges []solve.Edge) [][]*big.Float {
	number := func(x float64) *big.Float { return new(big.Float).SetPrec(400).SetFloat64(x) }
	m := make([][]*big.Float, n) // the matrix, and the identity beside it
	for i := range m {
		m[i] = make([]*big.Float, 2*n)
		for j := range m[i] {
			m[i][j] = number(0)
		}
		m[i][n+i].SetInt64(1)
	}
	for _, e := range edges {
		if e.I == e.J {
			continue
		}
		for _, end := range [2][2]int32{{e.I, e.J}, {e.J, e.I}} {
			if end[0] >= 0 {
				m[end[0]][end[0]].Add(m[end[0]][end[0]], number(e.G))
				if end[1] >= 0 {
					m[end[0]][end[1]].Sub(m[end[0]][end[1]], number(e.G))
				}
			}
		}
	}
	for k := range n {
		pivot := new(big.Float).Set(m[k][k])
		for j := range m[k] {
			m[k][j].Quo(m[k][j], pivot)
		}
		for i := range n {
			if i == k {
				continue
			}
			by := new(big.Float).Set(m[i][k])
			for j := range m[i] {
				m[i][j].Sub(m[i][j], new(big.Float).Mul(by, m[k][j]))
			}
		}
	}
	for i := range m {
		m[i] = m[i][n:]
	}
	return m
}

// extremeNetwork draws a network whose conductances lie up to 18 powers of ten apart.
func extremeNetwork(t *rapid.T) (n int, edges []solve.Edge) {
	n = rapid.IntRange(1, 7).Draw(t, "nodes")
	power := rapid.Float64Range(-9, 9)
	for i := range n {
		edges = append(edges, solve.Edge{I: int32(i), J: int32(rapid.IntRange(-1, i-1).Draw(t, "to")), G: math.Pow(10, power.Draw(t, "power"))})
	}
	for range rapid.IntRange(0, 8).Draw(t, "more") {
		edges = append(edges, solve.Edge{
			I: int32(rapid.IntRange(-1, n-1).Draw(t, "i")), J: int32(rapid.IntRange(-1, n-1).Draw(t, "j")), G: math.Pow(10, power.Draw(t, "power")),
		})
	}
	return n, edges
}

// badlyScaled reports whether an error is the one that names an edge, and asks that it is there.
func badlyScaled(t rapid.TB, edges []solve.Edge, err error) bool {
	var scale *solve.BadlyScaledError
	if err == nil {
		return false
	}
	if !errors.As(err, &scale) || scale.Edge < 0 || scale.Edge >= len(edges) || edges[scale.Edge].I == edges[scale.Edge].J {
		t.Fatalf("%v", err)
	}
	return true
}

// TestExtremeRatios: volts and resistances are right to 12 digits or refused by name, whatever the
// ratios.
func TestExtremeRatios(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := extremeNetwork(t)
		f, want := factor(t, n, edges), exactInverse(n, edges)
		v, err := f.SelectedInverse(t.Context())
		refused := badlyScaled(t, edges, err)
		for i := range n {
			x, err := f.Column(int32(i))
			if badlyScaled(t, edges, err) {
				continue
			}
			for j := range n {
				if exact, _ := want[i][j].Float64(); !near(x[j], exact, 1e-12) {
					t.Fatalf("%v volts at %d by an ampere into %d, want %v", x[j], j, i, exact)
				}
			}
			if exact, _ := want[i][i].Float64(); !refused && !near(v.Diagonal(int32(i)), exact, 1e-12) {
				t.Fatalf("%v ohms at %d, want %v", v.Diagonal(int32(i)), i, exact)
			}
		}
	})
}

// TestExtremeConductorsWork: a line with conductors of no resistance to speak of, and with leaks of
// next to no conductance, is solved, though 18 powers of ten lie between them.
func TestExtremeConductorsWork(t *testing.T) {
	edges := []solve.Edge{
		{I: g, J: 0, G: 1e9},
		{I: 0, J: 1, G: 50},
		{I: 1, J: 2, G: 1e9},
		{I: 2, J: 3, G: 20},
		{I: 3, J: 4, G: 1e9},
		{I: 1, J: g, G: 1e-9},
		{I: 3, J: g, G: 1e-9},
		{I: 4, J: 2, G: 1e-9},
	}
	f, want := factor(t, 5, edges), exactInverse(5, edges)
	v := inverse(t, f)
	for i := range int32(5) {
		x, err := f.Column(i)
		if err != nil {
			t.Fatal(err)
		}
		exact, _ := want[i][i].Float64()
		if !near(v.Diagonal(i), exact, 1e-14) || !near(x[i], exact, 1e-14) {
			t.Errorf("node %d: %v and %v ohms, want %v", i, v.Diagonal(i), x[i], exact)
		}
	}
}

// TestNearBridge takes away an edge beside which next to nothing is left: Woodbury's formula would
// have no digits.
func TestNearBridge(t *testing.T) {
	edges := []solve.Edge{{I: g, J: 0, G: 10}, {I: 0, J: 1, G: 10}, {I: 0, J: 1, G: 1e-7}, {I: 1, J: 2, G: 10}}
	f := factor(t, 3, edges)
	before := inverse(t, f)
	c, err := f.Change([]solve.EdgeChange{{Edge: 1, G: -10}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.1, 0.1 + 1e7, 0.2 + 1e7} {
		got, err := c.At(int32(i), int32(i))
		if err != nil {
			t.Fatal(err)
		}
		if diagonal := before.Diagonal(int32(i)) - c.Less(int32(i), int32(i)); !near(got, want, 1e-12) || !near(diagonal, want, 1e-12) {
			t.Errorf("node %d: %v and %v ohms, want %v", i, got, diagonal, want)
		}
	}
}
