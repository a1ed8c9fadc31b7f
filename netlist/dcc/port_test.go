package dcc_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"gapwise/netlist/dcc"
)

// TestBranches compares the branches of random networks with the dense eigenproblem of their meshes.
func TestBranches(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 3))
	for range 60 {
		n := randomNetwork(rnd)
		bs, exact, err := n.port().Branches(context.Background(), 60)
		if err != nil || !exact {
			t.Fatal(exact, err)
		}
		dense := n.spectrum()
		for _, s := range []float64{0, 1e2, 1e4, 2 / dcc.OneHalf, 1e6, 1e9} {
			near(t, "admittance", admittance(bs, s), admittance(dense, s), 1e-8)
		}
		for _, p := range []dcc.Pattern{dcc.Ones, dcc.IdlePacket} {
			nearShort(t, p.String(), dcc.Periodic(15, p.Halves(), bs), dcc.Periodic(15, p.Halves(), dense), 1e-8)
		}
	}
}

// TestBranchesAgainstSteps follows the mesh currents of random networks by the trapezoidal rule.
func TestBranchesAgainstSteps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 4))
	for range 8 {
		n := randomNetwork(rnd)
		for e := range n.l {
			n.l[e] = math.Max(n.l[e], 3e-6*n.r[e])
		}
		bs, _, err := n.port().Branches(context.Background(), 60)
		if err != nil {
			t.Fatal(err)
		}
		const steps, periods = 400, 12
		halves := []float64{58e-6, 58e-6}
		r, l := n.meshes()
		m := r.SymmetricDim()
		h := halves[0] / steps
		left, right := mat.NewDense(m, m, nil), mat.NewDense(m, m, nil)
		for i := range m {
			for j := range m {
				left.Set(i, j, l.At(i, j)+r.At(i, j)*h/2)
				right.Set(i, j, l.At(i, j)-r.At(i, j)*h/2)
			}
		}
		var lu mat.LU
		lu.Factorize(left)
		now, b := mat.NewVecDense(m, nil), mat.NewVecDense(m, nil)
		var out []dcc.Short
		for n := range 2 * periods {
			s := dcc.Short{Peak: math.Abs(now.AtVec(m - 1))}
			for range steps {
				was := now.AtVec(m - 1)
				b.MulVec(right, now)
				b.SetVec(m-1, b.AtVec(m-1)+15*h*float64(1-n%2*2))
				if err := lu.SolveVecTo(now, false, b); err != nil {
					t.Fatal(err)
				}
				is := now.AtVec(m - 1)
				s.Peak = math.Max(s.Peak, math.Abs(is))
				if was*is < 0 {
					s.MeanAbs += (was*was + is*is) / math.Abs(is-was) / 2 / steps
				} else {
					s.MeanAbs += math.Abs(was+is) / 2 / steps
				}
				s.RMS += (was*was + was*is + is*is) / 3 / steps
			}
			s.RMS = math.Sqrt(s.RMS)
			out = append(out, s)
		}
		for k, s := range dcc.Start(15, []float64{58e-6, 58e-6, 58e-6, 58e-6}, bs) {
			nearShort(t, "start", s, out[k], 2e-3)
		}
		nearShort(t, "steady", dcc.Steady(15, 58e-6, bs), joined(out[len(out)-2:], halves), 2e-3)
	}
}

// TestBracket: with too few branches for the network, the bounds hold the truth, draw together with
// every branch, and end on it.
func TestBracket(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 60 {
		n := randomNetwork(rnd)
		dense := n.spectrum()
		truth := dcc.Steady(15, dcc.OneHalf, dense)
		last := math.Inf(1)
		for most := 1; ; most++ {
			r, err := n.port().Reduce(context.Background(), most)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range []float64{0, 1e3, 2 / dcc.OneHalf, 1e6, 1e8} {
				lo, hi := r.Admittance(s)
				y := admittance(dense, s)
				if !(lo <= y*(1+1e-8) && y <= hi*(1+1e-8)) {
					t.Errorf("%d branches: admittance %v at %v, not in %v..%v", most, y, s, lo, hi)
				}
			}
			lo, hi := r.Bracket(15, dcc.OneHalf)
			within(t, "peak", truth.Peak, lo.Peak, hi.Peak)
			within(t, "mean", truth.MeanAbs, lo.MeanAbs, hi.MeanAbs)
			within(t, "rms", truth.RMS, lo.RMS, hi.RMS)
			width := (hi.MeanAbs - lo.MeanAbs) / truth.MeanAbs
			if width > last*1.05+1e-9 {
				t.Errorf("%d branches bound the mean worse than fewer: %v after %v", most, width, last)
			}
			last = width
			if r.Exact {
				nearShort(t, "exact", lo, truth, 1e-8)
				nearShort(t, "exact", hi, truth, 1e-8)
				break
			}
			if most == 7 && (hi.Peak-lo.Peak > 0.05*truth.Peak || width > 0.01) {
				t.Errorf("seven branches leave the peak in %v..%v and the mean in %v..%v", lo.Peak, hi.Peak, lo.MeanAbs, hi.MeanAbs)
			}
		}
	}
}

func within(t *testing.T, what string, is, lo, hi float64) {
	t.Helper()
	if !(lo <= is*(1+1e-8) && is <= hi*(1+1e-8)) {
		t.Errorf("%s %v, not in %v..%v", what, is, lo, hi)
	}
}

// TestOneConductor: a port of a single conductor, or of many alike, is one branch.
func TestOneConductor(t *testing.T) {
	for _, l := range []float64{0, 3e-5} {
		n := network{nodes: 3, ends: [][2]int{{0, 2}, {2, 1}, {0, 2}}, r: []float64{1, 2, 3}, l: []float64{l, 2 * l, 3 * l}}
		bs, exact, err := n.port().Branches(context.Background(), 1)
		if err != nil || !exact || len(bs) != 1 {
			t.Fatal(bs, exact, err)
		}
		near(t, "ohms", bs[0].R, 2.75, 1e-12)
		near(t, "henries", bs[0].L, 2.75*l, 1e-12)
	}
}

func TestPortRefusals(t *testing.T) {
	ctx := context.Background()
	rnd := rand.New(rand.NewPCG(5, 6))
	n := randomNetwork(rnd)
	ended, end := context.WithCancel(ctx)
	end()
	failed := errors.New("no solve")
	for what, spoil := range map[string]func(*dcc.Port){
		"inductance without resistance": func(p *dcc.Port) { p.R = append([]float64{0}, p.R[1:]...) },
		"negative inductance":           func(p *dcc.Port) { p.L = append([]float64{-1}, p.L[1:]...) },
		"no number":                     func(p *dcc.Port) { p.R = append([]float64{math.NaN()}, p.R[1:]...) },
		"lengths":                       func(p *dcc.Port) { p.L = p.L[1:] },
		"no conductors":                 func(p *dcc.Port) { *p = dcc.Port{Project: p.Project} },
		"no network":                    func(p *dcc.Port) { p.Project = nil },
		"no current":                    func(p *dcc.Port) { p.Unit = make([]float64, len(p.Unit)) },
		"currents that are no network's": func(p *dcc.Port) {
			project := p.Project
			p.Project = func(emf, flow []float64) error {
				err := project(emf, flow)
				for e := range flow {
					flow[e] *= 1 + 0.1*float64(e)
				}
				return err
			}
		},
		"currents that are a little off": func(p *dcc.Port) {
			project := p.Project
			p.Project = func(emf, flow []float64) error {
				err := project(emf, flow)
				for e := range flow {
					flow[e] *= 1 + 1e-3*float64(e%3)
				}
				return err
			}
		},
		"currents that are no numbers": func(p *dcc.Port) {
			p.Project = func(_, flow []float64) error {
				flow[0] = math.NaN()
				return nil
			}
		},
	} {
		p := n.port()
		spoil(p)
		if bs, _, err := p.Branches(ctx, 3); err == nil {
			t.Errorf("%s: %v", what, bs)
		}
	}
	p := n.port()
	if _, _, err := p.Branches(ctx, 0); err == nil {
		t.Error("no branches at all are allowed")
	}
	if _, _, err := p.Branches(ended, 5); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	p.Project = func(_, _ []float64) error { return failed }
	if _, _, err := p.Branches(ctx, 5); !errors.Is(err, failed) {
		t.Error(err)
	}
	r, err := n.port().Reduce(ctx, 2)
	if err != nil {
		t.Fatal(err)
	}
	if lo, hi := r.Admittance(-1); !math.IsNaN(lo) || !math.IsNaN(hi) {
		t.Error(lo, hi)
	}
}
