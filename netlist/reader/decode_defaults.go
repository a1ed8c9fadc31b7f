package reader

import "gapwise/netlist/tree"

// defaultSections are what `defaults` has maps for.
var defaultSections = []*section{trackSection, turnoutSection, gapSection, jointSection, feederSection, busSection}

// decodeDefaults reads `defaults`. Places cannot be defaults.
func (r *reader) decodeDefaults(u *unit, n *tree.Node) map[string]*record {
	if n == nil || n.IsEmpty() || n.Bad && n.Kind != tree.Map {
		u.lostDefaults = u.lostDefaults || n != nil && n.Bad
		return nil
	}
	u.lostDefaults = u.lostDefaults || n.Bad
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
			u.lostDefaults = true
			r.blame(keyText(f), problem{message: "unknown key in defaults", expected: listed(kinds), nearest: r.nearest(f.Key, kinds)})
			continue
		}
		if !r.isMap(f, s) {
			u.lostDefaults = true
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
