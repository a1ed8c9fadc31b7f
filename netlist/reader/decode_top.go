package reader

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// topKeys are the keys of a layout file that are no sections.
var topSection = newSection(section{
	name: "the file itself", noun: "a layout file",
	doc: "keys at the left margin, before and between the sections",
	keys: []key{
		{name: "gapwise", kind: textKind.shaped(fixed(words(version))), required: true, doc: "the version of this language: 1"},
		{name: "layout", kind: textKind, doc: "the layout's name; a file has this or `module`"},
		{name: "module", kind: textKind, doc: "the module's name, in a file that others include"},
		{name: "label", kind: textKind, doc: "your own words"},
		{name: "scale", kind: wordKind, words: []string{"", "Z", "N", "TT", "HO", "OO", "S", "O", "large", "unknown"}, doc: "the scale; large is garden size"},
		{name: "include", kind: textKind.shaped(fixed(oneOrMore(eitherOf(textShape, entryOf("include"))))), def: "none", doc: "other files of this layout, each a path or {file, as}"},
		{name: "wire-colours", kind: coloursKind, doc: "your colours of legs A and B, for reports"},
		{name: "rail-names", kind: railsKind, doc: "your words for the left and the right rail, for reports"},
		{name: "joins", kind: textKind.shaped(fixed(joinsShape)), doc: "pairs of ends that meet without track between: [[T1 curved, X1 a]]"},
		{name: "ends", kind: endsKind, doc: "of a module: the ends that others may join, by name"},
		{name: "defaults", kind: textKind.shaped(defaultsShape), doc: "one map each for track, turnout, gap, joint, feeder, bus; any of their keys but places; they hold in this file"},
		{name: "limits", kind: textKind.shaped(fixed(Shape{Form: Mapping, Known: LimitNames, Of: []Shape{limitShape}})), doc: "{measure: value}: your own limits"},
		{name: "practice", kind: textKind.shaped(fixed(oneOrMore(Shape{Form: OneKnown, Known: PracticeNames}))), doc: "the rules of thumb you hold yourself to"},
	},
})

// decodeTop reads what a file says about itself, and its defaults.
func (r *reader) decodeTop(u *unit) *record {
	top := &record{section: topSection, unit: u, node: u.root, bad: u.root.Bad, vals: make([]val, len(topSection.keys))}
	for i := range u.root.Fields {
		f := &u.root.Fields[i]
		at, known := topSection.index[f.Key]
		if !known {
			top.others = append(top.others, *f)
			continue
		}
		v := val{set: true, key: keyText(f), node: f.Value}
		switch f.Key {
		case "include", "joins", "defaults", "limits", "practice":
			v.ok = r.hasValue(f)
		default:
			v.data, v.ok = r.value(&topSection.keys[at], f)
		}
		top.vals[at] = v
	}
	for i := range top.others {
		if _, known := sectionsByName[top.others[i].Key]; !known {
			near := r.nearest(top.others[i].Key, topSection.keyNames())
			if !top.misspell(near, &top.others[i]) {
				top.bad = true
			}
		}
	}
	r.checkVersion(top)
	r.nameLayout(u, top)
	u.defaults = r.decodeDefaults(u, u.root.Get("defaults"))
	if kind, ok := u.defaults["joint"]; ok {
		r.jointDefault(u, layout.JointKind(max(0, kind.word("kind")-1)))
	}
	return top
}

// hasValue reports a key without a value.
func (r *reader) hasValue(f *tree.Field) bool {
	if f.Value.IsEmpty() && !f.Value.Bad {
		r.blame(keyText(f), problem{message: "no value"})
		return false
	}
	return !f.Value.Bad
}

// jointDefault keeps the kind of the joints of one file.
func (r *reader) jointDefault(u *unit, k layout.JointKind) {
	for len(r.lay.JointDefaults) < len(r.lay.Files) {
		r.lay.JointDefaults = append(r.lay.JointDefaults, layout.JointUnknown)
	}
	r.lay.JointDefaults[u.file] = k
}

// version is the version of the language that this package reads.
const version = "1"

func (r *reader) checkVersion(top *record) {
	v := &top.vals[topSection.index["gapwise"]]
	start := text{pos: source.Pos{File: top.unit.file, Line: 1, Col: 1}, width: 1}
	switch t, ok := get[text](top, "gapwise"); {
	case !v.set && !top.bad:
		r.blame(start, problem{message: "`gapwise: 1` is missing", expected: "a first line `gapwise: 1`"})
	case ok && t.s != version:
		r.blame(t, problem{message: fmt.Sprintf("this program reads version %s of the language", version), expected: "gapwise: " + version})
	}
	layoutKey, moduleKey := &top.vals[topSection.index["layout"]], &top.vals[topSection.index["module"]]
	switch {
	case layoutKey.set && moduleKey.set:
		r.blame(moduleKey.key, problem{message: "a file is a layout or a module, not both"})
	case !layoutKey.set && !moduleKey.set && !top.bad:
		r.blame(start, problem{message: "this file has no name", expected: "`layout:` or `module:` and a name"})
	}
}

// nameLayout keeps what the root file says about the whole layout.
func (r *reader) nameLayout(u *unit, top *record) {
	u.module = top.vals[topSection.index["module"]].set
	if ends := &top.vals[topSection.index["ends"]]; ends.set && !u.module {
		r.blame(ends.key, problem{message: "only a module has `ends`"})
	}
	if u != r.units[0] {
		return
	}
	r.lay.IsModule = u.module
	r.lay.Name = top.text("layout")
	if u.module {
		r.lay.Name = top.text("module")
	}
	r.lay.Label = top.text("label")
	if w := top.word("scale"); topSection.keys[topSection.index["scale"]].words[w] != "unknown" {
		r.lay.Scale = topSection.keys[topSection.index["scale"]].words[w]
	}
	r.lay.Colours = r.twoWords(top, "wire-colours", [2]string{"A", "B"})
	r.lay.RailNames = r.twoWords(top, "rail-names", [2]string{"left", "right"})
}

// twoWords reads a map of two fixed keys to the owner's words.
func (r *reader) twoWords(top *record, name string, keys [2]string) (words [2]string) {
	for _, p := range value[[]pair[text]](top, name) {
		switch p.key.s {
		case keys[0]:
			words[0] = p.value.s
		case keys[1]:
			words[1] = p.value.s
		default:
			r.blame(p.key, problem{message: "unknown key in " + name, expected: listed(keys[:]), nearest: r.nearest(p.key.s, keys[:])})
		}
	}
	return words
}
