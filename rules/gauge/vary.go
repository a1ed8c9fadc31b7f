package gauge

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// Run is wire that is chosen as one: a bus, or the feeders that hang from one bus.
type Run struct {
	Name    string
	Bus     int32   // the bus itself, or the bus that the feeders hang from; Layout.Buses
	Feeders []int32 // Layout.Feeders; nil for a bus
	Metres  float64 // of single conductor, every wire of it counted
	Unsaid  int     // feeders whose length the layout does not say: reckoned at the middle of network.UsualFeederMetres
	Present []quantity.Wire
	Sizes   []Size // thin first
}

// IsBus tells a bus from feeders.
func (r *Run) IsBus() bool { return r.Feeders == nil }

// Size is wire that a run may be made of, and what the run then costs: kilograms of copper, or the owner's money.
type Size struct {
	Wire quantity.Wire
	Cost float64
}

// Kept is wire that nothing was chosen for, and why.
type Kept struct {
	Name, Why string
}

// runsOf lists what hangs from a head and can be chosen, buses first.
func runsOf(c *rule.Case, h *power.Head, a *Ask) (runs []Run, kept []Kept) {
	byBus := map[int32]int{}
	for i := range h.Wires {
		w := &h.Wires[i]
		switch w.Kind {
		case circuit.BusSpan:
			b := &c.L.Buses[w.Ref]
			name := "bus " + b.Name
			switch {
			case !b.Length.Known():
				kept = append(kept, Kept{name, "the layout does not say its `length`"})
			case slices.Contains(a.Keep, b.Name):
				kept = append(kept, Kept{name, "you asked to keep it"})
			default:
				wires := 2.0
				if b.Legs != layout.LegsBoth {
					wires = 1
				}
				runs = append(runs, Run{Name: name, Bus: w.Ref, Metres: wires * b.Length.Mid(), Present: []quantity.Wire{b.Wire}})
			}
		case circuit.FeederWire:
			bus := hangsFrom(c.L, w.Ref)
			if bus < 0 {
				continue
			}
			if slices.Contains(a.Keep, "feeders of "+c.L.Buses[bus].Name) {
				k := Kept{"feeders of bus " + c.L.Buses[bus].Name, "you asked to keep them"}
				if !slices.Contains(kept, k) {
					kept = append(kept, k)
				}
				continue
			}
			at, seen := byBus[bus]
			if !seen {
				at = len(runs)
				byBus[bus] = at
				runs = append(runs, Run{Name: "feeders of bus " + c.L.Buses[bus].Name, Bus: bus})
			}
			f := &c.L.Feeders[w.Ref]
			r := &runs[at]
			r.Feeders = append(r.Feeders, w.Ref)
			if !slices.ContainsFunc(r.Present, func(p quantity.Wire) bool { return p.Lo == f.Wire.Lo && p.Hi == f.Wire.Hi }) {
				r.Present = append(r.Present, f.Wire)
			}
			wires := 2.0
			if f.Rails != layout.BothRails {
				wires = 1
			}
			if f.Length.Known() {
				r.Metres += wires * f.Length.Mid()
			} else {
				r.Metres += wires * network.UsualFeederMetres.Mid()
				r.Unsaid++
			}
		}
	}
	for i := range runs {
		runs[i].Sizes = sizesFor(c, &runs[i], a)
	}
	slices.SortStableFunc(runs, func(x, y Run) int {
		return cmp.Or(cmp.Compare(btoi(!x.IsBus()), btoi(!y.IsBus())), cmp.Compare(x.Bus, y.Bus))
	})
	return runs, kept
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// hangsFrom is the bus that a feeder counts to: the one with both legs of the two that it taps, or else that of leg A.
func hangsFrom(l *layout.Layout, feeder int32) int32 {
	f := &l.Feeders[feeder]
	for _, tap := range f.From {
		if tap.Bus >= 0 && l.Buses[tap.Bus].Legs == layout.LegsBoth {
			return tap.Bus
		}
	}
	return max(f.From[layout.A].Bus, f.From[layout.B].Bus)
}

// sizesFor are the sizes that a run may be made of: those in stock, where the layout lists any, else what shops keep. Sizes are in
// the order of their resistance, thin first, and of equal ones the cheaper.
func sizesFor(c *rule.Case, r *Run, a *Ask) []Size {
	var out []Size
	stock := c.L.Stock.Bus
	if !r.IsBus() {
		stock = c.L.Stock.Feeder
	}
	for _, s := range stock {
		if s.Wire.Known() && (!a.ByPrice || s.Priced()) && a.takes(s.Wire) {
			out = append(out, Size{s.Wire, a.cost(s.Wire, s.PerMetre()) * r.Metres})
		}
	}
	others := a.Sizes
	if len(stock) == 0 && len(others) == 0 {
		others = rule.ShopSizes(a.metric(r))
	}
	for _, w := range others {
		if !a.ByPrice && !slices.ContainsFunc(out, func(s Size) bool { return sameSize(s.Wire, w) }) {
			out = append(out, Size{w, a.cost(w, 0) * r.Metres})
		}
	}
	room := c.Power.Elements.Celsius()
	slices.SortStableFunc(out, func(x, y Size) int {
		return cmp.Or(-cmp.Compare(conductor.WireOhms(x.Wire, room).Hi, conductor.WireOhms(y.Wire, room).Hi), cmp.Compare(x.Cost, y.Cost))
	})
	return out
}

// takes reports whether a size is among those asked for.
func (a *Ask) takes(w quantity.Wire) bool {
	return len(a.Sizes) == 0 || slices.ContainsFunc(a.Sizes, func(s quantity.Wire) bool { return sameSize(s, w) })
}

func sameSize(x, y quantity.Wire) bool { return x.Lo == y.Lo && x.Hi == y.Hi }

// metric reports in which system a run's sizes are chosen: as asked, else as its present wire was typed.
func (a *Ask) metric(r *Run) bool {
	if a.System != AsTyped {
		return a.System == Metric
	}
	for _, w := range r.Present {
		if w.Known() {
			return !w.HasGauge
		}
	}
	return false
}

// cost of a metre of single conductor.
func (a *Ask) cost(w quantity.Wire, price float64) float64 {
	if a.ByPrice {
		return price
	}
	return conductor.CopperMass(w)
}

// with is a copy of a layout in which the runs have the sizes chosen; what else there is is shared.
func with(l *layout.Layout, runs []Run, choice []int) *layout.Layout {
	wires := make([]quantity.Wire, len(runs))
	for i := range runs {
		wires[i] = runs[i].Sizes[choice[i]].Wire
	}
	return withWires(l, runs, wires)
}

func withWires(l *layout.Layout, runs []Run, wires []quantity.Wire) *layout.Layout {
	out := *l
	out.Buses, out.Feeders = slices.Clone(l.Buses), slices.Clone(l.Feeders)
	for i := range runs {
		if runs[i].IsBus() {
			out.Buses[runs[i].Bus].Wire = wires[i]
		}
		for _, f := range runs[i].Feeders {
			out.Feeders[f].Wire = wires[i]
		}
	}
	return &out
}
