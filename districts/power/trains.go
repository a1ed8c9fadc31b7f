package power

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// Load is one train that may move: its current in amperes, drawn at a point, and its length in
// metres, both at the careful end; 0 where the layout does not say.
type Load struct {
	Train  int32 // Layout.Trains
	Amps   float64
	Metres float64
	Known  bool // its current is known
}

// trainsAtOnce lists the trains that may move at once, heaviest first.
func trainsAtOnce(l *layout.Layout) []Load {
	var out []Load
	for i := range l.Trains {
		t := &l.Trains[i]
		x := Load{Train: int32(i), Known: t.Current.Known()}
		if x.Known {
			x.Amps = t.Current.Hi
		}
		if t.Length.Known() {
			x.Metres = t.Length.Hi
		}
		for range max(1, t.AtOnce) {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(x, y Load) int { return -cmp.Compare(x.Amps, y.Amps) })
	if n := l.Operations.AtOnce; n > 0 && n < len(out) {
		out = out[:n]
	}
	return out
}
