package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// buildRails makes the gaps, joints and feeders, rows expanded, then bonds, loads and
// what else is said of rails.
func (r *reader) buildRails() {
	r.doubtGroups()
	total := 0
	for i := range r.railEntries {
		e := &r.railEntries[i]
		id, ok := r.lookup(pieceThing, e.rec.unit, e.piece)
		if ok && r.legSaid(e, layout.PieceID(id)) {
			r.lostEntry(e)
			continue
		}
		if ok && r.noPlace(e, layout.PieceID(id)) {
			r.pieceEndHere(e, layout.PieceID(id))
			r.lostEntry(e)
			continue
		}
		complete := r.complete(e)
		if !ok {
			r.lostEntry(e)
			continue
		}
		rw, ok := r.spots(e, layout.PieceID(id))
		if !ok || !complete {
			r.lostEntry(e)
			continue
		}
		if total += len(rw.spots); total > maxEntries {
			r.blamef(e.at, "over the bound, %d places in all", maxEntries)
			return
		}
		switch e.rec.section {
		case gapSection:
			r.gaps(e, rw)
		case jointSection:
			r.railJoints(e, rw)
		default:
			r.feeders(e, rw)
		}
	}
	r.bonds()
	r.buildPoints()
}

// doubtGroups notes the groups of feeders with a key that is no place but near to a word
// they lack, or says which rail has a leg.
func (r *reader) doubtGroups() {
	for i := range r.railEntries {
		e := &r.railEntries[i]
		p, ok := r.known(pieceThing, e.rec.unit, e.piece.s)
		if !ok || e.rec.beside == nil {
			continue
		}
		meant := ""
		switch id := layout.PieceID(p); {
		case r.saysLeg(e, id):
			meant = "A"
		case r.noPlace(e, id):
			meant = r.nearest(e.at.s, feederGroupWords)
		}
		e.rec.beside.misspell(meant, &tree.Field{Key: e.at.s, KeyPos: e.at.pos, KeyWidth: e.at.width, Value: e.rec.node})
	}
}

// complete reports what an entry lacks; what a group of feeders or a list of bare places
// lacks, once for all of them.
func (r *reader) complete(e *railEntry) bool {
	before := len(r.problems)
	ok := r.require(e.rec)
	if len(r.problems) == before || e.rec.section != feederSection && e.rec.node.Kind == tree.Map {
		return ok
	}
	if r.lacking[e.piece.pos] {
		r.problems = r.problems[:before]
	}
	r.lacking[e.piece.pos] = true
	return ok
}

// railJoints makes the rail joints of one entry.
func (r *reader) railJoints(e *railEntry, rw row) {
	j := layout.RailJoint{Kind: layout.JointKind(e.rec.word("kind") - 1), Rails: layout.BothRails}
	if w := e.rec.word("rails"); w > 0 {
		j.Rails = layout.RailSet(w)
	}
	for i, s := range rw.spots {
		one := j
		var ok bool
		if one.Entry, one.Row, ok = r.member(e, i, len(rw.spots), rw.step > 0, int32(len(r.lay.Joints))); !ok {
			return
		}
		one.Place = s.place
		one.Rails, _ = r.railsAt(e.rec, s, j.Rails)
		r.lay.Joints = append(r.lay.Joints, one)
		r.jointAt = append(r.jointAt, e.at)
	}
}
