package reader

import (
	"cmp"
	"slices"
	"sort"

	"gapwise/netlist/layout"
)

// coverEntry is one stretch of one block on its way to being resolved.
type coverEntry struct {
	block   int32
	stretch layout.Stretch
	raw     rawStretch
}

// blocks makes the blocks: measured stretches first, so that a `gap` bound stays out of
// what another block claims between two measures.
func (r *reader) blocks() {
	r.gapsOn = r.gapsOnTracks()
	r.claims = make([][]claim, len(r.lay.Tracks))
	var covers []coverEntry
	for i, rec := range r.byThing[blockThing] {
		b := layout.Block{Entry: rec.entry(), Use: layout.Use(rec.word("use")), Detector: -1}
		if t, ok := get[text](rec, "detector"); ok {
			b.Detector, _ = r.lookup(detectorThing, rec.unit, t)
		}
		b.Trains = r.lookups(trainThing, rec.unit, value[[]text](rec, "trains"))
		r.lay.Blocks = append(r.lay.Blocks, b)
		for _, raw := range value[[]rawStretch](rec, "covers") {
			s, other, ok := r.stretch(rec.unit, raw)
			if other >= 0 {
				r.blamef(raw.text, "a block covers track, not blocks")
			}
			if !ok || other >= 0 || !r.coverable(s, raw) {
				continue
			}
			covers = append(covers, coverEntry{int32(i), s, raw})
			r.claim(s, int32(i), raw.text)
		}
	}
	r.twoBlocks(covers)
	for _, c := range covers {
		if c.raw.bounds == nil || r.gapBounds(&c.stretch, *c.raw.bounds, c.block) {
			b := &r.lay.Blocks[c.block]
			b.Covers = append(b.Covers, c.stretch)
		}
	}
}

// coverable reports a route of what belongs to one block as a whole.
func (r *reader) coverable(s layout.Stretch, raw rawStretch) bool {
	if s.RouteFrom < 0 || r.isPlainCrossing(s.Piece) {
		return true
	}
	r.blame(raw.text, problem{message: r.pieceName(s.Piece) + " belongs to one block as a whole", expected: raw.name.s})
	return false
}

// isPlainCrossing reports whether a piece is a crossing without slips, the only piece
// that may be split between blocks.
func (r *reader) isPlainCrossing(p layout.PieceID) bool {
	piece := &r.lay.Pieces[p]
	return piece.Kind == layout.CrossingPiece && r.lay.Crossings[piece.Index].Slip == layout.NoSlip
}

// claim notes the rail that a stretch takes between two measures.
func (r *reader) claim(s layout.Stretch, block int32, t text) {
	piece := &r.lay.Pieces[s.Piece]
	if piece.Kind != layout.TrackPiece || s.GapFrom || s.GapTo || !s.From.Known() || !s.To.Known() {
		return
	}
	tr := &r.lay.Tracks[piece.Index]
	c := claim{s.From.Mid(), s.To.Mid(), block, t}
	if tr.Closed && c.hi < c.lo {
		end := c
		end.hi, c.lo = tr.Length.Mid(), 0
		r.claims[piece.Index] = append(r.claims[piece.Index], end)
	}
	r.claims[piece.Index] = append(r.claims[piece.Index], c)
}

// taker is who has claimed a piece, or one route of a crossing.
type taker struct {
	block int32
	text  text
}

// routeKey is one route of a crossing; any other piece is taken as a whole, at route 0.
type routeKey struct {
	piece layout.PieceID
	from  int32
}

// twoBlocks reports rail and pieces that two blocks claim. A stretch over a whole body
// takes the piece; of a crossing, the route that lies on the track.
func (r *reader) twoBlocks(covers []coverEntry) {
	taken := map[routeKey]taker{}
	take := func(key routeKey, by taker) {
		was, again := taken[key]
		if !again {
			taken[key] = by
			return
		}
		if was.block == by.block {
			return
		}
		if by.text.pos.Before(was.text.pos) {
			was, by = by, was
		}
		r.blamef(by.text, "%s is in block %s already, at %s", r.routeName(key), r.lay.Blocks[was.block].Name, r.line(was.text.pos, by.text.pos))
	}
	for _, c := range covers {
		s, by := c.stretch, taker{c.block, c.raw.text}
		if r.lay.Pieces[s.Piece].Kind == layout.TrackPiece {
			continue
		}
		for _, key := range r.routesOf(s) {
			take(key, by)
		}
	}
	for t := range r.claims {
		slices.SortStableFunc(r.claims[t], func(a, b claim) int { return cmp.Compare(a.lo, b.lo) })
		r.twoClaims(int32(t))
		for _, c := range r.claims[t] {
			stands := r.lay.Tracks[t].Stands
			from := sort.Search(len(stands), func(i int) bool { return stands[i].At.Mid() >= c.lo-touching })
			for i := from; i < len(stands) && stands[i].At.Mid() <= c.hi; i++ {
				if s := &stands[i]; s.At.Mid()+s.Length.Mid() <= c.hi+touching {
					for _, key := range r.routesOf(layout.Stretch{Piece: s.Piece, RouteFrom: s.First, RouteTo: s.Second}) {
						take(key, taker{c.block, c.text})
					}
				}
			}
		}
	}
}

// routesOf are what a stretch takes of a piece: one route of a crossing, both when it is
// named whole, and any other piece as a whole.
func (r *reader) routesOf(s layout.Stretch) []routeKey {
	if !r.isPlainCrossing(s.Piece) {
		return []routeKey{{s.Piece, 0}}
	}
	if s.RouteFrom < 0 || s.Whole {
		return []routeKey{{s.Piece, 0}, {s.Piece, 3}}
	}
	if s.RouteFrom == 0 || s.RouteTo == 0 {
		return []routeKey{{s.Piece, 0}}
	}
	return []routeKey{{s.Piece, 3}}
}

func (r *reader) routeName(k routeKey) string {
	name := r.pieceName(k.piece)
	switch {
	case !r.isPlainCrossing(k.piece):
		return name
	case k.from == 0:
		return name + " a-c"
	default:
		return name + " d-b"
	}
}

// twoClaims reports rail of one track that two blocks claim between measures.
func (r *reader) twoClaims(t int32) {
	far := -1 // the claim that reaches farthest so far
	claims := r.claims[t]
	for i := range claims {
		if far >= 0 && claims[far].block != claims[i].block && claims[i].lo < claims[far].hi-touching {
			a, b := claims[far], claims[i]
			if b.text.pos.Before(a.text.pos) {
				a, b = b, a
			}
			r.blamef(b.text, "%s overlaps block %s, at %s", b.text.tidy(), r.lay.Blocks[a.block].Name, r.line(a.text.pos, b.text.pos))
		}
		if far < 0 || claims[i].hi > claims[far].hi {
			far = i
		}
	}
}
