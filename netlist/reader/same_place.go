package reader

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// onRail is something that hangs on the rails at a place: a feeder, a bond, a load.
type onRail struct {
	place layout.Place
	at    text
}

// atJoint is one rail of a joint between pieces.
type atJoint struct {
	joint layout.EndRef
	rail  layout.Rail
}

// cutAt is a gap or rail joint for the search for two at one place.
type cutAt struct {
	place layout.Place
	rails layout.RailSet
	at    text
}

// orderPlaces checks what stands at one place, and which orders the measures leave open.
func (r *reader) orderPlaces() {
	r.gapLegs()
	gaps := make([]cutAt, len(r.lay.Gaps))
	for i := range r.lay.Gaps {
		gaps[i] = cutAt{r.lay.Gaps[i].Place, r.lay.Gaps[i].Rails, r.gapAt[i]}
	}
	joints := make([]cutAt, len(r.lay.Joints))
	for i := range r.lay.Joints {
		joints[i] = cutAt{r.lay.Joints[i].Place, r.lay.Joints[i].Rails, r.jointAt[i]}
	}
	gapsOn := r.twoCuts(gaps, "gaps")
	r.twoCuts(joints, "joints")
	for i := range r.lay.Feeders {
		r.hanging = append(r.hanging, onRail{r.lay.Feeders[i].Place, r.feederAt[i]})
	}
	r.twoFeeders()
	r.onGaps(gaps, gapsOn)
	r.uncertainOrders()
}

// inRails reports whether a set of rails has rail.
func inRails(rails layout.RailSet, rail layout.Rail) bool {
	return rails == layout.BothRails || rails == oneRail(rail)
}

// twoCuts reports two cuts of one kind at one place on one rail, and gives those along
// tracks, sorted by track and place.
func (r *reader) twoCuts(cuts []cutAt, what string) []int {
	first := map[atJoint]int{}
	var along []int
	for i := range cuts {
		c := &cuts[i]
		if c.place.End < 0 {
			along = append(along, i)
			continue
		}
		e := layout.EndRef{Piece: c.place.Piece, End: c.place.End}
		for _, rail := range [2]layout.Rail{layout.Left, layout.Right} {
			if !inRails(c.rails, rail) {
				continue
			}
			key := atJoint{r.meets.joint(e), r.meets.rail(r.lay.Pieces, e, rail)}
			if was, again := first[key]; again {
				r.tellTwo(&cuts[was], c, what)
				break
			}
			first[key] = i
		}
	}
	slices.SortStableFunc(along, func(a, b int) int {
		return cmp.Or(cmp.Compare(cuts[a].place.Piece, cuts[b].place.Piece), cmp.Compare(cuts[a].place.At.Mid(), cuts[b].place.At.Mid()))
	})
	for k := range along {
		for j := k + 1; j < len(along) && samePlace(cuts[along[k]].place, cuts[along[j]].place); j++ {
			a, b := &cuts[along[k]], &cuts[along[j]]
			if inRails(a.rails, layout.Left) && inRails(b.rails, layout.Left) || inRails(a.rails, layout.Right) && inRails(b.rails, layout.Right) {
				r.tellTwo(a, b, what)
				break
			}
		}
	}
	return along
}

func (r *reader) tellTwo(a, b *cutAt, what string) {
	if b.at.pos.Before(a.at.pos) {
		a, b = b, a
	}
	r.blamef(b.at, "two %s at one place; the other at %s", what, r.line(a.at.pos, b.at.pos))
}

// samePlace reports whether two places along tracks are certainly one.
func samePlace(a, b layout.Place) bool {
	return a.Piece == b.Piece && a.End == b.End && (a.End >= 0 || exact(a) && exact(b) &&
		a.At.Lo-b.At.Lo <= touching && b.At.Lo-a.At.Lo <= touching)
}

func exact(p layout.Place) bool { return p.At.Known() && p.At.Lo == p.At.Hi }

// twoFeeders reports feeders at one place that were not typed as a list.
func (r *reader) twoFeeders() {
	list := slices.Clone(r.hanging[len(r.hanging)-len(r.lay.Feeders):])
	slices.SortStableFunc(list, func(a, b onRail) int {
		return cmp.Or(cmp.Compare(a.place.Piece, b.place.Piece), cmp.Compare(a.place.End, b.place.End), cmp.Compare(a.place.At.Mid(), b.place.At.Mid()))
	})
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		if !samePlace(a.place, b.place) || a.at.pos == b.at.pos {
			continue
		}
		if b.at.pos.Before(a.at.pos) {
			a, b = b, a
		}
		r.blame(b.at, problem{message: "two feeders at one place; if real, a list", expected: "the other is at " + r.line(a.at.pos, b.at.pos)})
	}
}

// onGaps reports what hangs exactly on a gap. Along are the gaps along tracks, sorted.
func (r *reader) onGaps(gaps []cutAt, along []int) {
	for _, h := range r.hanging {
		if h.place.End >= 0 || !exact(h.place) {
			continue
		}
		i, _ := slices.BinarySearchFunc(along, h.place, func(g int, p layout.Place) int {
			return cmp.Or(cmp.Compare(gaps[g].place.Piece, p.Piece), cmp.Compare(gaps[g].place.At.Mid(), p.At.Mid()-touching))
		})
		if i < len(along) && samePlace(gaps[along[i]].place, h.place) {
			name := r.pieceName(h.place.Piece)
			r.blamef(h.at, "on which side of the gap? e.g. %s @ %s", name, nudge(h.place.At.Lo, h.at.s))
		}
	}
}
