package solve_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// TestTreeHasNoFill counts the entries of the factor of trees: one for every edge between nodes.
func TestTreeHasNoFill(t *testing.T) {
	star := []solve.Edge{{I: solve.Ground, J: 0, G: 1}}
	for i := 1; i < 20000; i++ {
		star = append(star, solve.Edge{I: 0, J: int32(i), G: 1})
	}
	for name, edges := range map[string][]solve.Edge{
		"random": randomTree(20000, 1), "star": star, "line": ladder(20000, 1, 1),
	} {
		if f := factor(t, 20000, edges); f.Entries() != 19999 {
			t.Errorf("%s: %d entries, want 19999", name, f.Entries())
		}
	}
}

// TestWheelHasLittleFill: a ring of n nodes around a hub needs two entries for every node of the
// ring and one more for the hub: eliminating the ring one by one leaves the hub and two neighbours
// each time.
func TestWheelHasLittleFill(t *testing.T) {
	n := 50000
	edges := []solve.Edge{{I: solve.Ground, J: 0, G: 1}}
	for i := 1; i < n; i++ {
		edges = append(edges, solve.Edge{I: 0, J: int32(i), G: 1}, solve.Edge{I: int32(i), J: int32(i%(n-1) + 1), G: 1})
	}
	if f := factor(t, n, edges); f.Entries() > 3*n {
		t.Errorf("%d entries for %d nodes", f.Entries(), n)
	}
}

// TestRingsHaveLittleFill: a ring, and a tree of rings of three, need at most two entries a node.
func TestRingsHaveLittleFill(t *testing.T) {
	const n = 20001
	ring := []solve.Edge{{I: solve.Ground, J: 0, G: 1}}
	rings := slices.Clone(ring)
	for i := range int32(n) {
		ring = append(ring, solve.Edge{I: i, J: (i + 1) % n, G: 1})
		if i%2 == 1 {
			up := (i - 1) / 2
			rings = append(rings, solve.Edge{I: up, J: i, G: 1}, solve.Edge{I: i, J: i + 1, G: 1}, solve.Edge{I: i + 1, J: up, G: 1})
		}
	}
	if got := factor(t, n, ring).Entries(); got != 2*n-3 { // all but the last two have two
		t.Errorf("ring: %d entries, want %d", got, 2*n-3)
	}
	if got := factor(t, n, rings).Entries(); got != 3*(n-1)/2 { // of a ring's two one has one
		t.Errorf("rings: %d entries, want %d", got, 3*(n-1)/2)
	}
}

// TestChainsStandForEdges: a grid whose edges are chains of two needs, beside the entries of the
// chains, no more than the grid.
func TestChainsStandForEdges(t *testing.T) {
	n, edges := grid(60)
	most := factor(t, n, edges).Entries()
	var chained []solve.Edge
	for _, e := range edges {
		i := int32(n)
		n += 2
		chained = append(chained, solve.Edge{I: e.I, J: i, G: 1}, solve.Edge{I: i, J: i + 1, G: 1}, solve.Edge{I: i + 1, J: e.J, G: 1})
		most += 4
	}
	if got := factor(t, n, chained).Entries(); float64(got) > 1.05*float64(most) {
		t.Errorf("%d entries, want about %d at most", got, most)
	}
}

// TestNumberingHardlyMatters: a circuit has about as many entries however its nodes are numbered.
func TestNumberingHardlyMatters(t *testing.T) {
	n, edges := circuitLike(20000, 3)
	natural := factor(t, n, edges).Entries()
	r := rand.New(rand.NewPCG(8, 8))
	name := r.Perm(n)
	for k := range edges {
		for _, end := range []*int32{&edges[k].I, &edges[k].J} {
			if *end != solve.Ground {
				*end = int32(name[*end])
			}
		}
	}
	r.Shuffle(len(edges), func(i, j int) { edges[i], edges[j] = edges[j], edges[i] })
	if got := factor(t, n, edges).Entries(); !near(float64(got), float64(natural), 0.01) {
		t.Errorf("%d entries, %d in natural order", got, natural)
	}
}

// TestFillOfGrid compares the order with nested dissection, whose factor has at most 31/4 n log2 n
// entries on a square grid (A. George, SIAM J. Numer. Anal. 10, 1973): minimum degree stays below
// half of that.
func TestFillOfGrid(t *testing.T) {
	n, edges := grid(100)
	f := factor(t, n, edges)
	if most := int(31.0 / 8 * float64(n) * math.Log2(float64(n))); f.Entries() > most {
		t.Errorf("%d entries for %d nodes, more than %d", f.Entries(), n, most)
	}
}

// TestCountsOfDense: with all nodes beside each other every entry below the diagonal is there,
// whatever the order, and column c takes c(c+2) multiplications and additions.
func TestCountsOfDense(t *testing.T) {
	n := 30
	edges := []solve.Edge{{I: solve.Ground, J: 3, G: 1}}
	flops := 0
	for i := range n {
		flops += i * (i + 2)
		for j := range i {
			edges = append(edges, solve.Edge{I: int32(i), J: int32(j), G: 1})
		}
	}
	f := factor(t, n, edges)
	if f.Entries() != n*(n-1)/2 || f.Flops() != int64(flops) {
		t.Errorf("%d entries and %d flops, want %d and %d", f.Entries(), f.Flops(), n*(n-1)/2, flops)
	}
}

// TestFillAgainstElimination eliminates random graphs by hand in the order found and compares the
// entries.
func TestFillAgainstElimination(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		a, err := solve.Analyse(context.Background(), n, edges)
		if err != nil {
			t.Fatal(err)
		}
		order := make([]int, n)
		for k, i := range a.Order() {
			order[k] = int(i)
		}
		want := fill(n, edges, order)
		if a.Entries() != want {
			t.Fatalf("%d entries, elimination by hand has %d", a.Entries(), want)
		}
	})
}

// TestOrderIsThin compares the entries with the least of many random orders.
func TestOrderIsThin(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	n, edges := circuitLike(60, 3)
	got := factor(t, n, edges).Entries()
	best := math.MaxInt
	for range 200 {
		order := r.Perm(n)
		best = min(best, fill(n, edges, order))
	}
	if got > best {
		t.Errorf("%d entries, a random order has %d", got, best)
	}
}

// fill is the entries of the factor in an order, by elimination.
func fill(n int, edges []solve.Edge, order []int) int {
	beside := make([]map[int]bool, n)
	for i := range beside {
		beside[i] = map[int]bool{}
	}
	for _, e := range edges {
		if e.I != e.J && e.I >= 0 && e.J >= 0 {
			beside[e.I][int(e.J)], beside[e.J][int(e.I)] = true, true
		}
	}
	total := 0
	for _, k := range order {
		total += len(beside[k])
		for i := range beside[k] {
			delete(beside[i], k)
			for j := range beside[k] {
				if i != j {
					beside[i][j] = true
				}
			}
		}
	}
	return total
}
