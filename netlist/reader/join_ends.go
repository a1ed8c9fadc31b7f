package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// doubts are the pieces whose joints may be missing because of a mistake that was
// reported; everywhere says that it may be any.
type doubts struct {
	pieces     map[layout.PieceID]bool
	everywhere bool
}

func (d *doubts) add(p layout.PieceID) {
	if d.pieces == nil {
		d.pieces = map[layout.PieceID]bool{}
	}
	d.pieces[p] = true
}

// exposure is an end of a module that the including file may join.
type exposure struct {
	unit *unit
	name text
}

// side is one end of a track as its `from` or `to` says.
type side struct {
	said  layout.EndRef // the end it names
	typed text
	known bool // said or ended well
}

// sides of every track: [0] its start, [1] its end.
type trackState struct {
	sides  [2]side
	bodies []body
}

// joinEnds joins every end to what its track, a `joins` pair or a module's `ends` says.
func (r *reader) joinEnds() {
	r.meets = newMeets(r.lay.Pieces)
	if r.names[pieceThing].lost {
		r.doubt.everywhere = true
	}
	for _, u := range r.units {
		r.exposeEnds(u)
	}
	for t := range r.lay.Tracks {
		r.readSides(int32(t))
	}
	for t := range r.lay.Tracks {
		for s := range 2 {
			r.joinSide(int32(t), s)
		}
	}
	told := map[layout.EndRef]bool{}
	for t := range r.lay.Tracks {
		for s := range 2 {
			r.agree(int32(t), s, told)
		}
	}
	for _, u := range r.units {
		if u.root != nil {
			r.joinPairs(u, u.root.Get("joins"))
		}
	}
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
		if !r.checkName(name) || !r.register(endThing, u, name, int32(len(r.endList))) {
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
		return r.doubtful(r.pieceNear(u, raw.name))
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
		return r.doubtful(r.pieceNear(u, raw.name))
	}
	p, ok := r.lookup(pieceThing, u, raw.name)
	if !ok {
		return r.doubtful(r.pieceNear(u, raw.name))
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
		r.doubt.everywhere = true
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

// readSides reads a track's `from` and `to`.
func (r *reader) readSides(t int32) {
	tr := &r.lay.Tracks[t]
	rec := r.pieceRecord(tr.Piece)
	ends := r.lay.Pieces[tr.Piece].Ends
	for s, name := range [2]string{"from", "to"} {
		r.tracks[t].sides[s].said = layout.NoEnd
		v := rec.find(name)
		if tr.Closed {
			ends[s].Pos = rec.pos("closed")
			if v != nil {
				r.blame(v.key, problem{message: "a closed ring has no `" + name + "`; its end is joined to its start"})
			}
			continue
		}
		ends[s].Pos = rec.place().pos
		switch {
		case v == nil && (rec.misspelt[name] || rec.bad):
			r.doubt.everywhere = true
		case v == nil:
			r.doubt.everywhere = true
			r.blame(rec.place(), problem{message: "`" + name + "` is missing", expected: "an end such as T1 points, or end, or closed: yes"})
		case !v.ok:
			r.doubt.everywhere = true
		default:
			typed, _ := v.data.(text)
			ends[s].Pos = typed.pos
			r.tracks[t].sides[s] = r.readSide(rec, layout.EndRef{Piece: tr.Piece, End: int32(s)}, typed)
		}
	}
	if tr.Closed {
		start, end := layout.EndRef{Piece: tr.Piece, End: 0}, layout.EndRef{Piece: tr.Piece, End: 1}
		r.join(start, end, rec.at("closed"))
	}
}

// readSide reads one `from` or `to`.
func (r *reader) readSide(rec *record, here layout.EndRef, typed text) side {
	s := side{said: layout.NoEnd, typed: typed}
	end := &r.lay.Pieces[here.Piece].Ends[here.End]
	switch typed.s {
	case "end":
		end.Dead, s.known = layout.BareEnd, true
		return s
	case "bumper":
		end.Dead, s.known = layout.Bumper, true
		return s
	}
	ref, ok := r.endRef(rec.unit, typed)
	if !ok {
		return s
	}
	s.known = true
	if ref == here && r.exposed[here].unit == rec.unit {
		end.Dead = layout.BareEnd // it names its own end by the module's word for it
		return s
	}
	s.said = ref
	return s
}

// joinSide joins a track to the piece it names, or to the track that names it back.
func (r *reader) joinSide(t int32, s int) {
	said := &r.tracks[t].sides[s]
	here := layout.EndRef{Piece: r.lay.Tracks[t].Piece, End: int32(s)}
	if said.said == layout.NoEnd {
		return
	}
	switch there := &r.lay.Pieces[said.said.Piece]; {
	case said.said.Piece == here.Piece:
		if other := r.tracks[t].sides[0]; s == 0 || other.known {
			r.blame(said.typed, problem{message: "a track that meets itself is a ring; write `closed: yes`"})
		}
		*said = side{said: layout.NoEnd, typed: said.typed}
	case there.Kind != layout.TrackPiece:
		r.join(here, said.said, said.typed)
	case r.end(here).Dead != layout.Joined && r.otherSide(said.said).said == here:
		r.join(here, said.said, said.typed)
	}
}

// otherSide is what a track says of one of its own ends.
func (r *reader) otherSide(e layout.EndRef) side {
	return r.tracks[r.lay.Pieces[e.Piece].Index].sides[e.End]
}

// agree reports a track that names another track's end which does not name it back; of
// a chain of them, the first.
func (r *reader) agree(t int32, s int, told map[layout.EndRef]bool) {
	here := layout.EndRef{Piece: r.lay.Tracks[t].Piece, End: int32(s)}
	said := r.tracks[t].sides[s]
	if said.said == layout.NoEnd || r.lay.Pieces[said.said.Piece].Kind != layout.TrackPiece || r.end(here).Dead == layout.Joined {
		return
	}
	there := &r.lay.Tracks[r.lay.Pieces[said.said.Piece].Index]
	back := r.otherSide(said.said)
	e, isExposed := r.exposed[said.said]
	switch {
	case there.Closed:
		r.blamef(said.typed, "%s is closed; its ends meet each other", there.Name)
	case r.end(said.said).Dead == layout.Joined:
		r.taken(said.said, said.typed)
	case isExposed && e.unit != r.pieceRecord(here.Piece).unit && back.said == layout.NoEnd && back.known:
		r.join(here, said.said, said.typed)
	case !back.known || told[here] || told[said.said]:
	default:
		told[here], told[said.said] = true, true
		name, word := r.lay.Tracks[t].Name, [2]string{"from", "to"}[s]
		r.blame(back.typed, problem{message: "these two disagree about the joint",
			expected: name + " " + [2]string{"start", "end"}[s] + ", as `" + word + "` of " + name + " says at " + r.line(said.typed.pos, back.typed.pos)})
	}
}

func (r *reader) end(e layout.EndRef) *layout.End { return &r.lay.Pieces[e.Piece].Ends[e.End] }

// join makes one joint of two ends, or reports that one of them is taken.
func (r *reader) join(a, b layout.EndRef, typed text) bool {
	for _, e := range [2]layout.EndRef{b, a} {
		if d := r.end(e).Dead; d == layout.Joined {
			r.taken(e, typed)
			r.doubt.add(a.Piece)
			r.doubt.add(b.Piece)
			return false
		}
	}
	for _, e := range [2][2]layout.EndRef{{a, b}, {b, a}} {
		end := r.end(e[0])
		end.Joint, end.Dead = e[1], layout.Joined
		if r.lay.Pieces[e[0].Piece].Kind != layout.TrackPiece || !end.Pos.IsValid() {
			end.Pos = typed.pos
		}
	}
	r.lay.Joins = append(r.lay.Joins, layout.Join{Ends: [2]layout.EndRef{a, b}, Pos: typed.pos})
	r.meets.join(a, b, true)
	return true
}

// taken reports an end that is joined already.
func (r *reader) taken(e layout.EndRef, typed text) {
	end := r.end(e)
	by := end.Joint.Piece
	if r.endsInDoubt(e.Piece) {
		return
	}
	r.blamef(typed, "already joined to %s at %s", r.pieceName(by), r.line(end.Pos, typed.pos))
	r.doubt.add(e.Piece)
}
