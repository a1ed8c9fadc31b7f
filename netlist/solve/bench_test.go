package solve_test

import (
	"context"
	"fmt"
	"testing"

	"gapwise/netlist/solve"
)

var sizes = []int{1_000, 10_000, 100_000, 1_000_000}

// BenchmarkWhole times the steps of a whole map on networks as layouts have them.
func BenchmarkWhole(b *testing.B) {
	ctx := context.Background()
	for _, size := range sizes {
		n, edges := circuitLike(size, 1)
		a, err := solve.Analyse(ctx, n, edges)
		if err != nil {
			b.Fatal(err)
		}
		f, err := a.Factor(ctx, edges)
		if err != nil {
			b.Fatal(err)
		}
		perEdge := func(b *testing.B) {
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(edges)), "ns/edge")
		}
		b.Run(fmt.Sprintf("analyse/nodes=%d", size), func(b *testing.B) {
			for b.Loop() {
				_, _ = solve.Analyse(ctx, n, edges)
			}
			perEdge(b)
		})
		b.Run(fmt.Sprintf("factor/nodes=%d", size), func(b *testing.B) {
			for b.Loop() {
				_, _ = a.Factor(ctx, edges)
			}
			perEdge(b)
		})
		b.Run(fmt.Sprintf("inverse/nodes=%d", size), func(b *testing.B) {
			for b.Loop() {
				_, _ = f.SelectedInverse(ctx)
			}
			perEdge(b)
		})
		x, y := make([]float64, n), make([]float64, n)
		y[n/2] = 1
		b.Run(fmt.Sprintf("solve/nodes=%d", size), func(b *testing.B) {
			for b.Loop() {
				_ = f.SolveInto(x, y)
			}
			perEdge(b)
		})
	}
}
