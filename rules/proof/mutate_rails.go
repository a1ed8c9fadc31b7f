package proof

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// polarity, parting and feeding are the rules that may be meant for faults of rails.
var (
	polarity = []string{"feeder-crossed", "gap-polarity-mismatch", "leg-to-leg-short", "frog-shorts-when-set", "leg-back-fed", "crossing-frogs-conflict", "turntable-crosses-polarity"}
	loops    = []string{"loop-ungapped", "loop-gap-one-rail", "loop-gap-missing-end", "reverser-missing"}
	parting  = []string{"gap-missing-between-districts", "boosters-in-parallel", "gap-one-rail", "detector-bypassed", "rail-shared-by-detectors", "block-differs-from-meant", "detector-differs-from-meant", "detector-on-wrong-leg", "detector-sees-more-than-its-block", "programming-track-joined", "sidings-not-insulated"}
	feeding  = []string{"rail-dead", "rail-one-leg-only", "feeder-missing-at-turnout-side", "feeder-missing-at-expansion-gap", "reversing-gap-weakly-fed", "feeder-spacing", "only-one-feeder", "rail-length-without-feeder"}
)

// gone is the piece of what was taken away; Flat leaves it out.
const gone layout.PieceID = -1

func anyOf(groups ...[]string) []string { return slices.Concat(groups...) }

func feedersSwapped(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		out = append(out, Fault{
			Where:  spot(l, l.Feeders[i].Place),
			Meant:  anyOf(polarity, []string{"detector-bypassed", "detector-on-wrong-leg", "gap-one-rail"}),
			Change: func(l *layout.Layout) { l.Feeders[i].ARail = l.Feeders[i].ARail.Other() },
		})
	}
	return out
}

func feedersRemoved(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		out = append(out, Fault{
			Where:  spot(l, l.Feeders[i].Place).neighbours(l, l.Feeders[i].Place.Piece),
			Meant:  anyOf(feeding, []string{"detector-sees-nothing", "detector-bypassed", "reverser-missing"}),
			Change: func(l *layout.Layout) { l.Feeders[i].Place.Piece = gone },
		})
	}
	return out
}

// feedersMoved moves each feeder just beyond each gap of its track that is next to it.
func feedersMoved(l *layout.Layout) []Fault {
	const beyond = 0.06 // metres
	var out []Fault
	for i := range l.Feeders {
		f := &l.Feeders[i]
		if l.Pieces[f.Place.Piece].Kind != layout.TrackPiece || f.Place.End >= 0 {
			continue
		}
		before, after := -1.0, -1.0
		for _, g := range l.Gaps {
			if g.Place.Piece != f.Place.Piece || g.Place.End >= 0 {
				continue
			}
			at := g.Place.At.Mid()
			if at < f.Place.At.Mid() && at > before {
				before = at
			}
			if at > f.Place.At.Mid() && (after < 0 || at < after) {
				after = at
			}
		}
		for _, at := range [2]float64{before - beyond, after + beyond} {
			if at <= 0.01 || (at > beyond && after < 0 && at == after+beyond) || !free(l, f.Place.Piece, at) {
				continue
			}
			where := spot(l, f.Place)
			where.At = at
			where = where.neighbours(l, f.Place.Piece)
			out = append(out, Fault{
				Where:  where,
				Meant:  anyOf(polarity, loops, parting, feeding, []string{"detector-sees-nothing", "boosters-out-of-phase"}),
				Change: func(l *layout.Layout) { l.Feeders[i].Place.At = length(at) },
			})
		}
	}
	return out
}

// free reports whether nothing stands within 2 cm of a place of a track, and the track goes
// on beyond it.
func free(l *layout.Layout, p layout.PieceID, at float64) bool {
	const near = 0.02
	t := &l.Tracks[l.Pieces[p].Index]
	if !t.Length.Known() || at < near || at > t.Length.Lo-near {
		return false
	}
	taken := func(o layout.Place) bool {
		return o.Piece == p && o.End < 0 && o.At.Lo-near < at && at < o.At.Hi+near
	}
	for _, s := range t.Stands {
		if s.At.Lo-near < at && at < s.At.Hi+s.Length.Hi+near {
			return false
		}
	}
	return !slices.ContainsFunc(l.Gaps, func(g layout.Gap) bool { return taken(g.Place) }) &&
		!slices.ContainsFunc(l.Feeders, func(f layout.Feeder) bool { return taken(f.Place) }) &&
		!slices.ContainsFunc(l.Joints, func(j layout.RailJoint) bool { return taken(j.Place) })
}

func length(m float64) quantity.Length {
	return quantity.Length{Value: quantity.Value{State: quantity.Known, Lo: m, Hi: m, Text: metres(m)}}
}

func gapsRemoved(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Gaps {
		if l.Gaps[i].Kind == layout.Expansion && l.Gaps[i].Joint != layout.CutThrough {
			continue // it conducts, or may
		}
		out = append(out, Fault{
			Where:  spot(l, l.Gaps[i].Place).neighbours(l, l.Gaps[i].Place.Piece),
			Meant:  anyOf(loops, parting, polarity, []string{"boosters-out-of-phase", "reversing-section-short", "expansion-gap-missing"}),
			Change: func(l *layout.Layout) { l.Gaps[i].Place.Piece = gone },
		})
	}
	return out
}

func gapsHalved(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Gaps {
		if l.Gaps[i].Rails != layout.BothRails || l.Gaps[i].Kind == layout.Expansion {
			continue
		}
		for _, rails := range [2]layout.RailSet{layout.LeftRail, layout.RightRail} {
			out = append(out, Fault{
				Where:  spot(l, l.Gaps[i].Place).neighbours(l, l.Gaps[i].Place.Piece),
				Meant:  anyOf(loops, parting, polarity, []string{"boosters-out-of-phase"}),
				Change: func(l *layout.Layout) { l.Gaps[i].Rails = rails },
			})
		}
	}
	return out
}

// gapsMoved moves each gap that lies near an end of its track past the track work there, onto
// each track beyond it.
func gapsMoved(l *layout.Layout) []Fault {
	const near, inside = 1.0, 0.1 // metres
	var out []Fault
	for i := range l.Gaps {
		place := l.Gaps[i].Place
		piece := &l.Pieces[place.Piece]
		if piece.Kind != layout.TrackPiece || place.End >= 0 || l.Tracks[piece.Index].Closed {
			continue
		}
		total := l.Tracks[piece.Index].Length
		for end := range 2 {
			away := place.At.Mid()
			if end == 1 {
				away = total.Mid() - away
			}
			work := piece.Ends[end].Joint
			if piece.Ends[end].Dead != layout.Joined || away > near || l.Pieces[work.Piece].Kind == layout.TrackPiece || !total.Known() {
				continue
			}
			for other, e := range l.Pieces[work.Piece].Ends {
				if int32(other) == work.End || e.Dead != layout.Joined || l.Pieces[e.Joint.Piece].Kind != layout.TrackPiece || e.Joint.Piece == place.Piece {
					continue
				}
				beyond := &l.Tracks[l.Pieces[e.Joint.Piece].Index]
				at := inside
				if e.Joint.End == 1 {
					at = beyond.Length.Mid() - inside
				}
				if beyond.Closed || !free(l, e.Joint.Piece, at) {
					continue
				}
				where := spot(l, place).neighbours(l, place.Piece)
				where.Pieces = append(where.Pieces, beyond.Name, l.Pieces[work.Piece].Name)
				out = append(out, Fault{
					Where: where,
					Meant: anyOf(loops, parting, polarity, feeding, []string{"reversing-section-short", "boosters-out-of-phase", "detector-sees-nothing"}),
					Change: func(l *layout.Layout) {
						l.Gaps[i].Place = layout.Place{Piece: e.Joint.Piece, End: -1, At: length(at)}
					},
				})
			}
		}
	}
	return out
}

// tracksTurned exchanges the two ends of each track that meets something at both, as happens
// when its line is typed the wrong way round.
func tracksTurned(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Tracks {
		p := &l.Pieces[l.Tracks[i].Piece]
		a, b := p.Ends[0], p.Ends[1]
		if l.Tracks[i].Closed || a.Dead != layout.Joined || b.Dead != layout.Joined || a.Joint.Piece == l.Tracks[i].Piece {
			continue
		}
		where := Spotted{Pieces: []string{p.Name}}
		out = append(out, Fault{
			Where: where.neighbours(l, l.Tracks[i].Piece),
			Meant: anyOf(polarity, loops, parting, feeding, []string{"reversing-section-short", "boosters-out-of-phase"}),
			Change: func(l *layout.Layout) {
				id := l.Tracks[i].Piece
				ends := l.Pieces[id].Ends
				ends[0].Joint, ends[1].Joint = ends[1].Joint, ends[0].Joint
				for e := range 2 {
					back := ends[e].Joint
					l.Pieces[back.Piece].Ends[back.End].Joint = layout.EndRef{Piece: id, End: int32(e)}
				}
			},
		})
	}
	return out
}
