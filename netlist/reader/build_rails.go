package reader

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// buildRails makes the gaps, joints and feeders, rows expanded, then bonds, loads and
// what else is said of rails.
func (r *reader) buildRails() {
	total := 0
	for i := range r.railEntries {
		e := &r.railEntries[i]
		id, ok := r.lookup(pieceThing, e.rec.unit, e.piece)
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

// lostEntry notes that an entry is missing from the layout because of a mistake, so that
// what points at it is not blamed.
func (r *reader) lostEntry(e *railEntry) {
	r.names[e.rec.section.thing].lost = true
	if p, ok := r.known(pieceThing, e.rec.unit, e.piece.s); ok {
		r.lostOn[lostKey{e.rec.section.thing, layout.PieceID(p)}] = true
	}
}

// lostKey is a kind of entry on one piece of which some are missing.
type lostKey struct {
	thing thing
	piece layout.PieceID
}

// member is what the i-th of a row's n members is called, and its number.
func (r *reader) member(e *railEntry, i, n int, isRow bool, index int32) (layout.Entry, layout.Row, bool) {
	entry := e.rec.entry()
	if !isRow {
		if entry.Name != "" && !r.register(e.rec.section.thing, e.rec.unit, e.rec.name, index) {
			return entry, layout.Row{}, false
		}
		return entry, layout.Row{}, true
	}
	if entry.Name != "" {
		if i == 0 && !r.register(e.rec.section.thing, e.rec.unit, e.rec.name, rowIndex) {
			return entry, layout.Row{}, false
		}
		named := e.rec.name
		named.s = fmt.Sprintf("%s-%d", named.s, i+1)
		if !r.register(e.rec.section.thing, e.rec.unit, named, index) {
			return entry, layout.Row{}, false
		}
		entry.Name = e.rec.unit.prefix + named.s
	}
	return entry, layout.Row{Number: i + 1, Count: n}, true
}

// rowIndex stands for the index of a row's own name, which names no single member.
const rowIndex = -2

// gaps makes the gaps of one entry.
func (r *reader) gaps(e *railEntry, rw row) {
	rec := e.rec
	g := layout.Gap{
		Kind: layout.GapKind(rec.word("kind") - 1), Joint: layout.ExpansionJoint(rec.word("joint")),
		Rails: layout.RailSet(rec.word("rails")), TypedRails: layout.RailSet(rec.word("rails")),
		Width: rec.length("width"), Fill: rec.text("fill"), BridgedBy: -1,
	}
	if g.Fill == "unknown" {
		g.Fill = ""
	}
	joint := rec.find("joint")
	switch {
	case g.Kind == layout.Expansion && joint == nil && !rec.misspelt["joint"]:
		r.blame(rec.place(), problem{message: "cut, sliding or bonded?", expected: "`joint:` with one of them"})
		r.lostEntry(e)
		return
	case g.Kind == layout.Expansion && (joint == nil || !joint.ok):
		r.lostEntry(e)
		return
	case g.Kind == layout.Insulated && joint != nil && !rec.isDefault(joint):
		r.blame(joint.key, problem{message: "only an expansion gap has a `joint`"})
	}
	if g.Kind == layout.Insulated {
		g.Joint = layout.JointNone
	}
	if t, ok := get[text](rec, "bridged-by"); ok {
		if i, ok := r.lookup(inLineThing, rec.unit, t); ok {
			g.BridgedBy = i
		}
	}
	r.askBorrowed(e)
	for i, s := range rw.spots {
		one := g
		var ok bool
		if one.Entry, one.Row, ok = r.member(e, i, len(rw.spots), rw.step > 0, int32(len(r.lay.Gaps))); !ok {
			return
		}
		one.Place = s.place
		if one.Rails, ok = r.railsAt(rec, s, g.Rails); !ok {
			r.lostEntry(e)
			return
		}
		r.lay.Gaps = append(r.lay.Gaps, one)
		r.gapAt = append(r.gapAt, e.at)
	}
}

// askBorrowed asks, once a file, about gaps of a module that are understood only by the
// defaults of the file that includes it.
func (r *reader) askBorrowed(e *railEntry) {
	u := e.rec.unit
	if u.outer == nil || r.asked[u] || !e.rec.borrowed(e.rec.find("rails")) && !e.rec.borrowed(e.rec.find("kind")) {
		return
	}
	r.asked[u] = true
	r.ask(e.at, "the rails and kind of this module's gaps are taken from the file that includes it; is that so?")
}

// railsAt names rails by the walk of the piece that a place lies on: `inner` and `outer`
// at a leg, and left and right at a body's edge typed on the track. Legs are left for
// when the feeders are known.
func (r *reader) railsAt(rec *record, s spot, rails layout.RailSet) (layout.RailSet, bool) {
	switch rails {
	case layout.InnerRail, layout.OuterRail:
		inner, ok := r.innerRail(s.place)
		if !ok {
			r.blame(rec.at("rails"), problem{message: "inner and outer are rails at a turnout's leg", expected: "left, right or both"})
			return rails, false
		}
		if rails == layout.OuterRail {
			inner = inner.Other()
		}
		return oneRail(inner), true
	case layout.LeftRail, layout.RightRail:
		if s.turned {
			return oneRail(otherRail(rails)), true
		}
	}
	return rails, true
}

func oneRail(rail layout.Rail) layout.RailSet {
	if rail == layout.Left {
		return layout.LeftRail
	}
	return layout.RightRail
}

// otherRail is the rail that is not in a set of one.
func otherRail(rails layout.RailSet) layout.Rail {
	if rails == layout.LeftRail {
		return layout.Right
	}
	return layout.Left
}

// innerRail is the rail from the frog at a leg of a turnout or an outer leg of a
// three-way: the right rail of the left leg, the left rail of the right leg.
func (r *reader) innerRail(p layout.Place) (layout.Rail, bool) {
	if p.End <= 0 {
		return 0, false
	}
	switch piece := &r.lay.Pieces[p.Piece]; piece.Kind {
	case layout.TurnoutPiece:
		if p.End == r.lay.Turnouts[piece.Index].Hand.LegLeft() {
			return layout.Right, true
		}
		return layout.Left, true
	case layout.ThreeWayPiece:
		return layout.Rail(1 - min(p.End-1, 1)), p.End != 2
	default:
		return 0, false
	}
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
