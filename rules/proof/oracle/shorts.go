package oracle

import (
	"cmp"
	"slices"
)

// mostParts is the most settings, counting those in which some levers are left open, that one question tries.
const mostParts = 1 << 18

// The kinds of conflict.
const (
	LegToLeg       = "leg to leg"       // opposite legs of one phase are one metal
	PhaseToPhase   = "phase to phase"   // legs of two phases that nobody says are one
	SourceToSource = "source to source" // legs of two sources, whatever their phases
)

// A Conflict is two legs that one metal joins, and how levers must lie for it.
//
// A lever is what one throw sets: a piece of track work, pieces that throw together with the changeovers thrown by them, a changeover, a switch.
// Reversers, and plugs that go in either way, are no levers: they lie as is worst. An uncertain joint or jumper conducts.
type Conflict struct {
	Kind string
	X, Y string // "leg A of booster one", X before Y in the alphabet
	// Ways are the sets of levers in their positions that are enough, whatever the others do, and of which none can be left out; those of
	// fewest levers come first. Each is part of some full valid setting. An empty one says that the metal joins them in every setting.
	Ways [][]string
	Sure bool // metal that somebody vouches for is enough
	// Moment is "" in Conflicts.Set; in Conflicts.Passing it says what is between two positions, and how its blades and contacts lie.
	Moment string
}

// Fewest is the least number of levers that must be set.
func (c Conflict) Fewest() int { return len(c.Ways[0]) }

// Conflicts are those in full settings, and those only while one lever is between two positions.
type Conflicts struct {
	Set, Passing []Conflict
}

// meeting is a kind of conflict between two legs, each twice its source and one more for B.
type meeting struct {
	kind string
	x, y int
}

// hunt tries every way to set some levers and leave the others open.
type hunt struct {
	*Layout
	g      *graph
	levers []lever
	edges  [][]wire // by lever
	tries  []int    // levers that change metal or legs
	judged func(x, y int, kind string) bool
	joined [][2]int // terminals joined without rail
	needs  func(chosen []int) bool
	known  map[meeting][][]int
	hide   func(m meeting, chosen []int) bool

	ps     *pose
	chosen []int
	sets   []sets    // by depth
	at     [][]int   // terminals by root, for judging
	can    [][]uint8 // by terminals, what may be between them at all
}

// Shorts finds the conflicts between legs of the whole layout: the pairs of legs, each with the fewest levers to set. It tries every combination of
// levers in their positions or left open, and fails with ErrTooBig where those are more than 2^18, which is some 11 turnouts that switch metal.
//
// Conflicts.Passing has what is there only while one lever moves, with the others at rest: contacts that make before they break (both contacts of a
// throw made), contacts that lie in one setting with the blades already in the other, and changeovers that make first. What pieces throw together
// moves at once. A pair of legs that is joined by the others alone, or with the lever at rest in either position, is not told again.
//
// A bus behind an open switch, or behind a changeover that gives nothing, is taken to join nothing.
func (l *Layout) Shorts() (Conflicts, error) {
	levers, err := l.levers()
	if err != nil {
		return Conflicts{}, err
	}
	still, err := l.conflicts(levers, false)
	if err != nil {
		return Conflicts{}, err
	}
	sure, err := l.conflicts(levers, true)
	if err != nil {
		return Conflicts{}, err
	}
	var out Conflicts
	for _, m := range sortedMeetings(still) {
		c := l.conflict(levers, m, still[m])
		_, c.Sure = sure[m]
		out.Set = append(out.Set, c)
	}
	if out.Passing, err = l.inPassing(levers, still); err != nil {
		return Conflicts{}, err
	}
	sortConflicts(out.Set)
	sortConflicts(out.Passing)
	return out, nil
}

func sortConflicts(cs []Conflict) {
	slices.SortFunc(cs, func(a, b Conflict) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Moment, b.Moment))
	})
}

func sortedMeetings(of map[meeting][][]int) []meeting {
	var out []meeting
	for m := range of {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b meeting) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y))
	})
	return out
}

func (l *Layout) conflict(levers []lever, m meeting, ways [][]int) Conflict {
	name := func(leg int) string { return l.sourceLeg(l.terminalOf(leg)) }
	c := Conflict{Kind: m.kind, X: min(name(m.x), name(m.y)), Y: max(name(m.x), name(m.y))}
	for _, w := range ways {
		set := []string{}
		for i, at := range w {
			if at >= 0 {
				set = append(set, levers[i].ways[at].name)
			}
		}
		c.Ways = append(c.Ways, set)
	}
	slices.SortStableFunc(c.Ways, func(a, b []string) int { return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b)) })
	return c
}

// leg tells a leg apart by its source; -1 where nobody knows it.
func (l *Layout) leg(t int) int {
	if l.terminals[t].source < 0 {
		return -1
	}
	return 2*l.terminals[t].source + l.terminals[t].leg
}

func (l *Layout) terminalOf(leg int) int {
	return slices.IndexFunc(l.terminals, func(tm terminal) bool { return tm.source == leg/2 && tm.leg == leg%2 })
}

// conflicts hunts in the metal as it is. A common rail excuses legs of two sources from meeting in it, unless either opens both legs or turns them:
// those are hunted in what is left without the common rail.
func (l *Layout) conflicts(levers []lever, sure bool) (map[meeting][][]int, error) {
	known := map[meeting][][]int{}
	for _, h := range l.hunts(levers, sure) {
		h.known = known
		if err := h.run(-1, nil); err != nil {
			return nil, err
		}
	}
	return known, nil
}

func (l *Layout) hunts(levers []lever, sure bool) []*hunt {
	apart := func(x, y int, kind string) bool {
		tx, ty := l.terminals[x], l.terminals[y]
		return kind == LegToLeg || tx.source >= 0 && l.sources[tx.source].apart || ty.source >= 0 && l.sources[ty.source].apart
	}
	all := func(int, int, string) bool { return true }
	if len(l.common) == 0 {
		return []*hunt{l.hunt(levers, l.graph(sure), all)}
	}
	without := *l
	without.conductors = nil
	for _, c := range l.conductors {
		if !slices.Contains(l.common, c.a) && !slices.Contains(l.common, c.b) {
			without.conductors = append(without.conductors, c)
		}
	}
	return []*hunt{
		l.hunt(levers, l.graph(sure), apart),
		l.hunt(levers, without.graph(sure), func(x, y int, kind string) bool { return !apart(x, y, kind) }),
	}
}

func (l *Layout) hunt(levers []lever, g *graph, judged func(x, y int, kind string) bool) *hunt {
	h := &hunt{Layout: l, g: g, levers: levers, judged: judged, ps: l.newPose(), edges: make([][]wire, len(levers)), chosen: make([]int, len(levers))}
	for _, c := range l.closed {
		for leg := range 2 {
			if c.legs[leg] >= 0 && c.ends[leg] >= 0 {
				h.joined = append(h.joined, [2]int{c.legs[leg], c.ends[leg]})
			}
		}
	}
	for i, lv := range levers {
		h.chosen[i] = -1
		for _, e := range g.edges {
			if slices.Contains(lv.pieces, e.piece) {
				h.edges[i] = append(h.edges[i], e)
			}
		}
		throws := lv.knob >= 0 || lv.switched > 0 || slices.ContainsFunc(l.knobs, func(k knob) bool { return k.piece >= 0 && slices.Contains(lv.pieces, k.piece) })
		if throws || len(h.edges[i]) > 0 {
			h.tries = append(h.tries, i)
		}
	}
	h.at = make([][]int, len(g.labels))
	h.needs = h.extends
	h.can = make([][]uint8, len(l.terminals))
	for x := range h.can {
		h.can[x] = make([]uint8, len(l.terminals))
		for y := range h.can[x] {
			sx, sy := l.terminals[x].source, l.terminals[y].source
			if x != y && (l.canOppose(x, y, l.anyhow()) || sx >= 0 && sy >= 0 && sx != sy) {
				h.can[x][y] = 1
			}
		}
	}
	return h
}

// run tries everything, but for one lever that is between its positions; what it joins is given.
func (h *hunt) run(moving int, made []wire) error {
	var tries []int
	n := 1
	for _, i := range h.tries {
		if i != moving {
			tries = append(tries, i)
			if n *= len(h.levers[i].ways) + 1; n > mostParts {
				return ErrTooBig
			}
		}
	}
	h.sets = nil
	for range len(tries) + 1 {
		h.sets = append(h.sets, newSets(len(h.g.labels)))
	}
	for _, e := range made {
		h.sets[0].union(e.a, e.b)
	}
	h.try(tries, 0)
	return nil
}

func (h *hunt) try(tries []int, depth int) {
	if depth == len(tries) {
		h.judge(h.sets[depth])
		return
	}
	i := tries[depth]
	copy(h.sets[depth+1], h.sets[depth])
	h.try(tries, depth+1)
	for w := range h.levers[i].ways {
		if h.levers[i].switched > 0 && w > 0 {
			continue // off joins nothing
		}
		h.chosen[i] = w
		h.set(h.ps, &h.levers[i], w)
		copy(h.sets[depth+1], h.sets[depth])
		for _, e := range h.edges[i] {
			if e.in>>h.ps.lie[e.piece]&1 == 1 {
				h.sets[depth+1].union(e.a, e.b)
			}
		}
		h.try(tries, depth+1)
	}
	h.chosen[i] = -1
	h.set(h.ps, &h.levers[i], -1)
}

// judge looks at every two legs that are one metal now.
func (h *hunt) judge(s sets) {
	var roots []int
	for n, labels := range h.g.labels {
		if len(labels) == 0 {
			continue
		}
		root := s.find(n)
		if len(h.at[root]) == 0 {
			roots = append(roots, root)
		}
		for _, t := range labels {
			if !slices.Contains(h.at[root], t) {
				h.at[root] = append(h.at[root], t)
			}
		}
	}
	for _, root := range roots {
		for i, y := range h.at[root] {
			for _, x := range h.at[root][:i] {
				h.meet(x, y)
			}
		}
		h.at[root] = h.at[root][:0]
	}
	for _, two := range h.joined {
		h.meet(two[0], two[1])
	}
}

func (h *hunt) meet(x, y int) {
	if h.can[x][y] == 0 {
		return
	}
	sx, sy := h.terminals[x].source, h.terminals[y].source
	if sx < 0 || sy < 0 {
		return
	}
	if sx != sy && h.wiredTo(x, h.ps) && h.wiredTo(y, h.ps) {
		h.note(x, y, SourceToSource)
	}
	var legs, phases bool
	h.someState(h.loose(h.ps, x, y), h.ps, func(state []int) bool {
		ls, ph := h.clash(x, y, h.ps, state)
		legs, phases = legs || ls, phases || ph
		return false
	})
	if legs {
		h.note(x, y, LegToLeg)
	}
	if phases {
		h.note(x, y, PhaseToPhase)
	}
}

// note keeps a way to a conflict unless one with fewer levers is known. Fewer are tried first.
func (h *hunt) note(x, y int, kind string) {
	if !h.judged(x, y, kind) {
		return
	}
	m := meeting{kind, min(h.leg(x), h.leg(y)), max(h.leg(x), h.leg(y))}
	for _, k := range h.known[m] {
		if within(k, h.chosen) {
			return
		}
	}
	if h.hide != nil && h.hide(m, h.chosen) || !h.needs(h.chosen) {
		return
	}
	h.known[m] = append(h.known[m], slices.Clone(h.chosen))
}

// within says whether all that few sets is set so in many.
func within(few, many []int) bool {
	for i, w := range few {
		if w >= 0 && many[i] != w {
			return false
		}
	}
	return true
}

// extends says whether what is chosen is part of a full valid setting. Only levers that a rule keeps apart can stand in the way of each other.
func (h *hunt) extends(chosen []int) bool {
	ps := h.newPose()
	var open []int
	for i := range h.levers {
		h.set(ps, &h.levers[i], chosen[i])
		if chosen[i] < 0 && slices.ContainsFunc(h.levers[i].pieces, h.ruled) {
			open = append(open, i)
		}
	}
	return h.fill(ps, open)
}

func (h *hunt) fill(ps *pose, open []int) bool {
	if !h.allowed(ps.lie) {
		return false
	}
	if len(open) == 0 {
		return true
	}
	for w := range h.levers[open[0]].ways {
		h.set(ps, &h.levers[open[0]], w)
		if h.fill(ps, open[1:]) {
			return true
		}
	}
	h.set(ps, &h.levers[open[0]], -1)
	return false
}

func (l *Layout) ruled(piece int) bool {
	return slices.ContainsFunc(l.never, func(all []choice) bool {
		return slices.ContainsFunc(all, func(c choice) bool { return c.piece == piece })
	})
}
