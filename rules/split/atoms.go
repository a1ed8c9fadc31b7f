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
