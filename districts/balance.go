package districts

import (
	"cmp"
	"context"
	"slices"
)

// A signedGraph says which things must agree and which must differ. Each edge has a
// weight: what it costs to call it wrong. A graph is balanced when every edge can be
// satisfied at once (Harary 1953).
type signedGraph struct {
	n     int
	edges []signedEdge
}

type signedEdge struct {
	u, v   int32
	turned bool
	weight int32
	kind   edgeKind
	ref    int32
}

type edgeKind uint8

const (
	feederEdge edgeKind = iota // ref: feeder
	gapEdge                    // ref: way
	railEdge                   // ref: way
	signalEdge                 // ref: booster
	plugEdge                   // ref: plug
)

// balanceWork bounds the search for a least explanation: edges looked at.
const balanceWork = 40_000_000

// explanation is a set of edges whose wrongness explains every contradiction.
type explanation struct {
	edges []int32 // rising
	cost  int32
}

// balance finds the least-weight sets of edges without which the graph is balanced: best
// first, then others of the same cost (eight at most). work bounds the edges looked at;
// exact is false when it was reached, and the best found is then given.
//
// Method: the edges left over by a heaviest spanning forest give a first answer; it is
// improved by branching over the edges of a shortest contradictory ring, one of which must
// be wrong in any answer.
func (g *signedGraph) balance(ctx context.Context, work int) (best []explanation, exact bool) {
	first := g.leftOver(nil)
	if len(first) == 0 {
		return nil, true
	}
	s := &balanceSearch{g: g, ctx: ctx, adj: g.adjacency(), gone: make([]bool, len(g.edges)), via: make([]int32, 2*g.n), left: work, exact: true}
	s.best = []explanation{{edges: first, cost: g.cost(first)}}
	s.branch(0)
	slices.SortFunc(s.best, func(x, y explanation) int {
		return cmp.Or(cmp.Compare(len(x.edges), len(y.edges)), slices.Compare(x.edges, y.edges))
	})
	return s.best, s.exact
}

func (g *signedGraph) adjacency() *adjacency {
	return newAdjacency(g.n, len(g.edges), func(e int) (int32, int32) { return g.edges[e].u, g.edges[e].v })
}

func (g *signedGraph) cost(edges []int32) int32 {
	var c int32
	for _, e := range edges {
		c += g.edges[e].weight
	}
	return c
}

// leftOver takes edges by falling weight and returns those that contradict the ones
// taken before, rising; edges marked gone are left out.
func (g *signedGraph) leftOver(gone []bool) []int32 {
	order := make([]int32, 0, len(g.edges))
	for e := range g.edges {
		if gone == nil || !gone[e] {
			order = append(order, int32(e))
		}
	}
	slices.SortStableFunc(order, func(x, y int32) int { return -cmp.Compare(g.edges[x].weight, g.edges[y].weight) })
	p := newParityFind(g.n)
	var out []int32
	for _, e := range order {
		if !p.union(g.edges[e].u, g.edges[e].v, g.edges[e].turned) {
			out = append(out, e)
		}
	}
	slices.Sort(out)
	return out
}

type balanceSearch struct {
	g     *signedGraph
	ctx   context.Context
	adj   *adjacency
	gone  []bool
	taken []int32
	best  []explanation
	via   []int32
	left  int // work
	exact bool
}

func (s *balanceSearch) branch(cost int32) {
	s.left -= len(s.g.edges)
	if s.left < 0 || s.ctx.Err() != nil {
		s.exact = false
		return
	}
	over := s.g.leftOver(s.gone)
	if len(over) == 0 {
		s.record(cost)
		return
	}
	ring := s.shortestRing(over)
	slices.SortStableFunc(ring, func(x, y int32) int {
		return cmp.Or(cmp.Compare(s.g.edges[x].weight, s.g.edges[y].weight), cmp.Compare(x, y))
	})
	for _, e := range ring {
		w := s.g.edges[e].weight
		if cost+w > s.best[0].cost {
			break
		}
		s.gone[e] = true
		s.taken = append(s.taken, e)
		s.branch(cost + w)
		s.taken = s.taken[:len(s.taken)-1]
		s.gone[e] = false
	}
}

func (s *balanceSearch) record(cost int32) {
	edges := slices.Clone(s.taken)
	slices.Sort(edges)
	switch {
	case cost < s.best[0].cost:
		s.best = []explanation{{edges, cost}}
	case len(s.best) < 8 && !slices.ContainsFunc(s.best, func(x explanation) bool { return slices.Equal(x.edges, edges) }):
		s.best = append(s.best, explanation{edges, cost})
	}
}

// shortestRing is the shortest contradictory ring through any of a few left-over edges.
func (s *balanceSearch) shortestRing(over []int32) []int32 {
	var best []int32
	for _, e := range over[:min(len(over), 4)] {
		ring := s.ringThrough(e)
		if best == nil || len(ring) < len(best) {
			best = ring
		}
	}
	return best
}

// ringThrough finds the fewest edges that lead from one end of e to the other in the
// sense that contradicts e: a breadth-first search in the double cover, where each
// vertex stands twice, once for either sense.
func (s *balanceSearch) ringThrough(e int32) []int32 {
	g := s.g
	edge := g.edges[e]
	if edge.u == edge.v {
		return []int32{e}
	}
	for i := range s.via {
		s.via[i] = -1
	}
	start := 2 * edge.u
	goal := 2 * edge.v
	if !edge.turned {
		goal++
	}
	s.via[start] = -2
	queue := []int32{start}
	for len(queue) > 0 && s.via[goal] == -1 {
		x := queue[0]
		queue = queue[1:]
		v, sense := x/2, x%2
		for _, k := range s.adj.of(v) {
			s.left--
			if s.gone[k] || k == e {
				continue
			}
			o := 2*(g.edges[k].u+g.edges[k].v-v) + sense
			if g.edges[k].turned {
				o ^= 1
			}
			if s.via[o] == -1 {
				s.via[o] = k
				queue = append(queue, o)
			}
		}
	}
	ring := []int32{e}
	if s.via[goal] == -1 {
		return ring
	}
	for x := goal; x != start; {
		k := s.via[x]
		if !slices.Contains(ring, k) {
			ring = append(ring, k)
		}
		o := 2*(g.edges[k].u+g.edges[k].v-x/2) + x%2
		if g.edges[k].turned {
			o ^= 1
		}
		x = o
	}
	return ring
}
