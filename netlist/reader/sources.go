package reader

import (
	"slices"

	"gapwise/netlist/layout"
)

// sourceThings are what may be hung from by name, and as which kind of source.
var sourceThings = []struct {
	thing thing
	kind  layout.SourceKind
}{
	{boosterThing, layout.FromBooster},
	{breakerThing, layout.FromBreaker},
	{reverserThing, layout.FromReverser},
	{detectorThing, layout.FromDetector},
	{inLineThing, layout.FromInLine},
	{changeoverThing, layout.FromChangeover},
	{plugThing, layout.FromPlug},
	{supplyThing, layout.FromSupply},
	{cabThing, layout.FromCab},
}

// source resolves what an entry hangs from.
func (r *reader) source(rec *record, raw rawSource) (layout.Source, bool) {
	u := rec.unit
	s := layout.Source{Index: -1, Tap: noTap(), Text: raw.text.tidy(), Pos: raw.text.pos}
	switch {
	case raw.tap != nil:
		var ok bool
		if s.Tap, ok = r.tap(u, *raw.tap); ok {
			s.Kind, s.Text = layout.FromTap, s.Tap.Text
		}
		return s, ok
	case raw.kind.s == "" && raw.name.s == "unknown":
		s.Kind = layout.FromUnknown
		return s, true
	case raw.kind.s == "" && (raw.name.s == "nothing" || raw.name.s == "none"):
		r.blame(raw.text, problem{message: rec.section.noun + " hangs from something; `unknown` if you do not know", expected: sourceKind.noun})
		return s, false
	case raw.kind.s == "":
		return r.sourceByName(u, raw, s)
	}
	for _, st := range sourceThings {
		if thingWords[st.thing] != raw.kind.s {
			continue
		}
		i, ok := r.lookup(st.thing, u, raw.name)
		if ok {
			s.Kind, s.Index, s.Text = st.kind, i, raw.kind.s+" "+r.byThing[st.thing][i].full
		}
		return s, ok
	}
	if raw.kind.s == "bus" {
		if _, ok := r.lookup(busThing, u, raw.name); ok {
			r.blamef(raw.text, "where on bus %s? e.g. %s @ 3 ft", raw.name.s, raw.name.s)
		}
		return s, false
	}
	r.blame(raw.kind, problem{message: "nothing hangs from a " + raw.kind.s, expected: listed(sourceWords)})
	return s, false
}

// sourceByName finds what is meant by a name alone.
func (r *reader) sourceByName(u *unit, raw rawSource, s layout.Source) (layout.Source, bool) {
	var fits []string
	if _, ok := r.known(busThing, u, raw.name.s); ok {
		fits = append(fits, "bus "+raw.name.s)
	}
	for _, st := range sourceThings {
		if i, ok := r.known(st.thing, u, raw.name.s); ok {
			fits = append(fits, thingWords[st.thing]+" "+raw.name.s)
			s.Kind, s.Index, s.Text = st.kind, i, thingWords[st.thing]+" "+r.byThing[st.thing][i].full
		}
	}
	switch {
	case len(fits) == 1 && s.Kind != layout.SourceUnsaid:
		return s, true
	case len(fits) == 1:
		r.blamef(raw.text, "where on bus %s? e.g. %s @ 3 ft", raw.name.s, raw.name.s)
	case len(fits) > 1:
		r.blame(raw.text, problem{message: orList(fits) + "?"})
	default:
		r.unknownSource(u, raw)
	}
	return layout.Source{Index: -1, Tap: noTap(), Text: s.Text, Pos: s.Pos}, false
}

// unknownSource reports a name that nothing to hang from has.
func (r *reader) unknownSource(u *unit, raw rawSource) {
	if r.blind || r.lostNames[raw.name.s] {
		return
	}
	candidates := slices.Clone(r.candidates(busThing, u))
	lost := r.names[busThing].lost
	for _, st := range sourceThings {
		lost = lost || r.names[st.thing].lost
		candidates = append(candidates, r.candidates(st.thing, u)...)
	}
	if lost {
		return
	}
	r.noteUnknown(u, raw.name.s, raw.text, func() problem {
		p := problem{message: "nothing here is called " + raw.name.s, nearest: r.nearest(raw.name.s, candidates)}
		if p.nearest == "" && len(candidates) <= maxThere {
			p.expected = whatThereIs(r.sourcesByKind(u))
		}
		if p.expected == "" {
			p.expected = sourceKind.noun
		}
		return p
	})
}

// sourcesByKind are what there is to hang from, each with the word for its kind.
func (r *reader) sourcesByKind(u *unit) []string {
	var all []string
	for _, st := range sourceThings {
		for _, name := range r.candidates(st.thing, u) {
			all = append(all, thingWords[st.thing]+" "+name)
		}
	}
	for _, name := range r.candidates(busThing, u) {
		all = append(all, "taps on bus "+name)
	}
	return all
}
