package power

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/dcc"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/solve"

	"gapwise/districts"
)

func studyOf(t testing.TB, l *layout.Layout) *Study {
	t.Helper()
	ctx := context.Background()
	c, err := circuit.Build(ctx, l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	tr, err := districts.Run(ctx, c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Run(ctx, tr)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// studies are some generated layouts and those of the demo that are sound.
func studies(t *testing.T) []*Study {
	var out []*Study
	for seed := range uint64(4) {
		out = append(out, studyOf(t, generate.Layout(1500, seed)))
	}
	for _, name := range []string{"tin-harbour/sound.yaml", "tin-harbour/upper-sound.yaml", "marram-street/sound.yaml", "tarn-fold/sound.yaml"} {
		out = append(out, studyOf(t, readLayout(t, "../../testdata/"+name)))
	}
	return out
}

// someRails calls do for some lengths of track of every head that was computed.
func someRails(t *testing.T, do func(s *Study, h *Head, x *Solved, p *network.RailPair, r *rand.Rand)) {
	t.Helper()
	r := rand.New(rand.NewPCG(7, 11))
	seen := 0
	for _, s := range studies(t) {
		for _, h := range s.Heads {
			if !h.Known() {
				continue
			}
			for _, x := range h.weak() {
				for range min(12, len(x.Rails)) {
					do(s, h, x, &x.Rails[r.IntN(len(x.Rails))], r)
					seen++
				}
			}
		}
	}
	if seen < 100 {
		t.Fatalf("only %d lengths of track seen", seen)
	}
}

func alike(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*max(math.Abs(a), math.Abs(b))
}

// TestSharesAddUp: what every conductor loses of one ampere adds up to the loop (Tellegen's theorem: power put in is
// power lost), and in each leg the currents obey Kirchhoff's current law.
func TestSharesAddUp(t *testing.T) {
	someRails(t, func(s *Study, h *Head, x *Solved, p *network.RailPair, r *rand.Rand) {
		pt := x.at(p, r.Float64())
		flow, err := pt.flows(x)
		if err != nil {
			t.Fatal(err)
		}
		sum := h.Inside.Hi
		for leg := range flow {
			left := make([]float64, len(x.Leg[leg].Net.Node))
			for e, f := range flow[leg] {
				k := &x.Leg[leg].Net.Edges[e]
				sum += k.Ohms * f * f
				if int32(e) == p.Edge[leg] {
					continue
				}
				if k.I != solve.Ground {
					left[k.I] -= f
				}
				if k.J != solve.Ground {
					left[k.J] += f
				}
			}
			rail := &x.Leg[leg].Net.Edges[p.Edge[leg]]
			for n, amps := range left {
				if int32(n) != rail.I && int32(n) != rail.J && math.Abs(amps) > 1e-8 {
					t.Fatalf("%v A are left over at a node", amps)
				}
			}
		}
		if !alike(sum, pt.Loop.Hi, 1e-9) {
			t.Fatalf("shares add up to %v Ω, the loop is %v", sum, pt.Loop.Hi)
		}
	})
}

// TestCurve holds the closed form between nodes against a network in which the point has a node of its own, and its
// maximum against a thousand samples.
func TestCurve(t *testing.T) {
	someRails(t, func(_ *Study, _ *Head, x *Solved, p *network.RailPair, r *rand.Rand) {
		at := 0.05 + 0.9*r.Float64()
		want := 0.0
		for leg := range x.Leg {
			net := x.Leg[leg].Net
			edges := net.System()
			k := edges[p.Edge[leg]]
			own := int32(len(net.Node))
			ohms := net.Edges[p.Edge[leg]].Ohms
			edges[p.Edge[leg]] = solve.Edge{I: k.I, J: own, G: 1 / (at * ohms)}
			edges = append(edges, solve.Edge{I: own, J: k.J, G: 1 / ((1 - at) * ohms)})
			want += ohmsAt(t, len(net.Node)+1, edges, own)
		}
		c := x.Along(p)
		if !alike(c.At(at), want, 1e-9) {
			t.Fatalf("the curve has %v Ω, a node there %v", c.At(at), want)
		}
		top := c.At(c.Max())
		for i := range 1001 {
			if v := c.At(float64(i) / 1000); v > top*(1+1e-12) {
				t.Fatalf("%v Ω at %d of 1000, above the maximum %v", v, i, top)
			}
		}
	})
}

func ohmsAt(t testing.TB, n int, edges []solve.Edge, node int32) float64 {
	t.Helper()
	a, err := solve.Analyse(context.Background(), n, edges)
	if err != nil {
		t.Fatal(err)
	}
	f, err := a.Factor(context.Background(), edges)
	if err != nil {
		t.Fatal(err)
	}
	v, err := f.Column(node)
	if err != nil {
		t.Fatal(err)
	}
	return v[node]
}

// TestCornersHoldTheTruth draws every resistance from its range: the loop lies between its corners (Rayleigh's
// monotonicity law).
func TestCornersHoldTheTruth(t *testing.T) {
	someRails(t, func(s *Study, h *Head, x *Solved, p *network.RailPair, r *rand.Rand) {
		at := r.IntN(2)
		pt := x.at(p, float64(at))
		sum := h.Inside.Lo + r.Float64()*(h.Inside.Hi-h.Inside.Lo)
		for leg := range x.Leg {
			net := x.Leg[leg].Net
			edges := net.System()
			for e := range edges {
				o := s.Elements.Of(net.Edges[e].Conductor).Ohms
				edges[e].G = 1 / (o.Lo + r.Float64()*(o.Hi-o.Lo))
			}
			node := edges[p.Edge[leg]].I
			if at == 1 {
				node = edges[p.Edge[leg]].J
			}
			if node != solve.Ground {
				sum += ohmsAt(t, len(net.Node), edges, node)
			}
		}
		if sum > pt.Loop.Hi*(1+1e-9) || sum < pt.Loop.Lo*(1-1e-9) {
			t.Fatalf("%v Ω, outside %v", sum, pt.Loop)
		}
	})
}

// TestShareIsLargestAtAnEnd tries one ampere at every node: no conductor carries more of it than the formula
// says, and one of its own ends attains it (its resistance taken as it is).
func TestShareIsLargestAtAnEnd(t *testing.T) {
	for _, s := range studies(t)[:2] {
		for _, h := range s.Heads {
			if !h.Known() {
				continue
			}
			for leg := range h.Weak.Leg {
				l := &h.Weak.Leg[leg]
				most := make([]float64, len(l.Net.Edges))
				for n := range l.Net.Node {
					v, err := l.Factor.Column(int32(n))
					if err != nil {
						t.Fatal(err)
					}
					for e := range l.Net.Edges {
						k := &l.Net.Edges[e]
						most[e] = max(most[e], math.Abs(potential(v, k.I)-potential(v, k.J))/k.Ohms)
					}
				}
				for e := range l.Net.Edges {
					ii, ij, jj := l.Inverse.Edge(e)
					if want := (max(ii, jj) - ij) / l.Net.Edges[e].Ohms; !alike(most[e], want, 1e-7) {
						t.Fatalf("a conductor carries %v of an ampere somewhere, the formula says %v", most[e], want)
					}
					if got := h.share(l, int32(e)); got < most[e]*(1-1e-9) && got < 1-1e-9 {
						t.Fatalf("with its own resistance low its share is %v, below %v", got, most[e])
					}
				}
			}
		}
	}
}

// TestBranchesAgainstSlowNetwork holds the branches of a short's loop against the network itself with every resistance raised by s
// times its inductance: the admittance to e^(st) at three rates.
func TestBranchesAgainstSlowNetwork(t *testing.T) {
	n := 0
	someRails(t, func(s *Study, h *Head, x *Solved, p *network.RailPair, r *rand.Rand) {
		if n++; n%5 != 0 {
			return
		}
		pt := x.at(p, r.Float64())
		pulsed, err := pt.Pulsed(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for _, rate := range []float64{0, 1e4, 3e4} {
			want := h.Inside.Hi + s.Short.Hi
			for leg := range x.Leg {
				slow, open := x.Leg[leg].slow(context.Background(), rate)
				if open != nil {
					t.Fatal(open)
				}
				want += slow.curve(p.Edge[leg]).At(pt.T)
			}
			got := 0.0
			for _, b := range pulsed.Branches {
				got += 1 / (b.R + rate*b.L)
			}
			if !alike(got*want, 1, 1e-7) {
				t.Fatalf("at rate %v the branches have %v Ω, the network %v", rate, 1/got, want)
			}
		}
	})
}

// TestLosses rebuilds the network without each wire: the same rail dies, or the place that suffers most has the resistance that the
// rank-one formula gives.
func TestLosses(t *testing.T) {
	ctx := context.Background()
	lost := 0
	for _, s := range studies(t)[2:] {
		for _, h := range s.Heads {
			if !h.Known() {
				continue
			}
			losses, left, err := h.Losses(ctx)
			if err != nil || left != 0 {
				t.Fatal(err, left)
			}
			for i := range losses {
				loss := &losses[i]
				if i%3 != 0 {
					continue
				}
				without := append([]bool(nil), s.T.Explained()...)
				without[loss.Conductor] = true
				b := network.NewBuilder(s.C, without)
				d, err := b.Build(ctx, b.NewScratch(), h.Source, network.Weak, nil)
				if err != nil {
					t.Fatal(err)
				}
				fewer := len(d.Rails) < len(h.Weak.Rails) || len(d.Taps) < len(h.Weak.Taps)
				if fewer != loss.Dead {
					t.Fatalf("conductor %d: rail or bus goes dead: %v, the study says %v", loss.Conductor, fewer, loss.Dead)
				}
				if loss.Dead || loss.Point.Way < 0 {
					continue
				}
				x, open := newSolved(ctx, h, d)
				if open != nil {
					t.Fatal(open)
				}
				lost++
				after := h.Inside.Hi + x.Along(x.railOn(loss.Point.Way)).At(loss.Point.T)
				if !alike(after, loss.After, 1e-7) {
					t.Fatalf("conductor %d: %v Ω after its loss, the formula says %v", loss.Conductor, after, loss.After)
				}
			}
		}
	}
	if lost < 30 {
		t.Fatalf("only %d losses that leave rail alive", lost)
	}
}

// TestMeanBound works out places on every length of some track: none has a mean below the bound of its length.
func TestMeanBound(t *testing.T) {
	n := 0
	someRails(t, func(_ *Study, h *Head, x *Solved, p *network.RailPair, r *rand.Rand) {
		if n++; n%4 != 0 {
			return
		}
		var slow [2]Leg
		for leg := range x.Leg {
			var open *Open
			if slow[leg], open = x.Leg[leg].slow(context.Background(), dcc.BoundRate/dcc.OneHalf); open != nil {
				t.Fatal(open)
			}
		}
		_, bound := h.meanBound(x, &slow, p)
		pt := x.at(p, r.Float64())
		pulsed, err := pt.Pulsed(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if pulsed.Short.MeanAbs < bound*(1-1e-9) {
			t.Fatalf("a mean of %v A, below the bound %v", pulsed.Short.MeanAbs, bound)
		}
	})
}
