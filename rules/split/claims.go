package split

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// claim is a stretch of a track that a block as meant covers, in metres of its ruler.
type claim struct {
	from, to float64
	block    int32
}

// claims answer which block as meant covers what.
type claims struct {
	onTrack [][]claim // by track, rising
	onPiece []int32   // by piece, -1 for none
	onRoute map[routeOf]int32
}

type routeOf struct {
	piece    layout.PieceID
	from, to int32
}

func newClaims(l *layout.Layout) *claims {
	k := &claims{onTrack: make([][]claim, len(l.Tracks)), onPiece: make([]int32, len(l.Pieces)), onRoute: map[routeOf]int32{}}
	for i := range k.onPiece {
		k.onPiece[i] = -1
	}
	for b := range l.Blocks {
		for i := range l.Blocks[b].Covers {
			k.add(l, int32(b), &l.Blocks[b].Covers[i])
		}
	}
	k.addBodies(l)
	for t := range k.onTrack {
		slices.SortStableFunc(k.onTrack[t], func(x, y claim) int {
			return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to), cmp.Compare(x.block, y.block))
		})
	}
	return k
}

func (k *claims) add(l *layout.Layout, block int32, s *layout.Stretch) {
	if s.Piece < 0 {
		return
	}
	p := &l.Pieces[s.Piece]
	switch {
	case p.Kind != layout.TrackPiece && s.RouteFrom >= 0 && s.RouteTo >= 0:
		k.onRoute[routeOf{s.Piece, s.RouteFrom, s.RouteTo}] = block
		k.onRoute[routeOf{s.Piece, s.RouteTo, s.RouteFrom}] = block
	case p.Kind != layout.TrackPiece:
		if k.onPiece[s.Piece] < 0 {
			k.onPiece[s.Piece] = block
		}
	default:
		length := l.Tracks[p.Index].Length.Mid()
		from, to := s.From.Mid(), s.To.Mid()
		if s.Whole {
			from, to = 0, length
		}
		if to < from { // on a ring, over its start
			k.onTrack[p.Index] = append(k.onTrack[p.Index], claim{from, length, block})
			from = 0
		}
		k.onTrack[p.Index] = append(k.onTrack[p.Index], claim{from, to, block})
	}
}

// addBodies gives track work that stands on a track to the block whose stretch goes over it.
func (k *claims) addBodies(l *layout.Layout) {
	for t := range l.Tracks {
		for i := range l.Tracks[t].Stands {
			s := &l.Tracks[t].Stands[i]
			for _, c := range k.onTrack[t] {
				if k.onPiece[s.Piece] < 0 && c.from <= s.At.Mid()+touching && s.At.Mid()+s.Length.Mid() <= c.to+touching {
					k.onPiece[s.Piece] = c.block
				}
			}
		}
	}
}

// ofRoute is the block that covers a route through track work, -1 for none.
func (k *claims) ofRoute(piece layout.PieceID, from, to int32) int32 {
	if b, found := k.onRoute[routeOf{piece, from, to}]; found {
		return b
	}
	return k.onPiece[piece]
}

// of lists the blocks that cover more than a stub of a stretch of track, or most of a short one.
func (k *claims) of(track int32, from, to float64) []int32 {
	var out []int32
	for _, c := range k.onTrack[track] {
		if covered := min(to, c.to) - max(from, c.from); covered > min(stub, (to-from)/2) && !slices.Contains(out, c.block) {
			out = append(out, c.block)
		}
	}
	return out
}
