package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// claim is a stretch of a track that a block covers, in metres of the ruler.
type claim struct {
	from, to float64
	block    int32
}

// Meant is the layout's blocks and districts as the owner means them, ready to be
// asked by place.
type Meant struct {
	l          *layout.Layout
	byTrack    [][]claim // by track, rising; a ring's wrapped stretch is two
	byPiece    [][]int32 // blocks that cover a whole piece
	byRoute    map[route]int32
	DistrictOf []int32 // by block: Layout.Districts index, -1 none
	SourceOf   []int32 // by block: circuit source of its district, -1 none
}

type route struct {
	piece layout.PieceID
	from  int32
	to    int32
}

func newMeant(c *circuit.Circuit) *Meant {
	l := c.Layout
	m := &Meant{l: l, byTrack: make([][]claim, len(l.Tracks)), byPiece: make([][]int32, len(l.Pieces)), byRoute: map[route]int32{}}
	m.DistrictOf, m.SourceOf = make([]int32, len(l.Blocks)), make([]int32, len(l.Blocks))
	for i := range l.Blocks {
		m.DistrictOf[i], m.SourceOf[i] = -1, -1
		for _, s := range l.Blocks[i].Covers {
			m.claim(int32(i), s)
		}
	}
	for d := range l.Districts {
		source, _ := c.SourceAbove(l.Districts[d].From)
		for _, b := range l.Districts[d].Blocks {
			m.DistrictOf[b], m.SourceOf[b] = int32(d), source
		}
	}
	for t := range m.byTrack {
		slices.SortStableFunc(m.byTrack[t], func(x, y claim) int {
			return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to), cmp.Compare(x.block, y.block))
		})
	}
	return m
}

func (m *Meant) claim(block int32, s layout.Stretch) {
	if s.Piece < 0 {
		return
	}
	p := &m.l.Pieces[s.Piece]
	switch {
	case s.RouteFrom >= 0 && s.RouteTo >= 0 && p.Kind != layout.TrackPiece:
		m.byRoute[route{s.Piece, s.RouteFrom, s.RouteTo}] = block
		m.byRoute[route{s.Piece, s.RouteTo, s.RouteFrom}] = block
	case p.Kind != layout.TrackPiece:
		m.byPiece[s.Piece] = append(m.byPiece[s.Piece], block)
	default:
		length := m.l.Tracks[p.Index].Length.Mid()
		from, to := s.From.Mid(), s.To.Mid()
		if s.Whole {
			from, to = 0, length
		}
		if to < from {
			m.byTrack[p.Index] = append(m.byTrack[p.Index], claim{from, length, block}, claim{0, to, block})
			return
		}
		m.byTrack[p.Index] = append(m.byTrack[p.Index], claim{from, to, block})
	}
}

// onTrack gives the blocks that cover a reading of a track, edges included, rising.
func (m *Meant) onTrack(track int32, at float64) []int32 {
	var blocks []int32
	for _, c := range m.byTrack[track] {
		if c.from <= at && at <= c.to && !slices.Contains(blocks, c.block) {
			blocks = append(blocks, c.block)
		}
	}
	return blocks
}

// atSpot gives the blocks that cover a spot.
func (m *Meant) atSpot(c *circuit.Circuit, spot int32) []int32 {
	s := &c.Spots[spot]
	p := &m.l.Pieces[s.Piece]
	if p.Kind == layout.TrackPiece {
		return m.onTrack(p.Index, s.At)
	}
	blocks := slices.Clone(m.byPiece[s.Piece])
	for e := range p.Ends {
		if b, found := m.byRoute[route{s.Piece, s.End, int32(e)}]; found && !slices.Contains(blocks, b) {
			blocks = append(blocks, b)
		}
	}
	slices.Sort(blocks)
	return slices.Compact(blocks)
}

// sources are the circuit sources that the blocks at a spot are meant to hang from.
func (m *Meant) sources(c *circuit.Circuit, spot int32) []int32 {
	var out []int32
	for _, b := range m.atSpot(c, spot) {
		if s := m.SourceOf[b]; s >= 0 && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// detectors are the detectors the blocks at a spot are meant to have; -1 stands for a
// block without one.
func (m *Meant) detectors(c *circuit.Circuit, spot int32) []int32 {
	var out []int32
	for _, b := range m.atSpot(c, spot) {
		if d := m.l.Blocks[b].Detector; !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	return out
}

// wayBlock is the block that covers a way: a length of track by its middle, a route by
// its piece; -1 when none does or the way is a joint or cut.
func (m *Meant) wayBlock(c *circuit.Circuit, w *circuit.Way) int32 {
	switch w.Kind {
	case circuit.WayTrack:
		return m.trackBlock(m.l.Pieces[w.Piece].Index, (c.Spots[w.A].At+c.Spots[w.B].At)/2)
	case circuit.WayThrough:
		if b, found := m.byRoute[route{w.Piece, c.Spots[w.A].End, c.Spots[w.B].End}]; found {
			return b
		}
		if bs := m.byPiece[w.Piece]; len(bs) > 0 {
			return bs[0]
		}
	}
	return -1
}

// trackBlock is the first block that covers a reading of a track, -1 when none does.
func (m *Meant) trackBlock(track int32, at float64) int32 {
	for _, c := range m.byTrack[track] {
		if c.from <= at && at <= c.to {
			return c.block
		}
	}
	return -1
}
