package partition

import (
	"context"
	"fmt"
	"testing"
)

// size is a track plan to be divided: see trackPlan.
type size struct {
	blocks, districts, more int
	restricted              bool
}

var sizes = []size{
	{60, 4, 1, false},
	{60, 4, 1, true},
	{60, 5, 1, false},
	{60, 5, 1, true},
	{60, 6, 1, false},
	{60, 6, 1, true},
	{60, 6, 3, true},
	{150, 8, 1, false},
	{150, 8, 1, true},
	{150, 10, 1, false},
	{150, 10, 1, true},
	{150, 12, 2, false},
	{150, 12, 2, true},
}

const seeds = 3 // plans of each size

func (k size) name() string {
	return fmt.Sprintf("blocks=%d/districts=%d/more=%d/restricted=%v", k.blocks, k.districts, k.more, k.restricted)
}

// BenchmarkSolve prints what came of each: work, the value and bound of each term, what is proved.
func BenchmarkSolve(b *testing.B) {
	for _, k := range sizes {
		for seed := range uint64(seeds) {
			b.Run(fmt.Sprintf("%s/seed=%d", k.name(), seed), func(b *testing.B) {
				p := trackPlan(k.blocks, k.districts, k.more, k.restricted, seed)
				var x *Result
				for b.Loop() {
					var err error
					if x, err = Solve(context.Background(), p, DefaultWork); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(x.Work), "work")
				b.Logf("value %v, bound %v, proved %v, border %d", x.Value, x.Bound, x.Proven, x.Width)
			})
		}
	}
}

// TestSixtyBlocks: sixty blocks are divided with a proof within the default work, also when every district has to be used.
func TestSixtyBlocks(t *testing.T) {
	for _, k := range sizes {
		if k.blocks != 60 {
			continue
		}
		for seed := range uint64(seeds) {
			for _, least := range []int{0, k.districts} {
				p := trackPlan(k.blocks, k.districts, k.more, k.restricted, seed)
				p.Least = least
				x := solved(t, p, DefaultWork)
				if x.Feasible != Found || x.Proven != [3]bool{true, true, true} {
					t.Errorf("%s, seed %d, at least %d: %+v", k.name(), seed, least, x)
				}
			}
		}
	}
}
