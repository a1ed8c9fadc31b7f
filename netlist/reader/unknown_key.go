package reader

import (
	"slices"

	"gapwise/netlist/tree"
)

// refuseOthers reports the keys that the section does not have.
func (r *reader) refuseOthers(rec *record) {
	empty := slices.ContainsFunc(rec.vals, func(v val) bool { return v.set && v.node.IsEmpty() })
	for i := range rec.others {
		if f := &rec.others[i]; !empty || !f.Value.IsEmpty() { // a comma typed for a colon is told once
			r.unknownKey(rec, f)
		}
	}
}

// unknownKey reports a key that no table has, and remembers what it may have been.
func (r *reader) unknownKey(rec *record, f *tree.Field) {
	if rec.node.Bad {
		return // it may be another map's, swallowed by a brace that was not closed
	}
	if r.noColon(rec, f, rec.section.keyNames()) {
		return
	}
	names := rec.section.keyNames()
	p := problem{message: "unknown key in " + rec.section.noun, expected: listed(names), nearest: r.nearest(f.Key, names)}
	r.blame(keyText(f), p)
	if !rec.misspell(p.nearest, f) {
		rec.bad = true
	}
}

// noColon reports `length 3 ft` typed for `length: 3 ft`.
func (r *reader) noColon(rec *record, f *tree.Field, names []string) bool {
	ws := keyText(f).words()
	if !f.Value.IsEmpty() || len(ws) < 2 || !slices.Contains(names, ws[0].s) {
		return false
	}
	r.blamef(keyText(f), "no colon; write %s: %s", ws[0].s, joined(ws[1:]))
	rec.misspell(ws[0].s, f)
	return true
}

// misspell takes an unknown key for the one it is nearest to, typed and not understood.
func (rec *record) misspell(name string, f *tree.Field) bool {
	i, ok := rec.section.index[name]
	if !ok || rec.vals[i].set {
		return false
	}
	rec.vals[i] = val{set: true, key: keyText(f), node: f.Value}
	return true
}
