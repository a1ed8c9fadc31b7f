package reader

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// buildUse makes what the owner says about the whole: blocks, districts, trains, what
// buses run below, limits, practices and acceptances.
func (r *reader) buildUse() {
	r.blocks()
	r.commonRails()
	r.districts()
	r.trains()
	r.exclusions()
	r.underBuses()
	r.askTaps()
	for _, u := range r.units {
		if u.root != nil {
			r.limits(u.root.Get("limits"))
			r.practices(u.root.Get("practice"))
		}
	}
	r.accepts()
	for len(r.lay.JointDefaults) < len(r.lay.Files) {
		r.lay.JointDefaults = append(r.lay.JointDefaults, layout.JointUnknown)
	}
}

func (r *reader) commonRails() {
	for _, rec := range r.byThing[commonRailThing] {
		c := layout.CommonRail{Entry: rec.entry(), Rail: layout.Rail(max(0, rec.word("rail")-1)), Because: rec.text("because")}
		for _, raw := range value[[]rawStretch](rec, "of") {
			s, block, ok := r.stretch(rec.unit, raw)
			if block >= 0 {
				r.blamef(raw.text, "a common rail is of track, not of blocks")
				continue
			}
			if ok && (raw.bounds == nil || r.gapBounds(&s, *raw.bounds, -1)) {
				c.Of = append(c.Of, s)
			}
		}
		r.lay.CommonRails = append(r.lay.CommonRails, c)
	}
}

func (r *reader) districts() {
	for _, rec := range r.byThing[districtThing] {
		d := layout.District{Entry: rec.entry(), From: layout.Source{Index: -1, Tap: noTap()}}
		if raw, ok := get[rawSource](rec, "from"); ok {
			d.From, _ = r.source(rec, raw)
		}
		d.Blocks = r.lookups(blockThing, rec.unit, value[[]text](rec, "blocks"))
		r.lay.Districts = append(r.lay.Districts, d)
	}
}

func (r *reader) trains() {
	for _, rec := range r.byThing[trainThing] {
		t := layout.Train{
			Entry: rec.entry(), Length: rec.length("length"), Current: rec.current("current"), Inrush: rec.current("inrush"), AtOnce: rec.word("at-once"),
			Wheels: layout.Wheels(rec.word("wheels")), ResistorCars: rec.word("resistor-cars"), Resistor: rec.resistance("resistor"),
		}
		if t.AtOnce == 0 {
			t.AtOnce = 1
		}
		r.lay.Trains = append(r.lay.Trains, t)
	}
}

// exclusions makes the never-together entries.
func (r *reader) exclusions() {
	for _, rec := range r.byThing[exclusionThing] {
		x := layout.Exclusion{Entry: rec.entry(), Because: rec.text("because")}
		ok := true
		for i := range rec.others {
			p, setting, fine := r.excluded(rec, &rec.others[i])
			ok = ok && fine
			x.Pieces = append(x.Pieces, p)
			x.Settings = append(x.Settings, setting)
		}
		if len(rec.others) < 2 && !rec.bad {
			r.blame(rec.place(), problem{message: "two settings or more exclude one another", expected: "such as {T20: curved, SS: a-b, because: ...}"})
			ok = false
		}
		if ok {
			r.lay.NeverTogether = append(r.lay.NeverTogether, x)
		}
	}
}

// excluded reads one `piece: setting`.
func (r *reader) excluded(rec *record, f *tree.Field) (layout.PieceID, string, bool) {
	name := keyText(f)
	id, known := r.known(pieceThing, rec.unit, name.s)
	if !known {
		if near := r.nearest(name.s, rec.section.keyNames()); near != "" && r.nearest(name.s, r.candidates(pieceThing, rec.unit)) == "" {
			r.unknownKey(rec, f)
		} else {
			r.unknownName(pieceThing, rec.unit, name)
		}
		return -1, "", false
	}
	p := layout.PieceID(id)
	if f.Value.IsEmpty() && !f.Value.Bad {
		r.blame(name, problem{message: "no value; a setting of " + name.s, expected: listed(r.lay.SettingWords(p))})
		return p, "", false
	}
	t, ok := r.scalar(f.Value, &key{kind: kind{noun: "a setting"}})
	if !ok {
		return p, "", false
	}
	if r.lay.Pieces[p].Kind == layout.TrackPiece {
		r.blamef(name, "%s is a track and has no settings", name.s)
		return p, "", false
	}
	setting, ok := r.setting(p, t)
	return p, setting, ok
}

// practices reads the rules of thumb the owner holds to. Several files may list one.
func (r *reader) practices(n *tree.Node) {
	if n == nil || n.IsEmpty() {
		return
	}
	ts, _ := r.texts(n, &key{name: "practice", kind: kind{noun: "a rule's name"}})
	for _, t := range ts {
		was, again := r.practised[t.s]
		switch {
		case r.opts.PracticeNames != nil && !slices.Contains(r.opts.PracticeNames, t.s):
			r.blame(t, problem{message: "no such practice", expected: listed(r.opts.PracticeNames), nearest: r.nearest(t.s, r.opts.PracticeNames)})
		case again && was.File == t.pos.File:
			r.blamef(t, "`%s` again; first at %s", t.s, r.line(was, t.pos))
		case !again:
			r.practised[t.s] = t.pos
			r.lay.Practices = append(r.lay.Practices, layout.Practice{Name: t.s, Pos: t.pos})
		}
	}
}
