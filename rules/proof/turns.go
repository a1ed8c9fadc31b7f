package proof

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// Turned writes the same layout with one track walked the other way: its ends exchanged, every
// measure taken from the other end, left and right of everything on it exchanged. ok is false for
// a ring, for a track without an exact length, and where a bond of both rails, which is one
// thing, would become two.
func Turned(l *layout.Layout, track int) (ok bool) {
	t := &l.Tracks[track]
	if t.Closed || !t.Length.Known() || t.Length.Lo != t.Length.Hi {
		return false
	}
	if slices.ContainsFunc(l.Bonds, func(b layout.Bond) bool { return b.Both && (b.From.Piece == t.Piece) != (b.To.Piece == t.Piece) }) {
		return false
	}
	total := t.Length.Mid()
	ends := l.Pieces[t.Piece].Ends
	ends[0].Joint, ends[1].Joint = ends[1].Joint, ends[0].Joint
	ends[0].Dead, ends[1].Dead = ends[1].Dead, ends[0].Dead
	for e := range 2 {
		if back := ends[e].Joint; ends[e].Dead == layout.Joined && back.Piece != t.Piece {
			l.Pieces[back.Piece].Ends[back.End].Joint = layout.EndRef{Piece: t.Piece, End: int32(e)}
		}
	}
	turnStands(t, total)
	place := func(p *layout.Place) bool {
		if p.Piece != t.Piece {
			return false
		}
		if p.End >= 0 {
			p.End = 1 - p.End
		} else {
			p.At, p.FromEnd = fromOtherEnd(p.At, total), false
		}
		return true
	}
	for i := range l.Gaps {
		if place(&l.Gaps[i].Place) {
			l.Gaps[i].Rails = otherRails(l.Gaps[i].Rails)
		}
	}
	for i := range l.Joints {
		if place(&l.Joints[i].Place) {
			l.Joints[i].Rails = otherRails(l.Joints[i].Rails)
		}
	}
	for i := range l.Feeders {
		if f := &l.Feeders[i]; place(&f.Place) {
			f.ARail, f.Rails = f.ARail.Other(), otherRails(f.Rails)
		}
	}
	turnBonds(l, place)
	for i := range l.Terminators {
		if l.Terminators[i].OnRail {
			place(&l.Terminators[i].Place)
		}
	}
	for i := range l.Loads {
		if l.Loads[i].OnRail {
			place(&l.Loads[i].Place)
		}
	}
	stretch := func(s *layout.Stretch) bool {
		if s.Piece != t.Piece {
			return false
		}
		if !s.Whole {
			s.From, s.To = fromOtherEnd(s.To, total), fromOtherEnd(s.From, total)
			s.GapFrom, s.GapTo = s.GapTo, s.GapFrom
			s.GapFromIndex, s.GapToIndex = s.GapToIndex, s.GapFromIndex
		}
		return true
	}
	for i := range l.Blocks {
		for k := range l.Blocks[i].Covers {
			stretch(&l.Blocks[i].Covers[k])
		}
	}
	turnCommons(l, stretch)
	return true
}

func fromOtherEnd(v quantity.Length, total float64) quantity.Length {
	v.Lo, v.Hi = total-v.Hi, total-v.Lo
	return v
}

func otherRails(r layout.RailSet) layout.RailSet {
	switch r {
	case layout.LeftRail:
		return layout.RightRail
	case layout.RightRail:
		return layout.LeftRail
	default:
		return r
	}
}

// turnStands turns what stands on a track.
func turnStands(t *layout.Track, total float64) {
	for i := range t.Stands {
		s := &t.Stands[i]
		s.At = fromOtherEnd(s.At, total-s.Length.Mid())
		s.First, s.Second = s.Second, s.First
	}
	slices.Reverse(t.Stands)
}

// turnBonds turns bonds of single rails; those of both stay as they are.
func turnBonds(l *layout.Layout, place func(*layout.Place) bool) {
	for i := range l.Bonds {
		b := &l.Bonds[i]
		if place(&b.From) {
			b.Rails[0] = b.Rails[0].Other()
		}
		if place(&b.To) {
			b.Rails[1] = b.Rails[1].Other()
		}
	}
}

// turnCommons gives the turned track's part of each declared common an entry of its own.
func turnCommons(l *layout.Layout, stretch func(*layout.Stretch) bool) {
	for i := range l.CommonRails {
		c := &l.CommonRails[i]
		var kept, turned []layout.Stretch
		for _, s := range c.Of {
			if stretch(&s) {
				turned = append(turned, s)
			} else {
				kept = append(kept, s)
			}
		}
		other := *c
		other.Rail, other.Of = c.Rail.Other(), turned
		switch {
		case len(turned) == 0:
		case len(kept) == 0:
			*c = other
		default:
			c.Of = kept
			l.CommonRails = append(l.CommonRails, other)
		}
	}
}

// Halved cuts a track in two tracks joined by a soldered joint, at a free place near its
// middle. What lay beyond lies on the new track, named like the old one with CutSuffix. ok is
// false where no place is free, and for a lift-out, which would become two.
func Halved(l *layout.Layout, track int) (ok bool) {
	t := &l.Tracks[track]
	if t.Closed || t.LiftOut == layout.Yes || !t.Length.Known() || t.Length.Lo != t.Length.Hi {
		return false
	}
	total := t.Length.Mid()
	at := -1.0
	for n := range 40 {
		if try := total * (0.5 + 0.01*float64(n%2*2-1)*float64(n)); freeToCut(l, track, try) {
			at = try
			break
		}
	}
	if at < 0 {
		return false
	}
	id := layout.PieceID(len(l.Pieces))
	half := *t
	half.Piece, half.Name, half.Length = id, t.Name+CutSuffix, length(total-at)
	half.Stands = nil
	old := t.Piece
	far := l.Pieces[old].Ends[1]
	l.Pieces = append(l.Pieces, layout.Piece{
		Kind: layout.TrackPiece, Index: int32(len(l.Tracks)), Name: half.Name, Pos: l.Pieces[old].Pos,
		Ends: []layout.End{{Name: "start", Facing: layout.AtStart, Joint: layout.EndRef{Piece: old, End: 1}}, far},
	})
	if far.Dead == layout.Joined {
		l.Pieces[far.Joint.Piece].Ends[far.Joint.End].Joint = layout.EndRef{Piece: id, End: 1}
	}
	l.Pieces[old].Ends[1].Joint, l.Pieces[old].Ends[1].Dead = layout.EndRef{Piece: id, End: 0}, layout.Joined
	near := t.Stands[:0]
	for _, s := range t.Stands {
		if s.At.Mid() < at {
			near = append(near, s)
			continue
		}
		s.At = beyond(s.At, at)
		half.Stands = append(half.Stands, s)
	}
	t.Stands, t.Length = near, length(at)
	l.Tracks = append(l.Tracks, half)
	movePlaces(l, old, id, at)
	l.Joints = append(l.Joints, layout.RailJoint{Place: layout.Place{Piece: old, End: 1}, Rails: layout.BothRails, Kind: layout.Soldered})
	return true
}

// CutSuffix ends the name of the second part of a track that was cut in two.
const CutSuffix = "-beyond"

func beyond(v quantity.Length, at float64) quantity.Length {
	v.Lo, v.Hi = v.Lo-at, v.Hi-at
	return v
}

// freeToCut reports whether a track can be cut in two at a place: nothing stands near it, and
// no block or common rail begins or ends there.
func freeToCut(l *layout.Layout, track int, at float64) bool {
	p := l.Tracks[track].Piece
	if !free(l, p, at) {
		return false
	}
	bound := func(s layout.Stretch) bool {
		const near = 0.2
		return s.Piece == p && !s.Whole && (s.From.Lo-near < at && at < s.From.Hi+near || s.To.Lo-near < at && at < s.To.Hi+near)
	}
	for i := range l.Blocks {
		if slices.ContainsFunc(l.Blocks[i].Covers, bound) {
			return false
		}
	}
	for i := range l.CommonRails {
		if slices.ContainsFunc(l.CommonRails[i].Of, bound) {
			return false
		}
	}
	return !slices.ContainsFunc(l.Bonds, func(b layout.Bond) bool {
		return (b.From.Piece == p && b.From.End < 0 && b.From.At.Lo-0.02 < at && at < b.From.At.Hi+0.02) ||
			(b.To.Piece == p && b.To.End < 0 && b.To.At.Lo-0.02 < at && at < b.To.At.Hi+0.02)
	})
}

// movePlaces moves what lies beyond a place of one track to another.
func movePlaces(l *layout.Layout, old, id layout.PieceID, at float64) {
	move := func(p *layout.Place) {
		switch {
		case p.Piece != old || p.End == 0:
		case p.End == 1:
			p.Piece = id
		case p.At.Mid() > at:
			p.Piece, p.At, p.FromEnd = id, beyond(p.At, at), false
		}
	}
	for i := range l.Gaps {
		move(&l.Gaps[i].Place)
	}
	for i := range l.Joints {
		move(&l.Joints[i].Place)
	}
	for i := range l.Feeders {
		move(&l.Feeders[i].Place)
	}
	for i := range l.Bonds {
		move(&l.Bonds[i].From)
		move(&l.Bonds[i].To)
	}
	for i := range l.Terminators {
		if l.Terminators[i].OnRail {
			move(&l.Terminators[i].Place)
		}
	}
	for i := range l.Loads {
		if l.Loads[i].OnRail {
			move(&l.Loads[i].Place)
		}
	}
	for i := range l.Blocks {
		l.Blocks[i].Covers = splitStretches(l.Blocks[i].Covers, old, id, at)
	}
	for i := range l.CommonRails {
		l.CommonRails[i].Of = splitStretches(l.CommonRails[i].Of, old, id, at)
	}
}

// splitStretches divides stretches of a track between its two parts.
func splitStretches(ss []layout.Stretch, old, id layout.PieceID, at float64) []layout.Stretch {
	var out []layout.Stretch
	for _, s := range ss {
		if s.Piece != old {
			out = append(out, s)
			continue
		}
		far := s
		far.Piece = id
		switch {
		case s.Whole:
			out = append(out, s, far)
		case s.To.Mid() <= at:
			out = append(out, s)
		case s.From.Mid() >= at:
			far.From, far.To = beyond(s.From, at), beyond(s.To, at)
			out = append(out, far)
		default:
			s.To = length(at)
			far.From, far.To = length(0), beyond(far.To, at)
			s.GapTo, far.GapFrom = false, false
			out = append(out, s, far)
		}
	}
	return out
}

// Renamed gives everything another name.
func Renamed(l *layout.Layout) {
	for i := range l.Pieces {
		l.Pieces[i].Name = renamed(l.Pieces[i].Name)
	}
	for i := range l.Tracks {
		l.Tracks[i].Name = renamed(l.Tracks[i].Name)
	}
	for i := range l.Turnouts {
		l.Turnouts[i].Name = renamed(l.Turnouts[i].Name)
	}
	for i := range l.ThreeWays {
		l.ThreeWays[i].Name = renamed(l.ThreeWays[i].Name)
	}
	for i := range l.Crossings {
		l.Crossings[i].Name = renamed(l.Crossings[i].Name)
	}
	for i := range l.Turntables {
		l.Turntables[i].Name = renamed(l.Turntables[i].Name)
	}
	for i := range l.TransferTables {
		l.TransferTables[i].Name = renamed(l.TransferTables[i].Name)
	}
	for i := range l.Buses {
		l.Buses[i].Name = renamed(l.Buses[i].Name)
	}
	for i := range l.Blocks {
		l.Blocks[i].Name = renamed(l.Blocks[i].Name)
	}
	for i := range l.Boosters {
		l.Boosters[i].Name = renamed(l.Boosters[i].Name)
	}
	for i := range l.Breakers {
		l.Breakers[i].Name = renamed(l.Breakers[i].Name)
	}
	for i := range l.Detectors {
		l.Detectors[i].Name = renamed(l.Detectors[i].Name)
	}
}

// renamed makes names that sort in another order.
func renamed(s string) string {
	b := []byte(name(s))
	slices.Reverse(b)
	return "z" + string(b)
}
