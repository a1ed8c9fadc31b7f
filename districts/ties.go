package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// What it costs to undo one link of a tie, in units of doubt: what the owner meant
// weighs most, then how much would have to change. Common practice, no source.
const (
	costHalfGap     = 3  // a gap in one rail, completed in the other
	costStray       = 4  // a feeder that hangs from another source than its place is meant to
	costMeantBound  = 6  // a gap where two blocks are meant to meet
	costFeeder      = 10 // a feeder of whose place nothing is meant
	costNewGap      = 15 // a gap somewhere in plain track or at a joint
	costMeantFeeder = 30 // a feeder that hangs from what its place is meant to
	costOffLoop     = 31 // a gap beside a reverser's section that lies on no loop: dearer than two on it
	costInside      = 60 // a cut inside track work
)

// Tie is one link between two classes of feeding that should be apart: two districts, or
// a detector and what it does not watch. Either a feeder that does not belong (Feeder
// >= 0) or a stretch of track where a gap is missing (Ways).
type Tie struct {
	Classes  [2]int32 // sources, or detectors with -1 for none
	Feeder   int32    // -1 when track is to be cut
	Ways     []int32  // the ways any of which could be cut: between two feeders, in walking order
	Cut      int32    // the way chosen, -1 for a feeder
	Near     [2]int32 // a feeder of either class that the tie joins, nearest to it (-1 none)
	Detector bool     // classes are detectors
	Section  int32
}

// tieProblem is one search for ties: which ways join, and each feeder's class and cost.
type tieProblem struct {
	c        *circuit.Circuit
	meant    *Meant
	feeds    []Feed
	ways     *adjacency
	joins    func(way int32) bool
	class    func(f *Feed) (int32, bool) // false: this feeder has none
	cost     func(f *Feed) int32
	bound    func(way int32) bool // two meant classes meet here
	bridge   []bool               // ways on no ring of track
	detector bool
}

// solve parts every group of joined spots that feeders of more than one class reach.
func (t *tieProblem) solve() []Tie {
	u := newUnionFind(len(t.c.Spots))
	for i := range t.c.Ways {
		if t.joins(int32(i)) {
			u.union(t.c.Ways[i].A, t.c.Ways[i].B)
		}
	}
	group := u.flatten()
	feedsOf := map[int32][]int32{}
	mixed := map[int32]bool{}
	for i := range t.feeds {
		f := &t.feeds[i]
		if f.Spot < 0 {
			continue
		}
		class, ok := t.class(f)
		if !ok {
			continue
		}
		g := group[f.Spot]
		if others := feedsOf[g]; len(others) > 0 {
			if first, _ := t.class(&t.feeds[others[0]]); first != class {
				mixed[g] = true
			}
		}
		feedsOf[g] = append(feedsOf[g], int32(i))
	}
	groups := make([]int32, 0, len(mixed))
	for g := range mixed {
		groups = append(groups, g)
	}
	slices.Sort(groups)
	var ties []Tie
	for _, g := range groups {
		ties = append(ties, t.part(g, group, feedsOf[g], t.around(g, group, feedsOf))...)
	}
	return ties
}

// part cuts one group until each part has one class: the class with the fewest feeders
// is parted from the rest, then the next. Free sources come first, so that of cuts of one
// cost the one nearest a reversing section's own feeders is taken, which keeps a loop that it was
// meant for out of it.
func (t *tieProblem) part(g int32, group []int32, feeds []int32, around int32) []Tie {
	local := map[int32]int32{}
	var spots, ways []int32
	for s := range group {
		if group[s] == g {
			local[int32(s)] = int32(len(spots))
			spots = append(spots, int32(s))
		}
	}
	seen := map[int32]bool{}
	for _, s := range spots {
		for _, w := range t.ways.of(s) {
			if !seen[w] && t.joins(w) {
				seen[w] = true
				ways = append(ways, w)
			}
		}
	}
	slices.Sort(ways)
	count := map[int32]int{}
	for _, i := range feeds {
		class, _ := t.class(&t.feeds[i])
		count[class]++
	}
	classes := make([]int32, 0, len(count))
	for class := range count {
		classes = append(classes, class)
	}
	slices.SortFunc(classes, func(x, y int32) int {
		return cmp.Or(t.freeFirst(x, y), cmp.Compare(count[x], count[y]), cmp.Compare(x, y))
	})

	gone := map[int32]bool{}      // ways cut
	goneFeeds := map[int32]bool{} // feeders taken off
	var ties []Tie
	for _, class := range classes[:len(classes)-1] {
		n := len(spots) + 2
		source, sink := int32(len(spots)), int32(len(spots)+1)
		var edges []flowEdge
		var ids []int32 // way, or -1-feeder
		for _, w := range ways {
			if !gone[w] {
				edges = append(edges, flowEdge{local[t.c.Ways[w].A], local[t.c.Ways[w].B], t.wayCost(w, t.free(class))})
				ids = append(ids, w)
			}
		}
		for _, i := range feeds {
			if goneFeeds[i] {
				continue
			}
			f := &t.feeds[i]
			of, _ := t.class(f)
			to := sink
			if of == class {
				to = source
			}
			edges = append(edges, flowEdge{local[f.Spot], to, t.feedCost(f, count[of] == 1, len(feeds), t.free(classes[0]), of == around)})
			ids = append(ids, -1-i)
		}
		cut, _ := minCut(n, edges, source, sink)
		for _, e := range cut {
			tie := Tie{Classes: [2]int32{class, t.otherClass(class, feeds, goneFeeds)}, Feeder: -1, Cut: -1, Near: [2]int32{-1, -1}, Detector: t.detector, Section: g}
			if ids[e] < 0 {
				tie.Feeder = -1 - ids[e]
				goneFeeds[tie.Feeder] = true
				own, _ := t.class(&t.feeds[tie.Feeder])
				if own != class {
					tie.Classes = [2]int32{own, class}
				}
			} else {
				tie.Cut = ids[e]
				gone[ids[e]] = true
			}
			ties = append(ties, tie)
		}
	}
	for i := range ties {
		if ties[i].Cut >= 0 {
			t.describeCut(&ties[i], gone, goneFeeds)
		}
	}
	return ties
}

// freeFirst sets free sources before others; detectors are all alike.
func (t *tieProblem) freeFirst(x, y int32) int {
	switch {
	case t.free(x) == t.free(y):
		return 0
	case t.free(x):
		return -1
	default:
		return 1
	}
}

// free reports whether a class is a source whose phase is free: a reverser.
func (t *tieProblem) free(class int32) bool {
	return !t.detector && class >= 0 && t.c.Sources[class].Free
}

// around is the class that all track beyond a group's gaps hangs from, where the group
// has at least two and they all lead to one class; -1 otherwise.
func (t *tieProblem) around(g int32, group []int32, feedsOf map[int32][]int32) int32 {
	class, exits := int32(-1), 0
	for i := range t.c.Ways {
		w := &t.c.Ways[i]
		a, b := group[w.A], group[w.B]
		if a == b || (a != g && b != g) || !isGap(w) {
			continue
		}
		exits++
		for _, f := range feedsOf[a+b-g] {
			of, _ := t.class(&t.feeds[f])
			if class >= 0 && of != class {
				return -1
			}
			class = of
		}
	}
	if exits < 2 {
		return -1
	}
	return class
}

// feedCost is a feeder's cost. One alone of the class that surrounds a section with a reverser,
// gapped at its ends as it should be, is a stranger in it.
// Of a feeder of whose place nothing is meant: one alone of
// its class among others may be a stranger; several of a class are rather a district that lacks its
// gaps, and so are two districts that meet by one feeder each.
func (t *tieProblem) feedCost(f *Feed, alone bool, feeders int, loop, surrounds bool) int32 {
	cost := t.cost(f)
	if cost == costFeeder && alone && loop && surrounds {
		return costStray
	}
	if cost == costFeeder && !t.detector && (!alone || feeders == 2 || loop) {
		return costNewGap + 1
	}
	return cost
}

func (t *tieProblem) otherClass(class int32, feeds []int32, gone map[int32]bool) int32 {
	for _, i := range feeds {
		if of, _ := t.class(&t.feeds[i]); of != class && !gone[i] {
			return of
		}
	}
	return class
}

func (t *tieProblem) wayCost(w int32, loop bool) int32 {
	way := &t.c.Ways[w]
	switch {
	case way.Kind == circuit.WayThrough:
		return costInside
	case isHalfGap(way):
		return costHalfGap
	case t.bound(w):
		return costMeantBound
	case loop && t.bridge[w]:
		return costOffLoop
	default:
		return costNewGap
	}
}

// describeCut widens a cut to every way of the same stretch of track that would part the
// same feeders, and finds the feeders it joins.
func (t *tieProblem) describeCut(tie *Tie, gone, goneFeeds map[int32]bool) {
	w := &t.c.Ways[tie.Cut]
	feedAt := map[int32]int32{}
	for i := range t.feeds {
		if f := &t.feeds[i]; f.Spot >= 0 && !goneFeeds[int32(i)] {
			if _, ok := t.class(f); ok {
				if _, taken := feedAt[f.Spot]; !taken {
					feedAt[f.Spot] = int32(i)
				}
			}
		}
	}
	loop := t.free(tie.Classes[0]) || t.free(tie.Classes[1])
	cost := t.wayCost(tie.Cut, loop)
	back := t.run(w.A, tie.Cut, cost, loop, feedAt)
	slices.Reverse(back)
	tie.Ways = append(append(back, tie.Cut), t.run(w.B, tie.Cut, cost, loop, feedAt)...)
	sides := [2]int32{t.nearestFeed(w.A, gone, feedAt), t.nearestFeed(w.B, gone, feedAt)}
	if sides[0] >= 0 && sides[1] >= 0 {
		a, _ := t.class(&t.feeds[sides[0]])
		b, _ := t.class(&t.feeds[sides[1]])
		if a != b {
			tie.Classes, tie.Near = [2]int32{a, b}, sides
			return
		}
	}
	for _, f := range sides {
		if f < 0 {
			continue
		}
		if class, _ := t.class(&t.feeds[f]); class == tie.Classes[0] {
			tie.Near[0] = f
		} else {
			tie.Near[1] = f
		}
	}
}

// run walks on from a spot through plain track of the same cost, up to a feeder or a branch.
func (t *tieProblem) run(spot, from, cost int32, loop bool, feedAt map[int32]int32) []int32 {
	var out []int32
	for range t.c.Ways {
		if _, fed := feedAt[spot]; fed {
			return out
		}
		next, n := int32(-1), 0
		for _, w := range t.ways.of(spot) {
			if w != from && t.joins(w) {
				next = w
				n++
			}
		}
		if n != 1 || t.wayCost(next, loop) != cost || t.c.Ways[next].A == t.c.Ways[next].B {
			return out
		}
		out = append(out, next)
		spot = t.c.Ways[next].A + t.c.Ways[next].B - spot
		from = next
	}
	return out
}

// nearestFeed finds the feeder fewest ways from a spot without passing a cut.
func (t *tieProblem) nearestFeed(spot int32, gone map[int32]bool, feedAt map[int32]int32) int32 {
	seen := map[int32]bool{spot: true}
	queue := []int32{spot}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		if f, found := feedAt[s]; found {
			return f
		}
		for _, w := range t.ways.of(s) {
			if gone[w] || !t.joins(w) {
				continue
			}
			if o := t.c.Ways[w].A + t.c.Ways[w].B - s; !seen[o] {
				seen[o] = true
				queue = append(queue, o)
			}
		}
	}
	return -1
}

// districtTies finds where districts are tied through rail or a stray feeder.
func districtTies(c *circuit.Circuit, meant *Meant, feeds []Feed, ways *adjacency, common func(way int32) bool) []Tie {
	t := &tieProblem{
		c: c, meant: meant, feeds: feeds, ways: ways, bridge: bridges(c, ways),
		joins: func(w int32) bool { return hasMetal(&c.Ways[w]) && !common(w) },
		class: func(f *Feed) (int32, bool) { s := f.Source(); return s, s >= 0 && !f.Mixed(c) }, // a mixed feeder is a cause of its own
	}
	t.cost = func(f *Feed) int32 { return feederCost(meant.sources(c, f.Spot), f.Source()) }
	t.bound = func(w int32) bool {
		way := &c.Ways[w]
		return boundBetween(meant.sources(c, way.A), meant.sources(c, way.B))
	}
	return t.solve()
}

// detectorTies finds, for the leg that detectors watch, where what one detector sees is
// joined to what it does not. Only rails that carry that leg count.
func detectorTies(c *circuit.Circuit, meant *Meant, feeds []Feed, ways *adjacency, leg layout.Leg, sense func(spot int32) (layout.Rail, bool)) []Tie {
	t := &tieProblem{c: c, meant: meant, feeds: feeds, ways: ways, bridge: bridges(c, ways), detector: true}
	t.joins = func(w int32) bool {
		way := &c.Ways[w]
		if !hasMetal(way) {
			return false
		}
		r, ok := sense(way.A)
		return ok && (way.Kind == circuit.WayThrough || way.Metal[r] != circuit.Open)
	}
	t.class = func(f *Feed) (int32, bool) { return f.Detector[leg], f.Wired[leg] && f.Legs[leg].Source >= 0 }
	t.cost = func(f *Feed) int32 { return feederCost(meant.detectors(c, f.Spot), f.Detector[leg]) }
	t.bound = func(w int32) bool {
		way := &c.Ways[w]
		return boundBetween(meant.detectors(c, way.A), meant.detectors(c, way.B))
	}
	return t.solve()
}

func feederCost(meant []int32, own int32) int32 {
	switch {
	case len(meant) == 0:
		return costFeeder
	case slices.Contains(meant, own):
		return costMeantFeeder
	default:
		return costStray
	}
}

// boundBetween reports whether two meant sets at the ends of a way differ: a bound of
// two blocks lies on it. At the bound itself both blocks cover the spot.
func boundBetween(a, b []int32) bool {
	return len(a) > 0 && len(b) > 0 && (len(a) > 1 || len(b) > 1 || a[0] != b[0])
}
