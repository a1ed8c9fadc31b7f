package gauge

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/catalogue"
)

// headDemands are the demands on the runs of one head.
type headDemands struct {
	*bar
	runs   []Run
	sizer  *power.Sizer
	free   *power.Head // with wire of no resistance to speak of
	solved map[string]*power.Head
	hot    bool // hot wires are not waived
	// bestFalls tells that thicker sizes have less resistance at their best, too; of wire whose size is not sure they may not.
	bestFalls bool
	// before are the findings of the layout as it is, by rule and place.
	before map[string]bool
}

// freeWire is wire of no resistance to speak of, in square metres: 17 millionths of an ohm a metre.
const freeWire = 1e-3

func newDemands(ctx context.Context, b *bar, runs []Run) (*headDemands, error) {
	d := &headDemands{bar: b, runs: runs, sizer: b.c.Power.NewSizer(b.head), solved: map[string]*power.Head{}}
	wires := make([]quantity.Wire, len(runs))
	for i := range wires {
		wires[i] = quantity.Wire{Value: quantity.Exact(freeWire)}
	}
	room := b.c.Power.Elements.Celsius()
	d.bestFalls = !slices.ContainsFunc(runs, func(r Run) bool {
		return !slices.IsSortedFunc(r.Sizes, func(x, y Size) int {
			return -cmp.Compare(conductor.WireOhms(x.Wire, room).Lo, conductor.WireOhms(y.Wire, room).Lo)
		})
	})
	var err error
	d.free, err = d.sizer.Corners(ctx, withWires(b.c.L, runs, wires))
	return d, err
}

// mostKept bounds how many solved networks are kept at hand.
const mostKept = 64

// corners is the head with a choice, at both corners; nil where it cannot be solved.
func (d *headDemands) corners(ctx context.Context, choice []int) (*power.Head, error) {
	key := choiceKey(choice)
	if h, known := d.solved[key]; known {
		return h, nil
	}
	h, err := d.sizer.Corners(ctx, with(d.c.L, d.runs, choice))
	if err != nil {
		return nil, err
	}
	if len(d.solved) >= mostKept {
		clear(d.solved)
	}
	d.solved[key] = h
	return h, nil
}

func (d *headDemands) meetsMonotone(ctx context.Context, choice []int) (bool, error) {
	h, err := d.corners(ctx, choice)
	return h != nil && d.monotone(h), err
}

// monotone reports whether a head meets the demands that no thicker wire can break.
func (d *headDemands) monotone(h *power.Head) bool {
	for g, amps := range h.LeastShorts() {
		if amps < d.need[g] {
			return false
		}
	}
	if d.bestFalls {
		for g, a := range h.FavourableDrops() {
			if a.Volts > d.most[g] {
				return false
			}
		}
	}
	if d.free == nil || d.ask.WireDrop <= 0 {
		return true
	}
	for g, a := range h.AddedVolts(d.free) {
		if a.Volts > d.allow[g] {
			return false
		}
	}
	return true
}

// excluded reports that a run's wire gets hot whatever the others are, where the heat follows from a share that only
// falls so far.
func (d *headDemands) excluded(ctx context.Context, lo, hi []int, i, k int) (bool, error) {
	if !d.hot || lo[i] == hi[i] && slices.Equal(lo, hi) {
		return false, nil
	}
	thick, thin := slices.Clone(hi), slices.Clone(lo)
	thick[i], thin[i] = k, k
	a, err := d.corners(ctx, thick)
	if err != nil || a == nil {
		return false, err
	}
	b, err := d.corners(ctx, thin)
	if err != nil || b == nil {
		return false, err
	}
	ambient := d.c.Power.Elements.Celsius().Hi
	wire := d.runs[i].Sizes[k].Wire
	done := map[bool]float64{} // the most carried so far, alone and beside a companion
	for _, c := range power.LeastShares(a, b, d.own(i)) {
		pair := c.IsPair(a.Study.C.Layout)
		// what is carried is set by the guard only where a short would trip it, as the demands ask
		if d.need[c.Guard] == 0 || math.IsInf(c.Steady, 1) || c.Steady <= done[pair] {
			continue
		}
		done[pair] = c.Steady
		if conductor.SteadyCelsius(wire, c.Steady, ambient, pair) > catalogue.WarmInsulation {
			return true, nil
		}
	}
	return false, nil
}

// own picks the conductors of a run.
func (d *headDemands) own(i int) func(circuit.Kind, int32) bool {
	r := &d.runs[i]
	if r.IsBus() {
		return func(k circuit.Kind, ref int32) bool { return k == circuit.BusSpan && ref == r.Bus }
	}
	return func(k circuit.Kind, ref int32) bool {
		return k == circuit.FeederWire && slices.Contains(r.Feeders, ref)
	}
}

func (d *headDemands) meets(ctx context.Context, choice []int) (bool, error) {
	short, err := d.shortfalls(ctx, with(d.c.L, d.runs, choice), true)
	return len(short) == 0, err
}

// shortfalls are the limits that wires do not meet, but for those waived. Where first is set the first is enough.
func (d *headDemands) shortfalls(ctx context.Context, l *layout.Layout, first bool) ([]Shortfall, error) {
	s, err := d.sizer.Whole(ctx, l)
	if err != nil {
		return nil, err
	}
	h := s.Heads[0]
	if h.Open != nil {
		return []Shortfall{{Limit: "not-computed", Place: d.c.C.Sources[h.Source].Name, Text: h.Open.Why, track: -1}}, nil
	}
	out := d.judged(s, first)
	if first && len(out) > 0 {
		return out, nil
	}
	margins, err := d.margins(ctx, s)
	if err != nil {
		return nil, err
	}
	out = append(out, margins...)
	drops, err := d.drops(ctx, s, l, out)
	if err != nil {
		return nil, err
	}
	out = append(out, drops...)
	if d.ask.LoseOne && (!first || len(out) == 0) {
		losses, left, err := h.Losses(ctx)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return []Shortfall{{Limit: "not-computed", Place: d.c.C.Sources[h.Source].Name, Text: err.Error(), track: -1}}, nil
		case left > 0:
			out = append(out, Shortfall{Limit: "not-computed", Place: d.c.C.Sources[h.Source].Name, Text: "the loss of every feeder was not computed: the bound on work was reached", track: -1})
		}
		out = append(out, d.lost(s, losses)...)
	}
	return out, nil
}

// drops are the guards behind which wiring loses more than it may at some point, though not where the rules look, and those
// behind which wire alone does.
func (d *headDemands) drops(ctx context.Context, s *power.Study, l *layout.Layout, told []Shortfall) ([]Shortfall, error) {
	h, err := d.sizer.Corners(ctx, l)
	if err != nil || h == nil {
		return nil, err
	}
	var out []Shortfall
	take := func(a power.Added, most float64, limit, what, bound, source string) {
		p, ok := s.PointAt(a.Way, a.T)
		if !ok {
			return
		}
		place := d.caseOf(s).PointPlace(&p).Text
		volts := quantity.FormatVoltage(a.Volts)
		if volts == quantity.FormatVoltage(most) {
			volts = "a little over " + volts
		}
		x := Shortfall{
			Limit: limit, Place: place, Value: volts, Bound: bound, Source: source,
			Text:   what + " lose " + volts + " on the way to " + place + " with " + quantity.FormatCurrent(a.Amps),
			Advice: "a source nearer, or more feeders there; or no more than " + quantity.FormatCurrent(a.Amps*most/a.Volts) + " drawn at once; or a limit of " + quantity.FormatVoltage(a.Volts),
		}
		x.stand(s, &p)
		if !d.waived[x.key()] {
			out = append(out, x)
		}
	}
	for g, a := range h.FavourableDrops() {
		name := d.head.Weak.Guards[g].Name
		known := slices.ContainsFunc(told, func(o Shortfall) bool { return strings.HasSuffix(o.Limit, "-drop") && o.matter == name })
		for _, id := range [...]string{"bus-drop", "feeder-drop", "rail-drop"} {
			known = known || d.waived[id+" "+name]
		}
		if a.Volts > d.most[g] && !known {
			take(a, d.most[g], "whole-drop", "wires and rails", "at most "+quantity.FormatVoltage(d.most[g]), catalogue.MostDropSource)
		}
	}
	if d.free == nil || d.ask.WireDrop <= 0 {
		return out, nil
	}
	bound, source := d.dropText()
	for g, a := range h.AddedVolts(d.free) {
		if a.Volts > d.allow[g] {
			take(a, d.allow[g], "wire-drop", "buses and feeders alone", bound, source)
		}
	}
	return out, nil
}
