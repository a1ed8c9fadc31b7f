package partition

import (
	"context"
	"errors"
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
		p := random(r, 3+r.IntN(12))
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
		p := trackPlan(60, 6, 1, seed == 1, seed)
		var last *Result
		found := 0
		for work := int64(1); work < 400_000; work += 1 + work/3 {
			x := solved(t, p, work)
			if x.Feasible == Found {
				found++
				if value, err := p.Evaluate(x.Part); err != nil || value != x.Value {
					t.Fatalf("seed %d, work %d: %v, %v, said %v", seed, work, value, err, x.Value)
				}
			}
			if last != nil && last.Feasible == Found && (x.Feasible != Found || less(last.Value, x.Value)) {
				t.Errorf("seed %d: %v with less work, %v with %d", seed, last.Value, x.Value, work)
			}
			last = x
		}
		if found < 10 || last.Proven != [3]bool{true, true, true} {
			t.Errorf("seed %d: found %d times, at last %+v", seed, found, last)
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
		"endless load":    func(p *Problem) { p.Nodes[0].Load = 1 << 62 },
		"endless rating":  func(p *Problem) { p.Parts[0].MilliAmps = 1 << 62 },
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

// TestWhy: each plain reason is given, with by how much and how many more districts.
func TestWhy(t *testing.T) {
	nodes := func(n, berths int, load int64) (out []Node) {
		for range n {
			out = append(out, Node{Berths: berths, Load: load, Pin: -1})
		}
		return out
	}
	trains := []Train{{600}, {500}, {400}, {400}}
	for name, k := range map[string]struct {
		p    Problem
		want Impossibility
	}{
		"one node is too much": {Problem{Nodes: append(nodes(2, 0, 100), Node{Load: 300, Berths: 2, Pin: -1}), Trains: trains, Parts: []Capacity{{1000}, {1200}}}, Impossibility{Node: 2, Over: 200}},
		"for where it belongs": {Problem{Nodes: append(nodes(2, 0, 100), Node{Load: 1100, Pin: 0}), Parts: []Capacity{{1000}, {1200}}}, Impossibility{Node: 2, Over: 100}},
		"all together":         {Problem{Nodes: nodes(5, 0, 900), Parts: []Capacity{{1000}, {1200}}}, Impossibility{Node: -1, Together: true, Over: 2300, More: 2}},
		// 1200 mA take two of the trains, so that two districts have four berths
		"berths":   {Problem{Nodes: nodes(7, 1, 0), Trains: trains, Parts: []Capacity{{1200}, {1200}}}, Impossibility{Node: -1, Berths: 3, More: 2}},
		"too few":  {Problem{Nodes: nodes(2, 0, 0), Parts: []Capacity{{1}, {1}, {1}}, Least: 3}, Impossibility{Node: -1, Few: true}},
		"in three": {Problem{Nodes: nodes(3, 0, 0), Parts: []Capacity{{1}, {1}}}, Impossibility{Node: -1}},
	} {
		if name != "in three" {
			k.p.Edges = path(len(k.p.Nodes))
		}
		x := solved(t, &k.p, DefaultWork)
		if x.Feasible != Impossible || x.Why == nil || *x.Why != k.want {
			t.Errorf("%s: got %+v, %+v, want %+v", name, x, x.Why, k.want)
		}
	}
	unfinished := solved(t, trackPlan(60, 5, 1, false, 0), 1)
	if unfinished.Feasible != Unknown || unfinished.Why == nil {
		t.Errorf("with no work: %+v", unfinished)
	}
}

// TestBroken: Evaluate refuses divisions that are none.
func TestBroken(t *testing.T) {
	p := &Problem{Nodes: []Node{{Load: 1, Pin: 0}, {Load: 1, Pin: -1}, {Load: 1, Pin: -1}}, Edges: path(3), Parts: []Capacity{{2}, {2}}, Least: 2}
	if value, err := p.Evaluate([]int32{0, 0, 1}); err != nil || value != [3]int64{1, 0, 0} {
		t.Errorf("a sound division: %v, %v", value, err)
	}
	for name, part := range map[string][]int32{
		"too short": {0, 0}, "no such district": {0, 0, 2}, "none": {0, 0, -1}, "pinned": {1, 0, 0}, "overloaded": {0, 0, 0}, "apart": {0, 1, 0},
	} {
		var wrong *DivisionError
		if _, err := p.Evaluate(part); !errors.As(err, &wrong) {
			t.Errorf("%s: %v", name, err)
		}
	}
	p.Parts[0].MilliAmps = 3
	if _, err := p.Evaluate([]int32{0, 0, 0}); err == nil {
		t.Error("one district is used where two have to be")
	}
}

// TestHub: a node with many neighbours, and a graph in which every node has, are taken as they come: without a panic, and within the work.
func TestHub(t *testing.T) {
	for name, edges := range map[string][]Edge{"complete": complete(70), "star": star(70)} {
		p := parts(make([]int64, 70), edges, 40, 1)
		p.Least = 3
		x := solved(t, p, 300_000)
		if x.Feasible == Found {
			if _, err := p.Evaluate(x.Part); err != nil {
				t.Error(name, err)
			}
		}
		if x.Feasible == Impossible || x.Work > 2*300_000 {
			t.Errorf("%s: %+v", name, x)
		}
	}
}

func star(n int) (out []Edge) {
	for v := 1; v < n; v++ {
		out = append(out, Edge{0, int32(v), 1})
	}
	return out
}
