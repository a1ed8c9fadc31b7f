package districts

import (
	"container/heap"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// ReversingSection is track fed from a free source only: a reverser, or a booster that
// reverses itself. Exits are the gaps over which trains enter and leave; Through is the
// shortest way between two of them in metres (0 with fewer than two), and Ends those two.
type ReversingSection struct {
	Section int32 // least spot
	Source  int32
	Exits   []int32 // ways, rising
	Through float64
	Ends    [2]int32 // ways
	Length  float64
	Feeders []int32
}

// reversingSections lists the sections that only free sources feed.
func reversingSections(c *circuit.Circuit, p *Polarity, feeds []Feed, cut []bool, ways *adjacency, staggered []Staggered) []ReversingSection {
	at := map[int32]int{}
	var out []ReversingSection
	for i := range feeds {
		f := &feeds[i]
		if f.Spot < 0 || f.Source() < 0 {
			continue
		}
		section := p.Sections.Of[f.Spot]
		root := p.Root[section]
		if root < 0 || !reverses(&c.Sources[root]) {
			continue
		}
		n, found := at[section]
		if !found {
			n = len(out)
			at[section] = n
			out = append(out, ReversingSection{Section: section, Source: root, Ends: [2]int32{-1, -1}})
		}
		out[n].Feeders = append(out[n].Feeders, f.Feeder)
	}
	for i := range c.Ways {
		w := &c.Ways[i]
		a, b := p.Sections.Of[w.A], p.Sections.Of[w.B]
		if n, found := at[a]; found {
			switch {
			case a == b && w.Kind == circuit.WayTrack:
				out[n].Length += w.Length
			case a != b || isGap(w):
				out[n].Exits = append(out[n].Exits, int32(i))
			}
		}
		if n, found := at[b]; found && a != b {
			out[n].Exits = append(out[n].Exits, int32(i))
		}
	}
	for i := range out {
		nearestExits(c, p, cut, ways, staggered, &out[i])
	}
	return out
}

// reverses reports whether a source changes its phase for the train: of what is free, a loose
// plug, a cab and a supply do not.
func reverses(s *circuit.Source) bool {
	return s.Free && (s.Kind == circuit.ReverserSource || s.Kind == circuit.BoosterSource || s.Kind == circuit.ChangeoverSource)
}

// nearestExits finds the shortest way between two exits of a section that do not suit one
// state of its source. Several ways out of one spot (the tracks of a turntable) are one exit.
func nearestExits(c *circuit.Circuit, p *Polarity, cut []bool, ways *adjacency, staggered []Staggered, r *ReversingSection) {
	for i, x := range r.Exits {
		if missing(c, cut, x) {
			continue
		}
		for _, start := range exitSpots(c, p, staggered, r.Section, x) {
			d := distances(c, ways, start, func(k, s int32) bool {
				return !cut[k] && hasMetal(&c.Ways[k]) && p.Sections.Of[s] == r.Section
			})
			for _, y := range r.Exits[i+1:] {
				if missing(c, cut, y) {
					continue
				}
				if sameState(c, p, r.Section, x, y) {
					continue
				}
				for _, end := range exitSpots(c, p, staggered, r.Section, y) {
					if m, found := d[end]; found && end != start && (r.Ends[0] < 0 || m < r.Through) {
						r.Through, r.Ends = m, [2]int32{x, y}
					}
				}
			}
		}
	}
}

// sameState reports whether two exits need the same state of a section's source, so that a
// train may stand over both.
func sameState(c *circuit.Circuit, p *Polarity, section, x, y int32) bool {
	rx, sx, okX := neededState(c, p, section, x)
	ry, sy, okY := neededState(c, p, section, y)
	if !okX || !okY || (rx != ry && !inPhase(c, rx, ry)) {
		return false
	}
	return (sx != sy) == crossedSignals(c, rx, ry)
}

// neededState is the rail of a section, in its own sense, that must carry leg A of the fixed
// phase beyond an exit while wheels stand on it; ok is false where no fixed phase is known
// there.
func neededState(c *circuit.Circuit, p *Polarity, section, way int32) (root int32, aSense layout.Rail, ok bool) {
	w := &c.Ways[way]
	in, out := w.A, w.B
	if p.Sections.Of[in] != section {
		in, out = out, in
	}
	if p.Sections.Of[in] != section || p.Sections.Of[out] == section {
		return -1, 0, false
	}
	rail, known := p.ARail(out)
	root = p.Root[p.Sections.Of[out]]
	if !known || c.Sources[root].Free {
		return -1, 0, false
	}
	if w.Turned != p.Sections.Turned[in] {
		rail = rail.Other()
	}
	return root, rail, true
}

// missing reports whether an exit is a gap yet to be cut, whose place is not known.
func missing(c *circuit.Circuit, cut []bool, way int32) bool {
	return cut[way] && !isHalfGap(&c.Ways[way])
}

// exitSpots are the spots of an exit that lie in the section; at a staggered gap, where
// both rails do.
func exitSpots(c *circuit.Circuit, p *Polarity, staggered []Staggered, section, way int32) []int32 {
	var out []int32
	for _, s := range [2]int32{c.Ways[way].A, c.Ways[way].B} {
		if p.Sections.Of[s] == section {
			out = append(out, beyondStagger(staggered, s))
		}
	}
	return slices.Compact(out)
}

// distances are the shortest lengths of track from a spot to every spot that a train can
// reach without turning back, by ways that inside allows, given with the spot they lead to
// (Dijkstra 1959, over ways with a direction). A train that came through track work does not
// leave by another route of it: at the points of a turnout it goes on along the track.
func distances(c *circuit.Circuit, ways *adjacency, start int32, inside func(way, spot int32) bool) map[int32]float64 {
	d := map[int32]float64{start: 0}
	best := map[int32]float64{} // by twice the way, plus one when walked to its B
	q := &spotQueue{}
	leave := func(from, by int32, metres float64) {
		for _, k := range ways.of(from) {
			w := &c.Ways[k]
			if k == by || (by >= 0 && w.Kind == circuit.WayThrough && c.Ways[by].Kind == circuit.WayThrough) {
				continue
			}
			for side, to := range [2]int32{w.A, w.B} {
				if w.A+w.B-to != from || !inside(k, to) {
					continue
				}
				code, m := 2*k+int32(side), metres+w.Length
				if old, found := best[code]; !found || m < old {
					best[code] = m
					heap.Push(q, spotAt{code, m})
				}
			}
		}
	}
	leave(start, -1, 0)
	for q.Len() > 0 {
		x := heap.Pop(q).(spotAt)
		if x.metres > best[x.spot] {
			continue
		}
		by := x.spot / 2
		at := [2]int32{c.Ways[by].A, c.Ways[by].B}[x.spot%2]
		if _, found := d[at]; !found {
			d[at] = x.metres
		}
		leave(at, by, x.metres)
	}
	return d
}

type spotAt struct {
	spot   int32
	metres float64
}

type spotQueue []spotAt

func (q spotQueue) Len() int { return len(q) }
func (q spotQueue) Less(i, j int) bool {
	if q[i].metres != q[j].metres {
		return q[i].metres < q[j].metres
	}
	return q[i].spot < q[j].spot
}
func (q spotQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *spotQueue) Push(x any)   { *q = append(*q, x.(spotAt)) }
func (q *spotQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
