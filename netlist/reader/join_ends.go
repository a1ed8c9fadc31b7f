package reader

import "gapwise/netlist/layout"

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
		r.doubt.anything = true
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
		case v == nil && (rec.excused(name) || rec.excused("closed")):
			r.doubt.ends++
		case v == nil:
			r.doubt.ends++
			r.blame(rec.place(), problem{message: "`" + name + "` is missing", expected: "an end such as T1 points, or end, or closed: yes"})
		case !v.ok:
			r.doubt.ends++
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
		r.blame(back.typed, problem{
			message:  "these two disagree about the joint",
			expected: name + " " + [2]string{"start", "end"}[s] + ", as `" + word + "` of " + name + " says at " + r.line(said.typed.pos, back.typed.pos),
		})
	}
}
