package gauge

import (
	"context"
	"math"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// Chosen is the wire of one run.
type Chosen struct {
	Run
	Size    int  // into Sizes; -1 when nothing was found
	Thinner bool // a thinner size is among Sizes
	// Breaks is what the next thinner size would break, everything else as chosen.
	Breaks []Shortfall
	// PresentCost is what the present wire has in copper or money; unknown when it cannot be told.
	PresentCost quantity.Value
}

// Wire is the wire chosen.
func (c *Chosen) Wire() quantity.Wire { return c.Sizes[c.Size].Wire }

// Head is the choice for one source.
type Head struct {
	Source string
	Open   string // why nothing was chosen, "" when something was sought
	Runs   []Chosen
	Kept   []Kept
	Found  bool
	Proven bool // Found: no cheaper choice meets the limits; not Found: none does
	Cost   float64
	Bound  float64 // no choice that meets the limits costs less
	Work   int
	// Present are the limits that the wire as it is does not meet.
	Present []Shortfall
	// Impossible are limits that no size meets, with the thickest everywhere; the rest was chosen without them.
	Impossible []Shortfall
	Others     []Alternative

	source int32
}

// Choice is the wire of a whole layout.
type Choice struct {
	Layout *layout.Layout
	Ask    Ask
	Heads  []Head
	// Brought are the faults and cautions that a check of the whole layout with the wire chosen finds, and one of the layout as
	// it is does not.
	Brought []finding.Finding
	// Open is what such a check could not decide of what depends on wire.
	Open []finding.NotChecked
	Work int
}

// Chosen is the layout with the wire chosen.
func (c *Choice) Chosen() *layout.Layout {
	l := c.Layout
	for i := range c.Heads {
		h := &c.Heads[i]
		if !h.Found {
			continue
		}
		runs, wires := make([]Run, len(h.Runs)), make([]quantity.Wire, len(h.Runs))
		for j := range h.Runs {
			runs[j], wires[j] = h.Runs[j].Run, h.Runs[j].Wire()
		}
		l = withWires(l, runs, wires)
	}
	return l
}

// Choose chooses wire for a layout that was checked. The error is ctx's only.
func Choose(ctx context.Context, r *rules.Report, a Ask) (*Choice, error) {
	out := &Choice{Layout: r.Layout, Ask: a}
	before := map[string]bool{}
	for i := range r.Findings {
		before[r.Findings[i].Rule+" "+r.Findings[i].Place.Text] = true
	}
	c := &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power, Shared: &rule.Verdicts{}}
	for _, h := range r.Power.Heads {
		x, worth, err := chooseHead(ctx, c, h, &a, before)
		if err != nil {
			return nil, err
		}
		if worth {
			out.Heads = append(out.Heads, x)
			out.Work += x.Work
		}
	}
	after, err := rules.Check(ctx, out.Chosen(), rules.Options{})
	if err != nil {
		return nil, err
	}
	known := map[string]bool{} // told as what no size meets
	for i := range out.Heads {
		for j := range out.Heads[i].Impossible {
			known[out.Heads[i].Impossible[j].key()] = true
		}
	}
	for _, n := range after.NotChecked {
		if slices.Contains(judging, n.Rule) {
			out.Open = append(out.Open, n)
		}
	}
	for i := range after.Findings {
		f := &after.Findings[i]
		if f.Severity == finding.Note || f.Accepted || before[f.Rule+" "+f.Place.Text] {
			continue
		}
		if x := shortfallOf(after.Power, f); !known[x.key()] {
			out.Brought = append(out.Brought, *f)
		}
	}
	return out, nil
}

// chooseHead chooses for one source; worth is false for one that nothing hangs from.
func chooseHead(ctx context.Context, c *rule.Case, h *power.Head, a *Ask, before map[string]bool) (x Head, worth bool, err error) {
	x.source, x.Source = h.Source, c.C.Sources[h.Source].Name
	switch {
	case h.Open != nil:
		x.Open = h.Open.Why
		return x, true, nil
	case !h.Known():
		x.Open = "the layout does not say its volts"
		return x, h.Weak != nil && len(h.Weak.Rails) > 0, nil
	}
	runs, kept := runsOf(c, h, a)
	x.Kept = kept
	for i := len(runs) - 1; i >= 0; i-- {
		if len(runs[i].Sizes) == 0 {
			x.Kept = append(x.Kept, Kept{runs[i].Name, "`stock` lists no size for it that has what is asked"})
			runs = slices.Delete(runs, i, i+1)
		}
	}
	if len(runs) == 0 {
		return x, len(x.Kept) > 0, nil
	}
	own := *a
	if own.Work <= 0 {
		own.Work = DefaultWork(conductors(h))
	}
	d, err := newDemands(ctx, newBar(c, h, &own), runs)
	if err != nil {
		return x, true, err
	}
	d.before = before
	if x.Present, err = d.shortfalls(ctx, c.L, false); err != nil {
		return x, true, err
	}
	f, err := d.search(ctx, &x, math.Inf(1))
	if err != nil {
		return x, true, err
	}
	if f.best != nil {
		if err := d.keepUnmet(ctx, &x, with(c.L, runs, f.best)); err != nil {
			return x, true, err
		}
	}
	x.Found, x.Proven, x.Cost, x.Bound, x.Work = f.best != nil, f.proven, f.cost, f.bound, f.work
	for i := range runs {
		k := Chosen{Run: runs[i], Size: -1, PresentCost: presentCost(&runs[i], a)}
		if f.best != nil {
			k.Size = f.best[i]
			if k.Thinner = k.Size > 0; k.Thinner {
				one := slices.Clone(f.best)
				one[i]--
				if k.Breaks, err = d.breaks(ctx, one); err != nil {
					return x, true, err
				}
			}
		}
		x.Runs = append(x.Runs, k)
	}
	if x.Others, err = d.others(ctx, &x); err != nil {
		return x, true, err
	}
	return x, true, nil
}

// breaks is what a choice breaks: limits, or how near it comes to one that nothing meets.
func (d *headDemands) breaks(ctx context.Context, choice []int) ([]Shortfall, error) {
	out, err := d.shortfalls(ctx, with(d.c.L, d.runs, choice), false)
	if err != nil || len(out) > 0 {
		return out, err
	}
	if near, err := d.meetsMonotone(ctx, choice); err != nil || near {
		return nil, err
	}
	name := d.c.C.Sources[d.head.Source].Name
	return []Shortfall{{
		Limit: "as-near-as-any", Place: name, track: -1, matter: name,
		Text: "comes less near to a limit that no size meets: more than a tenth short of what the thickest sizes reach", Value: "over a tenth short of what the thickest reach",
	}}, nil
}

// conductors is how many a source's networks have.
func conductors(h *power.Head) int {
	return len(h.Weak.Leg[0].Net.Edges) + len(h.Weak.Leg[1].Net.Edges)
}

// keepUnmet tells, in place of the limits that were set aside because the thickest sizes break them, those that the sizes chosen do not
// meet, with their figures: more copper can break a limit that less of it keeps.
func (d *headDemands) keepUnmet(ctx context.Context, x *Head, chosen *layout.Layout) error {
	if len(x.Impossible) == 0 {
		return nil
	}
	strict := *d
	strict.bar = newBar(d.c, d.head, d.ask)
	short, err := strict.shortfalls(ctx, chosen, false)
	x.Impossible = short
	return err
}

// nearest is how near to what the thickest sizes reach a choice has to come where they do not meet a limit, in parts of it. Common practice,
// no source.
const nearest = 0.1

// mostWaived bounds how often limits that nothing meets are set aside and the rest is sought again.
const mostWaived = 6

// search seeks the cheapest sizes. Limits that the thickest sizes do not meet are set aside and told; where
// then still nothing is found, those that the thickest sizes break though thinner ones may not.
func (d *headDemands) search(ctx context.Context, x *Head, below float64) (found, error) {
	thickest := make([]int, len(d.runs))
	cost := make([][]float64, len(d.runs))
	for i := range d.runs {
		thickest[i] = len(d.runs[i].Sizes) - 1
		for _, s := range d.runs[i].Sizes {
			cost[i] = append(cost[i], s.Cost)
		}
	}
	top := with(d.c.L, d.runs, thickest)
	if err := d.waiveMonotone(ctx, top, x); err != nil {
		return found{}, err
	}
	d.hot = !slices.ContainsFunc(x.Impossible, func(s Shortfall) bool { return s.Limit == "wire-hot-before-trip" })
	work := 0
	for range mostWaived {
		f, err := search(ctx, cost, d, d.starts(thickest), below, d.ask.Work)
		work += f.work
		f.work = work
		if err != nil || f.best != nil || !math.IsInf(below, 1) {
			return f, err
		}
		short, err := d.shortfalls(ctx, top, false)
		if err != nil {
			return f, err
		}
		// what is not computed is told whatever is set aside
		short = slices.DeleteFunc(short, func(s Shortfall) bool { return d.waived[s.key()] })
		if len(short) == 0 {
			return f, nil // the thickest would do, but was never looked at: the bound on work is too small
		}
		for _, s := range short {
			d.waived[s.key()] = true
			d.hot = d.hot && s.Limit != "wire-hot-before-trip"
		}
		x.Impossible = append(x.Impossible, short...)
	}
	return found{bound: math.Inf(1), cost: math.Inf(1), work: work}, nil
}

// waiveMonotone sets aside what even the thickest sizes do not meet of the demands that no thicker wire can break.
func (d *headDemands) waiveMonotone(ctx context.Context, top *layout.Layout, x *Head) error {
	h, err := d.sizer.Corners(ctx, top)
	if err != nil || h == nil {
		return err
	}
	shorts, whole := h.LeastShorts(), h.FavourableDrops()
	var wire []power.Added
	if d.free != nil && d.ask.WireDrop > 0 {
		wire = h.AddedVolts(d.free)
	}
	waived := false
	for g := range shorts {
		waived = waived || shorts[g] < d.need[g] || d.bestFalls && whole[g].Volts > d.most[g] || wire != nil && wire[g].Volts > d.allow[g]
	}
	if !waived {
		return nil
	}
	// told before they are set aside, or they would not be
	short, err := d.shortfalls(ctx, top, false)
	if err != nil {
		return err
	}
	for _, s := range short {
		d.waived[s.key()] = true
	}
	x.Impossible = short
	for g := range shorts {
		if shorts[g] < d.need[g] {
			d.need[g] = shorts[g] / (1 + nearest)
		}
		if d.bestFalls && whole[g].Volts > d.most[g] {
			d.most[g] = whole[g].Volts * (1 + nearest)
		}
		if wire != nil && wire[g].Volts > d.allow[g] {
			d.allow[g] = wire[g].Volts * (1 + nearest)
		}
	}
	return nil
}

// starts are choices to begin from: the thickest everywhere, the present wire as far as it is among the sizes, and each size
// everywhere.
func (d *headDemands) starts(thickest []int) [][]int {
	out := [][]int{thickest}
	present := slices.Clone(thickest)
	for i := range d.runs {
		for k, s := range d.runs[i].Sizes {
			if w := d.runs[i].Present[0]; w.Known() && s.Wire.Lo >= w.Lo*(1-1e-9) {
				present[i] = k
				break
			}
		}
	}
	out = append(out, present)
	return out
}

// presentCost is what a run's present wire has in copper, or costs in money where it is in stock.
func presentCost(r *Run, a *Ask) quantity.Value {
	if len(r.Present) != 1 || !r.Present[0].Known() {
		return quantity.Value{State: quantity.Unknown}
	}
	w := r.Present[0]
	if !a.ByPrice {
		return quantity.Exact(a.cost(w, 0) * r.Metres)
	}
	for _, s := range r.Sizes {
		if s.Wire.Lo == w.Lo && s.Wire.Hi == w.Hi {
			return quantity.Exact(s.Cost)
		}
	}
	return quantity.Value{State: quantity.Unknown}
}
