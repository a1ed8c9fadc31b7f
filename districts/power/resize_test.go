package power

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// rewired is a copy of a layout with some sizes of wire: change says a wire's new area from its old one in square metres, 0 where unknown.
func rewired(l *layout.Layout, change func(area float64) float64) *layout.Layout {
	out := *l
	out.Buses, out.Feeders = slices.Clone(l.Buses), slices.Clone(l.Feeders)
	of := func(w quantity.Wire) quantity.Wire {
		area := 0.0
		if w.Known() {
			area = w.Lo
		}
		return quantity.Wire{Value: quantity.Exact(change(area))}
	}
	for i := range out.Buses {
		out.Buses[i].Wire = of(out.Buses[i].Wire)
	}
	for i := range out.Feeders {
		out.Feeders[i].Wire = of(out.Feeders[i].Wire)
	}
	return &out
}

// anySize is from 24 AWG to 8 AWG.
func anySize(r *rand.Rand) func(float64) float64 {
	return func(float64) float64 { return quantity.AWGArea(8 + r.IntN(17)) }
}

// thickerAWG is one gauge thicker.
func thickerAWG(area float64) float64 {
	for n := 24; n > 0; n-- {
		if a := quantity.AWGArea(n); a > area*1.01 {
			return a
		}
	}
	return area
}

// resizedStudies are small generated layouts and those of the demo that are sound.
func resizedStudies(t *testing.T) []*Study {
	var out []*Study
	for seed := range uint64(4) {
		out = append(out, studyOf(t, generate.Layout(300, seed)))
	}
	for _, name := range []string{"tin-harbour/sound.yaml", "tin-harbour/upper-sound.yaml", "marram-street/sound.yaml", "tarn-fold/sound.yaml", "quillow-meet/sound.yaml", "cinder-gorge/sound.yaml"} {
		out = append(out, studyOf(t, readLayout(t, "../../testdata/"+name)))
	}
	return out
}

// TestWholeIsRun: a head computed by a Sizer with other wires has the numbers of the whole program run on a layout of those.
func TestWholeIsRun(t *testing.T) {
	const near = 1e-12
	r := rand.New(rand.NewPCG(3, 1))
	points, drops, wires, pulses := 0, 0, 0, 0
	sizes := []func(float64) float64{anySize(r), func(float64) float64 { return quantity.AWGArea(20 + 2*r.IntN(3)) }} // thin wire is for the waveform
	for n, s := range resizedStudies(t) {
		for round, size := range sizes {
			l := rewired(s.C.Layout, size)
			want := studyOf(t, l)
			if len(want.Heads) != len(s.Heads) {
				t.Fatalf("study %d: %d heads, were %d", n, len(want.Heads), len(s.Heads))
			}
			for i, w := range want.Heads {
				if !w.Known() {
					continue
				}
				z := s.NewSizer(s.Heads[i])
				if round == 1 { // what was computed before leaves nothing behind
					if _, err := z.Corners(t.Context(), rewired(s.C.Layout, anySize(r))); err != nil {
						t.Fatal(err)
					}
				}
				got, err := z.Whole(t.Context(), l)
				if err != nil {
					t.Fatal(err)
				}
				h := got.Heads[0]
				if h.Volts != w.Volts || h.Inside != w.Inside || (h.Open == nil) != (w.Open == nil) || len(h.Settings) != len(w.Settings) || h.SettingsLeft != w.SettingsLeft {
					t.Fatalf("study %d: %v V, inside %v, %d settings; should be %v, %v, %d", n, h.Volts, h.Inside, len(h.Settings), w.Volts, w.Inside, len(w.Settings))
				}
				for g := range w.Weakest {
					a, b := h.Weakest[g], w.Weakest[g]
					if (a == nil) != (b == nil) {
						t.Fatalf("study %d: guard %d has a weakest point: %t", n, g, a != nil)
					}
					if b == nil {
						continue
					}
					points++
					if !alike(a.Short.Lo, b.Short.Lo, near) || !alike(a.Loop.Hi, b.Loop.Hi, near) || !alike(a.Loop.Lo, b.Loop.Lo, near) || !alike(a.Short.Hi, b.Short.Hi, near) {
						t.Errorf("study %d, guard %d: %v of %v, should be %v of %v", n, g, a.Short, a.Loop, b.Short, b.Loop)
					}
				}
				for g := range w.Drops {
					a, b := h.Drops[g], w.Drops[g]
					if (a == nil) != (b == nil) {
						t.Fatalf("study %d: guard %d has a drop: %t", n, g, a != nil)
					}
					if b == nil {
						continue
					}
					drops++
					if !alike(a.Most, b.Most, near) || !alike(a.Least, b.Least, near) || !alike(a.Wiring.Hi, b.Wiring.Hi, near) || !alike(a.Wiring.Lo, b.Wiring.Lo, 10*near) {
						t.Errorf("study %d, guard %d drops %g .. %g, wiring %v; should be %g .. %g, %v", n, g, a.Least, a.Most, a.Wiring, b.Least, b.Most, b.Wiring)
					}
				}
				for k := range w.Wires {
					a, b := &h.Wires[k], &w.Wires[k]
					wires++
					if a.Kind != b.Kind || a.Ref != b.Ref || a.Wire != b.Wire || !alike(a.Steady, b.Steady, near) || !alike(a.Sudden, b.Sudden, near) || a.ByGuard != b.ByGuard || a.Trips != b.Trips || a.Seconds != b.Seconds {
						t.Errorf("study %d: %v of %v, %g and %g A; should be %v of %v, %g and %g", n, a.Ref, a.Wire, a.Steady, a.Sudden, b.Ref, b.Wire, b.Steady, b.Sudden)
					}
				}
				for g := range w.Deciding {
					a, b := h.Deciding[g].Worst, w.Deciding[g].Worst
					if (a == nil) != (b == nil) || h.Deciding[g].Left != w.Deciding[g].Left {
						t.Fatalf("study %d: guard %d is decided by the waveform: %t", n, g, a != nil)
					}
					if b != nil {
						pulses++
						if !alike(a.Short.MeanAbs, b.Short.MeanAbs, 1e-9) || !alike(a.Short.Peak, b.Short.Peak, 1e-9) {
							t.Errorf("study %d, guard %d: a mean of %g, should be %g", n, g, a.Short.MeanAbs, b.Short.MeanAbs)
						}
					}
				}
			}
		}
	}
	if points < 40 || drops < 40 || wires < 400 || pulses < 4 {
		t.Errorf("only %d points, %d drops, %d wires, %d under the waveform", points, drops, wires, pulses)
	}
	t.Logf("%d points, %d drops, %d wires, %d under the waveform", points, drops, wires, pulses)
}

// TestThickerIsNoWorse: with some wires thicker, no short draws less, no drop grows, and the corners agree with a whole study.
func TestThickerIsNoWorse(t *testing.T) {
	const slack = 1e-9
	r := rand.New(rand.NewPCG(5, 1))
	shorts, drops, added, better := 0, 0, 0, 0
	for n, s := range resizedStudies(t) {
		for _, base := range s.Heads {
			if !base.Known() {
				continue
			}
			z := s.NewSizer(base)
			corners := func(l *layout.Layout) *Head {
				h, err := z.Corners(t.Context(), l)
				if err != nil || h == nil {
					t.Fatal(n, err, h)
				}
				return h
			}
			free := corners(rewired(s.C.Layout, func(float64) float64 { return 1e-3 }))
			for range 6 {
				l := rewired(s.C.Layout, anySize(r))
				share := r.Float64()
				thick := rewired(l, func(area float64) float64 { // AWG again: other sizes have another allowance for strands
					if r.Float64() < share {
						for range 1 + r.IntN(6) {
							area = thickerAWG(area)
						}
					}
					return area
				})
				a, b := corners(l), corners(thick)
				before, after := a.LeastShorts(), b.LeastShorts()
				for g := range before {
					shorts++
					if after[g] < before[g]*(1-slack) {
						t.Errorf("study %d, guard %d: a short draws %g A, with thicker wire %g", n, g, before[g], after[g])
					}
					if after[g] > before[g]*(1+slack) {
						better++
					}
				}
				less := func(what string, seen *int, before, after []Added) {
					for g := range before {
						*seen++
						if after[g].Volts > before[g].Volts*(1+slack)+slack {
							t.Errorf("study %d, guard %d: %s %g V, with thicker wire %g", n, g, what, before[g].Volts, after[g].Volts)
						}
						if before[g].Volts < 0 || before[g].Volts > 0 != (before[g].Way >= 0) {
							t.Errorf("study %d, guard %d: %s %+v", n, g, what, before[g])
						}
					}
				}
				less("all wiring loses", &drops, a.FavourableDrops(), b.FavourableDrops())
				less("wire loses", &added, a.AddedVolts(free), b.AddedVolts(free))
				if len(base.Settings) > 0 || len(base.groups) > 0 {
					continue
				}
				whole, err := z.Whole(t.Context(), l)
				if err != nil {
					t.Fatal(err)
				}
				for g, p := range whole.Heads[0].Weakest {
					if p != nil && !alike(p.Short.Lo, before[g], 1e-12) {
						t.Errorf("study %d, guard %d: the weakest point draws %g A, the corners have %g", n, g, p.Short.Lo, before[g])
					}
				}
			}
		}
	}
	if shorts < 200 || better < 100 {
		t.Errorf("only %d shorts, %d of them stronger", shorts, better)
	}
	t.Logf("%d shorts, %d of them stronger, %d and %d drops", shorts, better, drops, added)
}

// TestLeastSharesAreLeast: what a wire is said to carry at least, whatever the others are within a box of sizes, it carries with every
// choice in it.
func TestLeastSharesAreLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	seen, tight := 0, 0
	for n, s := range resizedStudies(t) {
		for _, base := range s.Heads {
			if !base.Known() || len(base.Wires) == 0 {
				continue
			}
			z := s.NewSizer(base)
			for range 6 {
				w := base.Wires[r.IntN(len(base.Wires))]
				own := func(kind circuit.Kind, ref int32) bool { return kind == w.Kind && ref == w.Ref }
				area := anySize(r)(0)
				fixed := func(l *layout.Layout) *layout.Layout {
					switch w.Kind {
					case circuit.BusSpan:
						l.Buses[w.Ref].Wire = quantity.Wire{Value: quantity.Exact(area)}
					case circuit.FeederWire:
						l.Feeders[w.Ref].Wire = quantity.Wire{Value: quantity.Exact(area)}
					}
					return l
				}
				thinL := fixed(rewired(s.C.Layout, anySize(r)))
				span := 1 + r.IntN(8) // gauges
				thicker := func(a float64) float64 {
					for range span {
						a = thickerAWG(a)
					}
					return a
				}
				thickL := fixed(rewired(thinL, thicker))
				thin, err := z.Corners(context.Background(), thinL)
				if err != nil {
					t.Fatal(err)
				}
				thick, err := z.Corners(context.Background(), thickL)
				if err != nil {
					t.Fatal(err)
				}
				least := LeastShares(thick, thin, own)
				for round := range 4 {
					between := fixed(rewired(thinL, func(a float64) float64 {
						if round == 0 || round > 1 && r.IntN(2) == 0 {
							return a
						}
						return thicker(a)
					}))
					whole, err := z.Whole(context.Background(), between)
					if err != nil {
						t.Fatal(err)
					}
					h := whole.Heads[0]
					for i := range least {
						c := &least[i]
						seen++
						share := 0.0
						for leg := range h.Weak.Leg {
							x := &h.Weak.Leg[leg]
							for e := range x.Net.Edges {
								if x.Net.Edges[e].Conductor == c.Conductor {
									share = max(share, h.share(x, int32(e)))
								}
							}
						}
						if c.Share > share*(1+1e-9) {
							t.Errorf("study %d: %v %d carries %g of an ampere, said to be %g at least", n, c.Kind, c.Ref, share, c.Share)
						}
						if c.Share > 0.5*share {
							tight++
						}
						k := slices.IndexFunc(h.Wires, func(x Carried) bool { return x.Kind == c.Kind && x.Ref == c.Ref })
						if k < 0 {
							t.Fatalf("study %d: no wire %v %d", n, c.Kind, c.Ref)
						}
						if x := &h.Wires[k]; x.ByGuard && c.Steady > x.Steady*(1+1e-9) {
							t.Errorf("study %d: %v %d carries %g A, said to be %g at least", n, c.Kind, c.Ref, x.Steady, c.Steady)
						}
					}
				}
			}
		}
	}
	if seen < 200 || tight < seen/4 {
		t.Errorf("only %d shares, %d within half", seen, tight)
	}
	t.Logf("%d shares, %d within half", seen, tight)
}
