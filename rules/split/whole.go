package split

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

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
