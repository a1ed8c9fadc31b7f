package oracle

import (
	"fmt"
	"math"
	"slices"
)

// site is where metal wheels join what metal does not: a gap, the edge of a pit, a
// frog. It counts only while its piece, if it has one, lies in one of its settings.
type site struct {
	place  string
	pairs  [][2]int // nodes
	words  []string // what each pair is
	walks  []walker // all must be served
	piece  int
	in     uint64
	run    int // where a train stands on it: in a run, or at an end
	at     float64
	end    int
	fixed  bool // no reverser is there to suit it: it must hold in any state
	suits  bool // its legs can be turned
	broken bool // a hazard by itself
}

var railWords = [2]string{"left rail", "right rail"}

func (a *analysis) sites() []site {
	var out []site
	for r, ru := range a.runs {
		var ats []float64
		for rail := range 2 {
			for _, c := range ru.cuts[rail] {
				if c.conducts == open {
					ats = append(ats, c.at)
				}
			}
		}
		slices.Sort(ats)
		ats = slices.CompactFunc(ats, func(x, y float64) bool { return math.Abs(x-y) <= tiny })
		for _, at := range ats {
			s := site{place: place(a.tracks[ru.track].name, at), piece: -1, run: r, at: at, end: -1}
			s.walks = []walker{{r, at, true, -1}, {r, at, false, -1}}
			for rail := range 2 {
				for i, c := range ru.cuts[rail] {
					if c.conducts == open && c.at-at <= tiny && at-c.at <= tiny {
						s.pairs = append(s.pairs, [2]int{ru.nodes[rail][i], ru.nodes[rail][i+1]})
						s.words = append(s.words, railWords[rail])
					}
				}
			}
			out = append(out, s)
		}
	}
	for j, jt := range a.joints {
		s := site{place: a.label(spot{-1, 0, jt.ends[0]}), piece: -1, run: -1, end: jt.ends[0]}
		s.walks = []walker{a.into(jt.ends[0]), a.into(jt.ends[1])}
		for rail := range 2 {
			if jt.rails[rail].conducts == open && !a.atPit(j) {
				x, y := a.jointNodes(j, rail)
				s.pairs = append(s.pairs, [2]int{x, y})
				s.words = append(s.words, railWords[rail])
			}
		}
		if s.pairs != nil {
			out = append(out, s)
		}
	}
	out = append(out, a.pitSites()...)
	return append(out, a.frogSites()...)
}

func (a *analysis) pitSites() []site {
	var out []site
	for _, e := range a.edges {
		w, ok := a.beyond(e.end)
		if !ok {
			continue
		}
		o := a.ends[w.end]
		bridge := [2]int{e.left, e.right}
		if e.asStart == o.start {
			bridge[0], bridge[1] = bridge[1], bridge[0]
		}
		s := site{place: a.label(spot{-1, 0, w.end}), piece: e.piece, in: e.in, run: -1, end: e.end, walks: []walker{w}}
		for rail := range 2 {
			s.pairs = append(s.pairs, [2]int{o.rails[rail], bridge[rail]})
			s.words = append(s.words, railWords[rail]+" at the pit's edge")
		}
		out = append(out, s)
	}
	return out
}

// frogSites are what the wheels of one rail touch one after the other: all of it
// must be one leg.
func (a *analysis) frogSites() []site {
	var out []site
	for p, pc := range a.pieces {
		for i, st := range pc.settings {
			for _, w := range st.wheels {
				s := site{place: pieceplace(pc.name), piece: p, in: 1 << i, run: -1, end: -1, fixed: true}
				for k, x := range w.near {
					for _, y := range w.near[:k] {
						s.pairs = append(s.pairs, [2]int{y, x})
						s.words = append(s.words, "wheels on the frog, set "+st.name)
					}
				}
				out = append(out, s)
				if w.end == "" {
					continue
				}
				past := s
				past.pairs, past.words, past.fixed = nil, nil, false
				for _, x := range w.near {
					for _, y := range w.beyond {
						past.pairs = append(past.pairs, [2]int{x, y})
						past.words = append(past.words, "wheels beyond the frog, set "+st.name)
					}
				}
				for _, e := range []string{"points", w.end} {
					if b, ok := a.beyond(a.endOf(p, e)); ok {
						past.walks = append(past.walks, b)
					}
				}
				out = append(out, past)
			}
		}
	}
	return out
}

// meets lists the terminals that wheels on a site join, or nothing where the site
// is not crossed in this world, or has a short of its own.
func (a *analysis) meets(w *world, s *site) (pairs [][2]int, words []string) {
	if s.piece >= 0 && w.lie[s.piece] >= 0 && s.in>>w.lie[s.piece]&1 == 0 {
		return nil, nil
	}
	for i, p := range s.pairs {
		if w.joined(p[0], p[1]) {
			continue
		}
		x, y := w.at(p[0]), w.at(p[1])
		if a.shorted(x, w.lie) || a.shorted(y, w.lie) {
			return nil, nil
		}
		for _, tx := range x {
			for _, ty := range y {
				if tx != ty {
					pairs = append(pairs, [2]int{tx, ty})
					words = append(words, s.words[i])
				}
			}
		}
	}
	if pairs == nil {
		return nil, nil
	}
	for _, walk := range s.walks {
		if !a.served(walk, w.lie) {
			return nil, nil
		}
	}
	return pairs, words
}

func (a *analysis) shorted(labels, lie []int) bool {
	for i, y := range labels {
		for _, x := range labels[:i] {
			if a.relate(x, y, lie).short {
				return true
			}
		}
	}
	return false
}

// unsuited is cannotSuit, remembered.
func (a *analysis) unsuited(pairs [][2]int, lie []int) bool {
	key := fmt.Sprint(pairs, a.locked(lie))
	bad, ok := a.suited[key]
	if !ok {
		bad = a.cannotSuit(pairs, lie)
		a.suited[key] = bad
	}
	return bad
}

// groupsOf are the groups whose settings change what a site's wheels join.
func (a *analysis) groupsOf(sites ...*site) []int {
	var out []int
	for _, s := range sites {
		for i, gr := range a.mayOf {
			if s.piece >= 0 && slices.Contains(gr.pieces, s.piece) || a.changes(gr, s) {
				out = insert(out, i)
			}
		}
	}
	for _, s := range sites {
		if !a.clashes(s) {
			continue
		}
		for _, w := range s.walks {
			a.walk(w, a.anyhow(), func(p int) {
				i := slices.IndexFunc(a.mayOf, func(gr group) bool { return slices.Contains(gr.pieces, p) })
				if i >= 0 && a.touchesSite(p, s) && a.worlds(insert(slices.Clone(out), i)) <= tries {
					out = insert(out, i)
				}
			})
		}
	}
	return out
}

// clashes says whether the legs on either side of a site clash in every setting,
// so that all depends on whether wheels come there.
func (a *analysis) clashes(s *site) bool {
	return slices.ContainsFunc(s.pairs, func(p [2]int) bool {
		return slices.ContainsFunc(a.may.labels[a.may.net[p[0]]], func(x int) bool {
			return slices.ContainsFunc(a.may.labels[a.may.net[p[1]]], func(y int) bool { return a.relate(x, y, a.anyhow()).short })
		})
	})
}

// changes says whether a group's settings bring other legs to a site.
func (a *analysis) changes(gr group, s *site) bool {
	for _, pair := range s.pairs {
		for _, n := range pair {
			net := a.may.net[n]
			if !a.may.holds[net] && slices.Contains(gr.nets, net) {
				return true
			}
			for _, t := range a.may.labels[net] {
				if slices.ContainsFunc(a.thrown(t), func(p int) bool { return slices.Contains(gr.pieces, p) }) {
					return true
				}
			}
		}
	}
	return false
}

// touchesSite says whether a piece switches metal of a site, held or not.
func (a *analysis) touchesSite(p int, s *site) bool {
	return slices.ContainsFunc(a.may.edges, func(e wire) bool {
		return e.piece == p && slices.ContainsFunc(s.pairs, func(pair [2]int) bool {
			x, y := a.may.net[pair[0]], a.may.net[pair[1]]
			return e.a == x || e.a == y || e.b == x || e.b == y
		})
	})
}

// worlds counts the settings of some groups together.
func (a *analysis) worlds(ids []int) int {
	return a.may.product(func(p int) bool {
		return slices.ContainsFunc(ids, func(i int) bool { return slices.Contains(a.mayOf[i].pieces, p) })
	}, tries)
}

func (a *analysis) pick(ids []int) []group {
	var out []group
	for _, i := range ids {
		out = append(out, a.mayOf[i])
	}
	return out
}

func (a *analysis) wheels() error {
	all := a.sites()
	together := map[string][]int{}
	var order []string
	which := map[string][]int{}
	for i := range all {
		ids := a.groupsOf(&all[i])
		key := fmt.Sprint(ids)
		if _, ok := together[key]; !ok {
			order = append(order, key)
			which[key] = ids
		}
		together[key] = append(together[key], i)
	}
	for _, key := range order {
		if a.worlds(which[key]) > tries {
			return errTooMany
		}
		a.may.each(a.pick(which[key]), func(w *world) {
			for _, i := range together[key] {
				a.wheel(w, &all[i])
			}
		})
	}
	return a.trainsOver(all)
}

func (a *analysis) wheel(w *world, s *site) {
	pairs, words := a.meets(w, s)
	for _, p := range pairs {
		for _, k := range a.knobsOf(p[1], a.knobsOf(p[0], nil)) {
			s.suits = s.suits || a.knobs[k].suits
		}
	}
	if s.broken || pairs == nil {
		return
	}
	for i, p := range pairs {
		if a.unsuited([][2]int{p}, w.lie) || s.fixed && a.relate(p[0], p[1], w.lie).short {
			s.broken = true
			a.add(Wheel, s.place, fmt.Sprintf("%s: %s meets %s", words[i], a.legName(p[0]), a.legName(p[1])))
			return
		}
	}
	if a.unsuited(pairs, w.lie) {
		s.broken = true
		a.add(Wheel, s.place, "what one rail needs of the reverser is what the other must not have")
		return
	}
	for _, p := range pairs {
		x, y := a.automatics(p[0]), a.automatics(p[1])
		if lacks(x, y) && lacks(y, x) {
			s.broken = true
			a.add(Train, s.place, fmt.Sprintf("%s and %s both turn by themselves and share the gap", a.sources[x[0]], a.sources[y[0]]))
			return
		}
	}
}

// lacks says whether y has something that x has not.
func lacks(x, y []int) bool {
	return slices.ContainsFunc(y, func(s int) bool { return !slices.Contains(x, s) })
}
