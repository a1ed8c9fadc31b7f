package proof

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// This file seeds faults by which a detector does not see a part of what it is meant to.

// watchedRailsCut cuts one rail of a detected block between its last two feeders on a track, and takes the watched leg of the last
// one from where its other leg comes from.
func watchedRailsCut(l *layout.Layout) []Fault {
	var out []Fault
	for t := range l.Tracks {
		var on []int
		for f := range l.Feeders {
			if p := &l.Feeders[f].Place; p.Piece == l.Tracks[t].Piece && p.End < 0 && detectorOf(l, &l.Feeders[f]) >= 0 {
				on = append(on, f)
			}
		}
		slices.SortFunc(on, func(x, y int) int { return cmp.Compare(l.Feeders[x].Place.At.Mid(), l.Feeders[y].Place.At.Mid()) })
		if len(on) < 2 || l.Tracks[t].Closed {
			continue
		}
		last, before := on[len(on)-1], on[len(on)-2]
		d := detectorOf(l, &l.Feeders[last])
		at := (l.Feeders[last].Place.At.Mid() + l.Feeders[before].Place.At.Mid()) / 2
		if d != detectorOf(l, &l.Feeders[before]) || !free(l, l.Tracks[t].Piece, at) {
			continue
		}
		leg := l.Detectors[d].Leg
		for _, rails := range [2]layout.RailSet{layout.LeftRail, layout.RightRail} {
			out = append(out, Fault{
				Where: Spotted{Pieces: []string{l.Tracks[t].Name}, Names: []string{l.Detectors[d].Name}}.around(l),
				Meant: []string{"rail-unwatched"},
				Change: func(l *layout.Layout) {
					l.Gaps = append(l.Gaps, layout.Gap{Place: layout.Place{Piece: l.Tracks[t].Piece, End: -1, At: length(at)}, Rails: rails, BridgedBy: -1, Fill: "styrene"})
					f := &l.Feeders[last]
					f.From[leg] = f.From[leg.Other()]
				},
			})
		}
	}
	return out
}

// watchedTurnouts lists the turnouts that a block with a detector covers, and that detector.
func watchedTurnouts(l *layout.Layout) (turnouts, detectors []int32) {
	for b := range l.Blocks {
		for _, s := range l.Blocks[b].Covers {
			if p := &l.Pieces[s.Piece]; p.Kind == layout.TurnoutPiece && l.Blocks[b].Detector >= 0 {
				turnouts, detectors = append(turnouts, p.Index), append(detectors, l.Blocks[b].Detector)
			}
		}
	}
	return turnouts, detectors
}

// contactsPastDetectors feeds the frog of each watched turnout, one with its blades, by contacts from the bus that its detector hangs from.
func contactsPastDetectors(l *layout.Layout) []Fault {
	turnouts, detectors := watchedTurnouts(l)
	var out []Fault
	for k, i := range turnouts {
		d := &l.Detectors[detectors[k]]
		if d.From.Kind != layout.FromTap || d.From.Tap.Bus < 0 {
			continue
		}
		piece := l.Pieces[l.Turnouts[i].Piece]
		for _, gets := range [2][2]layout.FrogGets{{layout.GetsLegA, layout.GetsLegB}, {layout.GetsLegB, layout.GetsLegA}} {
			out = append(out, Fault{
				Where: Spotted{Pieces: []string{l.Turnouts[i].Name}, Names: []string{d.Name}}.around(l),
				Meant: []string{"detector-bypassed-when-set"},
				Change: func(l *layout.Layout) {
					t := &l.Turnouts[i]
					t.Wiring = layout.Wiring{Preset: layout.InFull, Blades: layout.BladesEachOther, Closures: layout.ClosuresBoth, FrogMetal: true, IsolatedHeel: true, FrogFrom: layout.FrogFromContacts}
					t.FrogTap, t.Throw = l.Detectors[detectors[k]].From.Tap, layout.BreakFirst
					t.FrogGets = []layout.ContactMap{{Setting: piece.Ends[1].Name, Gets: gets[0]}, {Setting: piece.Ends[2].Name, Gets: gets[1]}}
				},
			})
		}
	}
	return out
}

// foulingRailsCut cuts one rail only at each gap that is the first on a leg of a turnout, and puts the clearance point of that leg beyond it.
func foulingRailsCut(l *layout.Layout) []Fault {
	const beyond = 0.15 // metres
	var out []Fault
	for i := range l.Turnouts {
		for leg := range 2 {
			e := l.Pieces[l.Turnouts[i].Piece].Ends[leg+1]
			if e.Dead != layout.Joined || e.Joint.End < 0 || l.Pieces[e.Joint.Piece].Kind != layout.TrackPiece {
				continue
			}
			track := &l.Tracks[l.Pieces[e.Joint.Piece].Index]
			away := func(g *layout.Gap) float64 {
				if e.Joint.End == 1 {
					return track.Length.Mid() - g.Place.At.Mid()
				}
				return g.Place.At.Mid()
			}
			first := -1
			for g := range l.Gaps {
				x := &l.Gaps[g]
				if x.Place.Piece == track.Piece && x.Place.End < 0 && x.Rails == layout.BothRails && x.Kind == layout.Insulated && (first < 0 || away(x) < away(&l.Gaps[first])) {
					first = g
				}
			}
			if first < 0 || track.Closed || !blocksMerge(l, track.Piece, e.Joint.End, false) {
				continue
			}
			clear := away(&l.Gaps[first]) + beyond
			for _, rails := range [2]layout.RailSet{layout.LeftRail, layout.RightRail} {
				out = append(out, Fault{
					Where: Spotted{Pieces: []string{l.Turnouts[i].Name, track.Name}}.around(l),
					Meant: []string{"fouling-point-unwatched"},
					Change: func(l *layout.Layout) {
						l.Turnouts[i].ClearAt[leg] = length(clear)
						l.Gaps[first].Rails = rails
						blocksMerge(l, track.Piece, e.Joint.End, true)
					},
				})
			}
		}
	}
	return out
}

// blocksMerge lets the block at one end of a track cover the whole of it, and the others nothing of it; not so where one would be left with nothing. Only
// with do is it done.
func blocksMerge(l *layout.Layout, piece layout.PieceID, end int32, do bool) bool {
	near := -1.0
	own := -1
	for b := range l.Blocks {
		for _, s := range l.Blocks[b].Covers {
			if s.Piece != piece {
				continue
			}
			away := min(s.From.Mid(), s.To.Mid())
			if end == 1 {
				away = -max(s.From.Mid(), s.To.Mid())
			}
			if own < 0 || s.Whole || away < near {
				own, near = b, away
			}
		}
	}
	for b := range l.Blocks {
		others := slices.DeleteFunc(slices.Clone(l.Blocks[b].Covers), func(s layout.Stretch) bool { return s.Piece == piece })
		switch {
		case len(others) == len(l.Blocks[b].Covers):
		case b == own:
			if do {
				whole := layout.Stretch{Piece: piece, Whole: true, RouteFrom: -1, RouteTo: -1, GapFromIndex: -1, GapToIndex: -1}
				l.Blocks[b].Covers = append(others, whole)
			}
		case len(others) == 0:
			return false
		case do:
			l.Blocks[b].Covers = others
		}
	}
	return own >= 0
}
