package split

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
)

// Where rail may be cut anew. Common practice, no source.
const (
	clearance = 0.0762 // 3 in from feeders, gaps and track work
	gapNear   = 0.3048 // 12 in: a gap as near as that to track work serves
	stub      = districts.Stub
)

// Place is where rail may be cut anew: both rails, or the one that a gap in the other leaves whole.
type Place struct {
	Track int32
	Rails layout.RailSet // BothRails, LeftRail or RightRail
	At    float64        // metres on its ruler
	Why   string         // "between blocks B1 and B2"
	Text  string         // "M1 @ 3 ft 2 in (0.97 m)"
	Where string         // the measure as a file has it
}

// LeftOut is where no cut is taken into account, and why.
type LeftOut struct{ Where, Why string }

// wish is a place asked for, and how far from it one may go.
type wish struct {
	at, lo, hi float64
	why        string
}

// places finds where rail may be cut.
type places struct {
	g       *ground
	metric  bool
	longest float64 // train, metres; 0 unknown
	list    []Place
	left    []LeftOut
}

func findPlaces(g *ground) ([]Place, []LeftOut) {
	p := &places{g: g, metric: g.l.Metric()}
	for i := range g.l.Trains {
		if x := g.l.Trains[i].Length; x.Known() {
			p.longest = max(p.longest, x.Hi)
		}
	}
	cuts := make([][]float64, len(g.l.Tracks))
	for i := range g.c.Ways {
		w := &g.c.Ways[i]
		if w.Kind != circuit.WayCut {
			continue
		}
		for _, s := range [2]int32{w.A, w.B} {
			if piece := &g.l.Pieces[g.c.Spots[s].Piece]; piece.Kind == layout.TrackPiece {
				cuts[piece.Index] = append(cuts[piece.Index], g.c.Spots[s].At)
			}
		}
	}
	for t := range g.l.Tracks {
		p.onTrack(int32(t), cuts[t])
	}
	return p.list, p.left
}

// half makes a place of a gap that is cut in one rail only; -1 where none may be made.
func (g *ground) half(way int32) int32 {
	w := &g.c.Ways[way]
	at := &g.c.Spots[w.A]
	piece := &g.l.Pieces[at.Piece]
	if w.Kind != circuit.WayCut || piece.Kind != layout.TrackPiece {
		return -1
	}
	rails := layout.RailsUnsaid
	for r, gap := range w.Gaps {
		if gap < 0 || g.l.Gaps[gap].Kind != layout.Insulated || w.Metal[r] != circuit.Open {
			continue
		}
		if other := w.Gaps[1-r]; other >= 0 || rails != layout.RailsUnsaid {
			return -1
		}
		rails = [2]layout.RailSet{layout.RightRail, layout.LeftRail}[r]
	}
	p := &places{g: g, metric: g.l.Metric()}
	if rails == layout.RailsUnsaid || p.barred(piece.Index) != "" {
		return -1
	}
	g.places = append(g.places, Place{
		Track: piece.Index, Rails: rails, At: at.At, Why: "opposite the gap in the other rail",
		Text: piece.Name + " @ " + quantity.FormatLength(at.At), Where: g.l.Spell(at.At),
	})
	return int32(len(g.places) - 1)
}

// barred says why a track is not to be cut, "" when it may be.
func (p *places) barred(t int32) string {
	tr := &p.g.l.Tracks[t]
	spots := p.g.c.TrackSpots[t]
	switch {
	case len(spots) == 0 || !p.g.inside[spots[0]]:
		return "it hangs from another source, which is not divided"
	case tr.Cab != layout.No:
		return "a cab can be switched to it"
	case tr.LiftOut != layout.No:
		return "it is on a lift-out"
	case tr.Use == layout.UseProgramming:
		return "it is for programming"
	case !tr.Length.Known():
		return "its length is unknown"
	}
	for _, s := range spots {
		for r := range layout.Rail(2) {
			if p.g.t.CommonAt(s, r) {
				return "a rail of it is declared common"
			}
		}
	}
	return ""
}

// onTrack finds the places of one track.
func (p *places) onTrack(t int32, gaps []float64) {
	tr := &p.g.l.Tracks[t]
	if why := p.barred(t); why != "" {
		p.left = append(p.left, LeftOut{"track " + tr.Name, why})
		return
	}
	var obstacles []float64
	for _, s := range p.g.c.TrackSpots[t] {
		obstacles = append(obstacles, p.g.c.Spots[s].At)
	}
	taken := slices.Clone(obstacles)
	for _, w := range p.wishes(t, gaps) {
		at, ok := p.clear(w, taken)
		if !ok {
			p.left = append(p.left, LeftOut{fmt.Sprintf("%s near %s", tr.Name, quantity.FormatLength(w.at)), fmt.Sprintf("no place there is %s clear of feeders, gaps and track work", quantity.FormatLength(clearance))})
			continue
		}
		taken = append(taken, at-clearance, at+clearance) // no two cuts within twice the clearance
		p.list = append(p.list, Place{Track: t, Rails: layout.BothRails, At: at, Why: w.why, Text: tr.Name + " @ " + quantity.FormatLength(at), Where: p.g.l.Spell(at)})
	}
}

// wishes are the places asked for on a track, those that matter most first.
func (p *places) wishes(t int32, gaps []float64) []wish {
	tr := &p.g.l.Tracks[t]
	near := func(at, within float64) bool {
		return slices.ContainsFunc(gaps, func(g float64) bool { return math.Abs(g-at) <= within })
	}
	var out []wish
	list := p.g.claims.onTrack[t]
	for i := 1; i < len(list); i++ {
		a, b := &list[i-1], &list[i]
		if a.block == b.block || b.from-a.to > stub || near(b.from, stub) {
			continue
		}
		out = append(out, wish{b.from, b.from - stub, b.from + stub, fmt.Sprintf("between blocks %s and %s", p.g.l.Blocks[a.block].Name, p.g.l.Blocks[b.block].Name)})
	}
	for _, s := range p.g.stretches(t) {
		length := s.to - s.from
		if length < 4*clearance {
			continue
		}
		if s.names[0] != "" && s.names[1] != "" && length < 2*gapNear && !near(s.from, gapNear) && !near(s.to, gapNear) && p.noBlock(t, s.from, s.to) {
			mid := (s.from + s.to) / 2
			out = append(out, wish{mid, s.from + clearance, s.to - clearance, "between " + s.names[0] + " and " + s.names[1]})
			continue
		}
		if s.names[0] != "" && !near(s.from, gapNear) && p.mayPart(t, s.from, s.from+clearance, s.blocks[0]) {
			at := s.from + clearance
			out = append(out, wish{at, at, at + stub - clearance, "beside " + s.names[0]})
		}
		if s.names[1] != "" && !near(s.to, gapNear) && p.mayPart(t, s.to-clearance, s.to, s.blocks[1]) {
			at := s.to - clearance
			out = append(out, wish{at, at - stub + clearance, at, "beside " + s.names[1]})
		}
		if p.longest > 0 && length > 2*p.longest && p.noBlock(t, s.from+length/4, s.to-length/4) && !slices.ContainsFunc(gaps, func(g float64) bool { return s.from+gapNear <= g && g <= s.to-gapNear }) {
			mid := (s.from + s.to) / 2
			out = append(out, wish{mid, mid - length/8, mid + length/8, "the middle of " + tr.Name})
		}
	}
	return out
}

// noBlock reports whether a stretch of track is in no block as meant.
func (p *places) noBlock(t int32, from, to float64) bool {
	return !slices.ContainsFunc(p.g.claims.onTrack[t], func(c claim) bool { return min(to, c.to)-max(from, c.from) > 0 })
}

// mayPart reports whether a stretch of track beside something is of another block than that, or of none.
func (p *places) mayPart(t int32, from, to float64, beside []int32) bool {
	return !slices.ContainsFunc(p.g.claims.onTrack[t], func(c claim) bool {
		return min(to, c.to)-max(from, c.from) > 0 && slices.Contains(beside, c.block)
	})
}

// clear is the place nearest to what is asked that keeps its distance from obstacles.
func (p *places) clear(w wish, obstacles []float64) (float64, bool) {
	tries := []float64{p.snap(w.at, math.Round), p.snap(w.at, math.Floor), p.snap(w.at, math.Ceil)}
	for _, o := range obstacles {
		tries = append(tries, p.snap(o+clearance, math.Ceil), p.snap(o-clearance, math.Floor))
	}
	slices.SortStableFunc(tries, func(a, b float64) int {
		return cmp.Or(cmp.Compare(math.Abs(a-w.at), math.Abs(b-w.at)), cmp.Compare(a, b))
	})
	const touch = 1e-6
	for _, x := range tries {
		if x < w.lo-p.step() || x > w.hi+p.step() {
			continue
		}
		if !slices.ContainsFunc(obstacles, func(o float64) bool { return math.Abs(o-x) < clearance-touch }) {
			return x, true
		}
	}
	return 0, false
}

func (p *places) step() float64 {
	if p.metric {
		return 0.005
	}
	return 0.0254 / 4
}

// snap brings a place to a mark of a ruler.
func (p *places) snap(at float64, round func(float64) float64) float64 {
	const grain = 1e-6 // so that what lies on a mark stays there
	n := at / p.step()
	if whole := math.Round(n); math.Abs(n-whole) < grain {
		return whole * p.step()
	}
	return round(n) * p.step()
}
