package fixes

import (
	"slices"

	"gapwise/netlist/layout"
)

// keeps reports whether a changed layout has still every piece, feeder, device and train of the one before, and accepts no more. A
// finding that goes because its subject went, or because it is told no longer, is not mended. A bond may go: it is a wire that joins
// what should be apart.
func keeps(before, after *layout.Layout) bool {
	if len(after.Accepts) > len(before.Accepts) || len(after.Feeders) < len(before.Feeders) {
		return false
	}
	was, is := entries(before), entries(after)
	for i := range was {
		for _, name := range was[i] {
			if !slices.Contains(is[i], name) {
				return false
			}
		}
	}
	return true
}

// entries are the names of pieces, devices, wires, blocks and trains, kind by kind.
func entries(l *layout.Layout) [][]string {
	pieces := make([]string, len(l.Pieces))
	for i := range l.Pieces {
		pieces[i] = l.Pieces[i].Name
	}
	return [][]string{
		pieces,
		named(l.Supplies, func(x *layout.Supply) string { return x.Name }),
		named(l.Boosters, func(x *layout.Booster) string { return x.Name }),
		named(l.Cabs, func(x *layout.Cab) string { return x.Name }),
		named(l.Breakers, func(x *layout.Breaker) string { return x.Name }),
		named(l.Reversers, func(x *layout.Reverser) string { return x.Name }),
		named(l.Detectors, func(x *layout.Detector) string { return x.Name }),
		named(l.InLines, func(x *layout.InLine) string { return x.Name }),
		named(l.Changeovers, func(x *layout.Changeover) string { return x.Name }),
		named(l.Plugs, func(x *layout.Plug) string { return x.Name }),
		named(l.Buses, func(x *layout.Bus) string { return x.Name }),
		named(l.Blocks, func(x *layout.Block) string { return x.Name }),
		named(l.Districts, func(x *layout.District) string { return x.Name }),
		named(l.Trains, func(x *layout.Train) string { return x.Name }),
	}
}

func named[T any](xs []T, name func(*T) string) []string {
	out := make([]string, len(xs))
	for i := range xs {
		out[i] = name(&xs[i])
	}
	return out
}
