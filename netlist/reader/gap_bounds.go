package reader

import (
	"fmt"
	"sort"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// claim is rail of one track that a block takes between two measures.
type claim struct {
	lo, hi float64
	block  int32
	text   text
}

// gapBounds resolves the `gap` bounds of a stretch. Block is the block it belongs to, -1
// for none, whose search stays out of what other blocks claim.
func (r *reader) gapBounds(s *layout.Stretch, b bounds, block int32) bool {
	if !s.GapFrom && !s.GapTo {
		return true
	}
	t := r.lay.Pieces[s.Piece].Index
	tr := &r.lay.Tracks[t]
	gaps := r.gapsOn[t]
	if s.GapFrom && s.GapTo {
		return r.betweenGaps(s, b, tr, gaps)
	}
	known := s.To
	if s.GapTo {
		known = s.From
	}
	if !known.Known() {
		return !r.pieceRecord(s.Piece).excused("length") && r.blameUnknown(b.text, tr)
	}
	at, index := r.search(t, known.Mid(), s.GapTo, block)
	if s.GapTo {
		s.To, s.GapToIndex = at, index
	} else {
		s.From, s.GapFromIndex = at, index
	}
	return true
}

func (r *reader) blameUnknown(t text, tr *layout.Track) bool {
	r.blamef(t, "the length of %s is unknown; say measures", tr.Name)
	return false
}

// betweenGaps resolves `gap .. gap`, which needs a track with exactly two.
func (r *reader) betweenGaps(s *layout.Stretch, b bounds, tr *layout.Track, gaps []gapOn) bool {
	switch {
	case tr.Closed:
		r.blame(b.text, problem{message: tr.Name + " is a ring; two arcs lie between two gaps; say one measure"})
		return false
	case len(gaps) != 2:
		if !r.mayLack(gapThing, tr.Piece) {
			r.blame(b.text, problem{message: fmt.Sprintf("%s has %s; say the measure", tr.Name, counted(len(gaps), "gap"))})
		}
		return false
	}
	s.From, s.GapFromIndex = r.gapPlace(gaps[0]), gaps[0].index
	s.To, s.GapToIndex = r.gapPlace(gaps[1]), gaps[1].index
	return true
}

func counted(n int, what string) string {
	switch n {
	case 0:
		return "no " + what
	case 1:
		return "1 " + what
	default:
		return fmt.Sprintf("%d %ss", n, what)
	}
}

// gapPlace is the measure of a gap along the track it was found on.
func (r *reader) gapPlace(g gapOn) quantity.Length {
	if p := &r.lay.Gaps[g.index].Place; p.End < 0 {
		return p.At
	}
	return atMetres(g.at)
}

func atMetres(m float64) quantity.Length {
	return quantity.Length{Value: quantity.Value{State: quantity.Known, Lo: m, Hi: m}}
}

// search walks from a place on a track to the nearest insulated gap, up or down. It
// stops, without a gap, where another block's measures begin or the track ends.
func (r *reader) search(t int32, from float64, up bool, block int32) (quantity.Length, int32) {
	tr := &r.lay.Tracks[t]
	ring := 0.0
	if tr.Closed {
		ring = tr.Length.Mid()
	}
	gap, hasGap := nextGap(r.gapsOn[t], from, up, ring)
	stop, stopAway, hasStop := r.nextClaim(t, from, up, ring, block)
	switch {
	case hasGap && (!hasStop || away(gap.at, from, up, ring) <= stopAway+touching):
		return r.gapPlace(gap), gap.index
	case hasStop:
		return atMetres(stop), -1
	case up:
		return tr.Length, -1
	default:
		return atMetres(0), -1
	}
}

// away is how far a place lies from another in the direction of the walk; on a ring,
// through the start where that is the way.
func away(at, from float64, up bool, ring float64) float64 {
	d := at - from
	if !up {
		d = -d
	}
	if d <= touching && ring > 0 {
		d += ring
	}
	return d
}

// nextGap is the first gap beyond a place.
func nextGap(gaps []gapOn, from float64, up bool, ring float64) (gapOn, bool) {
	if up {
		i := sort.Search(len(gaps), func(i int) bool { return gaps[i].at > from+touching })
		if i < len(gaps) {
			return gaps[i], true
		}
		if ring > 0 && len(gaps) > 0 && gaps[0].at < from-touching {
			return gaps[0], true
		}
		return gapOn{}, false
	}
	i := sort.Search(len(gaps), func(i int) bool { return gaps[i].at >= from-touching })
	if i > 0 {
		return gaps[i-1], true
	}
	if last := len(gaps) - 1; ring > 0 && last >= 0 && gaps[last].at > from+touching {
		return gaps[last], true
	}
	return gapOn{}, false
}

// nextClaim is the nearest edge, in the direction of the walk, of what another block
// claims, and how far off it is.
func (r *reader) nextClaim(t int32, from float64, up bool, ring float64, block int32) (edge, distance float64, found bool) {
	for _, c := range r.claims[t] {
		at := c.lo
		if !up {
			at = c.hi
		}
		d := at - from
		if !up {
			d = -d
		}
		if ring > 0 && d < -touching {
			d += ring
		}
		if c.block == block || d < -touching || found && d >= distance {
			continue
		}
		edge, distance, found = at, d, true
	}
	return edge, distance, found
}
