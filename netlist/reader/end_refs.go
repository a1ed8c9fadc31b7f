package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// exposure is an end of a module that the including file may join.
type exposure struct {
	unit *unit
	name text
}

// exposeEnds reads a module's `ends`.
func (r *reader) exposeEnds(u *unit) {
	if u.root == nil || !u.module {
		return
	}
	f := u.root.Field("ends")
	if f == nil || f.Value.Kind != tree.Map {
		return
	}
	for i := range f.Value.Fields {
		e := &f.Value.Fields[i]
		if e.Value.Kind != tree.Scalar || e.Value.Bad || e.Value.IsEmpty() {
			r.names[endThing].lost = true
			continue
		}
		name := keyText(e)
		end, ok := r.endRef(u, nodeText(e.Value))
		if !r.checkName(name, thingWords[endThing]) || !r.register(endThing, u, name, int32(len(r.endList))) {
			r.lostNames[name.s] = true
			continue
		}
		r.endList = append(r.endList, end)
		if !ok {
			continue
		}
		if was, again := r.exposed[end]; again {
			r.blamef(nodeText(e.Value), "%s is `%s` already, at %s", nodeText(e.Value).tidy(), was.name.s, r.line(was.name.pos, name.pos))
			continue
		}
		r.exposed[end] = exposure{unit: u, name: name}
	}
}

// endRef finds the end that `PIECE END`, or the name of a module's end, stands for.
func (r *reader) endRef(u *unit, t text) (layout.EndRef, bool) {
	raw, ok := r.parsePlace(t)
	if !ok {
		return r.doubtful(nil)
	}
	if raw.along {
		r.blame(t, problem{message: "an end, not a place along a track", expected: "such as T1 points"})
		return r.doubtful(nil)
	}
	if raw.end.s == "" {
		if i, ok := r.known(endThing, u, raw.name.s); ok {
			end := r.endList[i]
			return end, end != layout.NoEnd
		}
		if p, ok := r.known(pieceThing, u, raw.name.s); ok {
			r.blame(t, problem{message: "which end of " + raw.name.s + "?", expected: listed(r.endNamesOf(layout.PieceID(p)))})
			return r.doubtful(&p)
		}
		r.unknownName(pieceThing, u, raw.name)
		return r.doubtful(nil)
	}
	p, ok := r.lookup(pieceThing, u, raw.name)
	if !ok {
		return r.doubtful(nil)
	}
	end, ok := r.pieceEnd(layout.PieceID(p), raw.end)
	if !ok {
		return r.doubtful(&p)
	}
	return end, true
}

// doubtful notes that an end of a piece, or of any piece, lost its joint to a mistake.
func (r *reader) doubtful(p *int32) (layout.EndRef, bool) {
	if p == nil {
		r.doubt.ends++
	} else {
		r.doubt.add(layout.PieceID(*p))
	}
	return layout.NoEnd, false
}

// pieceNear is the piece that t, or the nearest name to it, names; nil when none is.
func (r *reader) pieceNear(u *unit, t text) *int32 {
	if p, ok := r.known(pieceThing, u, t.s); ok {
		return &p
	}
	if p, ok := r.known(pieceThing, u, r.nearest(t.s, r.candidates(pieceThing, u))); ok {
		return &p
	}
	return nil
}
