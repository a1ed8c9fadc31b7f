package circuit

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// joints joins piece end to piece end. A joint of unlike ends (one piece's end to the
// other's start) keeps left on left; of like ends it turns them over.
func (b *builder) joints() {
	for id := range b.l.Pieces {
		for e := range b.l.Pieces[id].Ends {
			here := layout.EndRef{Piece: layout.PieceID(id), End: int32(e)}
			there := b.l.Pieces[id].Ends[e].Joint
			if there.Piece < 0 || there.End < 0 || b.jointKey(here) != here {
				continue
			}
			kind := b.defaultJoint(here.Piece, there.Piece)
			if b.liftsOut(here.Piece) || b.liftsOut(there.Piece) {
				kind = layout.JointUnknown
			}
			turned := b.l.Pieces[there.Piece].Ends[there.End].Facing == b.l.Pieces[id].Ends[e].Facing
			b.joint(here, b.c.EndSpot[id][e], b.c.EndSpot[there.Piece][there.End], turned, kind)
		}
	}
}

// bodyJoint joins a ruler's spot to an end of a body that stands on it. The ruler's
// spot is the start of the next stretch when start is set, the end of the last one
// otherwise. An edge that is one with another joint has no joint of its own.
func (b *builder) bodyJoint(body layout.EndRef, ruler int32, start bool) {
	from, turned := b.c.EndSpot[body.Piece][body.End], b.turnsOver(body, start)
	if _, one := b.same[body]; one {
		whole := cut{metal: Joined, gap: -1, joint: OneJoint}
		b.layJoint(body, from, ruler, turned, [2]cut{whole, whole}, WayJoint, b.l.Pieces[body.Piece].Ends[body.End].Pos)
		return
	}
	b.joint(body, from, ruler, turned, b.defaultJoint(body.Piece, b.c.Spots[ruler].Piece))
}

// joint lays one joint of a kind, or with the gap or joint kind that stands there.
func (b *builder) joint(here layout.EndRef, from, to int32, turned bool, kind layout.JointKind) {
	if from < 0 || to < 0 {
		return
	}
	m := b.jointMetal(kind)
	made := jointMake(kind)
	cuts := [2]cut{{metal: m, gap: -1, joint: made}, {metal: m, gap: -1, joint: made}}
	way := WayJoint
	pos := b.l.Pieces[here.Piece].Ends[here.End].Pos
	for _, e := range b.atJoint[here] {
		flip := e.turned != (e.from != here && turned)
		switch e.kind {
		case jointEventKind:
			j := &b.l.Joints[e.ref]
			for r := range layout.Rail(2) {
				if inRails(flipped(j.Rails, flip), r) {
					cuts[r].metal, cuts[r].joint = b.jointMetal(j.Kind), jointMake(j.Kind)
				}
			}
		case gapEvent:
			g := &b.l.Gaps[e.ref]
			way = WayCut
			pos = g.Pos
			for r := range layout.Rail(2) {
				if inRails(flipped(g.Rails, flip), r) {
					cuts[r] = cut{metal: b.gapMetal(g), gap: e.ref, joint: gapMake(g)}
				}
			}
		}
	}
	b.layJoint(here, from, to, turned, cuts, way, pos)
}

// layJoint lays the metal of one joint, rail by rail of the piece at here, and its way.
func (b *builder) layJoint(here layout.EndRef, from, to int32, turned bool, cuts [2]cut, way WayKind, pos source.Pos) {
	rails := noGaps
	for r := range layout.Rail(2) {
		if cuts[r].metal == Open {
			continue
		}
		rails[r] = int32(len(b.c.Conductors))
		across := r
		if turned {
			across = r.Other()
		}
		b.join(Conductor{A: b.c.Spots[from].Node[r], B: b.c.Spots[to].Node[across], Ref: int32(here.Piece), Kind: JointMetal, Rail: r, Sure: cuts[r].metal == Joined, Joint: cuts[r].joint, Pos: pos})
	}
	b.way(Way{A: from, B: to, Kind: way, Turned: turned, Metal: [2]Metal{cuts[0].metal, cuts[1].metal}, Gaps: [2]int32{cuts[0].gap, cuts[1].gap}, Rails: rails, Piece: here.Piece, Device: -1, Position: -1, Pos: pos})
}

func flipped(rs layout.RailSet, flip bool) layout.RailSet {
	if !flip {
		return rs
	}
	switch rs {
	case layout.LeftRail:
		return layout.RightRail
	case layout.RightRail:
		return layout.LeftRail
	default:
		return rs
	}
}

func (b *builder) liftsOut(p layout.PieceID) bool {
	return b.l.Pieces[p].Kind == layout.TrackPiece && b.l.Tracks[b.l.Pieces[p].Index].LiftOut == layout.Yes
}

// defaultJoint is the kind of a joint that no entry names: the less certain of the two
// files' defaults.
func (b *builder) defaultJoint(p, q layout.PieceID) layout.JointKind {
	x, y := b.fileJoint(p), b.fileJoint(q)
	switch {
	case x == layout.JointUnknown || y == layout.JointUnknown:
		return layout.JointUnknown
	case x == layout.Plain || y == layout.Plain:
		return layout.Plain
	default:
		return layout.Soldered
	}
}

func (b *builder) fileJoint(p layout.PieceID) layout.JointKind {
	f := int(b.l.Pieces[p].Pos.File)
	if f >= len(b.l.JointDefaults) {
		return layout.JointUnknown
	}
	return b.l.JointDefaults[f]
}
