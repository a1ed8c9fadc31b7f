package rules

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// FeederLike is a feeder like another one, at metres elsewhere on its track, from the bus as much farther along as the bus goes.
func FeederLike(l *layout.Layout, feeder int32, at float64) layout.Feeder {
	f := l.Feeders[feeder]
	f.Entry.Name, f.Row = "", layout.Row{}
	along := at - f.Place.At.Mid()
	f.Place.At = quantity.Length{Value: quantity.Exact(at)}
	f.Place.End, f.Place.FromEnd = -1, false
	for leg := range f.From {
		tap := &f.From[leg]
		if tap.Bus < 0 || !l.Buses[tap.Bus].Length.Known() {
			continue
		}
		tap.At = quantity.Length{Value: quantity.Exact(min(l.Buses[tap.Bus].Length.Mid(), max(0, tap.At.Mid()+along)))}
	}
	return f
}
