package proof

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// This file seeds what owners do besides cutting and swapping: data changed, habits taken up,
// devices put where they do not belong.

func known(si float64, unit string) quantity.Value {
	return quantity.Value{State: quantity.Known, Lo: si, Hi: si, Text: fmt.Sprintf("%g %s", si, unit)}
}

// railsBonded ties the two rails of a track together beside each feeder.
func railsBonded(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		f := &l.Feeders[i]
		if f.Rails != layout.BothRails {
			continue
		}
		out = append(out, Fault{
			Where: spot(l, f.Place),
			Meant: []string{"leg-to-leg-short"},
			Change: func(l *layout.Layout) {
				p := l.Feeders[i].Place
				l.Bonds = append(l.Bonds, layout.Bond{From: p, To: p, Rails: [2]layout.Rail{layout.Left, layout.Right}})
			},
		})
	}
	return out
}

// crossingsJoined makes the frogs of each crossing and slip one metal with their rails.
func crossingsJoined(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Crossings {
		out = append(out, Fault{
			Where: Spotted{Pieces: []string{l.Crossings[i].Name}},
			Meant: []string{"crossing-frogs-conflict"},
			Change: func(l *layout.Layout) {
				x := &l.Crossings[i]
				x.Preset, x.FrogGets, x.Throw = layout.JoinedFrogs, nil, layout.ThrowUnsaid
			},
		})
	}
	return out
}

// frogsLengthened makes each dead frog longer than the shortest pick-up base.
func frogsLengthened(l *layout.Layout) []Fault {
	if !l.Operations.Pickup.Known() {
		return nil
	}
	var out []Fault
	for i := range l.Turnouts {
		if l.Turnouts[i].Wiring.FrogMetal {
			continue
		}
		out = append(out, Fault{
			Where:  Spotted{Pieces: []string{l.Turnouts[i].Name}},
			Meant:  []string{"frog-dead"},
			Change: func(l *layout.Layout) { l.Turnouts[i].FrogLength = length(l.Operations.Pickup.Hi + 0.01) },
		})
	}
	return out
}

// tablesTurned swaps the legs of each bridge, and turns the split of each ring to a track's angle
// with a dead arc there.
func tablesTurned(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Turntables {
		where := Spotted{Pieces: []string{l.Turntables[i].Name}}
		out = append(out, Fault{
			Where: where, Meant: []string{"turntable-crosses-polarity"},
			Change: func(l *layout.Layout) { l.Turntables[i].ARail = l.Turntables[i].ARail.Other() },
		})
		if l.Turntables[i].SplitRing {
			out = append(out, Fault{
				Where: where, Meant: []string{"turntable-bridge-dead"},
				Change: func(l *layout.Layout) {
					t := &l.Turntables[i]
					if !t.SplitAt.Known() {
						t.SplitAt = quantity.Angle{Value: known(90, "deg")}
					}
					t.DeadArc = quantity.Angle{Value: known(179, "deg")}
				},
			})
		}
	}
	for i := range l.TransferTables {
		out = append(out, Fault{
			Where: Spotted{Pieces: []string{l.TransferTables[i].Name}}, Meant: []string{"turntable-crosses-polarity"},
			Change: func(l *layout.Layout) { l.TransferTables[i].ARail = l.TransferTables[i].ARail.Other() },
		})
	}
	return out
}

// busOf is the first bus of both legs that hangs from a source.
func busOf(l *layout.Layout, kind layout.SourceKind, index int) int {
	return slices.IndexFunc(l.Buses, func(b layout.Bus) bool {
		return b.Legs == layout.LegsBoth && b.From.Kind == kind && int(b.From.Index) == index && b.Length.Known()
	})
}

// end is the far end of a bus.
func end(l *layout.Layout, bus int) layout.Tap {
	return layout.Tap{Bus: int32(bus), At: length(l.Buses[bus].Length.Mid())}
}

// busesJoined ends the bus of each booster at the bus of the next, and each bus at its own start.
func busesJoined(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Boosters {
		own := busOf(l, layout.FromBooster, i)
		if own < 0 || l.Buses[own].Returns.Bus >= 0 {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Buses[own].Name}},
			Meant: []string{"bus-closed-ring"},
			Change: func(l *layout.Layout) {
				l.Buses[own].Returns = layout.Tap{Bus: int32(own), At: length(0)}
				practise(l, "buses-not-closed")
			},
		})
		for k := range i {
			other := busOf(l, layout.FromBooster, k)
			if other < 0 {
				continue
			}
			out = append(out, Fault{
				Where:  Spotted{Names: []string{l.Boosters[i].Name, l.Boosters[k].Name, l.Buses[own].Name}},
				Meant:  []string{"boosters-in-parallel"},
				Change: func(l *layout.Layout) { l.Buses[own].Returns = end(l, other) },
			})
		}
	}
	return out
}

// boostersChanged gives each booster of several other volts, another signal, no common wire.
func boostersChanged(l *layout.Layout) []Fault {
	if len(l.Boosters) < 2 {
		return nil
	}
	var out []Fault
	for i := range l.Boosters {
		_, pieces := feedersOf(l, layout.FromBooster, i)
		where := Spotted{Pieces: pieces, Names: []string{l.Boosters[i].Name}}
		out = append(out, Fault{
			Where: where, Meant: []string{"boosters-differ-in-volts"},
			Change: func(l *layout.Layout) {
				l.Boosters[i].Volts = quantity.Voltage{Value: known(l.Boosters[i].Volts.Mid()+3, "V")}
			},
		}, Fault{
			Where: where, Meant: []string{"command-stations-meet"},
			Change: func(l *layout.Layout) { l.Boosters[i].Signal = "another" },
		}, Fault{
			Where: where, Meant: []string{"boosters-without-common-reference"},
			Change: func(l *layout.Layout) {
				l.Commons = nil
				l.Boosters[i].Common = layout.CommonRequired
			},
		}, Fault{
			Where: where, Meant: []string{"programming-track-joined"},
			Change: func(l *layout.Layout) { l.Boosters[i].Use = layout.UseProgramming },
		})
	}
	return out
}

// loopsUncut takes each reverser out, and every gap of the tracks it feeds.
func loopsUncut(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		tracks := uniquePieces(l, feeders)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}}.around(l),
			Meant: loops,
			Change: func(l *layout.Layout) {
				rehang(l, layout.FromReverser, i, l.Reversers[i].From)
				for g := range l.Gaps {
					if slices.Contains(tracks, l.Gaps[g].Place.Piece) {
						l.Gaps[g].Place.Piece = gone
					}
				}
			},
		})
	}
	return out
}

// sectionsSplit cuts the section of each reverser in two between two of its feeders, and feeds
// the further part from a second reverser.
func sectionsSplit(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		for _, p := range uniquePieces(l, feeders) {
			var on []int
			for _, f := range feeders {
				if l.Feeders[f].Place.Piece == p && l.Feeders[f].Place.End < 0 {
					on = append(on, f)
				}
			}
			if len(on) < 2 || l.Reversers[i].From.Kind != layout.FromTap {
				continue
			}
			a, b := on[0], on[1]
			at := (l.Feeders[a].Place.At.Mid() + l.Feeders[b].Place.At.Mid()) / 2
			if !free(l, p, at) {
				continue
			}
			out = append(out, Fault{
				Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}},
				Meant: []string{"reversing-sections-touch"},
				Change: func(l *layout.Layout) {
					second := l.Reversers[i]
					second.Name = "second"
					l.Reversers = append(l.Reversers, second)
					bus := l.Buses[l.Feeders[b].From[layout.A].Bus]
					bus.Name, bus.From, bus.Legs, bus.Returns = "second", layout.Source{Kind: layout.FromReverser, Index: int32(len(l.Reversers) - 1)}, layout.LegsBoth, layout.Tap{Bus: -1}
					l.Buses = append(l.Buses, bus)
					tap := layout.Tap{Bus: int32(len(l.Buses) - 1), At: length(0)}
					for _, f := range on[1:] {
						l.Feeders[f].From = [2]layout.Tap{tap, tap}
					}
					l.Gaps = append(l.Gaps, layout.Gap{Place: layout.Place{Piece: p, End: -1, At: length(at)}, Rails: layout.BothRails, BridgedBy: -1, Fill: "styrene"})
				},
			})
		}
	}
	return out
}

// breakersOpened lets one breaker of each pair open leg A only and the other leg B only.
func breakersOpened(l *layout.Layout) []Fault {
	var out []Fault
	for x := range l.Breakers {
		for y := range x {
			out = append(out, Fault{
				Where: Spotted{Names: []string{l.Breakers[x].Name, l.Breakers[y].Name}},
				Meant: []string{"breakers-open-different-legs"},
				Change: func(l *layout.Layout) {
					l.Breakers[x].Opens, l.Breakers[y].Opens = layout.OpensA, layout.OpensB
				},
			})
		}
	}
	return out
}

// changeoversChanged lets each changeover open one leg only, or make before it breaks.
func changeoversChanged(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Changeovers {
		where := Spotted{Names: []string{l.Changeovers[i].Name}}
		out = append(out, Fault{
			Where: where, Meant: []string{"changeover-ties-sources"},
			Change: func(l *layout.Layout) { l.Changeovers[i].Opens = layout.OpensA },
		}, Fault{
			Where: where, Meant: []string{"changeover-ties-sources"},
			Change: func(l *layout.Layout) { l.Changeovers[i].Throw = layout.MakeFirst },
		}, Fault{
			Where: where, Meant: []string{"changeover-leg-stays"},
			Change: func(l *layout.Layout) {
				x := &l.Changeovers[i]
				x.Positions = append([]layout.Position{{Name: "off", From: layout.Source{Kind: layout.FromNothing}}}, x.Positions...)
				x.Opens = layout.OpensA
			},
		})
	}
	return out
}

// fedFromCab feeds the bus of each breaker from a plain DC cab.
func fedFromCab(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Breakers {
		_, pieces := feedersOf(l, layout.FromBreaker, i)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{"spare"}}.around(l),
			Meant: []string{"cab-meets-dcc"},
			Change: func(l *layout.Layout) {
				l.Cabs = append(l.Cabs, layout.Cab{Entry: layout.Entry{Name: "spare"}, Volts: quantity.Voltage{Value: known(12, "V")}})
				rehang(l, layout.FromBreaker, i, layout.Source{Kind: layout.FromCab, Index: int32(len(l.Cabs) - 1)})
			},
		})
	}
	return out
}

// practices takes up each rule of thumb that the layout does not keep to.
func practices(l *layout.Layout) []Fault {
	var out []Fault
	for _, p := range practiceRules {
		if slices.ContainsFunc(l.Practices, func(x layout.Practice) bool { return x.Name == p.name }) {
			continue
		}
		out = append(out, Fault{
			Where: anywhere(l), Meant: []string{p.rule},
			Change: func(l *layout.Layout) { practise(l, p.name) },
		})
	}
	return out
}

// practise adds a rule of thumb to those that a layout lists.
func practise(l *layout.Layout, name string) {
	if !slices.ContainsFunc(l.Practices, func(p layout.Practice) bool { return p.Name == name }) {
		l.Practices = append(l.Practices, layout.Practice{Name: name})
	}
}

// practiceRules are the rules of thumb that speak only for owners who list them.
var practiceRules = []struct{ name, rule string }{
	{"feeder-on-every-rail-length", "rail-length-without-feeder"},
	{"feeder-every-6-ft", "feeder-spacing"},
	{"two-feeders-everywhere", "only-one-feeder"},
	{"expansion-gap-in-long-soldered-run", "expansion-gap-missing"},
	{"lift-out-approaches-dead", "lift-out-approach-live"},
}

// anywhere is every piece of a layout.
func anywhere(l *layout.Layout) Spotted {
	var s Spotted
	for i := range l.Pieces {
		s.Pieces = append(s.Pieces, l.Pieces[i].Name)
	}
	return s
}

// feedersLengthened hangs each feeder on 10 ft of wire, under a practice that limits it.
func feedersLengthened(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		out = append(out, Fault{
			Where: spot(l, l.Feeders[i].Place), Meant: []string{"feeder-too-long"},
			Change: func(l *layout.Layout) {
				l.Feeders[i].Length = length(3)
				practise(l, "feeders-short")
			},
		})
	}
	return out
}

// trainsLengthened makes the longest train three times as long.
func trainsLengthened(l *layout.Layout) []Fault {
	longest := -1
	for i := range l.Trains {
		if l.Trains[i].Length.Known() && (longest < 0 || l.Trains[i].Length.Hi > l.Trains[longest].Length.Hi) {
			longest = i
		}
	}
	if longest < 0 {
		return nil
	}
	where := anywhere(l)
	for i := range l.Blocks {
		where.Names = append(where.Names, l.Blocks[i].Name)
	}
	return []Fault{{
		Where: where, Meant: []string{"block-shorter-than-train", "reversing-section-short"},
		Change: func(l *layout.Layout) { l.Trains[longest].Length = length(3 * l.Trains[longest].Length.Hi) },
	}}
}

// gapsChanged staggers each full gap, leaves it unfilled, puts it where rails are loose, or makes it
// an expansion gap.
func gapsChanged(l *layout.Layout) []Fault {
	const apart = 0.15 // metres
	var out []Fault
	for i := range l.Gaps {
		g := &l.Gaps[i]
		if g.Kind != layout.Insulated || g.Rails != layout.BothRails || g.Place.End >= 0 {
			continue
		}
		where := spot(l, g.Place)
		at := g.Place.At.Mid() + apart
		if free(l, g.Place.Piece, at) && !feederWithin(l, g.Place.Piece, g.Place.At.Mid(), at) {
			out = append(out, Fault{
				Where: where.neighbours(l, g.Place.Piece), Meant: []string{"gap-staggered"},
				Change: func(l *layout.Layout) {
					other := l.Gaps[i]
					l.Gaps[i].Rails, other.Rails, other.Name = layout.LeftRail, layout.RightRail, ""
					other.Place.At = length(at)
					l.Gaps = append(l.Gaps, other)
				},
			})
		}
		out = append(out, Fault{
			Where: where, Meant: []string{"gap-unfilled"},
			Change: func(l *layout.Layout) { l.Gaps[i].Fill = "none" },
		}, Fault{
			Where: where.neighbours(l, g.Place.Piece), Meant: []string{"expansion-gap-parts-districts", "block-differs-from-meant"},
			Change: func(l *layout.Layout) { l.Gaps[i].Kind, l.Gaps[i].Joint = layout.Expansion, layout.CutThrough },
		}, Fault{
			Where: where.neighbours(l, g.Place.Piece), Meant: []string{"expansion-gap-parts-districts"},
			Change: func(l *layout.Layout) {
				l.Gaps[i].Kind, l.Gaps[i].Joint = layout.Expansion, layout.CutThrough
				for b := range l.Blocks {
					l.Blocks[b].Covers = nil
				}
			},
		})
	}
	return out
}

func feederWithin(l *layout.Layout, p layout.PieceID, from, to float64) bool {
	return slices.ContainsFunc(l.Feeders, func(f layout.Feeder) bool {
		return f.Place.Piece == p && f.Place.End < 0 && from <= f.Place.At.Mid() && f.Place.At.Mid() <= to
	})
}

// liftOutsCut cuts a gap in the middle of each lift-out.
func liftOutsCut(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Tracks {
		t := &l.Tracks[i]
		at := t.Length.Mid() * 0.4
		if t.LiftOut != layout.Yes || !free(l, t.Piece, at) {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Pieces: []string{t.Name}}, Meant: []string{"gap-in-loose-track"},
			Change: func(l *layout.Layout) {
				l.Gaps = append(l.Gaps, layout.Gap{Place: layout.Place{Piece: l.Tracks[i].Piece, End: -1, At: length(at)}, Rails: layout.BothRails, BridgedBy: -1, Fill: "styrene"})
			},
		})
	}
	return out
}

// expansionsMoved moves each expansion gap of a long straight near its start.
func expansionsMoved(l *layout.Layout) []Fault {
	const near = 0.2
	var out []Fault
	for i := range l.Gaps {
		g := &l.Gaps[i]
		if g.Kind != layout.Expansion || g.Place.End >= 0 || !free(l, g.Place.Piece, near) {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Pieces: spot(l, g.Place).Pieces}, Meant: []string{"expansion-gap-off-centre"},
			Change: func(l *layout.Layout) { l.Gaps[i].Place.At = length(near) },
		})
	}
	return out
}

// clearances say of each gap near a turnout that the leg clears the other well beyond the gap.
func clearances(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Turnouts {
		t := &l.Turnouts[i]
		for leg := range 2 {
			e := l.Pieces[t.Piece].Ends[leg+1]
			if e.Dead != layout.Joined || l.Pieces[e.Joint.Piece].Kind != layout.TrackPiece {
				continue
			}
			where := Spotted{Pieces: []string{t.Name, l.Pieces[e.Joint.Piece].Name}}
			for _, at := range [2]float64{1.5, 0.001} {
				meant := []string{"gap-short-of-fouling-point"}
				if at < 1 {
					meant = []string{"gap-beyond-fouling-point"}
				}
				out = append(out, Fault{
					Where: where, Meant: meant,
					Change: func(l *layout.Layout) { l.Turnouts[i].ClearAt[leg] = length(at) },
				})
			}
		}
	}
	return out
}

// endsBridged puts a bumper of cast metal on each bare end of track.
func endsBridged(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Tracks {
		p := &l.Pieces[l.Tracks[i].Piece]
		for e := range p.Ends {
			if p.Ends[e].Dead != layout.BareEnd {
				continue
			}
			out = append(out, Fault{
				Where: Spotted{Pieces: []string{p.Name}}, Meant: []string{"track-end-conducts"},
				Change: func(l *layout.Layout) {
					id := l.Tracks[i].Piece
					l.Pieces[id].Ends[e].Dead = layout.Bumper
					l.Loads = append(l.Loads, layout.Load{OnRail: true, Place: layout.Place{Piece: id, End: int32(e)}, Kind: "bumper", Resistance: quantity.Resistance{Value: known(0.2, "Ω")}})
				},
			})
		}
	}
	return out
}

// suppliesChanged makes a supply one of mains voltage, or one beyond the limited-power classes.
func suppliesChanged(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Supplies {
		where := Spotted{Names: []string{l.Supplies[i].Name}}
		out = append(out, Fault{
			Where: where, Meant: []string{"household-mains"},
			Change: func(l *layout.Layout) { l.Supplies[i].Volts = quantity.Voltage{Value: known(120, "V")} },
		}, Fault{
			Where: where, Meant: []string{"source-exceeds-limited-power"},
			Change: func(l *layout.Layout) { l.Supplies[i].Rating = quantity.Current{Value: known(20, "A")} },
		})
	}
	return out
}

// blocksLeftOut takes each block out of the plan.
func blocksLeftOut(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Blocks {
		var pieces []string
		for _, s := range l.Blocks[i].Covers {
			pieces = append(pieces, l.Pieces[s.Piece].Name)
		}
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces}, Meant: []string{"block-undeclared"},
			Change: func(l *layout.Layout) {
				l.Blocks[i].Covers = nil
				practise(l, "blocks-declared")
			},
		})
	}
	return out
}

// detectorsIdle hangs what hangs from each detector from what the detector hangs from, and, for
// blocks with several feeders, one feeder of a block from the wire of the next detector.
func detectorsIdle(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Detectors {
		where := Spotted{Names: []string{l.Detectors[i].Name}}
		for b := range l.Blocks {
			if int(l.Blocks[b].Detector) == i {
				where.Names = append(where.Names, l.Blocks[b].Name)
			}
		}
		out = append(out, Fault{
			Where: where, Meant: []string{"detector-bypassed", "detector-sees-nothing", "detector-differs-from-meant"},
			Change: func(l *layout.Layout) { rehang(l, layout.FromDetector, i, l.Detectors[i].From) },
		}, Fault{
			Where: where, Meant: []string{"detector-sees-nothing"},
			Change: func(l *layout.Layout) {
				rehang(l, layout.FromDetector, i, l.Detectors[i].From)
				for b := range l.Blocks {
					if int(l.Blocks[b].Detector) == i {
						l.Blocks[b].Detector = -1
					}
				}
			},
		})
		if i == 0 {
			continue
		}
		for f := range l.Feeders {
			tap := &l.Feeders[f].From[l.Detectors[i].Leg]
			if tap.Bus < 0 || l.Buses[tap.Bus].From.Kind != layout.FromDetector || int(l.Buses[tap.Bus].From.Index) != i {
				continue
			}
			other := slices.IndexFunc(l.Buses, func(b layout.Bus) bool {
				return b.From.Kind == layout.FromDetector && int(b.From.Index) == i-1 && b.Legs == l.Buses[tap.Bus].Legs
			})
			if other < 0 {
				continue
			}
			place := spot(l, l.Feeders[f].Place)
			place.Names = append(where.Names, l.Detectors[i-1].Name)
			out = append(out, Fault{
				Where: place, Meant: []string{"rail-shared-by-detectors", "detector-differs-from-meant"},
				Change: func(l *layout.Layout) {
					l.Feeders[f].From[l.Detectors[i].Leg] = layout.Tap{Bus: int32(other), At: length(0)}
				},
			})
			break
		}
		out = append(out, Fault{
			Where: where, Meant: []string{"detector-sees-more-than-its-block"},
			Change: func(l *layout.Layout) { inSeries(l, i) },
		})
	}
	return out
}

// inSeries hangs a detector from the wire of the one before it.
func inSeries(l *layout.Layout, i int) {
	l.Detectors[i].From = layout.Source{Kind: layout.FromDetector, Index: int32(i - 1)}
}

// acceptanceAdded accepts a finding that is not there.
func acceptanceAdded(l *layout.Layout) []Fault {
	if len(l.Gaps) == 0 {
		return nil
	}
	at := (&flat{l: l}).place(l.Gaps[0].Place)
	return []Fault{{
		Where: anywhere(l), Meant: []string{"acceptance-stale"},
		Change: func(l *layout.Layout) {
			l.Accepts = append(l.Accepts, layout.Accept{Finding: "gap-unfilled", At: at, Because: "seeded"})
		},
	}}
}

// tracksSwapped swaps every feeder of a track that has several.
func tracksSwapped(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Tracks {
		p := l.Tracks[i].Piece
		var on []int
		for f := range l.Feeders {
			if l.Feeders[f].Place.Piece == p {
				on = append(on, f)
			}
		}
		if len(on) < 2 {
			continue
		}
		where := Spotted{Pieces: []string{l.Tracks[i].Name}}
		out = append(out, Fault{
			Where: where.neighbours(l, p), Meant: polarity,
			Change: func(l *layout.Layout) {
				for _, f := range on {
					l.Feeders[f].ARail = l.Feeders[f].ARail.Other()
				}
			},
		})
	}
	return out
}

// jointsLoosened leaves every rail joint that nothing is said about unsoldered, or unknown, with
// one about every 3 ft of rail, under a practice that asks for a feeder on each length.
func jointsLoosened(l *layout.Layout) []Fault {
	var out []Fault
	for _, kind := range [2]layout.JointKind{layout.Plain, layout.JointUnknown} {
		out = append(out, Fault{
			Where: anywhere(l), Meant: []string{"rail-length-without-feeder", "reversing-gap-weakly-fed"},
			Change: func(l *layout.Layout) {
				for f := range l.JointDefaults {
					l.JointDefaults[f] = kind
				}
				for t := range l.Tracks {
					l.Tracks[t].JointEvery = length(0.9311)
				}
				practise(l, "feeder-on-every-rail-length")
			},
		})
	}
	for i := range l.Joints {
		if l.Joints[i].Kind != layout.Soldered {
			continue
		}
		out = append(out, Fault{
			Where: spot(l, l.Joints[i].Place), Meant: []string{"rail-dead", "reversing-gap-weakly-fed"},
			Change: func(l *layout.Layout) { l.Joints[i].Kind = layout.Plain },
		})
	}
	return out
}

// reverserFeedsThin takes off every feeder between a gap of a reverser's section and the next track
// work outside, and leaves the rail joints there unsoldered.
func reverserFeedsThin(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		for _, p := range uniquePieces(l, feeders) {
			var outside []int
			for f := range l.Feeders {
				if l.Feeders[f].Place.Piece == p && !slices.Contains(feeders, f) {
					outside = append(outside, f)
				}
			}
			if len(outside) == 0 {
				continue
			}
			out = append(out, Fault{
				Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}}.around(l), Meant: []string{"reversing-gap-weakly-fed"},
				Change: func(l *layout.Layout) {
					for _, f := range outside {
						l.Feeders[f].Place.Piece = gone
					}
					for f := range l.JointDefaults {
						l.JointDefaults[f] = layout.Plain
					}
				},
			})
		}
	}
	return out
}

// blocksUsedOtherwise calls each block of the main a yard.
func blocksUsedOtherwise(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Blocks {
		if l.Blocks[i].Use != layout.UseMain && l.Blocks[i].Use != layout.UseInterlocking {
			continue
		}
		var pieces []string
		for _, s := range l.Blocks[i].Covers {
			pieces = append(pieces, l.Pieces[s.Piece].Name)
		}
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Blocks[i].Name}}, Meant: []string{"turnout-outside-main-block"},
			Change: func(l *layout.Layout) { l.Blocks[i].Use = layout.UseYard },
		})
	}
	return out
}

// innerGapsMoved moves the gaps just beyond a metal frog out along their legs, past the point
// where vehicles clear the other leg.
func innerGapsMoved(l *layout.Layout) []Fault {
	const out, clear = 0.25, 0.15 // metres
	var faults []Fault
	for i := range l.Gaps {
		place := l.Gaps[i].Place
		piece := &l.Pieces[place.Piece]
		if piece.Kind != layout.TurnoutPiece || place.End < 1 || piece.Ends[place.End].Dead != layout.Joined {
			continue
		}
		to := piece.Ends[place.End].Joint
		if l.Pieces[to.Piece].Kind != layout.TrackPiece {
			continue
		}
		at, rails := out, l.Gaps[i].Rails
		if to.End == 1 {
			at, rails = l.Tracks[l.Pieces[to.Piece].Index].Length.Mid()-out, otherRails(rails)
		}
		if !free(l, to.Piece, at) || feederWithin(l, to.Piece, min(at, at-out), max(at, at+out)) {
			continue
		}
		faults = append(faults, Fault{
			Where: Spotted{Pieces: []string{piece.Name, l.Pieces[to.Piece].Name}}, Meant: []string{"gap-beyond-fouling-point"},
			Change: func(l *layout.Layout) {
				l.Gaps[i].Place, l.Gaps[i].Rails = layout.Place{Piece: to.Piece, End: -1, At: length(at)}, rails
				l.Turnouts[l.Pieces[place.Piece].Index].ClearAt[place.End-1] = length(clear)
			},
		})
	}
	return faults
}

// usesChanged calls the track of each block something else, and cuts nothing for it.
func usesChanged(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Tracks {
		t := &l.Tracks[i]
		where := Spotted{Pieces: []string{t.Name}}.around(l)
		switch t.Use {
		case layout.UseMain:
			out = append(out, Fault{
				Where: where, Meant: []string{"sidings-not-insulated"},
				Change: func(l *layout.Layout) { l.Tracks[i].Use = layout.UseIndustry },
			}, Fault{
				Where: where, Meant: []string{"helix-not-apart"},
				Change: func(l *layout.Layout) { l.Tracks[i].Use = layout.UseHelix },
			})
		case layout.UseSiding, layout.UseYard, layout.UseUnsaid:
			out = append(out, Fault{
				Where: where, Meant: []string{"turnout-outside-main-block"},
				Change: func(l *layout.Layout) { l.Tracks[i].Use = layout.UseMain },
			})
		}
	}
	return out
}
