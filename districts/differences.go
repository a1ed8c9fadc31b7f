package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Difference is one place where the blocks as wired differ from the blocks as meant.
type Difference struct {
	// Missing: blocks Blocks[0] and Blocks[1] are meant to part at At on Track, and
	// no insulated gap does.
	Missing bool
	Blocks  [2]int32
	Track   int32
	At      float64
	// Gap is the way of an insulated gap that cuts Blocks[0] in two where nothing is
	// meant to part; -1 when only a gap is missing. With Missing set too, the gap that
	// should be at At is at this way.
	Gap int32
}

// differences compares blocks as wired with blocks as meant, gap by gap.
func differences(c *circuit.Circuit, meant *Meant, z *Zones, ways *adjacency) []Difference {
	missing := missingGaps(c, meant, z, insulatedByTrack(c.Layout), ways)
	extra := extraGaps(c, meant, z)
	used := make([]bool, len(extra))
	var out []Difference
	for _, m := range missing {
		m.Gap = -1
		best := -1
		for i, x := range extra {
			if used[i] || x.Track != m.Track || (x.Blocks[0] != m.Blocks[0] && x.Blocks[0] != m.Blocks[1]) {
				continue
			}
			if best < 0 || abs(x.At-m.At) < abs(extra[best].At-m.At) {
				best = i
			}
		}
		if best >= 0 {
			used[best] = true
			m.Gap = extra[best].Gap
		}
		out = append(out, m)
	}
	for i, x := range extra {
		if !used[i] {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(x, y Difference) int {
		return cmp.Or(cmp.Compare(x.Track, y.Track), cmp.Compare(x.At, y.At), cmp.Compare(x.Gap, y.Gap))
	})
	return out
}

// missingGaps finds, along every track and at every joint, where two blocks are meant to
// meet inside one zone.
func missingGaps(c *circuit.Circuit, meant *Meant, z *Zones, gaps [][]float64, ways *adjacency) []Difference {
	var out []Difference
	for t := range c.Layout.Tracks {
		for _, b := range bounds(meant.byTrack[t]) {
			if b.blocks[0] == b.blocks[1] {
				continue
			}
			before, after := spotsAround(c, int32(t), b.at)
			if before < 0 || after < 0 || z.Of[before] != z.Of[after] {
				continue
			}
			if gapNear(gaps[t], b.at) {
				continue
			}
			out = append(out, Difference{Missing: true, Blocks: b.blocks, Track: int32(t), At: b.at})
		}
	}
	for i := range c.Ways {
		w := &c.Ways[i]
		if w.Kind != circuit.WayJoint || z.Of[w.A] != z.Of[w.B] {
			continue
		}
		a, b := meant.sideBlock(c, w.A), meant.sideBlock(c, w.B)
		if a < 0 || b < 0 || a == b {
			continue
		}
		track, at := int32(-1), 0.0
		for _, s := range [2]int32{w.A, w.B} {
			if p := &c.Layout.Pieces[c.Spots[s].Piece]; p.Kind == layout.TrackPiece {
				track, at = p.Index, c.Spots[s].At
			}
		}
		if (track >= 0 && gapNear(gaps[track], at)) || gapBeyond(c, ways, w.A, int32(i), stub) || gapBeyond(c, ways, w.B, int32(i), stub) {
			continue
		}
		out = append(out, Difference{Missing: true, Blocks: [2]int32{a, b}, Track: track, At: at})
	}
	return out
}

// gapBeyond reports whether an insulated gap stands within some metres of a spot, walking
// away from a way along plain track.
func gapBeyond(c *circuit.Circuit, ways *adjacency, spot, from int32, metres float64) bool {
	for range c.Ways {
		next := int32(-1)
		for _, k := range ways.of(spot) {
			w := &c.Ways[k]
			switch {
			case k == from || (w.Kind != circuit.WayTrack && w.Kind != circuit.WayCut):
			case w.Kind == circuit.WayCut && insulatedRails(c, w) > 0:
				return true
			case w.Length <= metres:
				next = k
			}
		}
		if next < 0 {
			return false
		}
		metres -= c.Ways[next].Length
		spot, from = c.Ways[next].A+c.Ways[next].B-spot, next
	}
	return false
}

// sideBlock is the block just inside the piece a spot belongs to.
func (m *Meant) sideBlock(c *circuit.Circuit, spot int32) int32 {
	s := &c.Spots[spot]
	p := &m.l.Pieces[s.Piece]
	if p.Kind == layout.TrackPiece {
		length := m.l.Tracks[p.Index].Length.Mid()
		at := min(max(s.At, 0.001), length-0.001)
		return m.trackBlock(p.Index, at)
	}
	if bs := m.atSpot(c, spot); len(bs) > 0 {
		return bs[0]
	}
	return -1
}

// bound is a reading of a track where one block is meant to end and another to begin.
type bound struct {
	at     float64
	blocks [2]int32
}

// bounds lists where the claims of a track change over.
func bounds(claims []claim) []bound {
	var out []bound
	for _, x := range claims {
		for _, y := range claims {
			if x.block != y.block && abs(x.to-y.from) < 1e-6 {
				out = append(out, bound{x.to, [2]int32{x.block, y.block}})
			}
		}
	}
	slices.SortStableFunc(out, func(x, y bound) int { return cmp.Compare(x.at, y.at) })
	return out
}

// spotsAround gives the last spot at or before a reading less a stub, and the first at or
// after it plus one, within the same track; -1 where there is none. Where the stub
// reaches past the track's end, its end spot serves.
func spotsAround(c *circuit.Circuit, track int32, at float64) (before, after int32) {
	before, after = -1, -1
	for _, s := range c.TrackSpots[track] {
		if c.Spots[s].At <= at-stub || before < 0 {
			before = s
		}
		if after < 0 && c.Spots[s].At >= at+stub {
			after = s
		}
	}
	if n := len(c.TrackSpots[track]); after < 0 && n > 0 {
		after = c.TrackSpots[track][n-1]
	}
	return before, after
}

// insulatedByTrack lists where insulated gaps stand on each track, its ends included.
func insulatedByTrack(l *layout.Layout) [][]float64 {
	out := make([][]float64, len(l.Tracks))
	for i := range l.Gaps {
		g := &l.Gaps[i]
		if g.Kind != layout.Insulated || g.Place.Piece < 0 {
			continue
		}
		p := &l.Pieces[g.Place.Piece]
		if p.Kind != layout.TrackPiece {
			continue
		}
		at := g.Place.At.Mid()
		switch g.Place.End {
		case 0:
			at = 0
		case 1:
			at = l.Tracks[p.Index].Length.Mid()
		}
		out[p.Index] = append(out[p.Index], at)
	}
	return out
}

// gapNear reports whether one of the gaps of a track stands within a stub of a reading.
func gapNear(gaps []float64, at float64) bool {
	return slices.ContainsFunc(gaps, func(g float64) bool { return abs(g-at) <= stub })
}

// extraGaps finds insulated gaps that cut a block in two.
func extraGaps(c *circuit.Circuit, meant *Meant, z *Zones) []Difference {
	var out []Difference
	for i := range c.Ways {
		w := &c.Ways[i]
		if w.Kind != circuit.WayCut || !partsBlock(c, meant, w) {
			continue
		}
		s, beyond := &c.Spots[w.A], &c.Spots[w.B]
		if c.Layout.Pieces[s.Piece].Kind != layout.TrackPiece {
			s, beyond = beyond, s
		}
		p := &c.Layout.Pieces[s.Piece]
		if p.Kind != layout.TrackPiece || z.Of[w.A] == z.Of[w.B] {
			continue
		}
		before, after := meant.blockAround(c, s, p, -stub), meant.blockAround(c, s, p, stub)
		if beyond.Piece != s.Piece {
			before, after = meant.sideBlock(c, w.A), meant.sideBlock(c, w.B)
			if standsOn(c.Layout, beyond.Piece) == s.Piece { // a block that covers the track covers what stands on it
				before, after = meant.trackBlock(p.Index, s.At-0.001), meant.trackBlock(p.Index, s.At+0.001)
			}
			if frogWithLegs(c.Layout, s.Piece) || frogWithLegs(c.Layout, beyond.Piece) {
				continue
			}
		}
		if before < 0 || before != after {
			continue
		}
		out = append(out, Difference{Blocks: [2]int32{before, before}, Track: p.Index, At: s.At, Gap: int32(i)})
	}
	return out
}

// blockAround is the block some metres along a track from a spot; where the track ends before, the one of what it meets there. A gap
// beside track work whose frog is one with its legs parts that frog, and no block: there is none then.
func (m *Meant) blockAround(c *circuit.Circuit, s *circuit.Spot, p *layout.Piece, by float64) int32 {
	at, end := s.At+by, 0
	switch length := m.l.Tracks[p.Index].Length.Mid(); {
	case at > length && by > 0:
		end = 1
	case at >= 0:
		return m.trackBlock(p.Index, at)
	}
	if m.l.Tracks[p.Index].Closed || p.Ends[end].Dead != layout.Joined || p.Ends[end].Joint.End < 0 {
		return -1
	}
	other := p.Ends[end].Joint.Piece
	beyond := c.EndSpot[other][p.Ends[end].Joint.End]
	if beyond < 0 || frogWithLegs(m.l, other) {
		return -1
	}
	return m.sideBlock(c, beyond)
}

// standsOn is the track that a turnout stands on, -1 for none.
func standsOn(l *layout.Layout, piece layout.PieceID) layout.PieceID {
	if p := &l.Pieces[piece]; p.Kind == layout.TurnoutPiece {
		return l.Turnouts[p.Index].OnTrack
	}
	return -1
}

// frogWithLegs reports whether a piece has a metal frog that is one with the rails of its legs, by itself.
func frogWithLegs(l *layout.Layout, piece layout.PieceID) bool {
	switch p := &l.Pieces[piece]; p.Kind {
	case layout.TurnoutPiece:
		w := &l.Turnouts[p.Index].Wiring
		return w.FrogMetal && !w.IsolatedHeel
	case layout.CrossingPiece:
		return l.Crossings[p.Index].Preset == layout.JoinedFrogs
	default:
		return false
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
