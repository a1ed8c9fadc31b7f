package reader

import "gapwise/netlist/layout"

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
	case g.Kind == layout.Expansion && joint == nil && !rec.excused("joint"):
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
