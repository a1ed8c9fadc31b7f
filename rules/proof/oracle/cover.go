package oracle

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// span is part of a run.
type span struct {
	run  int
	a, b float64
}

// cover is the track that a stretch, or a whole block, takes in.
type cover struct {
	spans []span
	ends  []int // of pieces that belong to it
}

// claim is what a block takes of a track between two measures.
type claim struct {
	block  string
	lo, hi float64
}

// asking is the block whose `gap` bounds are being found.
type asking struct {
	block  string
	claims map[int][]claim
	open   []string // places where a `gap` bound found no gap
}

// stretch resolves one of `covers`, `of` and the like.
func (b *builder) stretch(text string, ask *asking) (cover, error) {
	name, where, measured := strings.Cut(text, "@")
	name = strings.TrimSpace(name)
	if t := b.trackNamed(name); t >= 0 {
		if !measured {
			return b.between(t, 0, b.tracks[t].length)
		}
		from, to, ok := strings.Cut(where, "..")
		if !ok {
			return cover{}, fmt.Errorf("%q is no stretch", text)
		}
		lo, hi, err := b.gapBounds(t, strings.TrimSpace(from), strings.TrimSpace(to), ask)
		if err != nil {
			return cover{}, fmt.Errorf("%q: %w", text, err)
		}
		return b.between(t, lo, hi)
	}
	name, route, routed := strings.Cut(name, " ")
	p := b.pieceNamed(name)
	if p < 0 || measured {
		return cover{}, fmt.Errorf("%q is no stretch", text)
	}
	if !routed {
		return cover{ends: slices.Clone(b.pieces[p].ends)}, nil
	}
	x, y, _ := strings.Cut(strings.TrimSpace(route), "-")
	e0, e1 := b.pieceEnd(p, x), b.pieceEnd(p, y)
	if e0 < 0 || e1 < 0 {
		return cover{}, fmt.Errorf("%q is no stretch", text)
	}
	return cover{ends: []int{e0, e1}}, nil
}

// between covers a track from lo to hi, on a ring through the start if hi is less.
func (b *builder) between(t int, lo, hi float64) (cover, error) {
	tr := b.tracks[t]
	if hi < lo-tiny {
		if !tr.closed {
			return cover{}, fmt.Errorf("%s: a stretch rises", tr.name)
		}
		c, _ := b.between(t, lo, tr.length)
		d, _ := b.between(t, 0, hi)
		return cover{append(c.spans, d.spans...), append(c.ends, d.ends...)}, nil
	}
	var c cover
	for _, r := range tr.runs {
		a, z := math.Max(lo, b.runs[r].s0), math.Min(hi, b.runs[r].s1)
		if z-a > tiny {
			c.spans = append(c.spans, span{r, a, z})
		}
	}
	for _, bd := range tr.bodies {
		if bd.at >= lo-tiny && bd.at+bd.length <= hi+tiny {
			ends := b.pieces[bd.piece].ends
			if k := b.pieces[bd.piece].kind; k == "crossing" {
				ends = bd.ends[:]
			}
			c.ends = append(c.ends, ends...)
		}
	}
	return c, nil
}

// insulatedOn lists where a track is cut in either rail for good.
func (b *builder) insulatedOn(t int) []float64 {
	tr := b.tracks[t]
	var out []float64
	for _, r := range tr.runs {
		for rail := range 2 {
			for _, c := range b.runs[r].cuts[rail] {
				if c.insulated {
					out = append(out, c.at)
				}
			}
		}
	}
	edges := []float64{0, tr.length}
	for _, bd := range tr.bodies {
		edges = append(edges, bd.at, bd.at+bd.length)
	}
	for _, at := range edges {
		s, err := b.trackSpot(t, math.Mod(at, tr.length+tiny/2))
		if err == nil && s.run < 0 && b.insulatedJoint(s.end) {
			out = append(out, at)
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(x, y float64) bool { return math.Abs(x-y) <= tiny })
}

func (l *Layout) insulatedJoint(e int) bool {
	j := l.ends[e].joint
	return j >= 0 && (l.joints[j].rails[0].insulated || l.joints[j].rails[1].insulated)
}

func (b *builder) gapBounds(t int, from, to string, ask *asking) (float64, float64, error) {
	if from == "gap" && to == "gap" {
		gaps := b.insulatedOn(t)
		if len(gaps) != 2 || b.tracks[t].closed {
			return 0, 0, fmt.Errorf("`gap .. gap` needs two gaps, there are %d", len(gaps))
		}
		return gaps[0], gaps[1], nil
	}
	if from == "gap" {
		hi, err := b.measure(t, to)
		return b.nearestGap(t, hi, -1, ask), hi, err
	}
	if to == "gap" {
		lo, err := b.measure(t, from)
		return lo, b.nearestGap(t, lo, 1, ask), err
	}
	return b.bounds(t, from, to)
}

// nearestGap walks from one bound to where the other one is: the first insulated
// gap, but not into what another block claims, or else the track's end.
func (b *builder) nearestGap(t int, from float64, dir float64, ask *asking) float64 {
	tr := b.tracks[t]
	away := func(x float64) float64 {
		d := dir * (x - from)
		if tr.closed && d < -tiny {
			d += tr.length
		}
		return d
	}
	best, at := math.Inf(1), 0.0
	for _, g := range b.insulatedOn(t) {
		if d := away(g); d > tiny && d < best {
			best, at = d, g
		}
	}
	limit, stop := math.Inf(1), 0.0
	if ask != nil {
		for _, c := range ask.claims[t] {
			edge := c.lo
			if dir < 0 {
				edge = c.hi
			}
			if d := away(edge); c.block != ask.block && d >= -tiny && d < limit {
				limit, stop = d, edge
			}
		}
	}
	switch {
	case best <= limit+tiny && best < math.Inf(1):
		return at
	case limit < math.Inf(1):
		return stop
	}
	stop = 0
	if dir > 0 {
		stop = tr.length
	}
	if ask != nil {
		ask.open = append(ask.open, place(tr.name, stop))
	}
	return stop
}

// railAt is a node of a rail and where it begins.
type railAt struct {
	node, rail int
	place      string
}

// coveredNodes are the rails that a cover takes in. Stubs of up to `less` beside
// its bounds are left out, as a gap may stand that far from where it was meant.
func (l *Layout) coveredNodes(c cover, less float64) []railAt {
	var out []railAt
	for _, s := range c.spans {
		a, z := s.a, s.b
		r := l.runs[s.run]
		if less > 0 {
			if z-a > 2*less {
				a, z = a+less, z-less
			} else {
				mid := (a + z) / 2
				a, z = mid-tiny, mid+tiny
			}
		}
		for rail := range 2 {
			from := r.s0
			for i, n := range r.nodes[rail] {
				to := r.s1
				if i < len(r.cuts[rail]) {
					to = r.cuts[rail][i].at
				}
				if math.Min(to, z)-math.Max(from, a) > tiny/2 {
					out = append(out, railAt{n, rail, place(l.tracks[r.track].name, math.Max(from, s.a))})
				}
				from = to
			}
		}
	}
	var done []int
	for _, e := range c.ends {
		p := l.ends[e].piece
		if slices.Contains(done, p) {
			continue
		}
		done = append(done, p)
		for i, pr := range l.pieces[p].rails {
			taken := pr.ends == nil || slices.ContainsFunc(c.ends, func(o int) bool {
				return l.ends[o].piece == p && slices.Contains(pr.ends, l.ends[o].name)
			})
			if taken {
				out = append(out, railAt{pr.node, i % 2, pieceplace(l.pieces[p].name)})
			}
		}
	}
	return out
}

// block is a block as meant.
type block struct {
	name     string
	cover    cover
	detector string
	trains   []string
	openEnds []string
}

func (b *builder) readBlocks() error {
	claims := map[int][]claim{}
	for _, e := range b.doc.sections["blocks"] {
		for _, text := range words(field(e.node, "covers")) {
			name, where, measured := strings.Cut(text, "@")
			t := b.trackNamed(strings.TrimSpace(name))
			from, to, _ := strings.Cut(where, "..")
			if t < 0 || strings.TrimSpace(from) == "gap" || strings.TrimSpace(to) == "gap" {
				continue
			}
			lo, hi := 0.0, b.tracks[t].length
			if measured {
				var err error
				if lo, hi, err = b.bounds(t, from, to); err != nil {
					return err
				}
			}
			claims[t] = append(claims[t], claim{e.name, lo, hi})
		}
	}
	for _, e := range b.doc.sections["blocks"] {
		f, err := b.doc.fields("blocks", "block", e)
		if err != nil {
			return err
		}
		bl := block{name: e.name, detector: f.text("detector"), trains: words(f.node("trains"))}
		ask := asking{block: e.name, claims: claims}
		for _, text := range words(f.node("covers")) {
			c, err := b.stretch(text, &ask)
			if err != nil {
				return fmt.Errorf("block %s: %w", e.name, err)
			}
			bl.cover.spans = append(bl.cover.spans, c.spans...)
			bl.cover.ends = append(bl.cover.ends, c.ends...)
		}
		bl.cover.merge()
		bl.openEnds = ask.open
		b.blocks = append(b.blocks, bl)
	}
	return nil
}

// merge makes one span of those that touch.
func (c *cover) merge() {
	slices.SortFunc(c.spans, func(x, y span) int {
		if x.run != y.run {
			return x.run - y.run
		}
		if x.a < y.a {
			return -1
		}
		return 1
	})
	var out []span
	for _, s := range c.spans {
		if n := len(out); n > 0 && out[n-1].run == s.run && s.a <= out[n-1].b+tiny {
			out[n-1].b = math.Max(out[n-1].b, s.b)
			continue
		}
		out = append(out, s)
	}
	c.spans = out
}
