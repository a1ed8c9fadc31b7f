package districts

import (
	"slices"

	"gapwise/districts/settings"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// phaseClass names the phase that a source's legs belong to: one source stands for all boosters
// that follow one signal in a known way. Turned says that leg A is leg B of that.
type phaseClass struct {
	of     int32
	turned bool
}

// phaseClasses gives every source its class.
func phaseClasses(c *circuit.Circuit) []phaseClass {
	out := make([]phaseClass, len(c.Sources))
	for i := range out {
		root, crossed := phaseRoot(c, int32(i))
		out[i] = phaseClass{root, crossed}
		for r := range root {
			if inPhase(c, r, root) {
				out[i] = phaseClass{r, crossed != crossedSignals(c, r, root)}
				break
			}
		}
	}
	return out
}

// verdict is what a train joins that must not be one.
type verdict struct {
	legs     [2]Label
	settings []Setting
	between  []int32 // free sources
	tied     bool    // a phase that is not free lies between
}

// mostSets bounds how many sets of further settings are tried together.
const mostSets = 24

// carried is a leg that some joined rails carry.
type carried struct {
	label Label
	group int32
}

// judgeFrom judges the places of a walk from one of them on: at fault is what is so however that is set
// which may be set either way.
func (s *straddler) judgeFrom(x *standing, from int) (v verdict, found bool) {
	last := x.places[len(x.places)-1]
	var pairs [][2]int32
	for _, p := range x.places[from:] {
		pairs = append(pairs, s.facing(x.paces[p])...)
	}
	sets, ok := s.settled(x, x.places[from], last)
	if !ok {
		return verdict{}, false
	}
	for _, set := range sets {
		if !s.g.possible(set) {
			continue
		}
		o, also := s.judge(pairs, set)
		if !also {
			return verdict{}, false
		}
		if !found {
			v, found = o, true
		}
	}
	return v, found
}

// facing are the pairs of a place with what is met first in front.
func (s *straddler) facing(p Pace) [][2]int32 {
	out := slices.Clone(s.pairs[p.Way])
	if p.From != s.c.Ways[p.Way].A {
		for i := range out {
			out[i][0], out[i][1] = out[i][1], out[i][0]
		}
	}
	return out
}

// judge joins pairs of nets and looks for settings, those given among them, in which no state of
// the free sources suits all legs that come together.
func (s *straddler) judge(pairs [][2]int32, settings []Setting) (verdict, bool) {
	sets := s.further(pairs, settings)
	for i, a := range sets {
		for _, b := range sets[i:] {
			all, ok := atOnce(s.c, s.never, a, b)
			if !ok || s.shorts(all) || (len(all) > len(settings) && !s.g.possible(all)) {
				continue
			}
			if legs, found := s.unbalanced(s.legsOf(pairs, all)); found {
				return verdict{legs: legs, settings: all}, true
			}
		}
	}
	return verdict{}, false
}

// further lists sets of settings in which more comes together, that given first: those in which a leg reaches
// rail that none does in the given ones, or metal joins two such rails.
func (s *straddler) further(pairs [][2]int32, given []Setting) [][]Setting {
	sets := [][]Setting{given}
	add := func(set []Setting) {
		switch {
		case slices.ContainsFunc(sets, func(o []Setting) bool { return len(o) == len(set) && within(o, set) }):
		case len(sets) == mostSets:
			s.dropped = true
		default:
			sets = append(sets, set)
		}
	}
	nets, group := s.groups(pairs, given)
	nets = slices.DeleteFunc(nets, func(n int32) bool { return len(s.g.nets.labels[n]) > 0 || len(s.g.touch[n]) == 0 })
	for i, n := range nets {
		for _, r := range s.g.spread(n, given, false) {
			add(r.settings)
		}
		for _, m := range nets[i+1:] {
			s.g.chart()
			if group[n] == group[m] || s.g.of[n] != s.g.of[m] {
				continue
			}
			for _, set := range s.g.each(&settings.Query{Connect: []settings.Connection{{From: s.g.numbers(n), To: s.g.numbers(m)}}, Given: asked(given)}) {
				add(set)
			}
		}
	}
	return sets
}

// shorts reports whether settings short without a train.
func (s *straddler) shorts(settings []Setting) bool {
	return slices.ContainsFunc(s.told, func(o []Setting) bool { return within(o, settings) })
}

// groups lists the nets that pairs and metal in some settings make one, in the order of the walk,
// and names the group of each.
func (s *straddler) groups(pairs [][2]int32, settings []Setting) (nets []int32, group map[int32]int32) {
	for _, p := range pairs {
		for _, n := range p {
			if !slices.Contains(nets, n) {
				nets = append(nets, n)
			}
		}
	}
	number := map[int32]int32{}
	u := newUnionFind(0)
	add := func(n int32) int32 {
		at, found := number[n]
		if !found {
			at = int32(len(u.parent))
			number[n] = at
			u.parent = append(u.parent, at)
		}
		return at
	}
	var all []int32
	for _, n := range nets {
		for _, m := range s.metal([]int32{n}, settings) {
			if !slices.Contains(all, m) {
				all = append(all, m)
			}
			u.union(add(n), add(m))
		}
	}
	for _, p := range pairs {
		u.union(add(p[0]), add(p[1]))
	}
	group = map[int32]int32{}
	for _, n := range all {
		group[n] = u.find(number[n])
	}
	return all, group
}

// legsOf lists the legs that joined nets carry in some settings.
func (s *straddler) legsOf(pairs [][2]int32, settings []Setting) []carried {
	nets, group := s.groups(pairs, settings)
	var out []carried
	for _, n := range nets {
		for _, l := range s.g.nets.labels[n] {
			out = append(out, carried{l, group[n]})
		}
	}
	return out
}

// unbalanced looks for a ring of legs that contradicts itself, and gives two of them: groups of rails and phases
// are the vertices of a signed graph, legs its edges. The graph is balanced when some state of the
// phases suits every leg (Harary 1953).
func (s *straddler) unbalanced(legs []carried) (two [2]Label, found bool) {
	p := newParityFind(len(s.c.Sources))
	vertex := map[int32]int32{}
	first := map[[2]int32]Label{} // by group and class
	for _, x := range legs {
		v, known := vertex[x.group]
		if !known {
			v = int32(len(p.parent))
			vertex[x.group] = v
			p.parent, p.turned = append(p.parent, v), append(p.turned, false)
		}
		class := s.class[x.label.Source].of
		from, here := first[[2]int32{v, class}]
		if !here {
			from = x.label
			first[[2]int32{v, class}] = x.label
		}
		if !p.union(v, class, s.turned(x.label)) {
			return [2]Label{from, x.label}, true
		}
	}
	return two, false
}

// turned reports whether a leg is leg B of its class.
func (s *straddler) turned(l Label) bool {
	return (l.Leg == layout.B) != s.class[l.Source].turned
}

// explain names the two legs that a walk's ends bring together, and what lies between. Where the rails of the
// two ends are not those that contradict each other, as a one-rail gap may have it, the legs stay as
// they were found.
func (s *straddler) explain(x *standing, v *verdict) {
	last := x.places[len(x.places)-1]
	for _, r := range [2]layout.Rail{layout.Right, layout.Left} {
		far := r
		for _, p := range x.paces[:last+1] {
			if s.c.Ways[p.Way].Turned {
				far = far.Other()
			}
		}
		for _, a := range s.carries(x.paces[0].From, r, v.settings) {
			for _, b := range s.carries(x.paces[last].To, far, v.settings) {
				if s.class[a.Source].of == s.class[b.Source].of && s.turned(a) != s.turned(b) {
					v.legs = [2]Label{a, b}
				}
			}
		}
	}
	class := s.class[v.legs[0].Source].of
	for _, p := range x.paces[:last] {
		for r := range layout.Rail(2) {
			for _, l := range s.carries(p.To, r, v.settings) {
				root, _ := phaseRoot(s.c, l.Source)
				switch {
				case s.class[root].of == class:
				case !reverses(&s.c.Sources[root]):
					v.tied = true
				case !slices.Contains(v.between, root):
					v.between = append(v.between, root)
				}
			}
		}
	}
}

// carries lists the legs of a rail at a spot in some settings.
func (s *straddler) carries(spot int32, r layout.Rail, settings []Setting) []Label {
	net := s.g.nets.Of[s.c.Spots[spot].Node[r]]
	if own := s.g.nets.labels[net]; len(own) > 0 {
		return own
	}
	var out []Label
	for _, x := range s.g.spread(net, settings, false) {
		if within(x.settings, settings) {
			out = append(out, s.g.nets.labels[x.net]...)
		}
	}
	return out
}
