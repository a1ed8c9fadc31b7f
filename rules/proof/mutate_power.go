package proof

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// fedBy finds the source of each feeder by walking up its bus, through detectors, in-line
// parts and plugs.
func fedBy(l *layout.Layout, f *layout.Feeder) layout.Source {
	tap := f.From[layout.A]
	if tap.Bus < 0 {
		tap = f.From[layout.B]
	}
	if tap.Bus < 0 {
		return layout.Source{}
	}
	s := l.Buses[tap.Bus].From
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) {
		switch s.Kind {
		case layout.FromTap:
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			s = l.InLines[s.Index].From
		case layout.FromPlug:
			s = l.Plugs[s.Index].From
		default:
			return s
		}
	}
	return s
}

// districtsBridged bonds a rail of each district to the like rail of each other.
func districtsBridged(l *layout.Layout) []Fault {
	type district struct {
		source string
		feeder int
	}
	var all []district
	for i := range l.Feeders {
		s := fedBy(l, &l.Feeders[i])
		if s.Kind == layout.SourceUnsaid || s.Kind == layout.FromUnknown || l.Feeders[i].Rails != layout.BothRails {
			continue
		}
		name := fmt.Sprint(s.Kind, s.Index)
		if !slices.ContainsFunc(all, func(d district) bool { return d.source == name }) {
			all = append(all, district{name, i})
		}
	}
	var out []Fault
	for x := range all {
		for y := range all[:x] {
			f, g := all[y].feeder, all[x].feeder
			where := spot(l, l.Feeders[f].Place)
			where.Near = false
			where.Pieces = append(where.Pieces, spot(l, l.Feeders[g].Place).Pieces...)
			out = append(out, Fault{
				Where: where,
				Meant: anyOf(parting, loops, polarity, []string{"boosters-out-of-phase"}),
				Change: func(l *layout.Layout) {
					a, b := &l.Feeders[f], &l.Feeders[g]
					l.Bonds = append(l.Bonds, layout.Bond{From: a.Place, To: b.Place, Rails: [2]layout.Rail{a.ARail, b.ARail}})
				},
			})
		}
	}
	return out
}

func feedersOf(l *layout.Layout, kind layout.SourceKind, index int) (feeders []int, pieces []string) {
	for i := range l.Feeders {
		if s := fedBy(l, &l.Feeders[i]); s.Kind == kind && int(s.Index) == index {
			feeders = append(feeders, i)
			pieces = append(pieces, l.Pieces[l.Feeders[i].Place.Piece].Name)
		}
	}
	return feeders, pieces
}

// reversersDropped hangs what hangs from each reverser from what the reverser hangs from.
func reversersDropped(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		_, pieces := feedersOf(l, layout.FromReverser, i)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}}.around(l),
			Meant: anyOf(loops, polarity),
			Change: func(l *layout.Layout) {
				rehang(l, layout.FromReverser, i, l.Reversers[i].From)
			},
		})
	}
	return out
}

// around adds to a spot the pieces that meet those it has.
func (s Spotted) around(l *layout.Layout) Spotted {
	for _, n := range slices.Clone(s.Pieces) {
		if at := slices.IndexFunc(l.Pieces, func(p layout.Piece) bool { return p.Name == n }); at >= 0 {
			s = s.neighbours(l, layout.PieceID(at))
		}
	}
	return s
}

// rehang hangs everything that hangs from one source from another.
func rehang(l *layout.Layout, kind layout.SourceKind, index int, to layout.Source) {
	move := func(s *layout.Source) {
		if s.Kind == kind && int(s.Index) == index {
			*s = to
		}
	}
	for i := range l.Buses {
		move(&l.Buses[i].From)
	}
	for i := range l.Breakers {
		move(&l.Breakers[i].From)
	}
	for i := range l.Reversers {
		move(&l.Reversers[i].From)
	}
	for i := range l.Detectors {
		move(&l.Detectors[i].From)
	}
	for i := range l.InLines {
		move(&l.InLines[i].From)
	}
	for i := range l.Plugs {
		move(&l.Plugs[i].From)
	}
	for i := range l.Turntables {
		move(&l.Turntables[i].From)
	}
	for i := range l.TransferTables {
		move(&l.TransferTables[i].From)
	}
}

// sourcesIdle adds a breaker that nothing hangs from.
func sourcesIdle(l *layout.Layout) []Fault {
	if len(l.Boosters) == 0 {
		return nil
	}
	return []Fault{{
		Where: Spotted{Names: []string{"idle"}},
		Meant: []string{"source-feeds-nothing"},
		Change: func(l *layout.Layout) {
			l.Breakers = append(l.Breakers, layout.Breaker{Entry: layout.Entry{Name: "idle"}, From: layout.Source{Kind: layout.FromBooster}})
		},
	}}
}

// reversersSwapped crosses every feeder of each reverser: it turns its phase anyhow.
func reversersSwapped(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}},
			Meant: polarity,
			Change: func(l *layout.Layout) {
				for _, f := range feeders {
					l.Feeders[f].ARail = l.Feeders[f].ARail.Other()
				}
			},
		})
	}
	return out
}

// reversersRaised lets each reverser trip at twice what its booster does.
func reversersRaised(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		most := 0.0
		for b := range l.Boosters {
			most = max(most, l.Boosters[b].TripsAt.Hi)
		}
		if most == 0 || l.Reversers[i].Switching == layout.ByHand {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Reversers[i].Name}},
			Meant: []string{"reverser-trips-late"},
			Change: func(l *layout.Layout) {
				l.Reversers[i].TripsAt = quantity.Current{Value: quantity.Value{State: quantity.Known, Lo: 2 * most, Hi: 2 * most, Text: fmt.Sprintf("%g A", 2*most)}}
			},
		})
	}
	return out
}

// detectorsCrossed exchanges what hangs from each detector with what hangs from the next of
// the same leg.
func detectorsCrossed(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Detectors {
		for k := i + 1; k < len(l.Detectors); k++ {
			if l.Detectors[k].Leg != l.Detectors[i].Leg {
				continue
			}
			where := Spotted{Names: []string{l.Detectors[i].Name, l.Detectors[k].Name}}
			for b := range l.Blocks {
				if d := l.Blocks[b].Detector; int(d) == i || int(d) == k {
					where.Names = append(where.Names, l.Blocks[b].Name)
				}
			}
			out = append(out, Fault{
				Where: where,
				Meant: []string{"detector-differs-from-meant", "detector-bypassed", "block-differs-from-meant", "gap-missing-between-districts"},
				Change: func(l *layout.Layout) {
					for b := range l.Buses {
						s := &l.Buses[b].From
						switch {
						case s.Kind != layout.FromDetector:
						case int(s.Index) == i:
							s.Index = int32(k)
						case int(s.Index) == k:
							s.Index = int32(i)
						}
					}
				},
			})
			break
		}
	}
	return out
}

// fedPastBreakers hangs each feeder of each breaker from what the breaker hangs from.
func fedPastBreakers(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Breakers {
		up := l.Breakers[i].From
		if up.Kind != layout.FromTap {
			continue
		}
		feeders, _ := feedersOf(l, layout.FromBreaker, i)
		for _, f := range feeders {
			if l.Buses[up.Tap.Bus].Legs != layout.LegsBoth {
				continue
			}
			out = append(out, Fault{
				Where: spot(l, l.Feeders[f].Place),
				Meant: anyOf(parting, loops, []string{"detector-sees-nothing"}),
				Change: func(l *layout.Layout) {
					l.Feeders[f].From = [2]layout.Tap{l.Breakers[i].From.Tap, l.Breakers[i].From.Tap}
				},
			})
		}
	}
	return out
}

// plugsTurned puts each plug in the other way round.
func plugsTurned(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Plugs {
		legs := layout.PlugCrossed
		switch l.Plugs[i].Legs {
		case layout.PlugStraight:
		case layout.PlugCrossed:
			legs = layout.PlugStraight
		default:
			continue
		}
		where := Spotted{Names: []string{l.Plugs[i].Name}}
		for f := range l.Feeders {
			if behindPlug(l, &l.Feeders[f], i) {
				where.Pieces = append(where.Pieces, l.Pieces[l.Feeders[f].Place.Piece].Name)
			}
		}
		out = append(out, Fault{
			Where:  where.around(l),
			Meant:  anyOf(polarity, loops, []string{"boosters-out-of-phase"}),
			Change: func(l *layout.Layout) { l.Plugs[i].Legs = legs },
		}, Fault{
			Where:  where.around(l),
			Meant:  []string{"plug-fits-both-ways"},
			Change: func(l *layout.Layout) { l.Plugs[i].Legs = layout.PlugEither },
		})
	}
	return out
}

func behindPlug(l *layout.Layout, f *layout.Feeder, plug int) bool {
	if f.From[layout.A].Bus < 0 {
		return false
	}
	s := l.Buses[f.From[layout.A].Bus].From
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) + len(l.Breakers) {
		switch s.Kind {
		case layout.FromTap:
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			s = l.InLines[s.Index].From
		case layout.FromBreaker:
			s = l.Breakers[s.Index].From
		case layout.FromPlug:
			if int(s.Index) == plug {
				return true
			}
			s = l.Plugs[s.Index].From
		default:
			return false
		}
	}
	return false
}

// signalsCrossed wires the signal of each booster the other way round.
func signalsCrossed(l *layout.Layout) []Fault {
	var out []Fault
	if len(l.Boosters) < 2 {
		return nil
	}
	for i := range l.Boosters {
		to := layout.SignalCrossed
		switch l.Boosters[i].SignalWired {
		case layout.SignalStraight:
		case layout.SignalCrossed:
			to = layout.SignalStraight
		default:
			continue
		}
		_, pieces := feedersOf(l, layout.FromBooster, i)
		out = append(out, Fault{
			Where:  Spotted{Pieces: pieces, Names: []string{l.Boosters[i].Name}},
			Meant:  []string{"boosters-out-of-phase", "feeder-crossed", "gap-polarity-mismatch", "reverser-missing"},
			Change: func(l *layout.Layout) { l.Boosters[i].SignalWired = to },
		})
	}
	return out
}
