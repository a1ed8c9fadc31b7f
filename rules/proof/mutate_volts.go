package proof

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// tooThin are the rules that a wire made thinner may bring up: which of them depends on what lies before and
// behind it.
var tooThin = []string{
	"short-too-weak-to-trip", "wire-hot-before-trip", "wire-energy-let-through", "short-too-weak-under-dcc",
	"bus-drop", "feeder-drop", "rail-drop", "feeder-too-thin",
}

// gauge is a wire of an AWG size.
func gauge(n int) quantity.Wire {
	return quantity.Wire{
		Value: quantity.Value{State: quantity.Known, Lo: quantity.AWGArea(n), Hi: quantity.AWGArea(n), Text: fmt.Sprintf("%d AWG", n)},
		Gauge: n, HasGauge: true,
	}
}

// busesThinned makes each bus of bell wire.
func busesThinned(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Buses {
		if b := &l.Buses[i]; !b.Wire.Known() || b.Use != layout.BusTrack || b.Wire.Lo < quantity.AWGArea(26) {
			continue
		}
		out = append(out, Fault{
			Where: busPlace(l, i), Meant: tooThin,
			Change: func(l *layout.Layout) { l.Buses[i].Wire = gauge(30) },
		})
	}
	return out
}

// busPlace is where a bus's trouble may be told: at the bus, or at any track that hangs from it.
func busPlace(l *layout.Layout, bus int) Spotted {
	where := Spotted{Names: []string{l.Buses[bus].Name}}
	for i := range l.Feeders {
		for _, tap := range l.Feeders[i].From {
			if tap.Bus == int32(bus) && l.Feeders[i].Place.Piece >= 0 {
				where.Pieces = append(where.Pieces, l.Pieces[l.Feeders[i].Place.Piece].Name)
			}
		}
	}
	return where
}

// busesApart lays the wires of each bus a metre apart.
func busesApart(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Buses {
		if b := &l.Buses[i]; b.Legs != layout.LegsBoth || b.Use != layout.BusTrack || !b.Length.Known() || b.Length.Lo < 12 {
			continue
		}
		out = append(out, Fault{
			Where: busPlace(l, i), Meant: []string{"short-too-weak-under-dcc", "short-too-weak-to-trip"},
			Change: func(l *layout.Layout) {
				l.Buses[i].Laid = layout.Laid{Kind: layout.LaidApart, Spacing: quantity.Length{Value: known(1, "m")}}
			},
		})
	}
	return out
}

// feedersOfHair makes each feeder of the thinnest wire.
func feedersOfHair(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		if f := &l.Feeders[i]; !f.Wire.Known() || f.Broken == layout.Yes {
			continue
		}
		out = append(out, Fault{
			Where: spot(l, l.Feeders[i].Place), Meant: tooThin,
			Change: func(l *layout.Layout) { l.Feeders[i].Wire = gauge(36) },
		})
	}
	return out
}

// feedersStretched makes each feeder of bell wire 12 m long, as when a coil is left in it.
func feedersStretched(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		if f := &l.Feeders[i]; !f.Wire.Known() || !f.Length.Known() || f.Broken == layout.Yes {
			continue
		}
		out = append(out, Fault{
			Where: spot(l, l.Feeders[i].Place), Meant: append([]string{"feeder-too-long"}, tooThin...),
			Change: func(l *layout.Layout) {
				l.Feeders[i].Wire = gauge(24)
				l.Feeders[i].Length = quantity.Length{Value: known(12, "m")}
			},
		})
	}
	return out
}

// tripsRaised lets each booster trip at three times its current.
func tripsRaised(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Boosters {
		b := &l.Boosters[i]
		if !b.TripsAt.Known() {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{b.Name}}, Meant: append([]string{"supply-undersized", "source-exceeds-limited-power"}, tooThin...),
			Change: func(l *layout.Layout) {
				l.Boosters[i].TripsAt = quantity.Current{Value: known(3*b.TripsAt.Hi, "A")}
			},
		})
	}
	return out
}

// tripsSlowed lets each booster take three seconds to trip, and each breaker behind it no less.
func tripsSlowed(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Boosters {
		if !l.Boosters[i].TripTime.Known() {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Boosters[i].Name}}, Meant: append([]string{"breaker-not-before-booster"}, tooThin...),
			Change: func(l *layout.Layout) {
				l.Boosters[i].TripTime = quantity.Time{Value: known(3, "s")}
				for k := range l.Breakers {
					l.Breakers[k].TripTime = quantity.Time{Value: known(2.9, "s")}
				}
			},
		})
	}
	return out
}

// secondFeedersGone takes every feeder of a track but the first, where it has several, and makes its rail thin.
func secondFeedersGone(l *layout.Layout) []Fault {
	var out []Fault
	for t := range l.Tracks {
		var own []int
		for i := range l.Feeders {
			if l.Feeders[i].Place.Piece == l.Tracks[t].Piece && l.Feeders[i].Broken != layout.Yes {
				own = append(own, i)
			}
		}
		if len(own) < 2 {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Pieces: []string{l.Pieces[l.Tracks[t].Piece].Name}}, Meant: append([]string{"rail-dead", "rail-one-leg-only", "only-one-feeder", "rail-length-without-feeder", "feeder-spacing", "feeder-missing-at-turnout-side", "feeder-missing-at-expansion-gap", "detector-sees-nothing"}, tooThin...),
			Change: func(l *layout.Layout) {
				for _, i := range own[1:] {
					l.Feeders[i].Broken = layout.Yes
				}
				l.Tracks[t].Rail = layout.RailStock{Code: 40, Metal: "nickel silver", Said: true}
			},
		})
	}
	return out
}

// stretch is by how much a bus is lengthened.
const stretch = 8

// busesStretched makes each bus eight times as long, and what hangs from it so much farther along.
func busesStretched(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Buses {
		b := &l.Buses[i]
		if !b.Length.Known() || b.Use != layout.BusTrack || stretch*b.Length.Hi > 900 {
			continue
		}
		out = append(out, Fault{
			Where: busPlace(l, i), Meant: append([]string{"bus-ringing"}, tooThin...),
			Change: func(l *layout.Layout) { stretchBus(l, int32(i)) },
		})
	}
	return out
}

func stretchBus(l *layout.Layout, bus int32) {
	tap := func(t *layout.Tap) {
		if t.Bus == bus && t.At.Known() {
			t.At = quantity.Length{Value: known(stretch*t.At.Mid(), "m")}
		}
	}
	from := func(s *layout.Source) {
		if s.Kind == layout.FromTap {
			tap(&s.Tap)
		}
	}
	b := &l.Buses[bus]
	b.Length = quantity.Length{Value: known(stretch*b.Length.Mid(), "m")}
	b.Under = nil
	for i := range l.Feeders {
		for leg := range l.Feeders[i].From {
			tap(&l.Feeders[i].From[leg])
		}
	}
	for i := range l.Buses {
		from(&l.Buses[i].From)
		tap(&l.Buses[i].Returns)
	}
	for i := range l.Breakers {
		from(&l.Breakers[i].From)
	}
	for i := range l.Reversers {
		from(&l.Reversers[i].From)
	}
	for i := range l.Detectors {
		from(&l.Detectors[i].From)
	}
	for i := range l.InLines {
		from(&l.InLines[i].From)
	}
	for i := range l.Plugs {
		from(&l.Plugs[i].From)
	}
	for i := range l.Changeovers {
		for p := range l.Changeovers[i].Positions {
			from(&l.Changeovers[i].Positions[p].From)
		}
	}
	for i := range l.Turntables {
		from(&l.Turntables[i].From)
	}
	for i := range l.TransferTables {
		from(&l.TransferTables[i].From)
	}
	for i := range l.Turnouts {
		tap(&l.Turnouts[i].FrogTap)
	}
	for i := range l.Terminators {
		tap(&l.Terminators[i].Tap)
	}
	for i := range l.Loads {
		tap(&l.Loads[i].Tap)
	}
}
