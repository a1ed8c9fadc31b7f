package districts

import (
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// What it costs to call a link of the polarity graph wrong, in the same units of doubt
// as the costs of ties. A mismatch across a gap costs more than one feeder, so that a lone
// crossed feeder among right neighbours is named and not its gaps. Common practice, no source.
const (
	doubtFeeder        = 10
	doubtSignal        = 11
	doubtSignalCrossed = 9 // the layout itself says crossed
	doubtGap           = 12
	doubtHalfGap       = 3
	doubtRail          = 15
	doubtInside        = 60
)

// Polarity is which rail of every section carries which leg, and what contradicts it.
type Polarity struct {
	Sections *Sections
	// Root is the phase a section is fed from: the booster at the head of its source, or
	// a free source (a reverser) itself; -1 for a section that no feeder reaches.
	Root []int32 // by section id (least spot)
	// ASense is the rail, in the section's own sense, that carries leg A of Root; valid
	// where Root >= 0.
	ASense []layout.Rail

	WrongFeeders []int32 // feeders reversed against their neighbours, rising
	WrongGaps    []int32 // ways: wheels bridging them join opposite legs
	WrongRails   []int32 // ways of whole rail that close a ring that turns its rails
	WrongSignals []int32 // boosters out of phase with the rest
	WrongPlugs   []int32 // plugs the wrong way round
	// Others are the other explanations of the same weight.
	Others []Explanation
	Exact  bool
}

// Explanation is one way to account for every contradiction of polarity.
type Explanation struct {
	Feeders, Gaps, Rails, Signals, Plugs []int32
}

// phaseRoot walks up from a source to what its phase hangs on, and whether it is
// crossed against that.
func phaseRoot(c *circuit.Circuit, s int32) (root int32, crossed bool) {
	for range c.Sources {
		if c.Sources[s].Free || c.Sources[s].Parent < 0 {
			break
		}
		crossed = crossed != c.Sources[s].Crossed
		s = c.Sources[s].Parent
	}
	return s, crossed
}

// polarityBuilder numbers the vertices of the polarity graph: sources first, then one
// per signal name, then sections (or spots, in a section that turns on itself).
type polarityBuilder struct {
	c        *circuit.Circuit
	s        *Sections
	feeds    []Feed
	stray    map[int32]bool
	ways     *adjacency
	g        signedGraph
	vertex   []int32 // by spot
	turned   []bool  // by spot, against its vertex
	fed      map[int32]bool
	free     map[int32]bool  // sections fed only from free sources
	onlyRoot map[int32]int32 // the one phase that feeds a section, -1 for several
	plugs    map[int32]int32 // vertices of plugs
	plugRoot map[int32]int32 // phase of each of those vertices
}

// newPolarity decides polarity for the sections given. stray are feeders already
// explained as ties; they are not evidence.
func newPolarity(ctx context.Context, c *circuit.Circuit, s *Sections, feeds []Feed, stray map[int32]bool, ways *adjacency) *Polarity {
	b := &polarityBuilder{c: c, s: s, feeds: feeds, stray: stray, ways: ways, fed: map[int32]bool{}, free: map[int32]bool{}, onlyRoot: map[int32]int32{}, plugs: map[int32]int32{}, plugRoot: map[int32]int32{}}
	b.classify()
	b.vertices()
	b.feederEdges()
	b.gapEdges()
	b.signalEdges()
	best, exact := b.g.balance(ctx, balanceWork)
	p := &Polarity{Sections: s, Exact: exact}
	wrong := map[int32]bool{}
	for i, x := range best {
		e := b.explain(x)
		if i == 0 {
			p.WrongFeeders, p.WrongGaps, p.WrongRails, p.WrongSignals, p.WrongPlugs = e.Feeders, e.Gaps, e.Rails, e.Signals, e.Plugs
			for _, k := range x.edges {
				wrong[k] = true
			}
			continue
		}
		p.Others = append(p.Others, e)
	}
	b.legs(p, wrong)
	return p
}

// classify finds which sections are fed, and which only by free sources.
func (b *polarityBuilder) classify() {
	bound := map[int32]bool{}
	for i := range b.feeds {
		f := &b.feeds[i]
		if f.Spot < 0 || b.stray[f.Feeder] || f.Source() < 0 {
			continue
		}
		section := b.s.Of[f.Spot]
		root, _ := phaseRoot(b.c, f.Source())
		if old, found := b.onlyRoot[section]; found && old != root {
			root = -1
		}
		b.onlyRoot[section] = root
		b.fed[section] = true
		if root, _ := phaseRoot(b.c, f.Source()); !b.c.Sources[root].Free {
			bound[section] = true
		}
	}
	for section := range b.fed {
		if !bound[section] {
			b.free[section] = true
		}
	}
}

// vertices gives every section one vertex, or, in a section that turns on itself, one for
// every run of plain track between places that matter.
func (b *polarityBuilder) vertices() {
	n := int32(len(b.c.Sources))
	signals := map[string]int32{}
	for i := range b.c.Layout.Boosters {
		if name := b.c.Layout.Boosters[i].Signal; name != "" {
			if _, found := signals[name]; !found {
				signals[name] = n
				n++
			}
		}
	}
	odd := map[int32]bool{}
	for _, w := range b.s.Odd {
		odd[b.s.Of[b.c.Ways[w].A]] = true
	}
	b.vertex = make([]int32, len(b.c.Spots))
	b.turned = slices.Clone(b.s.Turned)
	var run *parityFind
	var kept []int32
	if len(odd) > 0 {
		run, kept = b.runs(odd)
	}
	numbered := map[int32]int32{}
	for spot := range b.c.Spots {
		key := b.s.Of[spot]
		if odd[key] {
			root, turned := run.find(int32(spot))
			key, b.turned[spot] = root, turned
		}
		v, found := numbered[key]
		if !found {
			v = n
			numbered[key] = v
			n++
		}
		b.vertex[spot] = v
	}
	b.g.n = int(n)
	for _, w := range kept {
		way := &b.c.Ways[w]
		b.edge(way.A, way.B, way.Turned, railWeight(way), railEdge, w)
	}
}

func railWeight(w *circuit.Way) int32 {
	switch {
	case w.Kind == circuit.WayThrough:
		return doubtInside
	case isHalfGap(w):
		return doubtHalfGap
	default:
		return doubtRail
	}
}

// runs merges plain track in sections that turn on themselves, and returns the ways
// that remain between the runs.
func (b *polarityBuilder) runs(odd map[int32]bool) (*parityFind, []int32) {
	special := make([]bool, len(b.c.Spots))
	for i := range b.feeds {
		if b.feeds[i].Spot >= 0 {
			special[b.feeds[i].Spot] = true
		}
	}
	for i := range b.c.Ways {
		if w := &b.c.Ways[i]; b.s.cut[i] || !hasMetal(w) {
			special[w.A], special[w.B] = true, true
		}
	}
	run := newParityFind(len(b.c.Spots))
	merged := make([]bool, len(b.c.Ways))
	for spot := range b.c.Spots {
		around := b.ways.of(int32(spot))
		if special[spot] || len(around) != 2 || !odd[b.s.Of[spot]] {
			continue
		}
		pick := around[0]
		if merged[pick] || railWeight(&b.c.Ways[pick]) < railWeight(&b.c.Ways[around[1]]) {
			pick = around[1]
		}
		w := &b.c.Ways[pick]
		if isHalfGap(w) {
			continue // it is blamed before whole rail, so it stays an edge of its own
		}
		ra, _ := run.find(w.A)
		rb, _ := run.find(w.B)
		if !merged[pick] && ra != rb {
			run.union(w.A, w.B, w.Turned)
			merged[pick] = true
		}
	}
	var kept []int32
	for i := range b.c.Ways {
		w := &b.c.Ways[i]
		if !merged[i] && !b.s.cut[i] && hasMetal(w) && odd[b.s.Of[w.A]] {
			kept = append(kept, int32(i))
		}
	}
	return run, kept
}

// edge links two spots in the polarity graph.
func (b *polarityBuilder) edge(x, y int32, turned bool, weight int32, kind edgeKind, ref int32) {
	turned = turned != (b.turned[x] != b.turned[y])
	b.g.edges = append(b.g.edges, signedEdge{u: b.vertex[x], v: b.vertex[y], turned: turned, weight: weight, kind: kind, ref: ref})
}

// feederEdges link each section to the phase it is fed from. A vertex's sense is which
// of its rails has leg A; an edge is turned when the feeder puts A on the right.
func (b *polarityBuilder) feederEdges() {
	for i := range b.feeds {
		f := &b.feeds[i]
		if f.Spot < 0 || b.stray[f.Feeder] || f.Source() < 0 {
			continue
		}
		right, ok := b.feedsRight(f)
		if !ok {
			continue
		}
		root, crossed := phaseRoot(b.c, f.Source())
		turned := (right != crossed) != b.turned[f.Spot]
		if f.Plug >= 0 {
			root = b.plugVertex(f.Plug, root)
		}
		b.g.edges = append(b.g.edges, signedEdge{u: b.vertex[f.Spot], v: root, turned: turned, weight: doubtFeeder, kind: feederEdge, ref: f.Feeder})
	}
}

// plugVertex is the vertex of what hangs from a plug, which the plug links to that of the plug
// it hangs behind, or to its phase.
func (b *polarityBuilder) plugVertex(plug, root int32) int32 {
	if v, found := b.plugs[plug]; found {
		return v
	}
	v := int32(b.g.n)
	b.g.n++
	b.plugs[plug], b.plugRoot[v] = v, root
	up := root
	if outer := b.c.PlugAbove(b.c.Layout.Plugs[plug].From); outer >= 0 && outer != plug {
		up = b.plugVertex(outer, root)
	}
	weight := int32(doubtSignal)
	if b.c.Layout.Plugs[plug].Legs == layout.PlugCrossed {
		weight = doubtSignalCrossed
	}
	b.g.edges = append(b.g.edges, signedEdge{u: v, v: up, weight: weight, kind: plugEdge, ref: plug})
	return v
}

// feedsRight reports whether a feeder puts leg A of its source on the right rail of its
// spot; not ok when its two legs come to the same leg.
func (b *polarityBuilder) feedsRight(f *Feed) (right, ok bool) {
	aRail := b.c.Layout.Feeders[f.Feeder].ARail
	said := false
	for leg := range layout.Leg(2) {
		if !f.Wired[leg] || f.Legs[leg].Source < 0 {
			continue
		}
		rail := aRail
		if leg == layout.B {
			rail = rail.Other()
		}
		onRight := (rail == layout.Right) == (f.Legs[leg].Leg == layout.A)
		if said && onRight != right {
			return false, false
		}
		right, said = onRight, true
	}
	return right, said
}

// gapEdges link sections across gaps: wheels join left to left there. Two sections of one
// reverser are in phase whatever it does; otherwise a gap beside a
// section that a free source feeds is no evidence, unless the same section lies on both
// sides of it; nor is one beside a dead section.
func (b *polarityBuilder) gapEdges() {
	for i := range b.c.Ways {
		w := &b.c.Ways[i]
		if b.s.cut[i] || !isGap(w) {
			continue
		}
		x, y := b.s.Of[w.A], b.s.Of[w.B]
		if !b.fed[x] || !b.fed[y] {
			continue
		}
		if x != y && (b.free[x] || b.free[y]) && (b.onlyRoot[x] < 0 || b.onlyRoot[x] != b.onlyRoot[y]) {
			continue
		}
		b.edge(w.A, w.B, w.Turned, doubtGap, gapEdge, int32(i))
	}
}

// signalEdges link boosters to the command signal they share.
func (b *polarityBuilder) signalEdges() {
	signals := map[string]int32{}
	n := int32(len(b.c.Sources))
	for i := range b.c.Layout.Boosters {
		boost := &b.c.Layout.Boosters[i]
		if boost.Signal == "" {
			continue
		}
		v, found := signals[boost.Signal]
		if !found {
			v = n
			signals[boost.Signal] = v
			n++
		}
		e := signedEdge{u: int32(i), v: v, kind: signalEdge, ref: int32(i), weight: doubtSignal}
		switch boost.SignalWired {
		case layout.SignalCrossed:
			e.turned, e.weight = true, doubtSignalCrossed
		case layout.SignalStraight:
		default:
			continue
		}
		b.g.edges = append(b.g.edges, e)
	}
}

func (b *polarityBuilder) explain(x explanation) Explanation {
	var e Explanation
	for _, k := range x.edges {
		edge := &b.g.edges[k]
		switch edge.kind {
		case feederEdge:
			e.Feeders = append(e.Feeders, edge.ref)
		case gapEdge:
			e.Gaps = append(e.Gaps, edge.ref)
		case railEdge:
			e.Rails = append(e.Rails, edge.ref)
		case signalEdge:
			e.Signals = append(e.Signals, edge.ref)
		case plugEdge:
			e.Plugs = append(e.Plugs, edge.ref)
		}
	}
	return e
}

// legs reads the polarity of every section off the edges that stand; where all of a
// section's feeders are called wrong, off one of them as it will be once turned round.
func (b *polarityBuilder) legs(p *Polarity, wrong map[int32]bool) {
	p.Root = make([]int32, len(b.c.Spots))
	p.ASense = make([]layout.Rail, len(b.c.Spots))
	for i := range p.Root {
		p.Root[i] = -1
	}
	for _, called := range [2]bool{false, true} {
		for k := range b.g.edges {
			e := &b.g.edges[k]
			if e.kind != feederEdge || wrong[int32(k)] != called {
				continue
			}
			spot := b.feeds[e.ref].Spot
			section := b.s.Of[spot]
			if p.Root[section] >= 0 {
				continue
			}
			p.Root[section] = e.v
			if root, found := b.plugRoot[e.v]; found {
				p.Root[section] = root
			}
			right := (e.turned != called != turnedByPlugs(b.c, b.feeds[e.ref].Plug, p.WrongPlugs)) != b.turned[spot] // leg A of the root on the right of the spot
			if right != b.s.Turned[spot] {
				p.ASense[section] = layout.Right
			}
		}
	}
}

// ARail is the rail at a spot that carries leg A of the phase its section hangs on; ok is
// false where no feeder tells.
func (p *Polarity) ARail(spot int32) (layout.Rail, bool) {
	section := p.Sections.Of[spot]
	if p.Root[section] < 0 {
		return layout.Left, false
	}
	return p.Sections.sense(spot, p.ASense[section]), true
}
