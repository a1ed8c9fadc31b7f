package difference

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/layout"
)

// matchRings lays a closed ring of one layout on what it became in the other: a ring of more or fewer tracks, or a
// way that comes back to itself through track work that the first does not have, or that stands on its track.
func (d *Difference) matchRings(from, to *side, lay func(a, b []placed, spans [2]float64)) {
	for _, c := range from.chains {
		length, known := from.length(c.links)
		if !c.ring || !known || length <= 0 || !from.looseChain(c.links) || to.hasRingLike(from, c) {
			continue
		}
		w := &circuit{through: *newThrough(from, to, c.links), ring: from.ruler(c.links), items: from.items(from.ruler(c.links))}
		w.search()
		if w.best != nil {
			joinRings(w.ring, w.best, [2]float64{length, w.total}, lay)
		}
	}
}

// hasRingLike reports whether a side has a ring of as many tracks as another's, with its length or one of its names:
// it is found by those.
func (s *side) hasRingLike(from *side, c chain) bool {
	length, _ := from.length(c.links)
	names := namesOf(from, c.links)
	return slices.ContainsFunc(s.chains, func(x chain) bool {
		if !x.ring || len(x.links) != len(c.links) || !s.looseChain(x.links) {
			return false
		}
		metres, known := s.length(x.links)
		return known && math.Abs(metres-length) < sameTrack ||
			slices.ContainsFunc(x.links, func(k link) bool { return names[s.l.Tracks[k.track].Name] })
	})
}

// circuit searches the way round that fits a ring best.
type circuit struct {
	through
	ring  []placed
	items []item // of the ring
	first int32  // chain that the way began with
	most  int    // tries from there, with those before
	taken int    // ways round that were held against the ring
	total float64
	score int
}

// mostSteps bounds the steps that are tried for one ring, from whatever chain.
const mostSteps = 16 * mostWays

// search tries the ways round from every chain; each is found from its first chain only.
func (w *circuit) search() {
	for i, c := range w.to.chains {
		if !w.to.looseChain(c.links) {
			continue
		}
		w.first, w.most = int32(i), min(w.tries+mostWays, mostSteps)
		way := w.to.ruler(c.links)
		metres, known := w.to.length(c.links)
		switch {
		case !known:
		case c.ring:
			w.take(way, metres)
		default:
			w.goOn(c.ends[1].at, way, metres, map[layout.PieceID]bool{})
		}
	}
}

// goOn walks on through track work from the end of it that a way came to.
func (w *circuit) goOn(at layout.EndRef, way []placed, metres float64, seen map[layout.PieceID]bool) {
	if at.Piece < 0 || !w.passes(at.Piece) || seen[at.Piece] || w.tries >= w.most {
		return
	}
	w.tries++
	seen[at.Piece] = true
	for _, out := range w.to.routes(at) {
		next := w.to.l.Pieces[out.Piece].Ends[out.End].Joint
		sum := metres + w.to.body(out.Piece)
		switch {
		case next.Piece < 0:
		case !w.to.isTrack(next.Piece):
			w.goOn(next, way, sum, seen)
		case w.to.chainOf[w.to.l.Pieces[next.Piece].Index] == w.first:
			if k := way[0]; w.to.l.Tracks[k.track].Piece == next.Piece && k.backwards == (next.End == 1) {
				w.take(way, sum)
			}
		case w.to.chainOf[w.to.l.Pieces[next.Piece].Index] > w.first:
			c := w.to.chainFrom(next)
			m, known := w.to.length(c.links)
			if !known || c.ring || !w.to.looseChain(c.links) {
				continue
			}
			w.goOn(c.ends[1].at, append(slices.Clip(way), moved(w.to.ruler(c.links), sum)...), sum+m, seen)
		}
	}
	delete(seen, at.Piece)
}

// take keeps a way round if more of the ring is on it, or as much and its length is nearer.
func (w *circuit) take(way []placed, metres float64) {
	off := math.Abs(metres - w.length)
	if off > nearLength && !w.named(way) || w.taken >= mostWays {
		return
	}
	w.taken++
	for _, one := range [2][]placed{way, backwards(way, metres)} {
		shift, score := turn(w.items, w.to.items(one), max(metres, w.length))
		if w.best == nil || score > w.score || score == w.score && off < w.off-sameTrack {
			w.best, w.total, w.score, w.off = moved(one, shift), metres, score, off
		}
	}
}

// moved is a row of tracks farther along a ruler.
func moved(ps []placed, by float64) []placed {
	out := slices.Clone(ps)
	for i := range out {
		out[i].at += by
	}
	return out
}

// backwards is a way of so many metres walked the other way.
func backwards(way []placed, metres float64) []placed {
	out := make([]placed, len(way))
	for i, k := range way {
		k.at, k.backwards = metres-k.at-k.length, !k.backwards
		out[len(way)-1-i] = k
	}
	return out
}

// turn is by how much a way round is turned against a ring, so that most of what stands on both falls together, and how
// much that is.
func turn(ring, way []item, round float64) (shift float64, score int) {
	type vote struct {
		shift  float64
		weight int
	}
	there := map[string][]item{}
	for _, x := range ring {
		there[x.what] = append(there[x.what], x)
	}
	var votes []vote
	for _, y := range way {
		for _, x := range there[y.what] {
			votes = append(votes, vote{onRound(x.at-y.at, round), x.weight})
		}
	}
	slices.SortFunc(votes, func(x, y vote) int { return cmp.Compare(x.shift, y.shift) })
	sum, j := 0, 0
	for i := range votes {
		for ; j < len(votes) && votes[j].shift <= votes[i].shift+sameTrack; j++ {
			sum += votes[j].weight
		}
		if sum > score {
			shift, score = votes[i].shift, sum
		}
		sum -= votes[i].weight
	}
	return shift, score
}

// onRound is a reading of a ruler that comes back to its start.
func onRound(at, round float64) float64 {
	at -= math.Floor(at/round) * round
	if round-at < samePlace {
		return max(0, at-round)
	}
	return at
}

// joinRings lays two rings on one another, from a bound that both have where there is one: then each part has a line of its own.
func joinRings(ring, way []placed, spans [2]float64, lay func(a, b []placed, spans [2]float64)) {
	round := max(spans[0], spans[1])
	if len(ring) > 1 && len(way) > 1 {
		for i, x := range ring {
			for j, y := range way {
				if off := onRound(y.at-x.at+sameTrack/2, round); off < sameTrack {
					lay(begunAt(ring, i, round), begunAt(way, j, round), [2]float64{})
					return
				}
			}
		}
	}
	lay(ring, way, spans)
}

// begunAt is a ring read from the start of one of its tracks.
func begunAt(ps []placed, n int, round float64) []placed {
	out := make([]placed, 0, len(ps))
	for i := range ps {
		k := ps[(n+i)%len(ps)]
		k.at = onRound(k.at-ps[n].at, round)
		out = append(out, k)
	}
	return out
}
