package districts

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// parts reports whether taking out some edges parts the source from the sink.
func parts(n int, edges []flowEdge, gone []int32, source, sink int32) bool {
	seen := make([]bool, n)
	seen[source] = true
	for range n {
		for i, e := range edges {
			if !slices.Contains(gone, int32(i)) && seen[e.a] != seen[e.b] {
				seen[e.a], seen[e.b] = true, true
			}
		}
	}
	return !seen[sink]
}

func capacityOf(edges []flowEdge, cut []int32) (c int32) {
	for _, e := range cut {
		c += edges[e].capacity
	}
	return c
}

// TestMinCutAgainstBruteForce tries every side that the vertices could take (the
// greatest flow equals the least cut: Ford and Fulkerson 1956, from memory).
func TestMinCutAgainstBruteForce(t *testing.T) {
	apart := 0
	checkOften(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{2, 3, 4, 5, 6, 7}).Draw(t, "vertices")
		var edges []flowEdge
		for range rapid.SampledFrom([]int{0, 3, 6, 9, 12, 14}).Draw(t, "edges") {
			edges = append(edges, flowEdge{
				a:        drawVertex(t, n),
				b:        drawVertex(t, n),
				capacity: rapid.SampledFrom([]int32{1, 2, 3, 4, 6, 10, 15, 30, 60}).Draw(t, "capacity"),
			})
		}
		source := drawVertex(t, n)
		sink := (source + 1 + drawVertex(t, n-1)) % int32(n)
		least, nearest := int32(1<<30), n+1
		for side := range uint(1) << n {
			if side>>source&1 == 0 || side>>sink&1 == 1 {
				continue
			}
			cost, members := int32(0), 0
			for _, e := range edges {
				if side>>e.a&1 != side>>e.b&1 {
					cost += e.capacity
				}
			}
			for v := range n {
				members += int(side >> v & 1)
			}
			if cost < least || (cost == least && members < nearest) {
				least, nearest = cost, members
			}
		}
		cut, cost := minCut(n, edges, source, sink)
		switch {
		case cost != least:
			t.Fatalf("cost %d, least %d", cost, least)
		case capacityOf(edges, cut) != cost:
			t.Fatalf("the cut's edges hold %d, its cost is %d", capacityOf(edges, cut), cost)
		case !parts(n, edges, cut, source, sink):
			t.Fatalf("cut %v parts nothing", cut)
		case !slices.IsSorted(cut):
			t.Fatalf("not rising: %v", cut)
		}
		for i := range cut {
			if parts(n, edges, slices.Delete(slices.Clone(cut), i, i+1), source, sink) {
				t.Fatalf("edge %d of cut %v is needless", cut[i], cut)
			}
		}
		if size := reachable(n, edges, cut, source); size != nearest {
			t.Fatalf("the cut leaves %d vertices with the source; the nearest least cut leaves %d", size, nearest)
		}
		if cost > 0 {
			apart++
		}
	})
	if apart < 400 {
		t.Errorf("only %d networks had anything to cut", apart)
	}
}

// reachable counts the vertices on the source's side of a cut.
func reachable(n int, edges []flowEdge, gone []int32, source int32) int {
	seen := make([]bool, n)
	seen[source] = true
	for range n {
		for i, e := range edges {
			if !slices.Contains(gone, int32(i)) && seen[e.a] != seen[e.b] {
				seen[e.a], seen[e.b] = true, true
			}
		}
	}
	count := 0
	for _, s := range seen {
		if s {
			count++
		}
	}
	return count
}
