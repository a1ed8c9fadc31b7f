package partition

import (
	"context"
	"math/rand/v2"
	"reflect"
	"testing"
)

func solved(t *testing.T, p *Problem, work int64) *Result {
	t.Helper()
	x, err := Solve(context.Background(), p, work)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestRenumbered: numbering nodes, edges and trains otherwise changes nothing about the value, and a problem solved twice gives the same result.
func TestRenumbered(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for i := range 300 {
		p := random(r, 3+r.IntN(8))
		first := solved(t, p, DefaultWork)
		if again := solved(t, p, DefaultWork); !reflect.DeepEqual(first, again) {
			t.Fatalf("%d: %+v, then %+v", i, first, again)
		}
		q := *p
		to := r.Perm(len(p.Nodes))
		q.Nodes, q.Edges = make([]Node, len(p.Nodes)), nil
		for v := range p.Nodes {
			q.Nodes[to[v]] = p.Nodes[v]
		}
		for _, e := range r.Perm(len(p.Edges)) {
			k := p.Edges[e]
			q.Edges = append(q.Edges, Edge{int32(to[k.B]), int32(to[k.A]), k.Cuts})
		}
		if other := solved(t, &q, DefaultWork); other.Value != first.Value || other.Feasible != first.Feasible {
			t.Fatalf("%d: %+v, renumbered %+v", i, first, other)
		}
	}
}

// TestMoreWork: more work is never worse, and every district is connected, complete and within its capacity.
func TestMoreWork(t *testing.T) {
	for seed := range uint64(3) {
		p := realistic(40, 5, 3000, seed)
		var last *Result
		for work := int64(1); work < 3_000_000; work *= 30 {
			x := solved(t, p, work)
			if x.Feasible == Found {
				if value, err := p.Evaluate(x.Part); err != nil || value != x.Value {
					t.Fatalf("seed %d, work %d: %v, %v, said %v", seed, work, value, err, x.Value)
				}
			}
			if last != nil && last.Feasible == Found && (x.Feasible != Found || less(last.Value, x.Value)) {
				t.Errorf("seed %d: %v with less work, %v with %d", seed, last.Value, x.Value, work)
			}
			last = x
		}
	}
}

// TestRefused: what makes no sense is refused, not solved.
func TestRefused(t *testing.T) {
	sound := func() *Problem {
		return &Problem{Nodes: []Node{{Pin: -1}, {Pin: -1}}, Edges: []Edge{{0, 1, 1}}, Parts: []Capacity{{1}}}
	}
	for name, spoil := range map[string]func(*Problem){
		"no nodes":        func(p *Problem) { p.Nodes, p.Edges = nil, nil },
		"no districts":    func(p *Problem) { p.Parts = nil },
		"a loose edge":    func(p *Problem) { p.Edges[0].B = 2 },
		"negative cuts":   func(p *Problem) { p.Edges[0].Cuts = -1 },
		"negative load":   func(p *Problem) { p.Nodes[0].Load = -1 },
		"no such pin":     func(p *Problem) { p.Nodes[0].Pin = 1 },
		"no such train":   func(p *Problem) { p.Nodes[0].Only = []int{0} },
		"negative train":  func(p *Problem) { p.Trains = []Train{{-1}} },
		"too many to use": func(p *Problem) { p.Least = 2 },
		"a term twice":    func(p *Problem) { p.Order = [3]Term{Cuts, Cuts, Bus} },
	} {
		p := sound()
		spoil(p)
		if _, err := Solve(context.Background(), p, 1); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Solve(ctx, sound(), 1); err == nil {
		t.Error("a cancelled search goes on")
	}
}

// TestExhaustive compares with every division of every connected graph of up to five nodes, with two kinds of trains.
func TestExhaustive(t *testing.T) {
	for n := 2; n <= 5; n++ {
		var pairs []Edge
		for a := range n {
			for b := range a {
				pairs = append(pairs, Edge{int32(a), int32(b), 1})
			}
		}
		for set := range 1 << len(pairs) {
			p := &Problem{Trains: []Train{{900}, {500}, {500}}, Parts: []Capacity{{1500}, {1500}, {1000}}}
			for v := range n {
				p.Nodes = append(p.Nodes, Node{Berths: v % 2, Near: int64(v * v % 5), Load: int64(100 * (v % 3)), Pin: -1})
			}
			for i, e := range pairs {
				if set>>i&1 == 1 {
					e.Cuts = int32((i + set) % 3)
					p.Edges = append(p.Edges, e)
				}
			}
			want, found := bruteForce(p)
			if got := solved(t, p, DefaultWork); found != (got.Feasible == Found) || found && got.Value != want {
				t.Fatalf("%d nodes, edges %b: want %v, got %+v", n, set, want, got)
			}
		}
	}
}
