package gauge

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// madeUp are demands of random sets: choices at or above one of least hold the monotone part, those in odd break the rest.
type madeUp struct {
	sizes []int
	least [][]int
	odd   map[string]bool
	shy   uint64 // what excluded keeps to itself: a share of what it could say
	asked int
	vain  bool // all demands were asked of a choice that breaks the monotone ones
}

func keyOf(choice []int) string {
	key := make([]byte, len(choice))
	for i, k := range choice {
		key[i] = byte(k)
	}
	return string(key)
}

func (m *madeUp) high(choice []int) bool {
	return slices.ContainsFunc(m.least, func(g []int) bool { return noThinner(choice, g) })
}

func (m *madeUp) good(choice []int) bool { return m.high(choice) && !m.odd[keyOf(choice)] }

func (m *madeUp) meetsMonotone(_ context.Context, choice []int) (bool, error) {
	m.asked += quickWork
	return m.high(choice), nil
}

func (m *madeUp) meets(_ context.Context, choice []int) (bool, error) {
	m.asked += wholeWork
	m.vain = m.vain || !m.high(choice)
	return m.good(choice), nil
}

// excluded knows everything, and now and then says so.
func (m *madeUp) excluded(_ context.Context, lo, hi []int, i, k int) (bool, error) {
	m.asked += 2 * quickWork
	h := m.shy
	for _, x := range append(slices.Concat(lo, hi), i, k) {
		h = (h ^ uint64(x+1)) * 0x100000001b3
	}
	if h>>32%3 == 0 {
		return false, nil
	}
	any := false
	each(m.sizes, func(c []int) {
		any = any || c[i] == k && noThinner(c, lo) && noThinner(hi, c) && m.good(c)
	})
	return !any, nil
}

// each calls do for every choice; do keeps none.
func each(sizes []int, do func(choice []int)) {
	c := make([]int, len(sizes))
	for {
		do(c)
		i := 0
		for ; i < len(c); i++ {
			if c[i]++; c[i] < sizes[i] {
				break
			}
			c[i] = 0
		}
		if i == len(c) {
			return
		}
	}
}

// makeUp makes demands and costs. Costs are small whole numbers, so that many choices cost alike and sums are exact.
func makeUp(r *rand.Rand) (m *madeUp, cost [][]float64, start [][]int) {
	m = &madeUp{odd: map[string]bool{}, shy: r.Uint64()}
	runs := 1 + r.IntN(5)
	for range runs {
		m.sizes = append(m.sizes, 1+r.IntN(4))
	}
	some := func() []int {
		c := make([]int, runs)
		for i := range c {
			c[i] = r.IntN(m.sizes[i])
		}
		return c
	}
	rises := r.IntN(2) == 0
	for _, n := range m.sizes {
		var c []float64
		for range n {
			c = append(c, float64(r.IntN(12)))
		}
		if rises {
			slices.Sort(c)
		}
		cost = append(cost, c)
	}
	for range min(3, r.IntN(12)) { // none at all is a demand nothing meets
		m.least = append(m.least, some())
	}
	share := [...]float64{0, 0.1, 0.4, 0.7, 0.95}[r.IntN(5)]
	each(m.sizes, func(c []int) {
		if r.Float64() < share {
			m.odd[keyOf(c)] = true
		}
	})
	for range r.IntN(3) {
		start = append(start, some())
	}
	return m, cost, start
}

func priceOf(cost [][]float64, choice []int) float64 {
	sum := 0.0
	for i, k := range choice {
		sum += cost[i][k]
	}
	return sum
}

// TestSearchAgainstBruteForce: what is found is the cheapest of all choices that meet the demands; when work ran out, what is found meets
// them still, and the bound is none that a choice undercuts.
func TestSearchAgainstBruteForce(t *testing.T) {
	cases := 4000
	if *full {
		cases = 100_000
	}
	ctx := context.Background()
	none, ranOut, notRising, limited, foundAnyway := 0, 0, 0, 0, 0
	for seed := range cases {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		m, cost, start := makeUp(r)
		if slices.ContainsFunc(cost, func(c []float64) bool { return !slices.IsSorted(c) }) {
			notRising++
		}
		best := math.Inf(1)
		each(m.sizes, func(c []int) {
			if m.good(c) {
				best = min(best, priceOf(cost, c))
			}
		})
		if math.IsInf(best, 1) {
			none++
		}
		check := func(below float64, work int) found {
			f, err := search(ctx, cost, m, start, below, work)
			if err != nil {
				t.Fatal(err)
			}
			cheapest := best // of those sought
			if best >= below {
				cheapest = math.Inf(1)
			}
			switch {
			case f.best != nil && (!m.good(f.best) || priceOf(cost, f.best) != f.cost || f.cost >= below):
				t.Fatalf("seed %d: %v at %g breaks a demand, costs %g or is not below %g", seed, f.best, f.cost, priceOf(cost, f.best), below)
			case f.best != nil && f.cost < cheapest:
				t.Fatalf("seed %d: %v at %g is cheaper than the cheapest, %g", seed, f.best, f.cost, cheapest)
			case f.bound > min(best, below):
				t.Fatalf("seed %d: bound %g, but %g can be had (below %g)", seed, f.bound, best, below)
			case f.proven && (f.best == nil) != math.IsInf(cheapest, 1):
				t.Fatalf("seed %d: proven with %v, the cheapest is %g", seed, f.best, cheapest)
			case f.proven && f.best != nil && (f.cost != cheapest || f.bound != f.cost):
				t.Fatalf("seed %d: proven %g, bound %g, the cheapest is %g", seed, f.cost, f.bound, cheapest)
			case !f.proven && f.work < work:
				t.Fatalf("seed %d: gave up after %d of %d", seed, f.work, work)
			}
			return f
		}
		m.asked = 0
		f := check(math.Inf(1), 1<<40)
		if m.asked != f.work {
			t.Fatalf("seed %d: %d of work counted, %d done", seed, f.work, m.asked)
		}
		if m.vain {
			t.Fatalf("seed %d: all demands were asked where the monotone ones fail", seed)
		}
		if !f.proven {
			t.Fatalf("seed %d: not proven with all the work there is", seed)
		}
		check(float64(r.IntN(40)), 1<<40)
		for range 3 {
			limited++
			g := check(math.Inf(1), r.IntN(1+f.work))
			if !g.proven {
				ranOut++
				if g.best != nil {
					foundAnyway++
				}
			}
		}
	}
	if none < cases/20 || notRising < cases/4 || ranOut < limited/4 || foundAnyway < limited/20 {
		t.Errorf("of %d cases %d have no answer, %d costs that do not rise; of %d with little work %d ran out, %d of those with something found", cases, none, notRising, limited, ranOut, foundAnyway)
	}
	t.Logf("%d cases, %d without answer, %d with costs that do not rise; of %d with little work %d ran out, %d of those with something found", cases, none, notRising, limited, ranOut, foundAnyway)
}

// TestSearchNeedsLess: with the monotone demands alone, a search looks at fewer choices than there are.
func TestSearchNeedsLess(t *testing.T) {
	looked, all := 0, 0
	for seed := range 300 {
		r := rand.New(rand.NewPCG(uint64(seed), 5))
		m, cost, start := makeUp(r)
		clear(m.odd)
		for i := range cost {
			slices.Sort(cost[i])
		}
		n := 1
		for _, s := range m.sizes {
			n *= s
		}
		if n < 200 {
			continue
		}
		m.asked = 0
		f, err := search(context.Background(), cost, m, start, math.Inf(1), 1<<40)
		if err != nil {
			t.Fatal(err)
		}
		looked += f.work
		all += n * wholeWork
	}
	if all == 0 || looked*4 > all {
		t.Errorf("%d of work, all choices would be %d", looked, all)
	}
	t.Logf("%d of work, all choices would be %d", looked, all)
}
