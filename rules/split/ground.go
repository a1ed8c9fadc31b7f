package split

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
)

var noPos source.Pos

// ground is the track as it can be divided. Points are the circuit's spots, and one more for each stretch
// between two places where a length of track may be cut.
type ground struct {
	l      *layout.Layout
	c      *circuit.Circuit
	t      *districts.Trace
	claims *claims
	sides  *districts.Sides
	// inside tells, by spot, what is divided: track of boosters, not of cabs and programming.
	inside []bool

	points int
	spans  []span
	places []Place
	left   []LeftOut
	seams  []seam
	halves map[int32]bool // ways that are gaps in one rail, which may be cut in the other
	whole  [][2]int32     // points at the ends of track, joints and routes that nothing parts
	// spanAt lists the spans of each track, rising.
	spanAt [][]int32
}

// span is a stretch of track that no cut divides.
type span struct {
	way, track int32
	from, to   float64
	point      int32
}

// seam is where the track may part: an insulated gap (Place -1), or a place where it may be cut.
type seam struct {
	a, b  int32 // points
	place int32
	way   int32
}

// stretch is plain track between track work: names are what it meets at either end, "" for nothing beside which a cut could be
// wanted, and blocks those that cover it.
type stretch struct {
	from, to float64
	names    [2]string
	blocks   [2][]int32
}

func newGround(l *layout.Layout, t *districts.Trace) *ground {
	g := &ground{l: l, c: t.C, t: t, claims: newClaims(l), sides: t.Sides(), halves: map[int32]bool{}}
	g.findInside()
	g.places, g.left = findPlaces(g)
	g.points = len(g.c.Spots)
	g.spanAt = make([][]int32, len(l.Tracks))
	g.lay()
	for i := range g.spanAt {
		slices.SortStableFunc(g.spanAt[i], func(x, y int32) int { return cmp.Compare(g.spans[x].from, g.spans[y].from) })
	}
	for i := range g.c.Ways {
		if w := &g.c.Ways[i]; w.Kind != circuit.WayTrack && w.Kind != circuit.WayPit && !g.parts(int32(i)) && !g.halves[int32(i)] {
			g.whole = append(g.whole, [2]int32{w.A, w.B})
		}
	}
	return g
}

// metal joins the points that rail joins when some places are cut.
func (g *ground) metal(cut func(place int32) bool) *groups {
	joined := newGroups(g.points)
	for _, w := range g.whole {
		joined.join(w[0], w[1])
	}
	for i := range g.seams {
		if s := &g.seams[i]; s.place >= 0 && !cut(s.place) {
			joined.join(s.a, s.b)
		}
	}
	return joined
}

// findInside tells what hangs from boosters for running trains, or from nothing yet.
func (g *ground) findInside() {
	g.inside = make([]bool, len(g.c.Spots))
	divided := make([]bool, len(g.c.Sources))
	for s := range g.c.Sources {
		heads, _ := g.t.Heads(int32(s))
		for _, h := range heads {
			divided[s] = divided[s] || h.Source >= 0 && g.drives(h.Source)
		}
	}
	for i := range g.inside {
		s := g.sides.Source[g.sides.Of[i]]
		g.inside[i] = s < 0 || divided[s]
	}
}

// drives reports whether a source is a booster whose track is to be divided.
func (g *ground) drives(s int32) bool {
	src := &g.c.Sources[s]
	if src.Kind != circuit.BoosterSource {
		return false
	}
	b := &g.l.Boosters[src.Ref]
	return b.Use != layout.UseProgramming && !b.Automatic
}

// parts reports whether a way parts districts as it is: an insulated gap in both rails, or in one beside a
// declared common where that is sound.
func (g *ground) parts(way int32) bool {
	w := &g.c.Ways[way]
	if w.Kind != circuit.WayCut {
		return false
	}
	both := w.Metal[0] == circuit.Open && w.Metal[1] == circuit.Open
	for _, k := range w.Gaps {
		both = both && k >= 0 && g.l.Gaps[k].Kind == layout.Insulated
	}
	return both || g.t.DeclaredCommon(way)
}

// lay makes spans of the lengths of track, and the seams.
func (g *ground) lay() {
	byTrack := make([][]int32, len(g.l.Tracks))
	for i := range g.places {
		byTrack[g.places[i].Track] = append(byTrack[g.places[i].Track], int32(i))
	}
	for i := range g.c.Ways {
		w := &g.c.Ways[i]
		switch {
		case g.parts(int32(i)):
			g.seams = append(g.seams, seam{w.A, w.B, -1, int32(i)})
		case w.Kind == circuit.WayCut:
			if k := g.half(int32(i)); k >= 0 {
				g.seams = append(g.seams, seam{w.A, w.B, k, int32(i)})
				g.halves[int32(i)] = true
			}
		case w.Kind == circuit.WayTrack:
			track := g.l.Pieces[w.Piece].Index
			a, b := w.A, w.B
			if g.c.Spots[a].At > g.c.Spots[b].At {
				a, b = b, a
			}
			g.layWay(int32(i), track, a, b, byTrack[track])
		}
	}
}

func (g *ground) layWay(way, track, a, b int32, places []int32) {
	from, to := g.c.Spots[a].At, g.c.Spots[b].At
	var here []int32
	for _, p := range places {
		if at := g.places[p].At; from < at && at < to {
			here = append(here, p)
		}
	}
	slices.SortFunc(here, func(x, y int32) int { return cmp.Compare(g.places[x].At, g.places[y].At) })
	if len(here) == 0 {
		g.span(way, track, from, to, a)
		g.whole = append(g.whole, [2]int32{a, b})
		return
	}
	point := a
	for n, p := range here {
		at := g.places[p].At
		g.span(way, track, from, at, point)
		next := b
		if n < len(here)-1 {
			next = int32(g.points)
			g.points++
		}
		g.seams = append(g.seams, seam{point, next, p, way})
		from, point = at, next
	}
	g.span(way, track, from, to, b)
}

func (g *ground) span(way, track int32, from, to float64, point int32) {
	g.spanAt[track] = append(g.spanAt[track], int32(len(g.spans)))
	g.spans = append(g.spans, span{way, track, from, to, point})
}

// stretches lists the plain track of a track, between its ends and the bodies that stand on it.
func (g *ground) stretches(t int32) []stretch {
	tr := &g.l.Tracks[t]
	length := tr.Length.Mid()
	at := stretch{to: length}
	at.names[0], at.blocks[0] = g.meets(tr, 0)
	var out []stretch
	for i := range tr.Stands {
		s := &tr.Stands[i]
		name, blocks := g.l.Pieces[s.Piece].Name, g.blocksOf(s.Piece)
		at.to, at.names[1], at.blocks[1] = s.At.Mid(), name, blocks
		out = append(out, at)
		at = stretch{from: s.At.Mid() + s.Length.Mid(), to: length}
		at.names[0], at.blocks[0] = name, blocks
		if over := at.from - length; tr.Closed && over > 0 { // the body passes the ring's start
			out[0].from, out[0].names[0], out[0].blocks[0] = over, name, blocks
			return out
		}
	}
	at.names[1], at.blocks[1] = g.meets(tr, 1)
	return append(out, at)
}

// meets names what a track meets at an end, with the blocks that cover it: track work, or, once for each joint, track of
// another block. A turntable keeps its tracks.
func (g *ground) meets(tr *layout.Track, end int) (name string, blocks []int32) {
	j := g.l.Pieces[tr.Piece].Ends[end].Joint
	if j.Piece < 0 {
		return "", nil
	}
	p := &g.l.Pieces[j.Piece]
	switch p.Kind {
	case layout.TurntablePiece, layout.TransferTablePiece:
		return "", nil
	case layout.TrackPiece:
		if j.Piece < tr.Piece {
			return "", nil
		}
		other := &g.l.Tracks[p.Index]
		from, to := 0.0, clearance
		if j.End == 1 {
			from, to = other.Length.Mid()-clearance, other.Length.Mid()
		}
		if blocks = g.claims.of(p.Index, from, to); len(blocks) == 0 {
			return "", nil
		}
		return p.Name, blocks
	default:
		return p.Name, g.blocksOf(j.Piece)
	}
}

// blocksOf are the blocks that cover a piece of track work, or routes of it.
func (g *ground) blocksOf(piece layout.PieceID) []int32 {
	var out []int32
	if b := g.claims.onPiece[piece]; b >= 0 {
		out = append(out, b)
	}
	for from := range g.l.Pieces[piece].Ends {
		for to := range from {
			if b, found := g.claims.onRoute[routeOf{piece, int32(from), int32(to)}]; found && !slices.Contains(out, b) {
				out = append(out, b)
			}
		}
	}
	return out
}
