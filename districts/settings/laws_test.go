package settings

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawProblem draws what randomProblem makes of a drawn number.
func drawProblem(t *rapid.T) (*Problem, *Query) {
	seed := rapid.Uint64().Draw(t, "seed")
	return randomProblem(rand.New(rand.NewPCG(seed, 5)))
}

// cost orders answers: absent is dearer than any number of levers.
func cost(a Answer) int {
	if a.Verdict == Absent {
		return 1 << 30
	}
	return a.Levers
}

// TestMoreEdgesCostNoMore: an edge more never makes a connection dearer; neither does an exclusion, a
// stop or something told less.
func TestMoreEdgesCostNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawProblem(t)
		before := cost(New(p).Solve(q))
		more := *p
		d := rapid.IntRange(0, len(p.Positions)-1).Draw(t, "device")
		net := rapid.IntRange(0, p.Nets-1)
		more.Edges = append(slices.Clone(p.Edges), Edge{int32(net.Draw(t, "a")), int32(net.Draw(t, "b")), int32(d), 0})
		if after := cost(New(&more).Solve(q)); after > before {
			t.Fatalf("an edge more costs %d instead of %d: %+v %+v", after, before, more, q)
		}
		if n := len(p.Never); n > 0 {
			less := *p
			less.Never = p.Never[:n-1]
			if after := cost(New(&less).Solve(q)); after > before {
				t.Fatalf("an exclusion less costs %d instead of %d: %+v %+v", after, before, p, q)
			}
		}
		open := *p
		open.Stop = nil
		if after := cost(New(&open).Solve(q)); after > before {
			t.Fatalf("without stops it costs %d instead of %d: %+v %+v", after, before, p, q)
		}
		untold := *q
		untold.Told = nil
		if after := cost(New(p).Solve(&untold)); after > before {
			t.Fatalf("with nothing told it costs %d instead of %d: %+v %+v", after, before, p, q)
		}
	})
}

// TestGivenWitness: what an answer takes, given, costs nothing; and turning every connection round
// changes no cost.
func TestGivenWitness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawProblem(t)
		s := New(p)
		a := s.Solve(q)
		back := *q
		back.Connect = slices.Clone(q.Connect)
		for i, c := range back.Connect {
			back.Connect[i] = Connection{From: c.To, To: c.From}
		}
		if b := s.Solve(&back); cost(a) != cost(b) {
			t.Fatalf("%d one way, %d the other: %+v %+v", cost(a), cost(b), p, q)
		}
		if a.Verdict != Found {
			return
		}
		given := *q
		given.Given = a.Settings
		if b := s.Solve(&given); b.Verdict != Found || b.Levers != 0 {
			t.Fatalf("%+v given, still %+v: %+v %+v", a, b, p, q)
		}
		if s.Possible(a.Settings) != Found {
			t.Fatalf("%+v is not possible: %+v", a, p)
		}
	})
}

// TestSameAgain: a solver answers the same again, whatever it was asked between.
func TestSameAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawProblem(t)
		s := New(p)
		a := s.Solve(q)
		s.Solve(&Query{Connect: []Connection{{From: []int32{0}, To: []int32{1}}}})
		if b := s.Solve(q); !reflect.DeepEqual(a, b) {
			t.Fatalf("%+v, then %+v", a, b)
		}
	})
}

// TestBoundIsSaid: with too little work the answer is open or the true one, never another.
func TestBoundIsSaid(t *testing.T) {
	opened := 0
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawProblem(t)
		s := New(p)
		a := s.Solve(q)
		short := *q
		short.Work = rapid.IntRange(1, 20).Draw(t, "work")
		b := s.Solve(&short)
		if b.Verdict == Open {
			opened++
			return
		}
		if cost(a) != cost(b) {
			t.Fatalf("%+v with enough work, %+v with little: %+v %+v", a, b, p, q)
		}
	})
	if opened == 0 {
		t.Error("the bound was never reached")
	}
}

// lattice is w by n nets with a device at each: it joins its net to the right or downwards. With mirrored
// set, each is thrown together with the one opposite.
func lattice(w, n int, mirrored bool) *Problem {
	p := &Problem{Nets: w * n, Positions: make([]int, w*n), Coupled: make([][]Coupling, w*n)}
	at := func(r, c int) int32 { return int32(c*w + r) }
	for c := range n {
		for r := range w {
			d := at(r, c)
			p.Positions[d] = 2
			if c+1 < n {
				p.Edges = append(p.Edges, Edge{d, at(r, c+1), d, 0})
			}
			if r+1 < w {
				p.Edges = append(p.Edges, Edge{d, at(r+1, c), d, 1})
			}
			if o := at(w-1-r, n-1-c); mirrored && o != d {
				p.Coupled[d] = []Coupling{{o, []int16{1, 0}}}
			}
		}
	}
	return p
}

// TestLatticeIsLeast: from corner to corner of a lattice every way takes as many devices as steps.
func TestLatticeIsLeast(t *testing.T) {
	for w := 1; w <= 5; w++ {
		for n := 1; n <= 8; n++ {
			a := New(lattice(w, n, false)).Solve(&Query{Connect: []Connection{{From: []int32{0}, To: []int32{int32(w*n - 1)}}}})
			if a.Verdict != Found || a.Levers != w+n-2 {
				t.Errorf("%d by %d: %+v", w, n, a)
			}
		}
	}
}

// BenchmarkLattice shows where the search degrades: the border grows with the width, and where
// devices at both ends are thrown together, with the length too.
func BenchmarkLattice(b *testing.B) {
	for _, mirrored := range []bool{false, true} {
		for _, w := range []int{2, 3, 4, 5, 6, 7, 8} {
			for _, n := range []int{10, 40} {
				p := lattice(w, n, mirrored)
				b.Run(fmt.Sprintf("%dx%d/mirrored=%t", w, n, mirrored), func(b *testing.B) {
					s := New(p)
					var a Answer
					for b.Loop() { // two ways at once, which have to keep clear of each other
						a = s.Solve(&Query{Connect: []Connection{{From: []int32{0}, To: []int32{int32(w*n - 2)}}, {From: []int32{1}, To: []int32{int32(w*n - 1)}}}})
					}
					b.ReportMetric(float64(a.Work), "looks")
					b.ReportMetric(float64(a.Verdict), "verdict")
				})
			}
		}
	}
}
