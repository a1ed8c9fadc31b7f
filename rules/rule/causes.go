package rule

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
)

// The rules between which a cause is shared out: each tie, gap, rail and short has one.
const (
	LegToLegShort     = "leg-to-leg-short"
	LoopUngapped      = "loop-ungapped"
	LoopGapOneRail    = "loop-gap-one-rail"
	LoopGapMissingEnd = "loop-gap-missing-end"
	ReverserMissing   = "reverser-missing"
	GapPolarity       = "gap-polarity-mismatch"
	GapMissing        = "gap-missing-between-districts"
	GapOneRail        = "gap-one-rail"
	FrogShorts        = "frog-shorts-when-set"
	CrossingFrogs     = "crossing-frogs-conflict"
	LegBackFed        = "leg-back-fed"
	PlugBothWays      = "plug-fits-both-ways"
	ContactsApart     = "contacts-short-in-passing"
)

// TieRule says which rule a tie of districts belongs to.
func (c *Case) TieRule(t *districts.Tie) string {
	for _, s := range t.Classes {
		if c.C.Sources[s].Kind == circuit.PlugSource {
			return PlugBothWays
		}
	}
	if t.Feeder >= 0 {
		return GapMissing
	}
	loop := c.Free(t.Classes[0]) || c.Free(t.Classes[1])
	half := districts.HalfGap(&c.C.Ways[t.Cut])
	switch {
	case loop && half:
		return LoopGapOneRail
	case loop && c.cutsOf(t) > 1:
		return LoopUngapped
	case loop:
		return LoopGapMissingEnd
	case half:
		return GapOneRail
	default:
		return GapMissing
	}
}

// cutsOf counts the places where gaps are missing around the same reversing section.
func (c *Case) cutsOf(t *districts.Tie) int { return len(c.CutsWith(t)) }

// CutsWith lists the missing gaps, none of them cut in one rail, around the reversing
// section of a tie.
func (c *Case) CutsWith(t *districts.Tie) []*districts.Tie {
	var out []*districts.Tie
	for i := range c.T.Ties {
		o := &c.T.Ties[i]
		if o.Cut >= 0 && o.Section == t.Section && c.FreeOf(o.Classes) == c.FreeOf(t.Classes) && !districts.HalfGap(&c.C.Ways[o.Cut]) {
			out = append(out, o)
		}
	}
	return out
}

// FreeOf is the one of two sources whose phase is free, -1 when neither's is.
func (c *Case) FreeOf(sources [2]int32) int32 {
	for _, s := range sources {
		if c.Free(s) {
			return s
		}
	}
	return -1
}

// GapRule says which rule a gap belongs to over which wheels join opposite legs, and the
// reversing loop it lies on, if it does.
func (c *Case) GapRule(way int32) (string, *districts.Ring) {
	ring := c.T.OddRing(way)
	switch {
	case ring == nil:
		return GapPolarity, nil
	case len(ring.Gaps) >= 2:
		return ReverserMissing, ring
	default:
		return LoopGapMissingEnd, ring
	}
}

// RailRule says which rule whole rail belongs to that closes a ring in which left becomes
// right.
func (c *Case) RailRule(way int32) (string, *districts.Ring) {
	ring := c.T.OddRing(way)
	switch {
	case ring == nil:
		return LegToLegShort, nil
	case districts.HalfGap(&c.C.Ways[way]):
		return LoopGapOneRail, ring
	case len(ring.Gaps) > 0:
		return LoopGapMissingEnd, ring
	default:
		return LoopUngapped, ring
	}
}

// ConflictRule says which rule a remaining short belongs to, and the piece at fault (-1
// when it is no track work).
func (c *Case) ConflictRule(x *districts.Conflict) (string, layout.PieceID) {
	p := c.shortedPiece(x)
	switch {
	case p < 0:
		return LegToLegShort, p
	case c.L.Pieces[p].Kind == layout.CrossingPiece:
		return CrossingFrogs, p
	case c.ContactsApart(x):
		return ContactsApart, p
	case x.Demand < 0 && len(x.Settings) > 0 && c.routesPower(p) && !c.shortsAlways(p):
		return LegBackFed, p
	default:
		return FrogShorts, p
	}
}

// ContactsApart reports whether a short is there only while contacts lie otherwise than their blades.
func (c *Case) ContactsApart(x *districts.Conflict) bool {
	return slices.ContainsFunc(x.Settings, func(s districts.Setting) bool { return circuit.Apart(c.C.Devices[s.Device].Positions[s.Position]) })
}

// shortedPiece is the track work that a short runs through, -1 for none.
func (c *Case) shortedPiece(x *districts.Conflict) layout.PieceID {
	if x.Demand >= 0 {
		return c.C.Demands[x.Demand].Piece
	}
	for _, s := range x.Settings {
		if c.C.Devices[s.Device].Kind == circuit.PieceDevice {
			return layout.PieceID(c.C.Devices[s.Device].Ref)
		}
	}
	for _, k := range x.Cause {
		if c.C.Conductors[k].Kind == circuit.PiecePart {
			return layout.PieceID(c.C.Conductors[k].Ref)
		}
	}
	return -1
}

// routesPower reports whether a turnout's frog is one metal with its legs and gets its leg
// from the blade that touches.
func (c *Case) routesPower(p layout.PieceID) bool {
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece {
		return false
	}
	w := &c.L.Turnouts[piece.Index].Wiring
	return w.FrogMetal && !w.IsolatedHeel && w.Blades != layout.BladesStock
}

// shortsAlways reports whether a piece shorts in every setting.
func (c *Case) shortsAlways(p layout.PieceID) bool {
	return slices.ContainsFunc(c.T.Conflicts, func(x districts.Conflict) bool {
		return len(x.Settings) == 0 && c.shortedPiece(&x) == p
	})
}

// TiedAt reports whether a tie of districts is already named on a track and between the
// districts that two blocks are meant to belong to.
func (c *Case) TiedAt(track int32) bool {
	return slices.ContainsFunc(c.T.Ties, func(t districts.Tie) bool {
		return t.Cut >= 0 && slices.ContainsFunc(t.Ways, func(w int32) bool {
			for _, s := range [2]int32{c.C.Ways[w].A, c.C.Ways[w].B} {
				if p := &c.L.Pieces[c.C.Spots[s].Piece]; p.Kind == layout.TrackPiece && p.Index == track {
					return true
				}
			}
			return false
		})
	})
}
