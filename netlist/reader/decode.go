package reader

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// namedSections hold {name: entry}.
var namedSections = []*section{
	trackSection, turnoutSection, threeWaySection, crossingSection, slipSection, turntableSection, transferTableSection,
	supplySection, boosterSection, cabSection, breakerSection, reverserSection, detectorSection, inLineSection,
	changeoverSection, plugSection, busSection, blockSection, districtSection, trainSection,
}

// listSections hold lists of entries.
var listSections = []*section{
	neverTogetherSection, commonRailSection, bondSection, commonSection, terminatorSection, loadSection, acceptSection,
}

// groupSections hold {piece: entries}.
var groupSections = []*section{gapSection, jointSection, feederSection}

// singleSections hold one map of keys.
var singleSections = []*section{operationsSection, stockSection}

// defaultSections are what `defaults` has maps for.
var defaultSections = []*section{trackSection, turnoutSection, gapSection, jointSection, feederSection, busSection}

// topKeys are the keys of a layout file that are no sections.
var topSection = newSection(section{
	name: "the file itself", noun: "a layout file",
	doc: "keys at the left margin, before and between the sections",
	keys: []key{
		{name: "gapwise", kind: textKind, required: true, doc: "the version of this language: 1"},
		{name: "layout", kind: textKind, doc: "the layout's name; a file has this or `module`"},
		{name: "module", kind: textKind, doc: "the module's name, in a file that others include"},
		{name: "label", kind: textKind, doc: "your own words"},
		{name: "scale", kind: wordKind, words: []string{"", "Z", "N", "TT", "HO", "OO", "S", "O", "large", "unknown"}, doc: "the scale; large is garden size"},
		{name: "include", kind: textKind, def: "none", doc: "other files of this layout, each a path or {file, as}"},
		{name: "wire-colours", kind: coloursKind, doc: "your colours of legs A and B, for reports"},
		{name: "rail-names", kind: railsKind, doc: "your words for the left and the right rail, for reports"},
		{name: "joins", kind: textKind, doc: "pairs of ends that meet without track between: [[T1 curved, X1 a]]"},
		{name: "ends", kind: endsKind, doc: "of a module: the ends that others may join, by name"},
		{name: "defaults", kind: textKind, doc: "one map each for track, turnout, gap, joint, feeder, bus; any of their keys but places; they hold in this file"},
		{name: "limits", kind: textKind, doc: "{measure: value}: your own limits"},
		{name: "practice", kind: textKind, doc: "the rules of thumb you hold yourself to"},
	},
})

// shapes tells how each section is laid out, by its key.
var shapes = func() map[string]func(*reader, *unit, *section, *tree.Field) {
	m := map[string]func(*reader, *unit, *section, *tree.Field){}
	for _, s := range namedSections {
		m[s.name] = (*reader).decodeNamed
	}
	for _, s := range listSections {
		m[s.name] = (*reader).decodeList
	}
	for _, s := range groupSections {
		m[s.name] = (*reader).decodeGroups
	}
	for _, s := range singleSections {
		m[s.name] = (*reader).decodeSingle
	}
	return m
}()

// sectionsByName are all sections of a file.
var sectionsByName = func() map[string]*section {
	m := map[string]*section{}
	for _, list := range [][]*section{namedSections, listSections, groupSections, singleSections} {
		for _, s := range list {
			m[s.name] = s
		}
	}
	return m
}()

// decode takes every file apart, entry by entry, and gives the entries their names.
func (r *reader) decode() {
	for _, u := range r.units {
		if u.root == nil || u.root.Kind != tree.Map {
			continue
		}
		top := r.decodeTop(u)
		for i := range top.others {
			r.decodeSection(u, &top.others[i])
		}
	}
}

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
			top.excuse(r.nearest(top.others[i].Key, topSection.keyNames()))
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
	case !v.set && !top.misspelt["gapwise"] && !top.bad:
		r.blame(start, problem{message: "`gapwise: 1` is missing", expected: "a first line `gapwise: 1`"})
	case ok && t.s != version:
		r.blame(t, problem{message: fmt.Sprintf("this program reads version %s of the language", version), expected: "gapwise: " + version})
	}
	layoutKey, moduleKey := &top.vals[topSection.index["layout"]], &top.vals[topSection.index["module"]]
	switch {
	case layoutKey.set && moduleKey.set:
		r.blame(moduleKey.key, problem{message: "a file is a layout or a module, not both"})
	case !layoutKey.set && !moduleKey.set && !top.misspelt["layout"] && !top.misspelt["module"] && !top.bad:
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

// decodeDefaults reads `defaults`. Places cannot be defaults.
func (r *reader) decodeDefaults(u *unit, n *tree.Node) map[string]*record {
	if n == nil || n.IsEmpty() || n.Bad && n.Kind != tree.Map {
		return nil
	}
	kinds := make([]string, len(defaultSections))
	for i, s := range defaultSections {
		kinds[i] = s.defaults
	}
	if n.Kind != tree.Map {
		r.blame(nodeText(n), problem{message: "a map in braces belongs here", expected: "a map each for " + orList(kinds)})
		return nil
	}
	defaults := map[string]*record{}
	for i := range n.Fields {
		f := &n.Fields[i]
		s := sectionOf(f.Key)
		if s == nil {
			r.blame(keyText(f), problem{message: "unknown key in defaults", expected: listed(kinds), nearest: r.nearest(f.Key, kinds)})
			continue
		}
		if !r.isMap(f, s) {
			continue
		}
		rec := r.record(u, s, f.Value, keyText(f))
		r.refuseOthers(rec)
		for j := range rec.vals {
			if rec.vals[j].set && s.keys[j].own {
				r.blame(rec.vals[j].key, problem{message: "`" + s.keys[j].name + "` has no default; each entry says its own"})
				rec.vals[j] = val{}
			}
		}
		defaults[s.defaults] = rec
	}
	return defaults
}

func sectionOf(defaults string) *section {
	for _, s := range defaultSections {
		if s.defaults == defaults {
			return s
		}
	}
	return nil
}

// isMap reports an entry that is no map of keys.
func (r *reader) isMap(f *tree.Field, s *section) bool {
	switch {
	case f.Value.Kind == tree.Map:
		return true
	case f.Value.Bad:
	case f.Value.IsEmpty():
		r.blame(keyText(f), problem{message: "no value; " + s.noun + " is a map of keys", expected: listed(s.keyNames())})
	default:
		r.blame(nodeText(f.Value), problem{message: s.noun + " is a map of keys", expected: listed(s.keyNames())})
	}
	return false
}

// decodeSection reads one key at the left margin.
func (r *reader) decodeSection(u *unit, f *tree.Field) {
	s := sectionsByName[f.Key]
	if s == nil {
		names := append(topSection.keyNames(), sectionNames()...)
		r.blame(keyText(f), problem{message: "unknown key in a layout file", expected: listed(names), nearest: r.nearest(f.Key, names)})
		r.doubt.everywhere = true
		for i := range f.Value.Fields {
			r.lostNames[f.Value.Fields[i].Key] = true
		}
		return
	}
	if f.Value.Bad && s.thing != noThing {
		r.names[s.thing].lost = true
	}
	if f.Value.Bad && f.Value.Kind == tree.Scalar {
		return
	}
	if f.Value.IsEmpty() {
		r.blame(keyText(f), problem{message: "no value; leave `" + s.name + "` out if there are none"})
		return
	}
	shapes[s.name](r, u, s, f)
}

func sectionNames() []string {
	var names []string
	for _, list := range [][]*section{namedSections, listSections, groupSections, singleSections} {
		for _, s := range list {
			names = append(names, s.name)
		}
	}
	return names
}
