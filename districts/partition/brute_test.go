package partition

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// brute tries every division of a problem, and knows nothing of how the solver goes about it. Sets of nodes and trains are bits.
type brute struct {
	p         *Problem
	connected []bool // by set of nodes
	load      []int64
	trains    []int64
	near      []int64
	cuts      []int64 // inside the set
	allCuts   int64

	used  []int             // by district: its set
	seen  map[[3]int64]bool // the values there are
	value [3]int64
	found bool
}

func bruteForce(p *Problem) (best [3]int64, found bool) {
	b := bruteAll(p)
	return b.value, b.found
}

func bruteAll(p *Problem) *brute {
	n := len(p.Nodes)
	b := &brute{p: p, used: make([]int, len(p.Parts)), seen: map[[3]int64]bool{}}
	for set := range 1 << n {
		b.connected = append(b.connected, connectedSet(p, set))
		load, trains := heaviest(p, set)
		near, cuts := int64(-1), int64(0)
		for v := range n {
			if set>>v&1 == 1 {
				load += p.Nodes[v].Load
				if near < 0 || p.Nodes[v].Near < near {
					near = p.Nodes[v].Near
				}
			}
		}
		for _, e := range p.Edges {
			if set>>e.A&1 == 1 && set>>e.B&1 == 1 {
				cuts += int64(e.Cuts)
			}
		}
		b.load, b.trains, b.near, b.cuts = append(b.load, load), append(b.trains, trains), append(b.near, near), append(b.cuts, cuts)
	}
	b.allCuts = b.cuts[1<<n-1]
	b.deal(1<<n - 1)
	return b
}

// deal gives the nodes that are left to districts: the first of them with every set there is.
func (b *brute) deal(left int) {
	if left == 0 {
		b.count()
		return
	}
	first := left & -left
	for set := left; set > 0; set = (set - 1) & left {
		if set&first == 0 || !b.connected[set] {
			continue
		}
		for k := range b.used {
			if b.used[k] == 0 && b.load[set] <= b.p.Parts[k].MilliAmps && b.allowed(set, k) {
				b.used[k] = set
				b.deal(left &^ set)
				b.used[k] = 0
			}
		}
	}
}

// allowed reports whether the pins of a set's nodes let it be a district.
func (b *brute) allowed(set, k int) bool {
	for v := range b.p.Nodes {
		if pin := b.p.Nodes[v].Pin; set>>v&1 == 1 && pin >= 0 && pin != k {
			return false
		}
	}
	return true
}

func (b *brute) count() {
	var terms [3]int64
	terms[Cuts] = b.allCuts
	used := 0
	for _, set := range b.used {
		if set != 0 {
			used++
			terms[Cuts] -= b.cuts[set]
			terms[Trains] = max(terms[Trains], b.trains[set])
			terms[Bus] += b.near[set]
		}
	}
	if used < b.p.Least {
		return
	}
	order := b.p.Order
	if order == [3]Term{} {
		order = [3]Term{Cuts, Trains, Bus}
	}
	x := [3]int64{terms[order[0]], terms[order[1]], terms[order[2]]}
	b.seen[x] = true
	if !b.found || less(x, b.value) {
		b.value, b.found = x, true
	}
}

// connectedSet grows a set's first node by neighbours.
func connectedSet(p *Problem, set int) bool {
	seen := set & -set
	for grown := true; grown; {
		grown = false
		for _, e := range p.Edges {
			a, b := 1<<e.A, 1<<e.B
			if set&a != 0 && set&b != 0 && (seen&a == 0) != (seen&b == 0) {
				seen |= a | b
				grown = true
			}
		}
	}
	return seen == set
}

// heaviest tries every set of trains in a set of nodes: its greatest current, and its greatest number.
func heaviest(p *Problem, set int) (amps, most int64) {
	var berths []int // the node of each
	for v := range p.Nodes {
		for range p.Nodes[v].Berths {
			if set>>v&1 == 1 {
				berths = append(berths, v)
			}
		}
	}
	for who := range 1 << len(p.Trains) {
		n := bits.OnesCount(uint(who))
		if p.AtOnce > 0 && n > p.AtOnce || n > len(berths) || !stand(p, who, berths) {
			continue
		}
		sum := int64(0)
		for t := range p.Trains {
			if who>>t&1 == 1 {
				sum += p.Trains[t].MilliAmps
			}
		}
		amps, most = max(amps, sum), max(most, int64(n))
	}
	return amps, most
}

// stand gives each train a berth, the first train in every way there is.
func stand(p *Problem, who int, berths []int) bool {
	if who == 0 {
		return true
	}
	t := bits.TrailingZeros(uint(who))
	for i, v := range berths {
		if p.Nodes[v].Only == nil || slices.Contains(p.Nodes[v].Only, t) {
			rest := append(slices.Clone(berths[:i]), berths[i+1:]...)
			if stand(p, who&^(1<<t), rest) {
				return true
			}
		}
	}
	return false
}

func less(x, y [3]int64) bool { return slices.Compare(x[:], y[:]) < 0 }

// orders are all orders of the terms.
var orders = [][3]Term{{Cuts, Trains, Bus}, {Cuts, Bus, Trains}, {Trains, Cuts, Bus}, {Trains, Bus, Cuts}, {Bus, Cuts, Trains}, {Bus, Trains, Cuts}}

// dress gives a graph everything there is: standing loads, pins, nodes that admit some trains only, districts of several
// capacities, some of which may have to be used.
func dress(r *rand.Rand, nodes int, edges []Edge) *Problem {
	p := &Problem{Order: orders[r.IntN(len(orders))], AtOnce: r.IntN(4), Edges: edges}
	for range r.IntN(5) {
		p.Trains = append(p.Trains, Train{int64(r.IntN(4) * 500)})
	}
	parts := 1 + r.IntN(4)
	size := 1 + r.IntN(4)
	for range parts {
		p.Parts = append(p.Parts, Capacity{int64((1 + r.IntN(size)) * 1000)})
	}
	if r.IntN(2) == 0 {
		p.Least = r.IntN(parts + 1)
	}
	restricted, pinned := r.IntN(2) == 0, r.IntN(3) == 0
	for range nodes {
		v := Node{Berths: r.IntN(3), Near: int64(r.IntN(5)), Pin: -1}
		if r.IntN(3) == 0 {
			v.Load = int64(r.IntN(3) * 400)
		}
		if pinned && r.IntN(4) == 0 {
			v.Pin = r.IntN(parts)
		}
		if restricted && r.IntN(2) == 0 {
			v.Only = []int{}
			for t := range p.Trains {
				if r.IntN(2) == 0 {
					v.Only = append(v.Only, t)
				}
			}
		}
		p.Nodes = append(p.Nodes, v)
	}
	return p
}

// random is a small problem, now and then in several pieces, with parallel edges and loops.
func random(r *rand.Rand, nodes int) *Problem {
	var edges []Edge
	for a := 1; a < nodes; a++ {
		if r.IntN(20) > 0 {
			edges = append(edges, Edge{int32(a), int32(r.IntN(a)), int32(r.IntN(3))})
		}
	}
	for range r.IntN(nodes) {
		edges = append(edges, Edge{int32(r.IntN(nodes)), int32(r.IntN(nodes)), int32(r.IntN(3))})
	}
	return dress(r, nodes, edges)
}

// tally counts what brute force found.
type tally struct{ found, impossible int }

// compare holds a result against brute force.
func (c *tally) compare(t *testing.T, p *Problem, got *Result) {
	t.Helper()
	want, found := bruteForce(p)
	if !found {
		c.impossible++
		if got.Feasible != Impossible || got.Why == nil || got.Part != nil {
			t.Fatalf("there is no division, got %+v of %+v", got, p)
		}
		return
	}
	c.found++
	value, err := p.Evaluate(got.Part)
	if err != nil || got.Feasible != Found || value != want || got.Value != want || got.Bound != want || got.Proven != [3]bool{true, true, true} {
		t.Fatalf("want %v, got %+v, worth %v, %v, of %+v", want, got, value, err, p)
	}
}

func (c *tally) enough(t *testing.T) {
	t.Helper()
	t.Logf("%d divided, %d cannot be", c.found, c.impossible)
	if c.found < c.impossible/2 || c.impossible < c.found/10 {
		t.Error("the problems are lopsided")
	}
}

// TestEveryGraph compares with every division of every connected graph of up to six nodes, each dressed in several ways.
func TestEveryGraph(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	var c tally
	for n := 1; n <= 6; n++ {
		graphs := connectedGraphs(n)
		if want := []int{0, 1, 1, 2, 6, 21, 112}[n]; len(graphs) != want { // their number: OEIS A001349, from memory
			t.Fatalf("%d graphs of %d nodes, want %d", len(graphs), n, want)
		}
		for _, pairs := range graphs {
			for range 12 {
				edges := slices.Clone(pairs)
				for i := range edges {
					edges[i].Cuts = int32(r.IntN(3))
				}
				p := dress(r, n, edges)
				c.compare(t, p, solved(t, p, DefaultWork))
			}
		}
	}
	c.enough(t)
}

// connectedGraphs lists the connected graphs of n nodes, of those that differ in their numbering only the first.
func connectedGraphs(n int) (out [][]Edge) {
	var pairs []Edge
	for a := range int32(n) {
		for b := range a {
			pairs = append(pairs, Edge{A: a, B: b})
		}
	}
	orders := permutations(n)
	seen := make([]bool, 1<<len(pairs))
	for set := range seen {
		if seen[set] {
			continue
		}
		var edges []Edge
		for i, e := range pairs {
			if set>>i&1 == 1 {
				edges = append(edges, e)
			}
		}
		for _, to := range orders {
			other := 0
			for _, e := range edges {
				a, b := max(to[e.A], to[e.B]), min(to[e.A], to[e.B])
				other |= 1 << (a*(a-1)/2 + b)
			}
			seen[other] = true
		}
		if connectedSet(&Problem{Edges: edges}, 1<<n-1) {
			out = append(out, edges)
		}
	}
	return out
}

func permutations(n int) [][]int {
	if n == 0 {
		return [][]int{nil}
	}
	var out [][]int
	for _, p := range permutations(n - 1) {
		for at := range n {
			out = append(out, slices.Insert(slices.Clone(p), at, n-1))
		}
	}
	return out
}

// TestBruteForce compares with every division of thousands of problems of up to nine nodes. The first round keeps few
// borders, so that some are thrown away and later rounds go by what earlier ones have learnt.
func TestBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var c tally
	for range 4000 {
		p := random(r, 1+r.IntN(9))
		s := newSolver(p, DefaultWork)
		s.width = 1 + r.IntN(8)
		got, err := s.solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		c.compare(t, p, got)
	}
	c.enough(t)
}

// best is the least of a term among the divisions that have some values of the terms before.
func (b *brute) best(k int, before [3]int64) int64 {
	least := int64(-1)
	for x := range b.seen {
		if slices.Equal(x[:k], before[:k]) && (least < 0 || x[k] < least) {
			least = x[k]
		}
	}
	return least
}

// TestBounds: stopped at any time, what is found is a division, no bound is above the best, nothing is said to be proved that is
// not, and nothing to be impossible that is not.
func TestBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var open, proven [3]int
	for i := range 4000 {
		p := random(r, 5+r.IntN(4))
		all := bruteAll(p)
		s := newSolver(p, int64(1+r.IntN(1000)))
		s.width, s.wider = 1+r.IntN(4), 1+r.IntN(3)
		got, err := s.solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if !all.found && got.Feasible == Found || all.found && got.Feasible == Impossible {
			t.Fatalf("%d: best %v %v, got %+v", i, all.value, all.found, got)
		}
		if got.Feasible != Found {
			continue
		}
		if x, err := p.Evaluate(got.Part); err != nil || x != got.Value {
			t.Fatalf("%d: %v %v, said %v", i, x, err, got.Value)
		}
		for k := range 3 {
			best := all.best(k, got.Value)
			if got.Bound[k] > best || got.Proven[k] != (got.Bound[k] == got.Value[k]) {
				t.Fatalf("%d: best %v, term %d %d, got %+v of %+v", i, all.value, k, best, got, p)
			}
			if got.Proven[k] {
				proven[k]++
			} else {
				open[k]++
			}
		}
	}
	t.Logf("terms left open %v, proved %v", open, proven)
	for k := range 3 {
		if open[k] < 100 || proven[k] < 100 {
			t.Errorf("term %d: %d left open, %d proved", k, open[k], proven[k])
		}
	}
}
