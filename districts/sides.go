package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Sides are the parts of the track that hang from one source each: joined by metal, with
// every missing gap taken as cut and every declared common rail as parted. Of gives each
// spot's side, named by its least spot; Source, by side, what feeds it, -1 for nothing.
type Sides struct {
	Of     []int32
	Source []int32
}

// Sides parts the track by what feeds it. A feeder that is named as a stray is no
// evidence; the bridge of a turntable or transfer table hangs from what the layout says.
func (t *Trace) Sides() *Sides {
	u := newUnionFind(len(t.C.Spots))
	for i := range t.C.Ways {
		if hasMetal(&t.C.Ways[i]) && !t.Cut[i] && !t.common(int32(i)) {
			u.union(t.C.Ways[i].A, t.C.Ways[i].B)
		}
	}
	s := &Sides{Source: make([]int32, len(t.C.Spots))}
	for i := range s.Source {
		s.Source[i] = -1
	}
	t.feedSides(s, u)
	for _, w := range t.feedingBonds() {
		a, b := u.find(w.spots[0]), u.find(w.spots[1])
		x, y := s.Source[a], s.Source[b]
		if x < 0 || y < 0 || x == y {
			u.union(a, b)
			s.Source[u.find(a)] = max(x, y)
		}
	}
	s.Of = u.flatten()
	return s
}

// feedSides gives each side the source of its first feeder, or of its bridge.
func (t *Trace) feedSides(s *Sides, u *unionFind) {
	stray := map[int32]bool{}
	for i := range t.Ties {
		stray[t.Ties[i].Feeder] = true
	}
	for i := range t.Feeds {
		f := &t.Feeds[i]
		if f.Spot < 0 || f.Source() < 0 || stray[f.Feeder] {
			continue
		}
		if side := u.find(f.Spot); s.Source[side] < 0 {
			s.Source[side] = f.Source()
		}
	}
	for i := range t.C.Spots {
		spot := &t.C.Spots[i]
		if spot.End >= 0 {
			continue
		}
		switch t.C.Layout.Pieces[spot.Piece].Kind {
		case layout.TurntablePiece, layout.TransferTablePiece:
			s.Source[u.find(int32(i))], _ = t.C.SourceAbove(t.bridgeFrom(spot.Piece))
		}
	}
}

// Meeting is a place where wheels lead from track of one source to track of another: a gap,
// the edge of a pit, or a gap in one rail beside a declared common. Sources are those beside
// the way's A and B.
type Meeting struct {
	Way     int32
	Sources [2]int32
	Common  bool // one rail goes on there, declared common
}

// Meetings lists, by way, where the track of two sources meets. Where a gap is missing
// between them it does not: the tie says so.
func (t *Trace) Meetings() []Meeting {
	sides := t.Sides()
	var out []Meeting
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		common := isHalfGap(w) && t.common(int32(i))
		if t.Cut[i] || (!isGap(w) && !common && w.Kind != circuit.WayPit) {
			continue
		}
		x, y := sides.Source[sides.Of[w.A]], sides.Source[sides.Of[w.B]]
		if x >= 0 && y >= 0 && x != y {
			out = append(out, Meeting{Way: int32(i), Sources: [2]int32{x, y}, Common: common})
		}
	}
	return out
}

// CommonAt reports whether `common-rail` names a rail at a spot.
func (t *Trace) CommonAt(spot int32, rail layout.Rail) bool { return commonAt(t.C, spot, rail) }
