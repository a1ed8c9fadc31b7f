package generate

import "gapwise/netlist/layout"

// entry is an entry that is named and nothing more.
func entry(name string) layout.Entry { return layout.Entry{Name: name} }

// power makes everything from the supplies to the buses.
func (a *assembly) power() {
	l, b, v := a.l, a.b, &a.values
	var all []int32
	for i := range b.boosters {
		l.Supplies = append(l.Supplies, layout.Supply{Entry: entry(numbered("S", i+1)), Volts: v.supplyVolts, Rating: v.supplyRating, Tolerance: v.tolerance, Listed: layout.Yes})
		l.Boosters = append(l.Boosters, layout.Booster{
			Entry: entry(numbered("G", i+1)), Supply: int32(i), Volts: v.boostVolts, Inside: v.inside,
			Rating: v.boosterTrip, TripsAt: v.boosterTrip, TripTime: v.boosterTime, Retry: v.retry,
			Signal: "command", SignalWired: layout.SignalStraight, Isolated: layout.Yes, Common: layout.CommonRequired,
		})
		all = append(all, int32(i))
	}
	if len(all) > 1 {
		l.Commons = []layout.Common{{Joins: all, Wire: v.commonWire}}
	}
	for i, from := range b.breakers {
		l.Breakers = append(l.Breakers, layout.Breaker{
			Entry: entry(breakerName(int32(i))), From: a.source(from), TripsAt: v.breakerTrip, TripTime: v.breakerTime,
			Resistance: v.deviceResistance, Opens: layout.OpensBoth,
		})
	}
	for i, from := range b.reversers {
		l.Reversers = append(l.Reversers, layout.Reverser{
			Entry: entry(reverserName(int32(i))), From: a.source(from), TripsAt: v.reverserTrip, TripTime: v.reverserTime,
			Resistance: v.deviceResistance, Opens: layout.OpensBoth, Switching: layout.Automatic,
		})
	}
	for i, d := range b.detectors {
		l.Detectors = append(l.Detectors, layout.Detector{Entry: entry(detectorName(int32(i))), From: a.source(d.from), Leg: d.leg, Senses: "current", Drop: v.drop, Sees: v.sees})
	}
	for i := range b.buses {
		p := &b.buses[i]
		bus := layout.Bus{
			Entry: entry(p.name), From: a.source(p.from), Legs: p.legs, Wire: wire(p.wire), Length: a.length(p.at + busTail),
			Laid: layout.Laid{Kind: layout.LaidTwisted}, Returns: layout.Tap{Bus: -1},
		}
		if p.beside >= 0 {
			bus.Beside = []layout.Beside{{Bus: p.beside, Spacing: v.beside}}
		}
		l.Buses = append(l.Buses, bus)
	}
}

func breakerName(i int32) string  { return numbered("C", int(i)+1) }
func reverserName(i int32) string { return numbered("V", int(i)+1) }
func detectorName(i int32) string { return numbered("D", int(i)+1) }

// source is what something hangs from, named as a reader names it.
func (a *assembly) source(s origin) layout.Source {
	out := layout.Source{Kind: s.kind, Index: s.index, Tap: layout.Tap{Bus: -1}}
	switch s.kind {
	case layout.FromTap:
		out.Index, out.Tap = -1, a.tap(s.tap)
		out.Text = out.Tap.Text
	case layout.FromBooster:
		out.Text = "booster " + numbered("G", int(s.index)+1)
	case layout.FromBreaker:
		out.Text = "breaker " + breakerName(s.index)
	case layout.FromReverser:
		out.Text = "reverser " + reverserName(s.index)
	case layout.FromDetector:
		out.Text = "detector " + detectorName(s.index)
	}
	return out
}
