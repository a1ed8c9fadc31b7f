package reader

import (
	"slices"

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
		p := problem{message: "unknown key in a layout file", nearest: r.nearest(f.Key, names)}
		if p.nearest == "" {
			p.nearest = spokenOf(f.Key, names)
		}
		if i := slices.Index(names, p.nearest); i >= 0 {
			names = slices.Insert(slices.Delete(names, i, i+1), 0, p.nearest)
		}
		p.expected = listed(names)
		r.blame(keyText(f), p)
		r.doubt.anything = true
		u.lostDefaults = true
		for i := range f.Value.Fields {
			r.lostNames[f.Value.Fields[i].Key] = true
		}
		return
	}
	if lostHere(f.Value) {
		r.loseSection(s)
	}
	if f.Value.Bad && f.Value.Kind == tree.Scalar {
		r.loseSection(s)
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
