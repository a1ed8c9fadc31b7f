package districts

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Proposal is a section of a reversing loop that a reverser could feed: track between two bounds on the loop's ring, with what
// branches off it cut too.
type Proposal struct {
	Bounds  [2]Bound
	Branch  []Bound // where track work inside leads out
	Length  float64 // metres along the ring between the bounds
	Pieces  []layout.PieceID
	Feeders []int32 // of layout.Feeders, inside
	Against []int32 // of these, the ones with leg A on the other rail than the first has
	Hidden  int     // new cuts on track that is hard to reach
}

// Bound is an end of a section: an insulated gap that is there, as a way, or a new one on a track.
type Bound struct {
	Way   int32 // -1 for a new gap
	Track int32
	At    float64
}

// Cuts counts the new gaps.
func (p *Proposal) Cuts() int {
	n := 0
	for _, b := range slices.Concat(p.Bounds[:], p.Branch) {
		if b.Way < 0 {
			n++
		}
	}
	return n
}

// TrackWork counts the turnouts, crossings and tables inside.
func (p *Proposal) TrackWork(l *layout.Layout) int {
	n := 0
	for _, x := range p.Pieces {
		if l.Pieces[x].Kind != layout.TrackPiece {
			n++
		}
	}
	return n
}

// mostProposals bounds how many sections of one loop are proposed.
const mostProposals = 12

// onRing is a place on a ring: metres along it, and the bound there.
type onRing struct {
	metres float64
	bound  Bound
	step   int // the way of the ring it is on
}

// Propose lists sections of a ring of at least some metres, what costs least first: fewest new gaps, fewest at places hard to reach, least track work inside,
// fewest feeders to move, then the shortest. Existing gaps are used as they are; places lists where a track may be cut between two measures. A section may end
// on the ring only, and everything that branches off it is parted by gaps that are there or by new ones on the next track.
// The work is the square of the number of places, times the length of the ring.
func (t *Trace) Propose(r *Ring, least float64, places func(track int32, lo, hi float64) []float64) []Proposal {
	bounds, round := t.boundsOf(r, places)
	var out []Proposal
	for i := range bounds {
		for j := range bounds {
			metres := bounds[j].metres - bounds[i].metres
			if metres <= 0 {
				metres += round
			}
			if i == j || metres < least || metres > round-1e-9 {
				continue
			}
			if p, ok := t.section(r, &bounds[i], &bounds[j], metres, places); ok {
				out = append(out, p)
			}
		}
	}
	l := t.C.Layout
	slices.SortStableFunc(out, func(x, y Proposal) int {
		return cmp.Or(cmp.Compare(x.Cuts(), y.Cuts()), cmp.Compare(x.Hidden, y.Hidden), cmp.Compare(x.TrackWork(l), y.TrackWork(l)),
			cmp.Compare(len(x.Feeders), len(y.Feeders)), cmp.Compare(x.Length, y.Length))
	})
	return out[:min(len(out), mostProposals)]
}

// boundsOf lists the gaps of a ring and the places where it could be cut, in walking order, and how long it is.
func (t *Trace) boundsOf(r *Ring, places func(track int32, lo, hi float64) []float64) (out []onRing, round float64) {
	c := t.C
	at := t.entered(r)
	for step, k := range r.Ways {
		w := &c.Ways[k]
		switch {
		case slices.Contains(r.Gaps, k):
			out = append(out, onRing{round, Bound{Way: k, Track: -1}, step})
		case w.Kind == circuit.WayTrack:
			track := c.Layout.Pieces[w.Piece].Index
			from := c.Spots[at[step]].At
			to := c.Spots[w.A+w.B-at[step]].At
			for _, x := range places(track, min(from, to), max(from, to)) {
				out = append(out, onRing{round + math.Abs(x-from), Bound{Way: -1, Track: track, At: x}, step})
			}
		}
		round += w.Length
	}
	slices.SortStableFunc(out, func(x, y onRing) int { return cmp.Compare(x.metres, y.metres) })
	return out, round
}

// entered is the spot through which a walk round a ring comes to each of its ways.
func (t *Trace) entered(r *Ring) []int32 {
	out := make([]int32, len(r.Ways))
	if len(r.Ways) == 1 {
		out[0] = t.C.Ways[r.Ways[0]].A
		return out
	}
	first, next := &t.C.Ways[r.Ways[0]], &t.C.Ways[r.Ways[1]]
	at := first.A
	if at == next.A || at == next.B {
		if second := first.B; second != next.A && second != next.B {
			at = second
		}
	}
	for i, k := range r.Ways {
		out[i] = at
		at = t.C.Ways[k].A + t.C.Ways[k].B - at
	}
	return out
}

// section is what lies between two bounds of a ring; ok is false where it cannot be parted from the rest.
func (t *Trace) section(r *Ring, from, to *onRing, metres float64, places func(track int32, lo, hi float64) []float64) (p Proposal, ok bool) {
	c := t.C
	p = Proposal{Bounds: [2]Bound{from.bound, to.bound}, Length: metres}
	entered := t.entered(r)
	inside := map[int32]bool{} // spots; true where what is left at the start is right
	turn := false
	n := len(r.Ways)
	first := from.step
	if from.step == to.step && !(from.metres < to.metres) {
		return p, false // round the whole ring
	}
	for i := 0; i <= n; i++ {
		step := (first + i) % n
		k := r.Ways[step]
		w := &c.Ways[k]
		if i > 0 || from.bound.Way < 0 {
			addPiece(&p.Pieces, w.Piece, w.Kind)
		}
		if step == to.step && (i > 0 || from.step == to.step) {
			break
		}
		turn = turn != w.Turned
		inside[w.A+w.B-entered[step]] = turn
	}
	if !t.partBranches(r, &p, inside, places) {
		return p, false
	}
	t.feedersIn(&p, inside)
	for _, b := range slices.Concat(p.Bounds[:], p.Branch) {
		if b.Way < 0 && c.Layout.Tracks[b.Track].Hidden == layout.Yes {
			p.Hidden++
		}
	}
	return p, true
}

func addPiece(ps *[]layout.PieceID, p layout.PieceID, kind circuit.WayKind) {
	if (kind == circuit.WayTrack || kind == circuit.WayThrough) && !slices.Contains(*ps, p) {
		*ps = append(*ps, p)
	}
}

// partBranches finds where track that leaves a section other than along its ring is parted, or could be.
func (t *Trace) partBranches(r *Ring, p *Proposal, inside map[int32]bool, places func(track int32, lo, hi float64) []float64) bool {
	c := t.C
	var open []int32
	for s := range inside {
		open = append(open, s)
	}
	slices.Sort(open)
	for len(open) > 0 {
		s := open[0]
		open = open[1:]
		for _, k := range t.Ways.Of(s) {
			w := &c.Ways[k]
			o := w.A + w.B - s
			if _, in := inside[o]; in || slices.Contains(r.Ways, k) || w.Kind == circuit.WayPit {
				continue
			}
			switch {
			case isGap(w) && bothInsulated(c, w):
				p.Branch = append(p.Branch, Bound{Way: k, Track: -1})
				continue
			case w.Kind == circuit.WayTrack:
				track := c.Layout.Pieces[w.Piece].Index
				near, far := c.Spots[s].At, c.Spots[o].At
				at := places(track, min(near, far), max(near, far))
				if len(at) == 0 {
					return false
				}
				x := slices.MinFunc(at, func(x, y float64) int { return cmp.Compare(math.Abs(x-near), math.Abs(y-near)) })
				p.Branch = append(p.Branch, Bound{Way: -1, Track: track, At: x})
				continue
			case slices.Contains(ringSpots(c, r), o):
				return false // it comes back to the ring outside
			}
			addPiece(&p.Pieces, w.Piece, w.Kind)
			inside[o] = inside[s] != w.Turned
			open = append(open, o)
		}
	}
	return len(p.Branch) <= 3
}

func ringSpots(c *circuit.Circuit, r *Ring) []int32 {
	var out []int32
	for _, k := range r.Ways {
		out = append(out, c.Ways[k].A, c.Ways[k].B)
	}
	return out
}

// feedersIn finds the feeders inside a section, and which of them stand against the first.
func (t *Trace) feedersIn(p *Proposal, inside map[int32]bool) {
	side, known := false, false
	for i := range t.Feeds {
		spot := t.Feeds[i].Spot
		turned, in := inside[spot]
		if spot < 0 || !in {
			continue
		}
		p.Feeders = append(p.Feeders, int32(i))
		a := (t.C.Layout.Feeders[i].ARail == layout.Right) != turned
		if !known {
			side, known = a, true
		}
		if a != side {
			p.Against = append(p.Against, int32(i))
		}
	}
}
