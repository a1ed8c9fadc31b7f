package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// stub is how much of a block may lie on the wrong side of a gap before it counts:
// "stubs under 6 in that nobody claimed join their neighbour". Common practice, no source.
const stub = 0.1524

// Zone is a block as wired: track joined without an insulated gap.
type Zone struct {
	Ways      []int32 // lengths of track and routes
	Length    float64 // metres of track, routes included
	Feeders   []int32
	Sources   []int32 // districts it hangs from, rising
	Detectors []int32 // that see it, rising
	Meant     []Share // blocks meant here, by falling length
	Bounds    []int32 // the insulated gaps that close it in
}

// Share is how much of a zone a block as meant takes.
type Share struct {
	Block  int32
	Length float64
}

// Zones are the blocks as wired; Of gives each spot's, -1 for none.
type Zones struct {
	List    []Zone
	Of      []int32
	byBlock []int32 // the zone that holds most of each block as meant
}

// partsBlock reports whether a way is an insulated gap that ends a block: one in both rails, or
// in one where that is meant (common rail, or a bound of two blocks).
func partsBlock(c *circuit.Circuit, meant *Meant, w *circuit.Way) bool {
	switch w.Kind {
	case circuit.WayPit:
		return true
	case circuit.WayCut:
	default:
		return false
	}
	switch insulatedRails(c, w) {
	case 0:
		return false
	case 2:
		return true
	default:
		return isMeantBound(c, meant, w)
	}
}

// insulatedRails counts the rails that insulated gaps cut at a way.
func insulatedRails(c *circuit.Circuit, w *circuit.Way) int {
	n := 0
	for r := range 2 {
		if g := w.Gaps[r]; g >= 0 && c.Layout.Gaps[g].Kind == layout.Insulated {
			n++
		}
	}
	return n
}

func bothInsulated(c *circuit.Circuit, w *circuit.Way) bool { return insulatedRails(c, w) == 2 }

// isMeantBound reports whether blocks as meant change within a stub of a way on a track.
func isMeantBound(c *circuit.Circuit, meant *Meant, w *circuit.Way) bool {
	s := &c.Spots[w.A]
	p := &c.Layout.Pieces[s.Piece]
	if p.Kind != layout.TrackPiece {
		return boundBetween(meant.atSpot(c, w.A), meant.atSpot(c, w.B))
	}
	return meant.blockAround(c, s, p, -stub) != meant.blockAround(c, s, p, stub)
}

func newZones(c *circuit.Circuit, meant *Meant, feeds []Feed) *Zones {
	u := newUnionFind(len(c.Spots))
	for i := range c.Ways {
		if !partsBlock(c, meant, &c.Ways[i]) {
			u.union(c.Ways[i].A, c.Ways[i].B)
		}
	}
	root := u.flatten()
	z := &Zones{Of: make([]int32, len(c.Spots))}
	number := map[int32]int32{}
	for i := range c.Spots {
		n, found := number[root[i]]
		if !found {
			n = int32(len(z.List))
			number[root[i]] = n
			z.List = append(z.List, Zone{})
		}
		z.Of[i] = n
	}
	for i := range c.Ways {
		w := &c.Ways[i]
		zone := &z.List[z.Of[w.A]]
		switch {
		case partsBlock(c, meant, w):
			zone.Bounds = append(zone.Bounds, int32(i))
			if z.Of[w.B] != z.Of[w.A] {
				z.List[z.Of[w.B]].Bounds = append(z.List[z.Of[w.B]].Bounds, int32(i))
			}
		case w.Kind == circuit.WayTrack:
			zone.Ways = append(zone.Ways, int32(i))
			zone.Length += w.Length
			z.shareTrack(c, meant, w, zone)
		case w.Kind == circuit.WayThrough:
			zone.Ways = append(zone.Ways, int32(i))
			if b := meant.wayBlock(c, w); b >= 0 {
				zone.add(b, w.Length)
			}
		}
	}
	z.throughLengths(c)
	for i := range feeds {
		z.feed(c, &feeds[i])
	}
	for i := range z.List {
		zone := &z.List[i]
		slices.Sort(zone.Sources)
		slices.Sort(zone.Detectors)
		slices.SortStableFunc(zone.Meant, func(x, y Share) int {
			return cmp.Or(-cmp.Compare(x.Length, y.Length), cmp.Compare(x.Block, y.Block))
		})
	}
	z.byBlock = make([]int32, len(c.Layout.Blocks))
	most := make([]float64, len(c.Layout.Blocks))
	for b := range z.byBlock {
		z.byBlock[b] = -1
	}
	for i := range z.List {
		for _, m := range z.List[i].Meant {
			if m.Length > most[m.Block] {
				z.byBlock[m.Block], most[m.Block] = int32(i), m.Length
			}
		}
	}
	return z
}

// throughLengths adds each piece of track work once, by its longest route, however many
// routes it has.
func (z *Zones) throughLengths(c *circuit.Circuit) {
	longest := map[layout.PieceID]float64{}
	at := map[layout.PieceID]int32{}
	for i := range c.Ways {
		if w := &c.Ways[i]; w.Kind == circuit.WayThrough {
			longest[w.Piece] = max(longest[w.Piece], w.Length)
			at[w.Piece] = z.Of[w.A]
		}
	}
	for id := range c.Layout.Pieces {
		if zone, found := at[layout.PieceID(id)]; found {
			z.List[zone].Length += longest[layout.PieceID(id)]
		}
	}
}

func (z *Zones) feed(c *circuit.Circuit, f *Feed) {
	if f.Spot < 0 {
		return
	}
	zone := &z.List[z.Of[f.Spot]]
	zone.Feeders = append(zone.Feeders, f.Feeder)
	if s := f.Source(); s >= 0 && !slices.Contains(zone.Sources, s) {
		zone.Sources = append(zone.Sources, s)
	}
	for _, d := range f.Detector {
		if d >= 0 && !slices.Contains(zone.Detectors, d) {
			zone.Detectors = append(zone.Detectors, d)
		}
	}
}

func (zone *Zone) add(block int32, length float64) {
	for i := range zone.Meant {
		if zone.Meant[i].Block == block {
			zone.Meant[i].Length += length
			return
		}
	}
	zone.Meant = append(zone.Meant, Share{block, length})
}

// shareTrack credits a length of track to the blocks that are meant to cover it.
func (z *Zones) shareTrack(c *circuit.Circuit, meant *Meant, w *circuit.Way, zone *Zone) {
	from, to := c.Spots[w.A].At, c.Spots[w.B].At
	for _, claim := range meant.byTrack[c.Layout.Pieces[w.Piece].Index] {
		lo, hi := max(from, claim.from), min(to, claim.to)
		if hi > lo {
			zone.add(claim.block, hi-lo)
		}
	}
}
