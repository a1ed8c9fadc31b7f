package solve_test

import (
	"context"
	"math"
	"math/rand/v2"

	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// randomNetwork draws a connected network, parallel edges and self-loops among it.
func randomNetwork(t *rapid.T) (n int, edges []solve.Edge) {
	n = rapid.IntRange(1, 40).Draw(t, "nodes")
	g := rapid.Float64Range(1e-3, 1e3)
	for i := range n {
		edges = append(edges, solve.Edge{I: int32(i), J: int32(rapid.IntRange(-1, i-1).Draw(t, "to")), G: g.Draw(t, "siemens")})
	}
	for range rapid.IntRange(0, 60).Draw(t, "more") {
		edges = append(edges, solve.Edge{
			I: int32(rapid.IntRange(-1, n-1).Draw(t, "i")), J: int32(rapid.IntRange(-1, n-1).Draw(t, "j")), G: g.Draw(t, "siemens"),
		})
	}
	return n, edges
}

// circuitLike is a network as layouts have: a bus with taps, feeders, and rails between gaps.
func circuitLike(nodes int, seed uint64) (n int, edges []solve.Edge) {
	r := rand.New(rand.NewPCG(seed, 0))
	last := int32(solve.Ground)
	for n < nodes {
		tap := int32(n)
		n++
		edges = append(edges, solve.Edge{I: last, J: tap, G: 20 + 100*r.Float64()})
		last = tap
		rail := int32(n)
		n++
		edges = append(edges, solve.Edge{I: tap, J: rail, G: 30 + 50*r.Float64()})
		for range r.IntN(6) {
			edges = append(edges, solve.Edge{I: rail, J: int32(n), G: 5 + 50*r.Float64()})
			rail = int32(n)
			n++
		}
		if r.IntN(4) > 0 { // another feeder to the same rail
			edges = append(edges, solve.Edge{I: last, J: int32(n), G: 20 + 100*r.Float64()})
			last = int32(n)
			n++
			edges = append(edges, solve.Edge{I: last, J: rail, G: 30 + 50*r.Float64()})
		}
	}
	return n, edges
}

// grid is a square of unit resistors with one corner at ground.
func grid(side int) (n int, edges []solve.Edge) {
	at := func(x, y int) int32 { return int32(x*side+y) - 1 }
	for x := range side {
		for y := range side {
			if x > 0 {
				edges = append(edges, solve.Edge{I: at(x-1, y), J: at(x, y), G: 1})
			}
			if y > 0 {
				edges = append(edges, solve.Edge{I: at(x, y-1), J: at(x, y), G: 1})
			}
		}
	}
	return side*side - 1, edges
}

// randomTree hangs every node on an earlier one, the first on ground.
func randomTree(n int, seed uint64) []solve.Edge {
	r := rand.New(rand.NewPCG(seed, 1))
	edges := []solve.Edge{{I: solve.Ground, J: 0, G: 10}}
	for i := 1; i < n; i++ {
		edges = append(edges, solve.Edge{I: int32(r.IntN(i)), J: int32(i), G: 1 + 9*r.Float64()})
	}
	return edges
}

// ladder has one rail of edges of siemens series, shunts of siemens shunt, and the other rail as
// ground. It is fed at node 0, and ends with a shunt.
func ladder(n int, series, shunt float64) []solve.Edge {
	edges := make([]solve.Edge, 0, 2*n)
	for i := range int32(n) {
		if i > 0 {
			edges = append(edges, solve.Edge{I: i - 1, J: i, G: series})
		}
		edges = append(edges, solve.Edge{I: solve.Ground, J: i, G: shunt})
	}
	return edges
}

func factor(t rapid.TB, n int, edges []solve.Edge) *solve.Factor {
	a, err := solve.Analyse(context.Background(), n, edges)
	if err != nil {
		t.Fatal(err)
	}
	f, err := a.Factor(context.Background(), edges)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func inverse(t rapid.TB, f *solve.Factor) *solve.Inverse {
	v, err := f.SelectedInverse(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*max(math.Abs(a), math.Abs(b), 1e-300)
}
