package proof

import (
	"slices"

	"gapwise/netlist/layout"
)

// This file seeds faults that show in some setting only, or under a train: track that a turnout feeds joined to other
// track, turnouts thrown together, gaps within one train.

// routesTied joins the rails of each track on a turnout's leg to those of a track on the other leg, straight across.
func routesTied(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Turnouts {
		ends := l.Pieces[l.Turnouts[i].Piece].Ends
		if len(ends) < 3 || ends[1].Dead != layout.Joined || ends[2].Dead != layout.Joined || ends[1].Joint.End < 0 || ends[2].Joint.End < 0 {
			continue
		}
		a, b := ends[1].Joint.Piece, ends[2].Joint.Piece
		if a == b || l.Pieces[a].Kind != layout.TrackPiece || l.Pieces[b].Kind != layout.TrackPiece {
			continue
		}
		far := func(l *layout.Layout, e layout.EndRef) layout.Place {
			t := &l.Tracks[l.Pieces[e.Piece].Index]
			return layout.Place{Piece: e.Piece, End: -1, At: length(t.Length.Mid() * [2]float64{0.9, 0.1}[e.End])}
		}
		if !l.Tracks[l.Pieces[a].Index].Length.Known() || !l.Tracks[l.Pieces[b].Index].Length.Known() {
			continue
		}
		for _, rails := range [2][2]layout.Rail{{layout.Left, layout.Left}, {layout.Left, layout.Right}} {
			out = append(out, Fault{
				Where: Spotted{Pieces: []string{l.Pieces[a].Name, l.Pieces[b].Name, l.Turnouts[i].Name}}.around(l),
				Meant: anyOf(polarity, loops, parting, []string{"boosters-out-of-phase", "reversing-section-short"}),
				Change: func(l *layout.Layout) {
					e := l.Pieces[l.Turnouts[i].Piece].Ends
					l.Bonds = append(l.Bonds, layout.Bond{From: far(l, e[1].Joint), To: far(l, e[2].Joint), Rails: rails})
				},
			})
		}
	}
	return out
}

// throwsJoined throws each turnout with the one before it.
func throwsJoined(l *layout.Layout) []Fault {
	var out []Fault
	for i := 1; i < len(l.Turnouts); i++ {
		if l.Turnouts[i].ThrowsWith >= 0 {
			continue
		}
		out = append(out, Fault{
			Where:  Spotted{Pieces: []string{l.Turnouts[i].Name, l.Turnouts[i-1].Name}}.around(l),
			Meant:  anyOf(polarity, feeding),
			Change: func(l *layout.Layout) { l.Turnouts[i].ThrowsWith = l.Turnouts[i-1].Piece },
		})
	}
	return out
}

// gapsDoubled cuts both rails once more a hand's breadth beyond each gap in both.
func gapsDoubled(l *layout.Layout) []Fault {
	const beyond = 0.2 // metres
	var out []Fault
	for i := range l.Gaps {
		g := &l.Gaps[i]
		if g.Rails != layout.BothRails || g.Kind != layout.Insulated || g.Place.End >= 0 || l.Pieces[g.Place.Piece].Kind != layout.TrackPiece {
			continue
		}
		for _, by := range [2]float64{-beyond, beyond} {
			at := g.Place.At.Mid() + by
			if !free(l, g.Place.Piece, at) {
				continue
			}
			where := spot(l, g.Place)
			where.At = at
			out = append(out, Fault{
				Where: where.neighbours(l, g.Place.Piece),
				Meant: anyOf(feeding, parting, []string{"block-undeclared", "block-shorter-than-train", "reversing-section-short", "gaps-bridged-together"}),
				Change: func(l *layout.Layout) {
					again := l.Gaps[i]
					again.Place = layout.Place{Piece: g.Place.Piece, End: -1, At: length(at)}
					l.Gaps = append(l.Gaps, again)
				},
			})
		}
	}
	return out
}

// gapsBridgedByWire joins one rail across each insulated gap of both rails by a wire.
func gapsBridgedByWire(l *layout.Layout) []Fault {
	const beside = 0.05 // metres
	var out []Fault
	for i := range l.Gaps {
		g := &l.Gaps[i]
		if g.Rails != layout.BothRails || g.Kind != layout.Insulated || g.Place.End >= 0 || l.Pieces[g.Place.Piece].Kind != layout.TrackPiece {
			continue
		}
		p, at := g.Place.Piece, g.Place.At.Mid()
		if !free(l, p, at-beside) || !free(l, p, at+beside) {
			continue
		}
		for _, rail := range [2]layout.Rail{layout.Left, layout.Right} {
			out = append(out, Fault{
				Where: spot(l, g.Place).neighbours(l, p),
				Meant: anyOf(loops, parting, polarity, []string{"boosters-out-of-phase"}),
				Change: func(l *layout.Layout) {
					l.Bonds = append(l.Bonds, layout.Bond{
						From: layout.Place{Piece: p, End: -1, At: length(at - beside)}, To: layout.Place{Piece: p, End: -1, At: length(at + beside)},
						Rails: [2]layout.Rail{rail, rail},
					})
				},
			})
		}
	}
	return out
}

// frogsFedTwice makes the frog of each turnout one with its blades, and feeds it by contacts too.
func frogsFedTwice(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Turnouts {
		out = append(out, Fault{
			Where: Spotted{Pieces: []string{l.Turnouts[i].Name}}.around(l),
			Meant: anyOf(polarity, feeding, []string{"contacts-short-in-passing"}),
			Change: func(l *layout.Layout) {
				t := &l.Turnouts[i]
				t.Wiring = layout.Wiring{Preset: layout.InFull, Blades: layout.BladesEachOther, Closures: layout.ClosuresBoth, FrogMetal: true, IsolatedHeel: true, FrogFrom: layout.FrogFromContacts}
				t.FrogGets, t.FrogTap, t.Throw = nil, layout.Tap{Bus: -1}, layout.BreakFirst
			},
		})
	}
	return out
}

// loopsLeftDead takes the feeders of each reversing section off, so that its rail is dead, and lets trains come that are longer than it is.
func loopsLeftDead(l *layout.Layout) []Fault {
	longest := -1
	for i := range l.Trains {
		if l.Trains[i].Length.Known() && (longest < 0 || l.Trains[i].Length.Hi > l.Trains[longest].Length.Hi) {
			longest = i
		}
	}
	if longest < 0 {
		return nil
	}
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}}.around(l),
			Meant: []string{"gaps-bridged-together"},
			Change: func(l *layout.Layout) {
				for _, f := range feeders {
					l.Feeders[f].Place.Piece = gone
				}
				l.Trains[longest].Length = length(9 * l.Trains[longest].Length.Hi)
			},
		})
	}
	return out
}

// secondTrainsLet lets several trains run at once where each reverser may serve one at a time only.
func secondTrainsLet(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		out = append(out, Fault{
			Where: Spotted{Pieces: pieces, Names: []string{l.Reversers[i].Name}}.around(l),
			Meant: []string{"second-train-at-reversing-section"},
			Change: func(l *layout.Layout) {
				l.Operations.Said, l.Operations.AtOnce = true, 9
				l.Reversers[i].OneAtATime = false
				for b := range l.Blocks { // one block holds one train: none reaches from end to end
					for k := range l.Blocks[b].Covers {
						s := &l.Blocks[b].Covers[k]
						track := &l.Pieces[s.Piece]
						if !slices.Contains(uniquePieces(l, feeders), s.Piece) || track.Kind != layout.TrackPiece || s.RouteFrom >= 0 {
							continue
						}
						if s.Whole {
							s.From, s.To = length(0), l.Tracks[track.Index].Length
						}
						s.Whole, s.GapTo = false, false
						s.To = length((s.From.Mid() + s.To.Mid()) / 2)
					}
				}
				for t := range l.Trains {
					l.Trains[t].AtOnce = 9
				}
			},
		})
	}
	return out
}
