package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// track makes one track; its bodies and joints come later.
func (r *reader) track(rec *record, id layout.PieceID) layout.Track {
	return layout.Track{
		Entry: rec.entry(), Piece: id,
		Closed: rec.yesNo("closed") == layout.Yes,
		Length: rec.length("length"), Rail: value[layout.RailStock](rec, "rail"), Use: layout.Use(rec.word("use")),
		Straight: rec.yesNo("straight"), Hidden: rec.noUnless("hidden"), LiftOut: rec.noUnless("lift-out"), Cab: rec.noUnless("cab"),
		JointEvery: r.jointEvery(rec.unit),
	}
}

// noUnless is a yes or no whose unsaid means no.
func (rec *record) noUnless(name string) layout.YesNo {
	if y := rec.yesNo(name); y != layout.YesNoUnsaid {
		return y
	}
	return layout.No
}

// jointEvery is how far apart a file's default says that joints are.
func (r *reader) jointEvery(u *unit) quantity.Length {
	if d := u.defaults["joint"]; d != nil {
		return d.length("every")
	}
	return quantity.Length{}
}

// turnout makes one turnout; settings and tap come later.
func (r *reader) turnout(rec *record, id layout.PieceID) layout.Turnout {
	hand := layout.Hand(rec.word("hand"))
	if v := rec.find("hand"); v != nil && !v.ok && hand == layout.HandUnsaid {
		near := r.nearest(v.node.Text, layout.HandWords)
		for h, w := range layout.HandWords {
			if w == near && w != "" {
				hand = layout.Hand(h)
			}
		}
	}
	return layout.Turnout{
		Entry: rec.entry(), Piece: id, Hand: hand,
		Number: value[quantity.Value](rec, "number").Mid(),
		Length: rec.length("length"), FrogLength: rec.length("frog-length"),
		Wiring: r.wiring(rec), BladeContact: rec.resistance("blade-contact"), Throw: rec.throw(),
		FrogTap: noTap(), FlipsAt: rec.current("flips-at"), FrogResistance: rec.resistance("frog-resistance"),
		ThrowsWith: -1, OnTrack: -1,
	}
}

// throw is how contacts change over; an unknown way is unsaid.
func (rec *record) throw() layout.Throw {
	if w := rec.word("throw"); w <= int(layout.MakeFirst) {
		return layout.Throw(w)
	}
	return layout.ThrowUnsaid
}

func (r *reader) threeWay(rec *record, id layout.PieceID) layout.ThreeWay {
	t := layout.ThreeWay{
		Entry: rec.entry(), Piece: id,
		Lapped: rec.word("construction") == 1, FirstRight: rec.word("first") == 2,
		Length: rec.length("length"), FrogLength: rec.length("frog-length"), Preset: value[rawWiring](rec, "wiring").preset, Throw: rec.throw(),
		Jumpers: rec.yesNo("jumpers"), Pos2: rec.pos("wiring"),
	}
	switch {
	case t.Lapped && !rec.set("first") && !rec.excused("first"):
		r.blame(rec.place(), problem{message: "which leg parts first? `first: left` or `first: right`"})
	case rec.word("construction") == 2 && rec.set("first"):
		r.blame(rec.find("first").key, problem{message: "only a lapped three-way has a `first`"})
	}
	return t
}

func (r *reader) crossing(rec *record, id layout.PieceID) layout.Crossing {
	c := layout.Crossing{
		Entry: rec.entry(), Piece: id,
		Angle: value[quantity.Angle](rec, "angle"), Length: rec.length("length"), FrogLength: rec.length("frog-length"),
		Preset: value[rawWiring](rec, "wiring").preset, Throw: rec.throw(),
		Jumpers: rec.yesNo("jumpers"), Pos2: rec.pos("wiring"),
	}
	if c.Jumpers == layout.YesNoUnsaid {
		c.Jumpers = layout.Yes
	}
	if rec.section == slipSection {
		c.Slip = layout.Slip(rec.word("slip"))
	}
	return c
}

func (r *reader) turntable(rec *record, id layout.PieceID) layout.Turntable {
	t := layout.Turntable{
		Entry: rec.entry(), Piece: id, Bridge: rec.length("bridge"),
		SplitRing: rec.word("feed") == 1, ARail: layout.Rail(max(0, rec.word("A")-1)),
		SplitAt: value[quantity.Angle](rec, "split-at"), DeadArc: value[quantity.Angle](rec, "dead-arc"),
	}
	for _, p := range value[[]pair[quantity.Angle]](rec, "tracks") {
		r.endNames(p.key)
		t.TrackAngle = append(t.TrackAngle, p.value)
	}
	if rec.word("feed") == 2 && rec.set("split-at") {
		r.blame(rec.find("split-at").key, problem{message: "only a split ring changes legs; this feed is plain"})
	}
	return t
}

func (r *reader) transferTable(rec *record, id layout.PieceID) layout.TransferTable {
	t := layout.TransferTable{
		Entry: rec.entry(), Piece: id, Bridge: rec.length("bridge"), ARail: layout.Rail(max(0, rec.word("A")-1)),
	}
	seen := map[string]bool{}
	for _, side := range []string{"a", "b"} {
		for _, p := range value[[]pair[quantity.Length]](rec, side) {
			r.endNames(p.key)
			if seen[p.key.s] {
				r.blamef(p.key, "`%s` again; on the a side too", p.key.s)
			}
			seen[p.key.s] = true
			t.Offset = append(t.Offset, p.value)
		}
		if side == "a" {
			t.ACount = len(t.Offset)
		}
	}
	return t
}
