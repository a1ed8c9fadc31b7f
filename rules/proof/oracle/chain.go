package oracle

import (
	"math"
	"slices"
)

// passage is a way through a run, a piece or a bridge: a vehicle enters by one end and leaves by another (-1 for none).
type passage struct {
	in, out int
	run     int // -1 in a piece
	piece   int // -1 in a run
	length  float64
	bridge  bool
}

// chain is track that a train can run along with the pieces lying in one setting, measured from one end.
type chain struct {
	passages []passage
	starts   []float64 // by passage
	length   float64
	ring     bool
	breaks   []chainBreak
}

// chainBreak is where metal wheels join what metal does not: a gap, a pit's edge, a frog.
type chainBreak struct {
	at    float64
	place string
	pairs [][2]int // nodes
	walks []walker // where a vehicle looks ahead from it
}

// chains lists the chains of a setting, each once.
func (l *Layout) chains(lie []int) []chain {
	var all []passage
	for r := range l.runs {
		all = append(all, l.passageFrom(l.runs[r].ends[0], lie))
	}
	for p, pc := range l.pieces {
		for _, way := range pc.settings[lie[p]].routes {
			if e := l.pieceEnd(p, way[0]); !l.ends[e].pit {
				all = append(all, l.passageFrom(e, lie))
			}
		}
	}
	used := map[[2]int]bool{}
	mark := func(ps []passage) {
		for _, p := range ps {
			used[[2]int{min(p.in, p.out), max(p.in, p.out)}] = true
		}
	}
	var out []chain
	for _, first := range all {
		if used[[2]int{min(first.in, first.out), max(first.in, first.out)}] {
			continue
		}
		ahead, ring := l.follow(first, lie)
		c := chain{passages: ahead, ring: ring}
		if !ring {
			back, _ := l.follow(first.turned(), lie)
			c.passages = nil
			for i := len(back) - 1; i > 0; i-- {
				c.passages = append(c.passages, back[i].turned())
			}
			c.passages = append(c.passages, ahead...)
		}
		mark(c.passages)
		l.measureChain(&c, lie)
		out = append(out, c)
	}
	return out
}

func (p passage) turned() passage {
	p.in, p.out = p.out, p.in
	return p
}

// passageFrom is the passage of a vehicle that enters at an end; out is -1 and piece too where it cannot.
func (l *Layout) passageFrom(e int, lie []int) passage {
	en := l.ends[e]
	if en.run >= 0 {
		r := l.runs[en.run]
		return passage{in: e, out: r.ends[0] + r.ends[1] - e, run: en.run, piece: -1, length: r.s1 - r.s0}
	}
	if en.pit {
		at := l.edgeAt(e, lie)
		if at < 0 {
			return passage{in: e, out: -1, run: -1, piece: -1}
		}
		out := -1
		for i, o := range l.edges {
			if i != at && o.piece == en.piece && o.in>>lie[o.piece]&1 == 1 {
				out = o.end
			}
		}
		return passage{in: e, out: out, run: -1, piece: en.piece, length: l.pieces[en.piece].bridge, bridge: true}
	}
	for _, way := range l.pieces[en.piece].settings[lie[en.piece]].routes {
		for i := range 2 {
			if way[i] == en.name {
				return passage{in: e, out: l.pieceEnd(en.piece, way[1-i]), run: -1, piece: en.piece, length: l.pieces[en.piece].length}
			}
		}
	}
	return passage{in: e, out: -1, run: -1, piece: -1}
}

// edgeAt is the pit's edge that a bridge stands at, -1 for none.
func (l *Layout) edgeAt(e int, lie []int) int {
	return slices.IndexFunc(l.edges, func(x edge) bool { return x.end == e && x.in>>lie[x.piece]&1 == 1 })
}

// follow runs on from a passage until the track ends, a piece lies against it, or it comes round.
func (l *Layout) follow(first passage, lie []int) (out []passage, ring bool) {
	for p := first; len(out) <= len(l.ends); {
		out = append(out, p)
		if p.out < 0 {
			return out, false
		}
		o, _ := l.other(p.out)
		if o == first.in {
			return out, true
		}
		if o < 0 {
			return out, false
		}
		if p = l.passageFrom(o, lie); p.run < 0 && p.piece < 0 {
			return out, false
		}
	}
	return out, false
}

// measureChain lays a chain's ruler and finds its breaks.
func (l *Layout) measureChain(c *chain, lie []int) {
	for i, p := range c.passages {
		c.starts = append(c.starts, c.length)
		if i > 0 {
			l.breakBetween(c, c.passages[i-1].out, p.in, lie)
		}
		if p.run >= 0 {
			l.breaksOfRun(c, p)
		} else if !p.bridge {
			l.breakOfPiece(c, p, lie)
		}
		c.length += p.length
	}
	if c.ring {
		at := c.length
		c.length = 0
		l.breakBetween(c, c.passages[len(c.passages)-1].out, c.passages[0].in, lie)
		c.length = at
	}
}

// breakBetween adds the break at a joint, if there is one, where the ruler stands.
func (l *Layout) breakBetween(c *chain, x, y int, lie []int) {
	b := chainBreak{at: c.length, place: l.label(spot{-1, 0, x})}
	if l.ends[x].pit || l.ends[y].pit {
		pit, o := x, y
		if l.ends[y].pit {
			pit, o = y, x
		}
		at := l.edgeAt(pit, lie)
		if at < 0 {
			return
		}
		bridge := [2]int{l.edges[at].left, l.edges[at].right}
		if l.edges[at].asStart == l.ends[o].start {
			bridge[0], bridge[1] = bridge[1], bridge[0]
		}
		for rail := range 2 {
			b.pairs = append(b.pairs, [2]int{l.ends[o].rails[rail], bridge[rail]})
		}
		b.walks = []walker{l.into(o)}
		c.breaks = append(c.breaks, b)
		return
	}
	j := l.ends[x].joint
	for rail := range 2 {
		if l.joints[j].rails[rail].conducts == open {
			n, m := l.jointNodes(j, rail)
			b.pairs = append(b.pairs, [2]int{n, m})
		}
	}
	b.walks = []walker{l.into(x), l.into(y)}
	if b.pairs != nil {
		c.breaks = append(c.breaks, b)
	}
}

func (l *Layout) breaksOfRun(c *chain, p passage) {
	r := l.runs[p.run]
	for rail := range 2 {
		for i, ct := range r.cuts[rail] {
			if ct.conducts != open {
				continue
			}
			at := c.length + ct.at - r.s0
			if !l.ends[p.in].start {
				at = c.length + r.s1 - ct.at
			}
			pair := [2]int{r.nodes[rail][i], r.nodes[rail][i+1]}
			k := slices.IndexFunc(c.breaks, func(b chainBreak) bool {
				return math.Abs(b.at-at) <= tiny && len(b.walks) == 2 && b.walks[0].run == p.run
			})
			if k >= 0 {
				c.breaks[k].pairs = append(c.breaks[k].pairs, pair)
				continue
			}
			c.breaks = append(c.breaks, chainBreak{
				at, place(l.tracks[r.track].name, ct.at),
				[][2]int{pair},
				[]walker{{p.run, ct.at, true, -1}, {p.run, ct.at, false, -1}},
			})
		}
	}
}

// breakOfPiece takes a piece's frogs to lie in its middle, since a layout need not say where they lie: there wheels join all that the route's wheels
// touch, and its rails at either end.
func (l *Layout) breakOfPiece(c *chain, p passage, lie []int) {
	b := chainBreak{at: c.length + p.length/2, place: pieceplace(l.pieces[p.piece].name)}
	for rail := range 2 {
		x, y := l.railOf(p.in, rail, true), l.railOf(p.out, rail, false)
		if x != y {
			b.pairs = append(b.pairs, [2]int{x, y})
		}
	}
	st := l.pieces[p.piece].settings[lie[p.piece]]
	paths := st.wheels
	if len(st.routes) == 2 && len(paths) == 4 { // a crossing as it lies: two paths a route
		at := slices.IndexFunc(st.routes, func(r [2]string) bool { return r[0] == l.ends[p.in].name || r[1] == l.ends[p.in].name })
		paths = paths[2*at : 2*at+2]
	}
	for _, w := range paths {
		for _, n := range slices.Concat(w.near[1:], w.beyond) {
			b.pairs = append(b.pairs, [2]int{w.near[0], n})
		}
	}
	for _, e := range []int{p.in, p.out} {
		if w, ok := l.beyond(e); ok {
			b.walks = append(b.walks, w)
		}
	}
	if b.pairs != nil {
		c.breaks = append(c.breaks, b)
	}
}

// railOf is the node of the rail to a vehicle's left (0) or right (1) as it enters, or leaves, by an end.
func (l *Layout) railOf(e, rail int, entering bool) int {
	if l.ends[e].start != entering {
		rail = 1 - rail
	}
	return l.ends[e].rails[rail]
}

// placeAt names where a measure of a chain lies.
func (l *Layout) placeAt(c *chain, at float64) string {
	if c.ring {
		at = math.Mod(at+c.length, c.length)
	}
	i := len(c.passages) - 1
	for i > 0 && c.starts[i] > at+tiny/2 {
		i--
	}
	p := c.passages[i]
	if p.run < 0 {
		return pieceplace(l.pieces[p.piece].name)
	}
	r := l.runs[p.run]
	s := r.s0 + at - c.starts[i]
	if !l.ends[p.in].start {
		s = r.s1 - at + c.starts[i]
	}
	return place(l.tracks[r.track].name, min(max(s, r.s0), r.s1))
}
