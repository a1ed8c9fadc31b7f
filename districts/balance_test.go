package districts

import (
	"context"
	"fmt"
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// rounds is how often a law is tried: rapid takes a hundred samples a round.
const rounds = 60

func checkOften(t *testing.T, law func(t *rapid.T)) {
	t.Helper()
	for range rounds {
		rapid.Check(t, law)
	}
}

// drawGraph draws a small signed graph; parallel edges and self-loops are common in it.
func drawGraph(t *rapid.T) *signedGraph {
	g := &signedGraph{n: rapid.SampledFrom([]int{1, 2, 3, 4, 5, 6}).Draw(t, "vertices")}
	weights := rapid.SampledFrom([][]int32{{1}, {1, 2}, {1, 2, 3, 10, 12, 15}}).Draw(t, "weights")
	for range rapid.SampledFrom([]int{0, 2, 4, 6, 8, 9, 10}).Draw(t, "edges") {
		g.edges = append(g.edges, signedEdge{
			u:      drawVertex(t, g.n),
			v:      drawVertex(t, g.n),
			turned: rapid.Bool().Draw(t, "turned"),
			weight: rapid.SampledFrom(weights).Draw(t, "weight"),
		})
	}
	return g
}

// drawVertex draws evenly, where IntRange would favour the least.
func drawVertex(t *rapid.T, n int) int32 {
	return rapid.SampledFrom([]int32{0, 1, 2, 3, 4, 5, 6, 7}[:n]).Draw(t, "vertex")
}

// violated lists the edges that a colouring in two colours (bit v for vertex v) contradicts:
// an edge that is not turned wants one colour at both ends, a turned one wants two.
func violated(g *signedGraph, colouring uint) []int32 {
	out := []int32{}
	for i, e := range g.edges {
		differ := (colouring>>e.u)&1 != (colouring>>e.v)&1
		if differ != e.turned {
			out = append(out, int32(i))
		}
	}
	return out
}

// leastByColours tries every colouring: the least weight of violated edges, and every set
// of that weight. Weights are positive, so that a least set is just what its colouring
// violates.
func leastByColours(g *signedGraph) (int32, [][]int32) {
	least := int32(1 << 30)
	var sets [][]int32
	for colouring := range uint(1) << g.n {
		set := violated(g, colouring)
		cost := g.cost(set)
		if cost < least {
			least, sets = cost, nil
		}
		if cost == least && !slices.ContainsFunc(sets, func(x []int32) bool { return slices.Equal(x, set) }) {
			sets = append(sets, set)
		}
	}
	return least, sets
}

// leastByRemoval tries every set of edges: the least weight whose removal leaves no
// negative cycle.
func leastByRemoval(g *signedGraph) int32 {
	negative := negativeCycles(g)
	least := int32(1 << 30)
	for removed := range uint(1) << len(g.edges) {
		if slices.ContainsFunc(negative, func(cycle uint) bool { return cycle&removed == 0 }) {
			continue
		}
		cost := int32(0)
		for i, e := range g.edges {
			if removed>>i&1 == 1 {
				cost += e.weight
			}
		}
		least = min(least, cost)
	}
	return least
}

// negativeCycles lists, as sets of edges, the cycles with an odd number of turned edges:
// every set of edges that is one ring is looked at.
func negativeCycles(g *signedGraph) []uint {
	var out []uint
	for set := uint(1); set < uint(1)<<len(g.edges); set++ {
		turned := 0
		for i, e := range g.edges {
			if set>>i&1 == 1 && e.turned {
				turned++
			}
		}
		if turned%2 == 1 && isRing(g, set) {
			out = append(out, set)
		}
	}
	return out
}

// isRing reports whether a set of edges is one cycle: every vertex on it has two edge
// ends, and walking on from any edge passes all of them.
func isRing(g *signedGraph, set uint) bool {
	degree := make([]int, g.n)
	for i, e := range g.edges {
		if set>>i&1 == 1 {
			degree[e.u]++
			degree[e.v]++
		}
	}
	for _, d := range degree {
		if d != 0 && d != 2 {
			return false
		}
	}
	reached := set & -set
	for range g.edges {
		for i, e := range g.edges {
			for j, f := range g.edges {
				touch := e.u == f.u || e.u == f.v || e.v == f.u || e.v == f.v
				if touch && reached>>i&1 == 1 && set>>j&1 == 1 {
					reached |= 1 << j
				}
			}
		}
	}
	return reached == set
}

// without is a graph less some edges.
func (g *signedGraph) without(gone []int32) *signedGraph {
	out := &signedGraph{n: g.n}
	for i, e := range g.edges {
		if !slices.Contains(gone, int32(i)) {
			out.edges = append(out.edges, e)
		}
	}
	return out
}

// TestBalanceAgainstBruteForce: the cost is the frustration index of the weighted graph,
// the least weight whose removal balances it (facts, section 10, after Harary 1953: "the
// frustration index (fewest edges whose removal balances it)"), here found by trying every
// colouring and every set of edges.
func TestBalanceAgainstBruteForce(t *testing.T) {
	unbalanced, several := 0, 0
	checkOften(t, func(t *rapid.T) {
		g := drawGraph(t)
		best, exact := g.balance(context.Background(), balanceWork)
		if !exact {
			t.Fatal("a graph of ten edges was not searched to the end")
		}
		least, sets := leastByColours(g)
		if byRemoval := leastByRemoval(g); byRemoval != least {
			t.Fatalf("the two brute forces differ: colours %d, removals %d", least, byRemoval)
		}
		if least == 0 {
			if best != nil {
				t.Fatalf("balanced, but explained by %v", best)
			}
			return
		}
		unbalanced++
		if want := min(len(sets), 8); len(best) != want {
			t.Fatalf("%d explanations, want %d of %v", len(best), want, sets)
		}
		for i, x := range best {
			if x.cost != least || g.cost(x.edges) != least {
				t.Fatalf("explanation %v costs %d, the least is %d", x.edges, x.cost, least)
			}
			if !slices.ContainsFunc(sets, func(s []int32) bool { return slices.Equal(s, x.edges) }) {
				t.Fatalf("explanation %v is not among %v", x.edges, sets)
			}
			if left := negativeCycles(g.without(x.edges)); len(left) > 0 {
				t.Fatalf("without %v the ring %b is still negative", x.edges, left[0])
			}
			if i > 0 && slices.Equal(best[i-1].edges, x.edges) {
				t.Fatalf("%v twice", x.edges)
			}
			if i > 0 && len(best[i-1].edges) > len(x.edges) {
				t.Fatalf("more edges before fewer: %v", best)
			}
		}
		if len(best) > 1 {
			several++
		}
	})
	t.Logf("%d unbalanced graphs, %d of them with several explanations", unbalanced, several)
	if unbalanced < 400 || several < 50 {
		t.Errorf("the samples are too tame: %d unbalanced, %d with several explanations", unbalanced, several)
	}
}

// TestHarary: balanced if and only if every cycle is positive, if and only if two colours
// will do (facts, section 10: "balanced iff every cycle is positive, iff nodes split in two
// sets with exactly the negative edges between").
func TestHarary(t *testing.T) {
	checkOften(t, func(t *rapid.T) {
		g := drawGraph(t)
		best, _ := g.balance(context.Background(), balanceWork)
		least, _ := leastByColours(g)
		balanced, positive, colours := len(best) == 0, len(negativeCycles(g)) == 0, least == 0
		if balanced != positive || positive != colours {
			t.Fatalf("no explanation needed: %t; every cycle positive: %t; two colours do: %t", balanced, positive, colours)
		}
	})
}

// TestBalanceOfNamedTrack: facts, section 10: "Oval +; balloon loop and wye -; two swaps in
// one cycle +". A vertex is a piece of track, an edge a joint, turned where left meets right.
func TestBalanceOfNamedTrack(t *testing.T) {
	ring := func(n int32, turned ...int32) *signedGraph {
		g := &signedGraph{n: int(n)}
		for i := range n {
			g.edges = append(g.edges, signedEdge{u: i, v: (i + 1) % n, turned: slices.Contains(turned, i), weight: 1})
		}
		return g
	}
	for _, c := range []struct {
		name string
		g    *signedGraph
		want int // weight to take out
	}{
		{"oval of five", ring(5), 0},
		{"balloon: the loop comes home by the wrong end", ring(3, 2), 1},
		{"wye: three tracks, three swaps", ring(3, 0, 1, 2), 1},
		{"two swaps in one cycle", ring(6, 1, 4), 0},
		{"a track joined to itself the wrong way", ring(1, 0), 1},
		{"two tracks, joined once each way round", ring(2, 1), 1},
	} {
		best, exact := c.g.balance(context.Background(), balanceWork)
		got := 0
		if len(best) > 0 {
			got = int(best[0].cost)
		}
		if !exact || got != c.want {
			t.Errorf("%s: costs %d, want %d", c.name, got, c.want)
		}
	}
}

// TestBalanceOfCompleteGraphs: where every edge is turned, a set whose removal balances is what a
// greatest cut leaves: of the complete graph on n vertices n(n-1)/2 - floor(n²/4) edges
// (from memory, no source; the greatest cut halves the vertices).
func TestBalanceOfCompleteGraphs(t *testing.T) {
	for n := int32(2); n <= 7; n++ {
		g := &signedGraph{n: int(n)}
		for u := range n {
			for v := u + 1; v < n; v++ {
				g.edges = append(g.edges, signedEdge{u: u, v: v, turned: true, weight: 1})
			}
		}
		want := n*(n-1)/2 - n*n/4
		best, exact := g.balance(context.Background(), balanceWork)
		cost := int32(0)
		if len(best) > 0 {
			cost = best[0].cost
		}
		if !exact || cost != want {
			t.Errorf("n = %d: cost %d, want %d", n, cost, want)
		}
	}
}

// TestBalanceBounded: when the work is bounded or the context ends, the answer is said to
// be inexact and still balances the graph.
func TestBalanceBounded(t *testing.T) {
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	inexact, worse := 0, 0
	checkOften(t, func(t *rapid.T) {
		g := drawGraph(t)
		work := rapid.IntRange(0, 120).Draw(t, "work")
		ctx := context.Background()
		if rapid.IntRange(0, 9).Draw(t, "cancelled") == 0 {
			ctx = cancelled
		}
		best, exact := g.balance(ctx, work)
		least, _ := leastByColours(g)
		if least == 0 {
			if best != nil || !exact {
				t.Fatalf("balanced, but got %v, exact %t", best, exact)
			}
			return
		}
		if ctx.Err() != nil && exact {
			t.Fatal("the context had ended, and the answer claims to be exact")
		}
		if len(best) == 0 {
			t.Fatal("no explanation of an unbalanced graph")
		}
		for _, x := range best {
			if x.cost != g.cost(x.edges) || x.cost != best[0].cost {
				t.Fatalf("costs differ: %v", best)
			}
			if left := negativeCycles(g.without(x.edges)); len(left) > 0 {
				t.Fatalf("without %v the ring %b is still negative", x.edges, left[0])
			}
		}
		if exact && best[0].cost != least {
			t.Fatalf("said to be exact at %d, the least is %d", best[0].cost, least)
		}
		if !exact {
			inexact++
			if best[0].cost > least {
				worse++
			}
		}
	})
	t.Logf("%d searches cut short, %d of them with a dearer answer than the best", inexact, worse)
	if inexact < 100 {
		t.Errorf("only %d searches were cut short", inexact)
	}
}

// TestHeaviestForestFirst: what the first answer leaves over never contradicts a
// heavier edge alone, and removing it balances.
func TestHeaviestForestFirst(t *testing.T) {
	checkOften(t, func(t *rapid.T) {
		g := drawGraph(t)
		over := g.leftOver(nil)
		if !slices.IsSorted(over) {
			t.Fatalf("not rising: %v", over)
		}
		for _, cycle := range negativeCycles(g) {
			if bits.OnesCount(cycle&mask(over)) == 0 {
				t.Fatalf("ring %b keeps none of %v", cycle, over)
			}
		}
	})
}

func mask(edges []int32) (m uint) {
	for _, e := range edges {
		m |= 1 << e
	}
	return m
}

func (e signedEdge) GoString() string {
	sign := "+"
	if e.turned {
		sign = "-"
	}
	return fmt.Sprintf("%d%s%d(%d)", e.u, sign, e.v, e.weight)
}
