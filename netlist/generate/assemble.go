package generate

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// assembly turns a whole plan into a layout.
type assembly struct {
	b      *builder
	l      *layout.Layout
	inches []quantity.Length // by number, made as they are met
	values values
	// firstGap is the first gap of each track in the layout; the others follow it.
	firstGap []int32
}

// layout gives the plan as a reader would give it.
func (b *builder) layout() *layout.Layout {
	a := &assembly{b: b, l: &layout.Layout{
		Name: "generated", Scale: "HO", JointDefaults: []layout.JointKind{layout.Soldered},
	}, values: newValues()}
	a.pieces()
	a.power()
	a.rails()
	a.use()
	return a.l
}

// length is a whole number of inches as typed.
func (a *assembly) length(inches int) quantity.Length {
	for len(a.inches) <= inches {
		a.inches = append(a.inches, length(quantity.FormatPlace(float64(len(a.inches))*0.0254)))
	}
	return a.inches[inches]
}

// length reads a length; the package types only what can be read.
func length(text string) quantity.Length {
	v, _ := quantity.ParsePosition(text, source.Pos{})
	return v
}

// piece is the piece of a track or turnout: all tracks come first.
func (a *assembly) piece(r ref) layout.PieceID {
	if r.turnout {
		return layout.PieceID(len(a.b.tracks)) + layout.PieceID(r.index)
	}
	return layout.PieceID(r.index)
}

func (a *assembly) endRef(r ref) layout.EndRef {
	return layout.EndRef{Piece: a.piece(r), End: r.end}
}

// pieces makes the tracks and turnouts and joins their ends.
func (a *assembly) pieces() {
	l, b := a.l, a.b
	l.Pieces = make([]layout.Piece, 0, len(b.tracks)+len(b.turnouts))
	l.Tracks = make([]layout.Track, 0, len(b.tracks))
	l.Turnouts = make([]layout.Turnout, 0, len(b.turnouts))
	for i := range b.tracks {
		b.tracks[i].inOrder()
		l.Pieces = append(l.Pieces, layout.Piece{Kind: layout.TrackPiece, Index: int32(i), Name: b.tracks[i].name, Ends: []layout.End{
			{Name: "start", Facing: layout.AtStart, Joint: layout.NoEnd, Dead: layout.BareEnd},
			{Name: "end", Facing: layout.AtEnd, Joint: layout.NoEnd, Dead: layout.BareEnd},
		}})
		l.Tracks = append(l.Tracks, a.track(&b.tracks[i], layout.PieceID(i)))
	}
	for i := range b.turnouts {
		id := layout.PieceID(len(l.Pieces))
		l.Pieces = append(l.Pieces, layout.Piece{Kind: layout.TurnoutPiece, Index: int32(i), Name: b.turnouts[i].name, Ends: []layout.End{
			{Name: "points", Facing: layout.AtStart, Joint: layout.NoEnd, Dead: layout.Unjoined},
			{Name: "straight", Facing: layout.AtEnd, Joint: layout.NoEnd, Dead: layout.Unjoined},
			{Name: "curved", Facing: layout.AtEnd, Joint: layout.NoEnd, Dead: layout.Unjoined},
		}})
		l.Turnouts = append(l.Turnouts, a.turnout(&b.turnouts[i], id))
	}
	a.joins()
}

func (a *assembly) track(t *track, id layout.PieceID) layout.Track {
	out := layout.Track{
		Entry: layout.Entry{Name: t.name}, Piece: id, Length: a.length(t.length), Rail: a.values.mainRail, Use: t.use,
		Straight: layout.No, Hidden: layout.No, LiftOut: layout.No, Cab: layout.No,
	}
	if t.straight {
		out.Straight = layout.Yes
	}
	if t.use == layout.UseYard || t.use == layout.UseIndustry {
		out.Rail = a.values.yardRail
	}
	for _, s := range t.stands {
		out.Stands = append(out.Stands, layout.Stand{
			Piece: a.piece(at(s.turnout, 0)), First: s.first, Second: s.second, At: a.length(s.at), Length: a.length(bodyLength),
		})
	}
	return out
}

func (a *assembly) turnout(t *turnout, id layout.PieceID) layout.Turnout {
	out := layout.Turnout{
		Entry: layout.Entry{Name: t.name}, Piece: id, Hand: t.hand, Number: turnoutNumber, Length: a.length(bodyLength), FrogLength: a.values.frogLength,
		Wiring: layout.Wiring{
			Preset: layout.DeadFrog, Blades: layout.BladesStock, Closures: layout.ClosuresBlade,
			IsolatedToe: true, IsolatedHeel: true, Jumpers: layout.Yes,
		},
		FrogTap: layout.Tap{Bus: -1}, ThrowsWith: -1, OnTrack: -1,
	}
	if t.switched {
		out.Wiring.Preset, out.Wiring.FrogMetal, out.Wiring.FrogFrom = layout.SwitchedFrog, true, layout.FrogFromContacts
		out.Throw = layout.BreakFirst
	}
	if t.on >= 0 {
		out.OnTrack = layout.PieceID(t.on)
	}
	return out
}

// joins joins every track's ends, and gives the turnouts on a track theirs.
func (a *assembly) joins() {
	l := a.l
	for i := range a.b.tracks {
		t := &a.b.tracks[i]
		for e, other := range t.ends {
			here := layout.EndRef{Piece: layout.PieceID(i), End: int32(e)}
			if other.index < 0 || !other.turnout && int(other.index) < i {
				continue // bare rail, or joined from the other track
			}
			there := a.endRef(other)
			a.meet(here, there)
			a.meet(there, here)
			l.Joins = append(l.Joins, layout.Join{Ends: [2]layout.EndRef{here, there}})
		}
		for _, s := range t.stands {
			for _, e := range [2]int32{s.first, s.second} {
				a.meet(a.endRef(at(s.turnout, e)), layout.EndRef{Piece: layout.PieceID(i), End: -1})
			}
		}
	}
}

func (a *assembly) meet(e, other layout.EndRef) {
	end := &a.l.Pieces[e.Piece].Ends[e.End]
	end.Joint, end.Dead = other, layout.Joined
}

// rails makes the gaps, rail joints and feeders, track by track.
func (a *assembly) rails() {
	var cuts, joins, feeders int
	for i := range a.b.tracks {
		t := &a.b.tracks[i]
		cuts, joins, feeders = cuts+len(t.cuts), joins+len(t.joins), feeders+len(t.feeders)
	}
	a.l.Gaps = make([]layout.Gap, 0, cuts)
	a.l.Joints = make([]layout.RailJoint, 0, joins)
	a.l.Feeders = make([]layout.Feeder, 0, feeders)
	a.firstGap = make([]int32, len(a.b.tracks))
	for i := range a.b.tracks {
		t := &a.b.tracks[i]
		a.firstGap[i] = int32(len(a.l.Gaps))
		for _, c := range t.cuts {
			g := layout.Gap{
				Place: a.place(i, c.at), Rails: layout.BothRails, TypedRails: layout.BothRails, BridgedBy: -1,
				Kind: layout.Insulated, Fill: "styrene",
			}
			if c.joint != layout.JointNone {
				g.Kind, g.Joint, g.Fill, g.Width = layout.Expansion, c.joint, "none", a.values.gapWidth
			}
			a.l.Gaps = append(a.l.Gaps, g)
		}
		for _, j := range t.joins {
			a.l.Joints = append(a.l.Joints, layout.RailJoint{Place: a.place(i, j.at), Rails: layout.BothRails, Kind: j.kind})
		}
		for _, f := range t.feeders {
			a.l.Feeders = append(a.l.Feeders, layout.Feeder{
				Place: a.place(i, f.at), ARail: f.aRail, Rails: layout.BothRails,
				From: [2]layout.Tap{a.tap(f.taps[0]), a.tap(f.taps[1])},
				Wire: a.values.feederWire, Length: a.values.feederLength, Broken: layout.No,
			})
		}
	}
}

// place is a place on a track; none of the plan's is at an end or a body's edge.
func (a *assembly) place(track, inches int) layout.Place {
	where := a.length(inches)
	return layout.Place{Piece: layout.PieceID(track), End: -1, At: where, Text: a.b.tracks[track].name + " @ " + where.Text}
}

func (a *assembly) tap(t tap) layout.Tap {
	where := a.length(t.at)
	return layout.Tap{Bus: t.bus, At: where, Text: a.b.buses[t.bus].name + " @ " + where.Text}
}
