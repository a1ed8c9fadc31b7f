package partition

import (
	"context"
	"math/rand/v2"
	"testing"
)

// bruteForce tries every division.
func bruteForce(p *Problem) (best [3]int64, found bool) {
	part := make([]int32, len(p.Nodes))
	var try func(v int)
	try = func(v int) {
		if v < len(part) {
			for k := range p.Parts {
				part[v] = int32(k)
				try(v + 1)
			}
			return
		}
		x, err := p.Evaluate(part)
		if err == nil && (!found || less(x, best)) {
			best, found = x, true
		}
	}
	try(0)
	return best, found
}

func less(x, y [3]int64) bool {
	for k := range x {
		if x[k] != y[k] {
			return x[k] < y[k]
		}
	}
	return false
}

// orders are all orders of the terms.
var orders = [][3]Term{{Cuts, Trains, Bus}, {Cuts, Bus, Trains}, {Trains, Cuts, Bus}, {Trains, Bus, Cuts}, {Bus, Cuts, Trains}, {Bus, Trains, Cuts}}

// random is a small problem with everything in it: standing loads, pins, nodes that admit some trains only, districts of several
// capacities, parallel edges, loops, several pieces.
func random(r *rand.Rand, nodes int) *Problem {
	p := &Problem{Order: orders[r.IntN(len(orders))], AtOnce: r.IntN(4)}
	for range r.IntN(5) {
		p.Trains = append(p.Trains, Train{int64(r.IntN(4) * 500)})
	}
	parts := 1 + r.IntN(3)
	for range parts {
		p.Parts = append(p.Parts, Capacity{int64(r.IntN(4) * 1000)})
	}
	if r.IntN(2) == 0 {
		p.Least = r.IntN(parts + 1)
	}
	for range nodes {
		v := Node{Berths: r.IntN(3), Near: int64(r.IntN(5)), Pin: -1}
		if r.IntN(3) == 0 {
			v.Load = int64(r.IntN(3) * 400)
		}
		if r.IntN(8) == 0 {
			v.Pin = r.IntN(parts)
		}
		if r.IntN(3) == 0 {
			v.Only = []int{}
			for t := range p.Trains {
				if r.IntN(2) == 0 {
					v.Only = append(v.Only, t)
				}
			}
		}
		p.Nodes = append(p.Nodes, v)
	}
	for a := 1; a < nodes; a++ {
		if r.IntN(12) > 0 {
			p.Edges = append(p.Edges, Edge{int32(a), int32(r.IntN(a)), int32(r.IntN(3))})
		}
	}
	for range r.IntN(4) {
		p.Edges = append(p.Edges, Edge{int32(r.IntN(nodes)), int32(r.IntN(nodes)), int32(r.IntN(3))})
	}
	return p
}

// TestBruteForce compares with every division of some thousands of small problems.
func TestBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	impossible := 0
	for i := range 2500 {
		p := random(r, 1+r.IntN(7))
		want, found := bruteForce(p)
		got, err := Solve(context.Background(), p, DefaultWork)
		if err != nil {
			t.Fatal(i, err)
		}
		switch {
		case !found:
			impossible++
			if got.Feasible != Impossible || got.Why == nil {
				t.Fatalf("%d: there is no division, got %+v", i, got)
			}
		case got.Feasible != Found || got.Value != want || got.Bound != want || got.Proven != [3]bool{true, true, true}:
			t.Fatalf("%d: want %v, got %+v\n%+v", i, want, got, p)
		}
	}
	if impossible < 250 || impossible > 2000 {
		t.Errorf("%d of 2500 are impossible", impossible)
	}
}

// TestBounds: with hardly any work what is found is a division, and no bound is above the best.
func TestBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 600 {
		p := random(r, 5+r.IntN(3))
		want, found := bruteForce(p)
		s := newSolver(p, 1)
		got, err := s.solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if got.Feasible == Found {
			if x, err := p.Evaluate(got.Part); err != nil || x != got.Value {
				t.Fatalf("%d: %v %v, said %v", i, x, err, got.Value)
			}
		}
		if found && got.Feasible == Impossible || found && got.Feasible == Found && got.Bound[0] > want[0] {
			t.Fatalf("%d: best %v, got %+v", i, want, got)
		}
	}
}
