package partition

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
)

// realistic is a track plan in shape: a main loop of two fifths of the blocks, with sidings, ladders of stubs and branches
// on it; two places in three need new cuts; a train fits into two blocks in five.
func realistic(blocks, parts int, milliAmps int64, seed uint64) *Problem {
	r := rand.New(rand.NewPCG(seed, 9))
	p := &Problem{AtOnce: 8}
	for range 8 {
		p.Trains = append(p.Trains, Train{int64(400 + 100*r.IntN(4))})
	}
	for range parts {
		p.Parts = append(p.Parts, Capacity{milliAmps})
	}
	main := blocks * 2 / 5
	for v := range blocks {
		p.Nodes = append(p.Nodes, Node{Berths: 1 - min(1, r.IntN(10)/4), Near: int64(1000 * (v % main)), Pin: -1})
	}
	edge := func(a, b int) {
		p.Edges = append(p.Edges, Edge{int32(a), int32(b), int32(min(1, r.IntN(3)))})
	}
	chain := func(from, n int) {
		for i := 1; i < n; i++ {
			edge(from+i-1, from+i)
		}
	}
	for v := range main {
		edge(v, (v+1)%main)
	}
	for next := main; next < blocks; {
		at, n := r.IntN(main), 1
		edge(at, next)
		switch r.IntN(4) {
		case 0: // a siding
			edge(next, (at+2)%main)
		case 1: // a ladder of stubs
			n = min(blocks-next, 2+r.IntN(4))
			chain(next, n)
		case 2: // a branch that comes back elsewhere, as a helix between decks does
			n = min(blocks-next, 2+r.IntN(5))
			chain(next, n)
			edge(next+n-1, (at+3+r.IntN(main/2))%main)
		}
		next += n
	}
	return p
}

// sizes of the benchmark; the 150 blocks are the hard ones: districts that just do.
var sizes = []struct {
	blocks, parts int
	milliAmps     int64
}{{60, 4, 4500}, {60, 5, 3000}, {60, 6, 4500}, {150, 10, 4500}, {150, 12, 3000}}

// BenchmarkSolve prints what came of each: work, the value and bound of each term.
func BenchmarkSolve(b *testing.B) {
	for _, k := range sizes {
		for seed := range uint64(3) {
			b.Run(fmt.Sprintf("blocks=%d/districts=%d/amps=%d/seed=%d", k.blocks, k.parts, k.milliAmps/1000, seed), func(b *testing.B) {
				p := realistic(k.blocks, k.parts, k.milliAmps, seed)
				var x *Result
				for b.Loop() {
					var err error
					if x, err = Solve(context.Background(), p, DefaultWork); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(x.Work), "work")
				b.Logf("%v of %v, proved %v, border %d", x.Value, x.Bound, x.Proven, x.Width)
			})
		}
	}
}

// TestSixtyBlocks: sixty blocks are divided with a proof, or shown to be impossible, within the default work.
func TestSixtyBlocks(t *testing.T) {
	for _, k := range sizes {
		if k.blocks > 60 {
			continue
		}
		for seed := range uint64(3) {
			x, err := Solve(context.Background(), realistic(k.blocks, k.parts, k.milliAmps, seed), DefaultWork)
			if err != nil {
				t.Fatal(err)
			}
			if x.Feasible == Unknown || x.Feasible == Found && x.Proven != [3]bool{true, true, true} {
				t.Errorf("%v, seed %d: %+v", k, seed, x)
			}
		}
	}
}
