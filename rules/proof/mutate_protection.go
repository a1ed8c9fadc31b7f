package proof

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

func amperes(si float64) quantity.Current { return quantity.Current{Value: known(si, "A")} }

// boosterOf is the booster that a breaker hangs from, directly or through others; nil when
// there is none.
func boosterOf(l *layout.Layout, breaker int) *layout.Booster {
	s := l.Breakers[breaker].From
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) + len(l.Breakers) + len(l.Reversers) + 1 {
		switch s.Kind {
		case layout.FromTap:
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			s = l.InLines[s.Index].From
		case layout.FromPlug:
			s = l.Plugs[s.Index].From
		case layout.FromBreaker:
			s = l.Breakers[s.Index].From
		case layout.FromReverser:
			s = l.Reversers[s.Index].From
		case layout.FromBooster:
			return &l.Boosters[s.Index]
		default:
			return nil
		}
	}
	return nil
}

// breakersRaised lets each breaker trip at twice what its booster does, and slows each down to
// twice the time.
func breakersRaised(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Breakers {
		b := boosterOf(l, i)
		if b == nil || !b.TripsAt.Known() {
			continue
		}
		amps := 2 * b.TripsAt.Hi
		where := Spotted{Names: []string{l.Breakers[i].Name}}
		meant := []string{"breaker-not-before-booster"}
		out = append(out, Fault{
			Where: where, Meant: meant,
			Change: func(l *layout.Layout) { l.Breakers[i].TripsAt = amperes(amps) },
		})
		if b.TripTime.Known() {
			seconds := 2 * b.TripTime.Hi
			out = append(out, Fault{
				Where: where, Meant: meant,
				Change: func(l *layout.Layout) {
					l.Breakers[i].TripTime = quantity.Time{Value: known(seconds, "s")}
				},
			})
		}
	}
	return out
}

// suppliesLowered halves the rating of each supply of a booster against what the booster trips at, and
// puts its volts below the booster's, or hardly above.
func suppliesLowered(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Boosters {
		b := &l.Boosters[i]
		if b.Supply < 0 || !b.TripsAt.Known() || !b.Volts.Known() {
			continue
		}
		amps, volts := b.TripsAt.Lo/2, b.Volts.Lo
		seed := func(change func(*layout.Supply)) {
			out = append(out, Fault{
				Where: Spotted{Names: []string{l.Supplies[b.Supply].Name}}, Meant: []string{"supply-undersized"},
				Change: func(l *layout.Layout) { change(&l.Supplies[l.Boosters[i].Supply]) },
			})
		}
		seed(func(s *layout.Supply) { s.Rating = amperes(amps) })
		seed(func(s *layout.Supply) { s.Volts = quantity.Voltage{Value: known(volts-2, "V")} })
		seed(func(s *layout.Supply) { s.Volts = quantity.Voltage{Value: known(volts+0.5, "V")} })
	}
	return out
}

// boostersOutOfRange gives each booster fewer volts and more than the standard allows, with a supply
// to match.
func boostersOutOfRange(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Boosters {
		for _, volts := range [...]float64{6, 26} {
			out = append(out, Fault{
				Where: Spotted{Names: []string{l.Boosters[i].Name}}, Meant: []string{"booster-volts-out-of-range"},
				Change: func(l *layout.Layout) {
					l.Boosters[i].Volts = quantity.Voltage{Value: known(volts, "V")}
					if s := l.Boosters[i].Supply; s >= 0 {
						l.Supplies[s].Volts = quantity.Voltage{Value: known(volts+2, "V")}
					}
				},
			})
		}
	}
	return out
}

// trainsStrengthened lets each train draw more than any booster trips at.
func trainsStrengthened(l *layout.Layout) []Fault {
	most, names := guardsOf(l)
	if most == 0 {
		return nil
	}
	var out []Fault
	for i := range l.Trains {
		out = append(out, Fault{
			Where: Spotted{Names: names}, Meant: []string{"district-overloaded"},
			Change: func(l *layout.Layout) { l.Trains[i].Current = amperes(most + 1) },
		})
	}
	return out
}

// inrushAdded lets each train draw more than any booster trips at when power returns.
func inrushAdded(l *layout.Layout) []Fault {
	most, names := guardsOf(l)
	if most == 0 {
		return nil
	}
	var out []Fault
	for i := range l.Trains {
		out = append(out, Fault{
			Where: Spotted{Names: names}, Meant: []string{"breaker-trips-at-inrush"},
			Change: func(l *layout.Layout) { l.Trains[i].Inrush = amperes(most + 1) },
		})
	}
	return out
}

// guardsOf is the highest current at which a breaker or booster trips, 0 when none says, and
// their names.
func guardsOf(l *layout.Layout) (most float64, names []string) {
	for i := range l.Boosters {
		most = max(most, l.Boosters[i].TripsAt.Hi)
		names = append(names, l.Boosters[i].Name)
	}
	for i := range l.Breakers {
		most = max(most, l.Breakers[i].TripsAt.Hi)
		names = append(names, l.Breakers[i].Name)
	}
	return most, names
}
