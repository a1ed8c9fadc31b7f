package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/layout"
)

// accepts resolves the acceptances.
func (r *reader) accepts() {
	recs := r.byThing[acceptThing]
	if len(recs) == 0 {
		return
	}
	indexes := r.railIndexes()
	for _, rec := range recs {
		finding, ok := get[text](rec, "finding")
		if !ok || !r.acceptable(finding) {
			continue
		}
		at, ok := get[text](rec, "at")
		if !ok {
			continue
		}
		if why, said := get[text](rec, "because"); said && strings.TrimSpace(why.s) == "" {
			r.blamef(why, "no reason; say why it is fine")
			continue
		}
		target, ok := r.target(rec.unit, at, indexes)
		if !ok {
			continue
		}
		r.lay.Accepts = append(r.lay.Accepts, layout.Accept{Entry: rec.entry(), Finding: finding.s, At: target.Text, Target: target, Because: rec.text("because")})
	}
}

// acceptable reports a finding that does not exist or that no reason excuses.
func (r *reader) acceptable(t text) bool {
	switch {
	case slices.Contains(r.opts.NeverAccepted, t.s):
		r.blamef(t, "%s cannot be accepted", t.s)
	case r.opts.RuleNames != nil && !slices.Contains(r.opts.RuleNames, t.s):
		r.blame(t, problem{message: "no such rule", expected: listed(r.opts.RuleNames), nearest: r.nearest(t.s, r.opts.RuleNames)})
	default:
		return true
	}
	return false
}

// target resolves what an acceptance points at. Nothing there is an error, so that an
// acceptance cannot drift to another thing.
func (r *reader) target(u *unit, t text, indexes []railIndex) (layout.Target, bool) {
	kind, rest := "", t
	if ws := t.words(); len(ws) > 1 && isKindWord(ws[0].s) {
		kind = ws[0].s
		rest = t.cut(strings.Index(t.s, ws[0].s)+len(ws[0].s), len(t.s)).trim()
	}
	for i := range indexes {
		if thingWords[indexes[i].thing] == kind {
			return r.railTarget(u, t, rest, &indexes[i])
		}
	}
	if strings.Contains(rest.s, "@") || len(rest.words()) > 1 {
		return r.placeTarget(u, t, kind, rest, indexes)
	}
	return r.nameTarget(u, kind, rest, indexes)
}

// railTarget resolves `gap east` or `gap gate @ start`.
func (r *reader) railTarget(u *unit, whole, rest text, want *railIndex) (layout.Target, bool) {
	word := thingWords[want.thing]
	if isReference(rest.s) {
		i, ok := r.lookup(want.thing, u, rest)
		if !ok {
			return layout.Target{}, false
		}
		if i == rowIndex {
			r.blame(rest, problem{message: rest.s + " is a row; which of it?", expected: "such as " + rest.s + "-1"})
			return layout.Target{}, false
		}
		return want.target(i), true
	}
	if i, ok := want.byText[u.prefix+rest.tidy()]; ok {
		return want.target(i), true
	}
	raw, ok := r.parsePlace(rest)
	if !ok {
		return layout.Target{}, false
	}
	s, ok := r.spotOf(u, raw)
	if !ok {
		return layout.Target{}, false
	}
	if i := r.at(s.place, want); i >= 0 {
		return want.target(i), true
	}
	if !r.names[want.thing].lost {
		r.blame(whole, problem{message: "no " + word + " at " + s.place.Text, nearest: r.nearestOn(s.place, want)})
	}
	return layout.Target{}, false
}
