package gauge

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"

	"gapwise/rules"
	"gapwise/rules/rule"
)

// Alternative is something else than thicker wire, tried on a copy of the layout and chosen for anew.
type Alternative struct {
	Text    string
	Cost    float64 // of all wire then, in what Ask counts
	Mends   int     // limits met then that no size meets now
	Wires   []string
	Unmet   int // limits that no size meets then either
	rank    int
	group   string
	changed *layout.Layout
}

// worthWhile is the least saving, in parts of the cost, for which something else is offered. Common practice, no source.
const worthWhile = 0.05

// others tries what may beat thicker wire: twisting, a lower trip, one more feeder, a bus fed from its middle, a
// second run beside the first, a network at the end of a bus. Those are told that save copper or money, or meet what no size meets.
func (d *headDemands) others(ctx context.Context, x *Head) ([]Alternative, error) {
	if !x.Found {
		return nil, nil
	}
	var out []Alternative
	tries := d.tries(x)
	tries = tries[:min(len(tries), max(3, 200_000/conductors(d.head)))] // each is a check of the whole layout
	for i := range tries {
		t := &tries[i]
		if t.changed == nil {
			continue
		}
		below := x.Cost - max(worthWhile*x.Cost, d.leastSaving())
		if len(x.Impossible) > 0 {
			below = math.Inf(1)
		}
		again, ok, err := d.again(ctx, t.changed, below)
		if err != nil {
			return nil, err
		}
		if !ok || !again.Found {
			continue
		}
		t.Cost, t.Unmet = again.Cost, len(again.Impossible)
		t.Mends = len(x.Impossible) - t.Unmet
		if t.Mends < 0 || t.Mends == 0 && t.Cost > x.Cost-max(worthWhile*x.Cost, d.leastSaving()) {
			continue
		}
		t.Wires = changedSizes(x, again)
		out = append(out, *t)
	}
	second, err := d.secondRuns(ctx, x)
	if err != nil {
		return nil, err
	}
	out = append(out, second...)
	slices.SortStableFunc(out, func(a, b Alternative) int {
		return cmp.Or(-cmp.Compare(a.Mends, b.Mends), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.rank, b.rank))
	})
	// of the ways to divide one bus the best is enough
	seen := map[string]bool{}
	out = slices.DeleteFunc(out, func(a Alternative) bool {
		again := a.group != "" && seen[a.group]
		seen[a.group] = true
		return again
	})
	return out[:min(len(out), mostOthers)], nil
}

// leastSaving is what is worth a change at all, in kilograms of copper: about an ounce. Common practice, no source. Of
// money the owner knows better.
func (d *headDemands) leastSaving() float64 {
	if d.ask.ByPrice {
		return 0
	}
	return 0.03
}

const (
	mostOthers = 4 // that are told
	mostTries  = 24
)

// again checks a changed layout and chooses for the same source, with a part of the work; ok is false where the change brought a fault
// or a caution that does not depend on wire.
func (d *headDemands) again(ctx context.Context, l *layout.Layout, below float64) (x *Head, ok bool, err error) {
	r, err := rules.Check(ctx, l, rules.Options{})
	if err != nil {
		return nil, false, err
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Severity > 0 && !f.Accepted && !slices.Contains(judging, f.Rule) && !d.had(f.Rule, f.Place.Text) {
			return nil, false, nil
		}
	}
	c := &rule.Case{L: l, C: r.Trace.C, T: r.Trace, Power: r.Power, Shared: &rule.Verdicts{}}
	a := *d.ask
	a.Work /= 4
	for _, h := range r.Power.Heads {
		if h.Source != d.head.Source || !h.Known() {
			continue
		}
		runs, _ := runsOf(c, h, &a)
		if slices.ContainsFunc(runs, func(r Run) bool { return len(r.Sizes) == 0 }) || len(runs) == 0 {
			return nil, false, nil
		}
		e, err := newDemands(ctx, newBar(c, h, &a), runs)
		if err != nil {
			return nil, false, err
		}
		x = &Head{}
		f, err := e.search(ctx, x, below)
		if err != nil {
			return nil, false, err
		}
		x.Found, x.Cost = f.best != nil, f.cost
		for i := range runs {
			k := Chosen{Run: runs[i], Size: -1}
			if f.best != nil {
				k.Size = f.best[i]
			}
			x.Runs = append(x.Runs, k)
		}
		return x, true, nil
	}
	return nil, false, nil
}

// had reports whether the layout as it is has a finding of a rule at a place.
func (d *headDemands) had(id, place string) bool {
	if d.before == nil {
		return false
	}
	return d.before[id+" "+place]
}

// changedSizes names the runs that then have another size, or are new.
func changedSizes(x, again *Head) []string {
	var out []string
	for i := range x.Runs {
		r := &x.Runs[i]
		for j := range again.Runs {
			o := &again.Runs[j]
			if o.Name == r.Name && o.Size >= 0 && o.Wire() != r.Wire() {
				out = append(out, fmt.Sprintf("%s of %s", r.Name, rule.WireText(o.Wire())))
			}
		}
	}
	for j := range again.Runs {
		o := &again.Runs[j]
		if o.Size >= 0 && !slices.ContainsFunc(x.Runs, func(r Chosen) bool { return r.Name == o.Name }) {
			out = append(out, fmt.Sprintf("%s of %s", o.Name, rule.WireText(o.Wire())))
		}
	}
	return out
}

// tries are the changes that may help.
func (d *headDemands) tries(x *Head) []Alternative {
	var out []Alternative
	add := func(rank int, text string, l *layout.Layout) {
		if l != nil && len(out) < mostTries {
			a := Alternative{Text: text, rank: rank, changed: l}
			if rank == 5 {
				a.group, _, _ = strings.Cut(text, " in two sizes")
			}
			out = append(out, a)
		}
	}
	text, l := d.twisted()
	add(0, text, l)
	text, l = d.terminated(x)
	add(1, text, l)
	for g := range d.head.Weak.Guards {
		text, l := d.lowerTrip(int32(g))
		add(2, text, l)
	}
	for _, s := range d.tight(x) {
		text, l := d.oneMoreFeeder(&s)
		add(3, text, l)
	}
	for i := range d.runs {
		if d.runs[i].IsBus() && x.Runs[i].Size > 0 && x.Runs[i].Sizes[x.Runs[i].Size].Cost >= x.Cost/10 {
			text, l := d.fedFromMiddle(d.runs[i].Bus)
			add(4, text, l)
			for _, part := range [...]float64{1. / 2, 1. / 3, 2. / 3} {
				text, l := d.tapered(d.runs[i].Bus, part)
				if !slices.ContainsFunc(out, func(a Alternative) bool { return a.Text == text }) {
					add(5, text, l)
				}
			}
		}
	}
	return out
}

// tight are the limits that decide: what the next thinner sizes break, and what nothing meets, one a place.
func (d *headDemands) tight(x *Head) []Shortfall {
	var out []Shortfall
	take := func(ss []Shortfall) {
		for _, s := range ss {
			if s.track >= 0 && !slices.ContainsFunc(out, func(o Shortfall) bool { return o.track == s.track && math.Abs(o.at-s.at) < 0.3 }) {
				out = append(out, s)
			}
		}
	}
	take(x.Impossible)
	for i := range x.Runs {
		take(x.Runs[i].Breaks)
	}
	return out[:min(len(out), 4)]
}

// twisted twists the wires of every bus of the source.
func (d *headDemands) twisted() (string, *layout.Layout) {
	out := *d.c.L
	out.Buses = slices.Clone(out.Buses)
	var names []string
	for i := range d.runs {
		b := &out.Buses[d.runs[i].Bus]
		if d.runs[i].IsBus() && b.Legs == layout.LegsBoth && b.Laid.Kind != layout.LaidTwisted {
			b.Laid = layout.Laid{Kind: layout.LaidTwisted}
			names = append(names, b.Name)
		}
	}
	if len(names) == 0 {
		return "", nil
	}
	return fmt.Sprintf("twist the two wires of %s", busList(names)), &out
}

func busList(names []string) string {
	switch len(names) {
	case 1:
		return "bus " + names[0]
	case 2:
		return "buses " + names[0] + " and " + names[1]
	default:
		return fmt.Sprintf("all %d buses", len(names))
	}
}

// terminated puts a network on every bus that is told to ring.
func (d *headDemands) terminated(x *Head) (string, *layout.Layout) {
	out := *d.c.L
	var names []string
	for _, s := range x.Impossible {
		if s.Limit != "bus-ringing" {
			continue
		}
		for i := range out.Buses {
			if b := &out.Buses[i]; "bus "+b.Name == s.Place {
				out.Terminators = append(slices.Clip(out.Terminators), layout.Terminator{
					Entry:       layout.Entry{Pos: b.Pos},
					Tap:         layout.Tap{Bus: int32(i), At: b.Length, Text: b.Name + " @ end", Pos: b.Pos},
					Resistance:  quantity.Resistance{Value: quantity.Exact(usualOhms)},
					Capacitance: quantity.Capacitance{Value: quantity.Exact(usualFarads)},
				})
				names = append(names, b.Name)
			}
		}
	}
	if len(names) == 0 {
		return "", nil
	}
	return fmt.Sprintf("put a terminating network, %s and %s in series, across the far end of %s", quantity.FormatResistance(usualOhms), quantity.FormatCapacitance(usualFarads), busList(names)), &out
}

// A terminating network: common practice, no source.
const (
	usualOhms   = 100.0
	usualFarads = 0.1e-6
)

// spareTrip is what a trip needs above what trains draw together, in parts of it: common practice, no source.
const spareTrip = 1.25

// lowerTrip sets a booster or breaker to what trains need.
func (d *headDemands) lowerTrip(guard int32) (string, *layout.Layout) {
	g := &d.head.Weak.Guards[guard]
	amps := 0.0
	for _, t := range d.c.Power.Trains {
		if !t.Known {
			return "", nil
		}
		amps += t.Amps
	}
	to := math.Ceil(amps*spareTrip*2) / 2
	if amps == 0 || !g.TripsAt.Known() || to >= g.TripsAt.Lo {
		return "", nil
	}
	out := *d.c.L
	at := quantity.Current{Value: quantity.Exact(to)}
	switch g.Kind {
	case network.SourceGuard:
		ref := d.c.C.Sources[d.head.Source].Ref
		out.Boosters = slices.Clone(out.Boosters)
		out.Boosters[ref].TripsAt = at
	case network.BreakerGuard:
		out.Breakers = slices.Clone(out.Breakers)
		out.Breakers[g.Ref].TripsAt = at
	default:
		return "", nil
	}
	return fmt.Sprintf("set %s to trip at %s instead of %s: all trains together draw %s", g.Name, quantity.FormatCurrent(to), g.TripsAt, quantity.FormatCurrent(amps)), &out
}

// oneMoreFeeder hangs a feeder where a limit decides, like the nearest on its track, from the bus as much farther along.
func (d *headDemands) oneMoreFeeder(s *Shortfall) (string, *layout.Layout) {
	l := d.c.L
	near, by := -1, math.Inf(1)
	for i := range l.Feeders {
		f := &l.Feeders[i]
		if f.Place.Piece != l.Tracks[s.track].Piece || f.Place.End >= 0 || f.Rails != layout.BothRails || !f.Place.At.Known() {
			continue
		}
		if away := math.Abs(f.Place.At.Mid() - s.at); away < by {
			near, by = i, away
		}
	}
	if near < 0 || by < leastApart {
		return "", nil
	}
	f := rules.FeederLike(l, int32(near), s.at)
	out := *l
	out.Feeders = append(slices.Clip(l.Feeders), f)
	like := d.c.FeederPlace(int32(near)).Text
	return fmt.Sprintf("hang one more feeder at %s @ %s, like that at %s, from its bus as much farther along", l.Tracks[s.track].Name, quantity.FormatLength(s.at), like), &out
}

// leastApart is how near to another a feeder is not worth hanging, in metres. Common practice, no source.
const leastApart = 0.3

// fedFromMiddle feeds a bus from its middle: the half before it becomes a bus of its own that runs the other way. That is
// offered for the one bus of a booster, which can be stood there; with more buses, others would have to reach there too.
func (d *headDemands) fedFromMiddle(bus int32) (string, *layout.Layout) {
	l := d.c.L
	b := &l.Buses[bus]
	if !b.Length.Known() || b.Returns.Bus >= 0 || b.From.Kind != layout.FromBooster || !d.alone(bus) {
		return "", nil
	}
	half := b.Length.Mid() / 2
	out := l.OwnTaps()
	back := int32(len(l.Buses))
	out.Buses = append(out.Buses, *b)
	length := quantity.Length{Value: quantity.Exact(half)}
	out.Buses[bus].Length, out.Buses[back].Length = length, length
	out.Buses[bus].Under, out.Buses[back].Under = nil, nil
	out.Buses[back].Name = b.Name + " (first half)"
	out.EachTap(func(t *layout.Tap) {
		if t.Bus != bus || !t.At.Known() {
			return
		}
		at := t.At.Mid() - half
		if at < 0 {
			t.Bus, at = back, -at
		}
		t.At = quantity.Length{Value: quantity.Exact(at)}
	})
	return fmt.Sprintf("feed bus %s from its middle (%s along) instead of its start: stand %s there", b.Name, quantity.FormatLength(half), d.c.C.Sources[d.head.Source].Name), out
}

// tapered divides a bus at the tap nearest to a part of its length, so that what lies beyond may be thinner.
func (d *headDemands) tapered(bus int32, part float64) (string, *layout.Layout) {
	l := d.c.L
	b := &l.Buses[bus]
	if !b.Length.Known() || b.Returns.Bus >= 0 {
		return "", nil
	}
	taps := l.TapsOf(bus)
	at, length := -1.0, b.Length.Mid()
	for _, t := range taps {
		if t > 0 && t < length && (at < 0 || math.Abs(t-part*length) < math.Abs(at-part*length)) {
			at = t
		}
	}
	if at < 0 || !slices.ContainsFunc(taps, func(t float64) bool { return t > at }) {
		return "", nil
	}
	out := l.OwnTaps()
	far := int32(len(l.Buses))
	out.EachTap(func(t *layout.Tap) {
		if t.Bus == bus && t.At.Known() && t.At.Mid() > at {
			t.Bus, t.At = far, quantity.Length{Value: quantity.Exact(t.At.Mid() - at)}
		}
	})
	out.Buses = append(out.Buses, *b)
	x := &out.Buses[far]
	x.Name, x.Length = b.Name+" beyond "+quantity.FormatLength(at), quantity.Length{Value: quantity.Exact(length - at)}
	x.From = layout.Source{Kind: layout.FromTap, Index: bus, Pos: b.Pos, Tap: layout.Tap{Bus: bus, At: quantity.Length{Value: quantity.Exact(at)}, Text: b.Name + " @ end", Pos: b.Pos}}
	out.Buses[bus].Length = quantity.Length{Value: quantity.Exact(at)}
	out.Buses[bus].Under, x.Under = nil, nil
	return fmt.Sprintf("run bus %s in two sizes, divided at its tap %s along", b.Name, quantity.FormatLength(at)), out
}

// alone reports whether nothing but a bus hangs from its source itself.
func (d *headDemands) alone(bus int32) bool {
	from := d.c.L.Buses[bus].From
	n := 0
	d.c.L.EachSource(func(s *layout.Source) {
		if s.Kind == from.Kind && s.Index == from.Index {
			n++
		}
	})
	return n == 1
}

// secondRuns makes, for each bus that costs most, two runs of a thinner size beside each other.
func (d *headDemands) secondRuns(ctx context.Context, x *Head) ([]Alternative, error) {
	var out []Alternative
	for i := range d.runs {
		r := &d.runs[i]
		k := x.Runs[i].Size
		if !r.IsBus() || k < 1 {
			continue
		}
		at := make([]quantity.Wire, len(d.runs))
		for j := range d.runs {
			at[j] = x.Runs[j].Wire()
		}
		for _, s := range r.Sizes[:k] {
			if 2*s.Cost >= r.Sizes[k].Cost*(1-worthWhile) {
				continue
			}
			at[i] = quantity.Wire{Value: quantity.Exact(2 * s.Wire.Lo)}
			doubled := withWires(d.c.L, d.runs, at)
			h, err := d.sizer.Corners(ctx, doubled)
			if err != nil {
				return nil, err
			}
			if h == nil || !d.monotone(h) {
				continue
			}
			short, err := d.shortfalls(ctx, doubled, true)
			if err != nil {
				return nil, err
			}
			if len(short) == 0 {
				out = append(out, Alternative{
					Text: fmt.Sprintf("two runs of %s side by side for %s, instead of one of %s", rule.WireText(s.Wire), r.Name, rule.WireText(r.Sizes[k].Wire)),
					Cost: x.Cost - r.Sizes[k].Cost + 2*s.Cost, Unmet: len(x.Impossible), rank: 5,
				})
				break
			}
		}
	}
	return out, nil
}
