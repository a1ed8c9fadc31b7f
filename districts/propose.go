package districts

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Proposal is a section of a reversing loop that a reverser could feed: track between two bounds on the loop's ring, and what
// branches off it, either cut where it leaves or taken into the section whole.
type Proposal struct {
	Bounds  [2]Bound
	Branch  []Bound // where what branches off inside is parted
	Length  float64 // metres along the ring between the bounds
	Room    float64 // metres that the longest train may have that is never over two of the gaps; infinite where no train passes two
	Pieces  []layout.PieceID
	Feeders []int32 // of layout.Feeders, inside
	Against []int32 // of these, the ones with leg A on the other rail than the first has
	Bonds   []int32 // of layout.Bonds, from inside to outside
	Hidden  int     // new cuts on track that is hard to reach
}

// On is the stretch of a track that lies between the bounds of a section, of one that has it inside.
func (p *Proposal) On(c *circuit.Circuit, track int32) (lo, hi float64) {
	lo, hi = 0, c.Layout.Tracks[track].Length.Mid()
	var both []float64
	for _, b := range p.Bounds {
		at, above := b.At, b.At < c.Spots[b.spot].At
		if b.Way >= 0 {
			w := &c.Ways[b.Way]
			spots := c.TrackSpots[track]
			at = c.Spots[b.spot].At
			above = slices.Index(spots, b.spot) > slices.Index(spots, w.A+w.B-b.spot)
		}
		if b.Way < 0 && b.Track != track || b.Way >= 0 && c.Spots[b.spot].Piece != c.Layout.Tracks[track].Piece {
			continue
		}
		if both = append(both, at); above {
			lo = max(lo, at)
		} else {
			hi = min(hi, at)
		}
	}
	if len(both) == 2 {
		return min(both[0], both[1]), max(both[0], both[1])
	}
	return lo, hi
}

// Bound is an end of a section: an insulated gap that is there, as a way, or a new one on a track.
type Bound struct {
	Way   int32 // -1 for a new gap
	Half  bool  // a gap in one rail, which has to be cut in the other
	Track int32
	At    float64
	spot  int32 // the first one inside
}

// Cuts counts the new gaps in both rails.
func (p *Proposal) Cuts() int { return p.count(func(b *Bound) bool { return b.Way < 0 }) }

// Halves counts the gaps in one rail that are cut in the other.
func (p *Proposal) Halves() int { return p.count(func(b *Bound) bool { return b.Half }) }

func (p *Proposal) count(is func(*Bound) bool) int {
	n := 0
	for _, b := range slices.Concat(p.Bounds[:], p.Branch) {
		if is(&b) {
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

// Moves counts the wires that change: feeders that come to hang from the reverser, a first one where there is none, and bonds that go.
func (p *Proposal) Moves() int { return max(1, len(p.Feeders)) + len(p.Bonds) }

// Compare orders proposals by what they cost: rails to be cut, cuts at places hard to reach, track work inside, wires that change, metres.
func (p *Proposal) Compare(q *Proposal, l *layout.Layout) int {
	return cmp.Or(cmp.Compare(2*p.Cuts()+p.Halves(), 2*q.Cuts()+q.Halves()), cmp.Compare(p.Hidden, q.Hidden), cmp.Compare(p.TrackWork(l), q.TrackWork(l)),
		cmp.Compare(p.Moves(), q.Moves()), cmp.Compare(p.Length, q.Length))
}

// Bounds on the work of proposing.
const (
	mostProposals = 12   // sections of one loop
	mostPlaces    = 64   // new places of a ring where a section may end; of more, every second, third ... is taken
	mostJudged    = 2000 // sections of which the room is asked
)

// Places lists where a track may be cut between two measures, in metres.
type Places func(track int32, lo, hi float64) []float64

// Propose lists sections of a ring that hold a train of some metres, what costs least first (Compare). Existing gaps are used as they are, and gaps in one rail
// may be cut in the other. What branches off inside is cut on its next track, or taken in whole where it comes back to the ring inside only.
// Two ends that suit one state of the reverser may lie closer in truth; such sections are not proposed.
func (t *Trace) Propose(r *Ring, least float64, places Places) []Proposal {
	p := proposer{t: t, ring: r, places: places, on: map[int32]bool{}, onWay: map[int32]bool{}, cuts: map[int32][]float64{}, in: make([]bool, len(t.C.Spots)), turn: make([]bool, len(t.C.Spots)), bonds: bondWires(t.C)}
	p.entered = t.entered(r)
	for _, k := range r.Ways {
		p.onWay[k] = true
		p.on[t.C.Ways[k].A], p.on[t.C.Ways[k].B] = true, true
	}
	p.branches()
	bounds := p.bounds()
	var all []candidate
	for i := range bounds {
		for j := range bounds {
			for _, takeIn := range [2]bool{false, true} {
				a := candidate{from: &bounds[i], to: &bounds[j], takeIn: takeIn}
				if i != j && p.section(&a) {
					all = append(all, a)
				}
			}
		}
	}
	l := t.C.Layout
	slices.SortStableFunc(all, func(x, y candidate) int { return x.Compare(&y.Proposal, l) })
	var out []Proposal
	for i := range all[:min(len(all), mostJudged)] {
		if len(out) == mostProposals {
			break
		}
		if x := &all[i]; p.room(x) >= least-1e-9 {
			out = append(out, x.Proposal)
		}
	}
	return out
}

// candidate is a section with what was asked for.
type candidate struct {
	Proposal
	from, to *onRing
	takeIn   bool // what branches off
}

// proposer is one search for sections of a ring.
type proposer struct {
	t       *Trace
	ring    *Ring
	places  Places
	entered []int32        // spot through which a walk comes to each way of the ring
	on      map[int32]bool // spots of the ring
	onWay   map[int32]bool
	cuts    map[int32][]float64 // where a track can be cut, by way
	off     []branch
	branch  map[int32]int // by spot off the ring
	turned  map[int32]bool
	bonds   []bondWire
	round   float64 // metres of the ring

	// the section in hand: its spots, and where what is left at its start is right
	spots    []int32
	in, turn []bool
}

// add takes a spot into the section in hand.
func (p *proposer) add(spot int32, turned bool) {
	if !p.in[spot] {
		p.spots = append(p.spots, spot)
	}
	p.in[spot], p.turn[spot] = true, turned
}

// onRing is a place on a ring: metres along it, and the bound there.
type onRing struct {
	metres float64
	bound  Bound
	step   int // the way of the ring it is on
}

// branch is what hangs together off the ring, by ways other than insulated gaps.
type branch struct {
	spots  []int32
	leaves []int32 // ways between it and the ring
	gaps   []Bound
	odd    bool // its own rails meet turned over
	pieces []layout.PieceID
}

// branches finds what hangs together off the ring.
func (p *proposer) branches() {
	c := p.t.C
	p.branch, p.turned = map[int32]int{}, map[int32]bool{}
	for first := range c.Spots {
		if _, done := p.branch[int32(first)]; done || p.on[int32(first)] {
			continue
		}
		var b branch
		n := len(p.off)
		p.branch[int32(first)] = n
		open := []int32{int32(first)}
		for len(open) > 0 {
			s := open[len(open)-1]
			open = open[:len(open)-1]
			b.spots = append(b.spots, s)
			for _, k := range p.t.Ways.Of(s) {
				w := &c.Ways[k]
				o := w.A + w.B - s
				switch {
				case w.Kind == circuit.WayPit:
				case isGap(w) && bothInsulated(c, w):
					b.gaps = append(b.gaps, Bound{Way: k, Track: -1, spot: s})
				case p.on[o]:
					b.leaves = append(b.leaves, k)
				default:
					addPiece(&b.pieces, w.Piece, w.Kind)
					turned := p.turned[s] != w.Turned
					if _, seen := p.branch[o]; !seen {
						p.branch[o], p.turned[o] = n, turned
						open = append(open, o)
					} else if p.turned[o] != turned {
						b.odd = true
					}
				}
			}
		}
		p.off = append(p.off, b)
	}
}

// bounds lists the gaps of a ring and the places where it could be cut, in walking order.
func (p *proposer) bounds() []onRing {
	c := p.t.C
	var out []onRing
	cuts := 0
	for step, k := range p.ring.Ways {
		w := &c.Ways[k]
		switch {
		case slices.Contains(p.ring.Gaps, k):
			out = append(out, onRing{p.round, Bound{Way: k, Track: -1}, step})
		case slices.Contains(p.ring.Half, k):
			out = append(out, onRing{p.round, Bound{Way: k, Half: true, Track: -1}, step})
		case w.Kind == circuit.WayTrack:
			track := c.Layout.Pieces[w.Piece].Index
			from := c.Spots[p.entered[step]].At
			for _, x := range p.cutsOf(k) {
				out = append(out, onRing{p.round + math.Abs(x-from), Bound{Way: -1, Track: track, At: x}, step})
				cuts++
			}
		}
		p.round += w.Length
	}
	slices.SortStableFunc(out, func(x, y onRing) int { return cmp.Compare(x.metres, y.metres) })
	if every := (cuts + mostPlaces - 1) / mostPlaces; every > 1 {
		n := -1
		out = slices.DeleteFunc(out, func(o onRing) bool {
			if o.bound.Way >= 0 {
				return false
			}
			n++
			return n%every != 0
		})
	}
	return out
}

// cutsOf are the places where a way of a track can be cut.
func (p *proposer) cutsOf(way int32) []float64 {
	out, known := p.cuts[way]
	if !known {
		w := &p.t.C.Ways[way]
		a, b := p.t.C.Spots[w.A].At, p.t.C.Spots[w.B].At
		out = p.places(p.t.C.Layout.Pieces[w.Piece].Index, min(a, b), max(a, b))
		p.cuts[way] = out
	}
	return out
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

// section is what lies between two bounds of the ring, with what branches off cut or taken in; false where it cannot be parted from the rest, or nothing is there to be taken in.
func (p *proposer) section(a *candidate) bool {
	if a.from.step == a.to.step && a.from.metres >= a.to.metres {
		return false // round the whole ring
	}
	a.Proposal = Proposal{Bounds: [2]Bound{a.from.bound, a.to.bound}, Length: a.to.metres - a.from.metres}
	if a.Length < 0 {
		a.Length += p.round
	}
	p.walk(&a.Proposal, a.from, a.to)
	taken, ok := p.part(&a.Proposal, a.takeIn)
	if !ok || a.takeIn && !taken {
		return false
	}
	p.content(&a.Proposal)
	return true
}

// walk goes along the ring from one bound to the other.
func (p *proposer) walk(s *Proposal, from, to *onRing) {
	for _, x := range p.spots {
		p.in[x] = false
	}
	p.spots = p.spots[:0]
	turn := false
	n := len(p.ring.Ways)
	for i := 0; i <= n; i++ {
		step := (from.step + i) % n
		k := p.ring.Ways[step]
		w := &p.t.C.Ways[k]
		addPiece(&s.Pieces, w.Piece, w.Kind)
		if step == to.step && (i > 0 || from.step == to.step) {
			break
		}
		turn = turn != w.Turned
		p.add(w.A+w.B-p.entered[step], turn)
	}
	w := &p.t.C.Ways[p.ring.Ways[from.step]]
	s.Bounds[0].spot, s.Bounds[1].spot = w.A+w.B-p.entered[from.step], p.entered[to.step]
}

// room is the length of the longest train that is never over two gaps of a section, as trains run: the shortest way between two of them.
func (p *proposer) room(a *candidate) float64 {
	if a.from.step == a.to.step {
		a.Room = a.Length
		return a.Room
	}
	p.section(a)
	c := p.t.C
	ends := slices.Concat(a.Bounds[:], a.Branch)
	cut := map[int32]bool{}
	out := make([]float64, len(ends)) // metres from the first spot inside to the gap
	for i := range ends {
		e := &ends[i]
		if e.Way >= 0 {
			cut[e.Way] = true
			continue
		}
		out[i] = math.Abs(c.Spots[e.spot].At - e.At)
		for _, k := range p.t.Ways.Of(e.spot) {
			w := &c.Ways[k]
			if x, y := c.Spots[w.A].At, c.Spots[w.B].At; w.Kind == circuit.WayTrack && c.Layout.Pieces[w.Piece].Index == e.Track && min(x, y) <= e.At && e.At <= max(x, y) {
				cut[k] = true
			}
		}
	}
	a.Room = math.Inf(1)
	for i := range ends[:len(ends)-1] {
		d := distances(c, p.t.Ways.adj, ends[i].spot, func(k, s int32) bool { return p.in[s] && !cut[k] })
		for j := i + 1; j < len(ends); j++ {
			if m, found := d[ends[j].spot]; found {
				a.Room = min(a.Room, m+out[i]+out[j])
			}
		}
	}
	return a.Room
}

func addPiece(ps *[]layout.PieceID, p layout.PieceID, kind circuit.WayKind) {
	if (kind == circuit.WayTrack || kind == circuit.WayThrough) && !slices.Contains(*ps, p) {
		*ps = append(*ps, p)
	}
}

// part parts what leaves a section other than along its ring: it is taken in whole, where that is asked for and can be, or cut. taken says that something was taken in.
func (p *proposer) part(s *Proposal, takeIn bool) (taken, ok bool) {
	c := p.t.C
	open := slices.Clone(p.spots)
	whole := map[int]bool{}
	for len(open) > 0 {
		x := open[0]
		open = open[1:]
		for _, k := range p.t.Ways.Of(x) {
			w := &c.Ways[k]
			o := w.A + w.B - x
			if p.in[o] || p.onWay[k] || w.Kind == circuit.WayPit {
				continue
			}
			if isGap(w) && bothInsulated(c, w) {
				s.Branch = append(s.Branch, Bound{Way: k, Track: -1, spot: x})
				continue
			}
			if n, off := p.branch[o]; off && takeIn && !whole[n] && p.fits(n, x, k) {
				whole[n], taken = true, true
				p.take(s, n, p.turn[x] != w.Turned != p.turned[o])
				continue
			}
			switch {
			case w.Kind == circuit.WayTrack:
				bound, found := p.cutNear(k, x)
				if !found {
					return taken, false
				}
				s.Branch = append(s.Branch, bound)
				continue
			case p.on[o]:
				return taken, false // it comes back to the ring outside
			}
			addPiece(&s.Pieces, w.Piece, w.Kind)
			p.add(o, p.turn[x] != w.Turned)
			open = append(open, o)
		}
	}
	return taken, len(s.Branch) <= mostBranches
}

// mostBranches bounds how many ends a section has besides those on its ring.
const mostBranches = 4

// cutNear is the place of a track way nearest to one of its spots where it can be cut.
func (p *proposer) cutNear(way, spot int32) (Bound, bool) {
	c := p.t.C
	near, track := c.Spots[spot].At, c.Layout.Pieces[c.Ways[way].Piece].Index
	at := p.cutsOf(way)
	if len(at) == 0 {
		return Bound{}, false
	}
	return Bound{Way: -1, Track: track, spot: spot, At: slices.MinFunc(at, func(x, y float64) int { return cmp.Compare(math.Abs(x-near), math.Abs(y-near)) })}, true
}

// fits reports whether a branch that leaves by a way may be taken into the section in hand: it touches the ring inside only, and its rails
// lie one way round with those of the section.
func (p *proposer) fits(n int, x, way int32) bool {
	b := &p.off[n]
	if b.odd {
		return false
	}
	c := p.t.C
	turned := func(k, ring int32) bool {
		w := &c.Ways[k]
		return p.turn[ring] != w.Turned != p.turned[w.A+w.B-ring]
	}
	want := turned(way, x)
	return !slices.ContainsFunc(b.leaves, func(k int32) bool {
		w := &c.Ways[k]
		ring := w.A
		if !p.on[ring] {
			ring = w.B
		}
		return !p.in[ring] || turned(k, ring) != want
	})
}

// take adds a branch to the section in hand.
func (p *proposer) take(s *Proposal, n int, turned bool) {
	b := &p.off[n]
	for _, x := range b.spots {
		p.add(x, p.turned[x] != turned)
	}
	for _, piece := range b.pieces {
		if !slices.Contains(s.Pieces, piece) {
			s.Pieces = append(s.Pieces, piece)
		}
	}
	for _, k := range b.leaves {
		addPiece(&s.Pieces, p.t.C.Ways[k].Piece, p.t.C.Ways[k].Kind)
	}
	s.Branch = append(s.Branch, b.gaps...)
}

// content finds the feeders inside, which of them stand against the first, the bonds that lead out, and the cuts that are hard to reach. A gap with the section on both
// its sides is no end of it.
func (p *proposer) content(s *Proposal) {
	c := p.t.C
	s.Branch = slices.DeleteFunc(s.Branch, func(b Bound) bool {
		return b.Way >= 0 && p.in[c.Ways[b.Way].A] && p.in[c.Ways[b.Way].B]
	})
	side, known := false, false
	for i := range p.t.Feeds {
		spot := p.t.Feeds[i].Spot
		if spot < 0 || !p.in[spot] {
			continue
		}
		s.Feeders = append(s.Feeders, int32(i))
		a := (c.Layout.Feeders[i].ARail == layout.Right) != p.turn[spot]
		if !known {
			side, known = a, true
		}
		if a != side {
			s.Against = append(s.Against, int32(i))
		}
	}
	for _, w := range p.bonds {
		if p.in[w.spots[0]] != p.in[w.spots[1]] && !slices.Contains(s.Bonds, w.bond) {
			s.Bonds = append(s.Bonds, w.bond)
		}
	}
	for _, b := range slices.Concat(s.Bounds[:], s.Branch) {
		if b.Way < 0 && c.Layout.Tracks[b.Track].Hidden == layout.Yes {
			s.Hidden++
		}
	}
}
