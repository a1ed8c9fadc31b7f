package reader

import "gapwise/netlist/layout"

// presetWiring is what each preset of a turnout says in full; language.md section 5.
var presetWiring = map[layout.Preset]layout.Wiring{
	layout.DeadFrog:           {Blades: layout.BladesStock, Closures: layout.ClosuresBlade, IsolatedToe: true, IsolatedHeel: true},
	layout.UnfedFrog:          {Blades: layout.BladesStock, Closures: layout.ClosuresBlade, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true},
	layout.SwitchedFrog:       {Blades: layout.BladesStock, Closures: layout.ClosuresBlade, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true, FrogFrom: layout.FrogFromContacts},
	layout.FlippedFrog:        {Blades: layout.BladesStock, Closures: layout.ClosuresBlade, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true, FrogFrom: layout.FrogFromDevice},
	layout.Selective:          {Blades: layout.BladesNeither, Closures: layout.ClosuresBlade, IsolatedToe: true, IsolatedHeel: true},
	layout.TiedBlades:         {Blades: layout.BladesEachOther, Closures: layout.ClosuresBlade, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true},
	layout.PowerRouting:       {Blades: layout.BladesEachOther, Closures: layout.ClosuresBoth, FrogMetal: true, FrogFrom: layout.FrogFromBlades},
	layout.PowerRoutingGapped: {Blades: layout.BladesEachOther, Closures: layout.ClosuresBoth, FrogMetal: true, IsolatedHeel: true, FrogFrom: layout.FrogFromBlades},
}

// wiring expands a turnout's wiring into its five words and settles its jumpers.
func (r *reader) wiring(rec *record) layout.Wiring {
	raw, ok := get[rawWiring](rec, "wiring")
	if !ok {
		return layout.Wiring{Pos: rec.place().pos}
	}
	var w layout.Wiring
	if raw.full == nil {
		w = presetWiring[raw.preset]
	} else {
		w = fullWiring(raw.full)
	}
	w.Preset, w.Pos = raw.preset, raw.text.pos
	r.jumpers(rec, raw, &w)
	return w
}

// fullWiring reads the words of a wiring told in full.
func fullWiring(full *record) layout.Wiring {
	w := layout.Wiring{
		Blades:    layout.Blades(full.word("blades") - 1),
		Closures:  layout.Closures(full.word("closures") - 1),
		FrogMetal: full.word("frog") == frogMetal,
		FrogFrom:  layout.FrogFrom(max(0, full.word("frog-from")-1)),
	}
	isolated := full.word("isolated")
	w.IsolatedToe = isolated == isolatedBoth || isolated == isolatedToe
	w.IsolatedHeel = isolated == isolatedBoth || isolated == isolatedHeel
	if !w.FrogMetal {
		w.IsolatedToe, w.IsolatedHeel = true, true
	}
	return w
}

// jumpers settles a turnout's jumpers: its own key wins over its wiring's, and both over
// a default. Wirings whose legs are fed by the frog refuse them.
func (r *reader) jumpers(rec *record, raw rawWiring, w *layout.Wiring) {
	own := rec.find("jumpers")
	isDefault := own != nil && rec.isDefault(own)
	if raw.full != nil && (own == nil || isDefault && !rec.isDefault(rec.find("wiring"))) {
		if v := raw.full.find("jumpers"); v != nil && v.ok {
			own, isDefault = v, false
		}
	}
	refused := w.Preset == layout.PowerRouting || w.Preset == layout.PowerRoutingGapped || w.FrogMetal && !w.IsolatedHeel
	if own != nil && own.ok {
		w.Jumpers, _ = own.data.(layout.YesNo)
	}
	if !refused {
		return
	}
	if own != nil && own.ok && !isDefault && w.Jumpers != layout.No {
		message := "a frog that is metal with the legs has no jumpers"
		if w.Preset != layout.InFull {
			message = w.Preset.String() + " has no jumpers"
		}
		at := own.key
		if rec.copied != nil && !within(rec.vals, own) {
			at = rec.place()
		}
		r.blame(at, problem{message: message})
	}
	w.Jumpers = layout.No
}

// isDefault reports whether a value found for rec came from its file's defaults.
func (rec *record) isDefault(v *val) bool {
	d := rec.unit.defaults[rec.section.defaults]
	return d != nil && len(d.vals) > 0 && rec.section.defaults != "" && within(d.vals, v)
}

func within(vals []val, v *val) bool {
	for i := range vals {
		if &vals[i] == v {
			return true
		}
	}
	return false
}
