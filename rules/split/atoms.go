package split

import (
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// atom is track that stays in one district.
type atom struct {
	spans  []int32
	pieces []layout.PieceID // track work
	blocks []int32          // as meant, rising
	open   bool             // more than a stub of it is in no block
	metres float64
}

// atoms are the track to be divided, and which of them each point is in, -1 for none.
type atoms struct {
	g    *ground
	list []atom
	of   []int32
}

// newAtoms joins what has to stay whole.
func newAtoms(g *ground, w wholes) *atoms {
	u := g.metal(func(int32) bool { return true })
	homes := g.keepBlocks(u)
	g.keepNamed(u, w, homes)
	g.keepWired(u)
	a := &atoms{g: g, of: make([]int32, g.points)}
	number := map[int32]int32{}
	for p := range a.of {
		a.of[p] = -1
		if !g.dividedPoint(int32(p)) {
			continue
		}
		root := u.of(int32(p))
		n, found := number[root]
		if !found {
			n = int32(len(a.list))
			number[root] = n
			a.list = append(a.list, atom{})
		}
		a.of[p] = n
	}
	a.fill(homes)
	return a
}

// dividedPoint reports whether a point is of track that is divided; those between cuts are.
func (g *ground) dividedPoint(p int32) bool { return int(p) >= len(g.inside) || g.inside[p] }

// keepBlocks keeps each block as meant in one piece; a stub of it beyond a cut may go with its neighbour. It
// gives a point of each block, -1 where no more than stubs of it are divided.
func (g *ground) keepBlocks(u *groups) []int32 {
	first := make([]int32, len(g.l.Blocks))
	for b := range first {
		first[b] = -1
	}
	join := func(b, point int32) {
		switch {
		case b < 0:
		case first[b] < 0:
			first[b] = point
		default:
			u.join(first[b], point)
		}
	}
	for i := range g.spans {
		s := &g.spans[i]
		if !g.dividedPoint(s.point) {
			continue
		}
		for _, c := range g.claims.onTrack[s.track] {
			if min(s.to, c.to)-max(s.from, c.from) > stub {
				join(c.block, s.point)
			}
		}
	}
	for i := range g.c.Ways {
		if w := &g.c.Ways[i]; w.Kind == circuit.WayThrough && g.inside[w.A] {
			join(g.claims.ofRoute(w.Piece, g.c.Spots[w.A].End, g.c.Spots[w.B].End), w.A)
		}
	}
	return first
}

// keepNamed joins neighbours of one use that is kept whole, and neighbouring blocks that are.
func (g *ground) keepNamed(u *groups, w wholes, homes []int32) {
	uses, named := g.usesOf(u, homes), map[int32]bool{}
	for b, point := range homes {
		if point >= 0 && w.block[b] {
			named[u.of(point)] = true
		}
	}
	type pair struct{ a, b int32 }
	var joins []pair
	for i := range g.seams {
		s := &g.seams[i]
		a, b := u.of(s.a), u.of(s.b)
		shared := slices.ContainsFunc(uses[a], func(use layout.Use) bool { return w.use[use] && slices.Contains(uses[b], use) })
		if shared || named[a] && named[b] {
			joins = append(joins, pair{a, b})
		}
	}
	for _, j := range joins {
		u.join(j.a, j.b)
	}
}

// usesOf are the uses of each piece of track: of its blocks, and of its tracks as far as they are in none.
func (g *ground) usesOf(u *groups, homes []int32) map[int32][]layout.Use {
	out := map[int32][]layout.Use{}
	for b, point := range homes {
		if use := g.l.Blocks[b].Use; point >= 0 && use != layout.UseUnsaid {
			out[u.of(point)] = append(out[u.of(point)], use)
		}
	}
	for i := range g.spans {
		s := &g.spans[i]
		if use := g.l.Tracks[s.track].Use; use != layout.UseUnsaid && len(g.claims.of(s.track, s.from, s.to)) == 0 {
			out[u.of(s.point)] = append(out[u.of(s.point)], use)
		}
	}
	return out
}

// keepWired joins what one device feeds: reversing sections, track behind one detector, in-line part, plug or changeover;
// and bonded rail, turntables with what they serve, and crossings whose frogs are metal.
func (g *ground) keepWired(u *groups) {
	bySource := map[int32]int32{}
	for p := range g.inside {
		s := g.sides.Source[g.sides.Of[p]]
		if s < 0 || !g.inside[p] {
			continue
		}
		switch g.c.Sources[s].Kind {
		case circuit.ReverserSource, circuit.ChangeoverSource, circuit.PlugSource:
			if first, found := bySource[s]; found {
				u.join(first, int32(p))
			} else {
				bySource[s] = int32(p)
			}
		}
	}
	type device struct {
		kind  layout.SourceKind
		index int32
	}
	byDevice := map[device]int32{}
	for f := range g.l.Feeders {
		spot := g.c.FeederSpot[f]
		if spot < 0 {
			continue
		}
		for _, tap := range g.l.Feeders[f].From {
			for _, s := range above(g.l, tap) {
				if s.Kind != layout.FromDetector && s.Kind != layout.FromInLine && s.Kind != layout.FromPlug {
					continue
				}
				d := device{s.Kind, s.Index}
				if first, found := byDevice[d]; found {
					u.join(first, spot)
				} else {
					byDevice[d] = spot
				}
			}
		}
	}
	for i := range g.l.Bonds {
		from, ok := g.pointAt(g.l.Bonds[i].From)
		to, fine := g.pointAt(g.l.Bonds[i].To)
		if ok && fine {
			u.join(from, to)
		}
	}
	for i := range g.c.Ways {
		if w := &g.c.Ways[i]; w.Kind == circuit.WayPit {
			u.join(w.A, w.B)
		}
	}
	for i := range g.l.Crossings {
		x := &g.l.Crossings[i]
		if x.Preset == layout.DeadFrogs {
			continue
		}
		for _, s := range g.c.EndSpot[x.Piece][1:] {
			u.join(g.c.EndSpot[x.Piece][0], s)
		}
	}
}

// pointAt is the point of a place on the track.
func (g *ground) pointAt(p layout.Place) (int32, bool) {
	if p.Piece < 0 {
		return -1, false
	}
	if piece := &g.l.Pieces[p.Piece]; piece.Kind == layout.TrackPiece && p.End < 0 {
		for _, i := range g.spanAt[piece.Index] {
			if s := &g.spans[i]; s.from <= p.At.Mid() && p.At.Mid() <= s.to {
				return s.point, true
			}
		}
		return -1, false
	}
	s := g.c.EndSpot[p.Piece][max(p.End, 0)]
	return s, s >= 0
}

// fill gathers what each atom has.
func (a *atoms) fill(homes []int32) {
	g := a.g
	bare := make([]float64, len(a.list)) // metres in no block
	for i := range g.spans {
		s := &g.spans[i]
		n := a.of[s.point]
		if n < 0 {
			continue
		}
		a.list[n].spans = append(a.list[n].spans, int32(i))
		a.list[n].metres += s.to - s.from
		rest := s.to - s.from
		for _, c := range g.claims.onTrack[s.track] {
			rest -= max(min(s.to, c.to)-max(s.from, c.from), 0)
		}
		bare[n] += max(rest, 0)
	}
	longest := make([]float64, len(g.l.Pieces))
	for i := range g.c.Ways {
		w := &g.c.Ways[i]
		if w.Kind != circuit.WayThrough || a.of[w.A] < 0 {
			continue
		}
		n := a.of[w.A]
		if !slices.Contains(a.list[n].pieces, w.Piece) {
			a.list[n].pieces = append(a.list[n].pieces, w.Piece)
		}
		if more := w.Length - longest[w.Piece]; more > 0 {
			longest[w.Piece] += more
			a.list[n].metres += more
		}
	}
	for b, point := range homes {
		if point >= 0 && a.of[point] >= 0 {
			n := a.of[point]
			a.list[n].blocks = append(a.list[n].blocks, int32(b))
		}
	}
	for n := range a.list {
		a.list[n].open = bare[n] > stub
	}
}

// name tells an atom for a reader.
func (a *atoms) name(n int32) string {
	x := &a.list[n]
	var words []string
	for _, b := range x.blocks {
		words = append(words, a.g.l.Blocks[b].Name)
	}
	switch len(words) {
	case 0:
	case 1:
		return "block " + words[0]
	default:
		return "the piece with blocks " + few(words)
	}
	for _, i := range x.spans {
		s := &a.g.spans[i]
		tr := &a.g.l.Tracks[s.track]
		text := tr.Name
		if s.from > 0 || s.to < tr.Length.Mid() {
			text += " @ " + quantity.FormatPlace(s.from) + " .. " + quantity.FormatPlace(s.to)
		}
		if k := len(words); k == 0 || words[k-1] != text {
			words = append(words, text)
		}
	}
	for _, p := range x.pieces {
		words = append(words, a.g.l.Pieces[p].Name)
	}
	return few(words)
}

// few lists words, but not all of many.
func few(words []string) string {
	if len(words) > 4 {
		words = append(words[:3:3], "and more")
	}
	return strings.Join(words, ", ")
}
