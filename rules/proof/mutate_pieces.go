package proof

import (
	"slices"

	"gapwise/netlist/layout"
)

// frogsChanged gives each turnout a frog of another kind: one metal with its legs, fed by its
// blades, and a plain dead one.
func frogsChanged(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Turnouts {
		where := Spotted{Pieces: []string{l.Turnouts[i].Name}}
		where = where.neighbours(l, l.Turnouts[i].Piece)
		for _, w := range []layout.Wiring{
			{Preset: layout.PowerRouting, Blades: layout.BladesEachOther, FrogMetal: true, FrogFrom: layout.FrogFromBlades, Jumpers: layout.No},
			{Preset: layout.DeadFrog, Jumpers: layout.Yes},
			{Preset: layout.Selective, Blades: layout.BladesNeither, Jumpers: layout.No},
			{Preset: layout.UnfedFrog, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true, Jumpers: layout.Yes},
		} {
			if w.Preset == l.Turnouts[i].Wiring.Preset {
				continue
			}
			out = append(out, Fault{
				Where: where,
				Meant: anyOf(polarity, feeding, []string{"frog-dead", "gap-missing-between-districts", "detector-bypassed", "gap-one-rail"}),
				Change: func(l *layout.Layout) {
					t := &l.Turnouts[i]
					t.Wiring, t.FrogGets, t.FrogTap = w, nil, layout.Tap{Bus: -1}
				},
			})
		}
	}
	return out
}

// swapped is what a frog gets by the other contact.
var swapped = map[layout.FrogGets]layout.FrogGets{
	layout.GetsStockLeft: layout.GetsStockRight, layout.GetsStockRight: layout.GetsStockLeft,
	layout.GetsLegA: layout.GetsLegB, layout.GetsLegB: layout.GetsLegA,
}

func swapGets(ms []layout.ContactMap) []layout.ContactMap {
	out := slices.Clone(ms)
	for i := range out {
		if to, ok := swapped[out[i].Gets]; ok {
			out[i].Gets = to
		}
	}
	return out
}

// contactsSwapped exchanges the contacts of each switched frog.
func contactsSwapped(l *layout.Layout) []Fault {
	meant := []string{"frog-shorts-when-set", "crossing-frogs-conflict"}
	var out []Fault
	for i := range l.Turnouts {
		t := &l.Turnouts[i]
		if t.Wiring.FrogFrom != layout.FrogFromContacts {
			continue
		}
		gets := swapGets(t.FrogGets)
		if len(gets) == 0 {
			ends := l.Pieces[t.Piece].Ends
			left, right := ends[t.Hand.LegLeft()].Name, ends[t.Hand.LegRight()].Name
			gets = []layout.ContactMap{{Setting: left, Gets: layout.GetsStockLeft}, {Setting: right, Gets: layout.GetsStockRight}}
		}
		out = append(out, Fault{
			Where:  Spotted{Pieces: []string{t.Name}},
			Meant:  meant,
			Change: func(l *layout.Layout) { l.Turnouts[i].FrogGets = gets },
		})
	}
	for i := range l.ThreeWays {
		if t := &l.ThreeWays[i]; t.Preset == layout.SwitchedFrog && len(t.FrogGets) == 0 {
			out = append(out, Fault{
				Where: Spotted{Pieces: []string{t.Name}},
				Meant: meant,
				Change: func(l *layout.Layout) {
					l.ThreeWays[i].FrogGets = []layout.ContactMap{
						{Frog: "left-frog", Setting: "left", Gets: layout.GetsStockLeft},
						{Frog: "left-frog", Setting: "straight", Gets: layout.GetsStockRight},
						{Frog: "middle-frog", Setting: "left", Gets: layout.GetsStockRight},
						{Frog: "middle-frog", Setting: "right", Gets: layout.GetsStockLeft},
						{Frog: "right-frog", Setting: "straight", Gets: layout.GetsStockRight},
						{Frog: "right-frog", Setting: "right", Gets: layout.GetsStockLeft},
					}
				},
			})
		}
	}
	for i := range l.Crossings {
		x := &l.Crossings[i]
		if len(x.FrogGets) == 0 {
			continue
		}
		out = append(out, Fault{
			Where:  Spotted{Pieces: []string{x.Name}},
			Meant:  meant,
			Change: func(l *layout.Layout) { l.Crossings[i].FrogGets = swapGets(l.Crossings[i].FrogGets) },
		})
	}
	return out
}

// sectionsShortened lengthens every train in turn until it is longer than the section between two
// gaps behind a reverser, and moves each such gap inwards.
func sectionsShortened(l *layout.Layout) []Fault {
	const shorter = 0.3 // of the longest train
	longest := 0.0
	for i := range l.Trains {
		longest = max(longest, l.Trains[i].Length.Hi)
	}
	var out []Fault
	for i := range l.Reversers {
		feeders, pieces := feedersOf(l, layout.FromReverser, i)
		for _, p := range uniquePieces(l, feeders) {
			gaps := gapsOn(l, p)
			if len(gaps) != 2 || longest == 0 {
				continue
			}
			from, to := l.Gaps[gaps[0]].Place.At.Mid(), l.Gaps[gaps[1]].Place.At.Mid()
			at := from + shorter*longest
			if to-from <= at-from || !free(l, p, at) || !feederBetween(l, feeders, p, from, at) {
				continue
			}
			where := spot(l, l.Gaps[gaps[1]].Place)
			where.Near = false
			where.Pieces = append(where.Pieces, pieces...)
			out = append(out, Fault{
				Where: where,
				Meant: []string{"reversing-section-short"},
				Change: func(l *layout.Layout) {
					l.Gaps[gaps[1]].Place.At = length(at)
					for _, f := range feeders {
						if o := &l.Feeders[f].Place; o.Piece == p && o.End < 0 && o.At.Mid() > at {
							o.Piece = gone
						}
					}
				},
			})
		}
	}
	return out
}

func uniquePieces(l *layout.Layout, feeders []int) []layout.PieceID {
	var out []layout.PieceID
	for _, f := range feeders {
		if p := l.Feeders[f].Place.Piece; l.Pieces[p].Kind == layout.TrackPiece && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// gapsOn lists the full insulated gaps measured on a track, by rising place.
func gapsOn(l *layout.Layout, p layout.PieceID) []int {
	var out []int
	for i := range l.Gaps {
		if g := &l.Gaps[i]; g.Place.Piece == p && g.Place.End < 0 && g.Kind == layout.Insulated && g.Rails == layout.BothRails {
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(x, y int) int {
		if l.Gaps[x].Place.At.Mid() < l.Gaps[y].Place.At.Mid() {
			return -1
		}
		return 1
	})
	return out
}

// feederBetween reports whether one of some feeders stands between two places of a track.
func feederBetween(l *layout.Layout, feeders []int, p layout.PieceID, from, to float64) bool {
	return slices.ContainsFunc(feeders, func(f int) bool {
		at := l.Feeders[f].Place.At.Mid()
		return l.Feeders[f].Place.Piece == p && from < at && at < to
	})
}
