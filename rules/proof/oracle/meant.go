package oracle

import (
	"fmt"
	"math"
	"slices"
)

// bound is where a block ends: in a run, or at an end with the block behind it.
type bound struct {
	run int
	at  float64
	end int
}

// blockBounds lists where a block meets what is not the block.
func (a *analysis) blockBounds(c cover) []bound {
	var out []bound
	outer := func(e int) {
		w, ok := a.beyond(e)
		if ok && !a.coversEnd(c, w.end) && !a.ends[w.end].pit && !a.ends[e].pit {
			out = append(out, bound{-1, 0, e})
		}
	}
	for _, s := range c.spans {
		r := a.runs[s.run]
		if s.a > r.s0+tiny {
			out = append(out, bound{s.run, s.a, -1})
		} else {
			outer(r.ends[0])
		}
		if s.b < r.s1-tiny {
			out = append(out, bound{s.run, s.b, -1})
		} else {
			outer(r.ends[1])
		}
	}
	for _, e := range c.ends {
		outer(e)
	}
	return out
}

// gapAhead says whether either rail is cut for good within some metres.
func (a *analysis) gapAhead(w walker, within float64) bool {
	for range len(a.ends) + 1 {
		if w.run < 0 {
			return false
		}
		r := a.runs[w.run]
		for rail := range 2 {
			for _, c := range r.cuts[rail] {
				d := c.at - w.at
				if w.back {
					d = -d
				}
				if c.insulated && d >= -tiny && d <= within+tiny {
					return true
				}
			}
		}
		out := r.ends[1]
		within -= r.s1 - w.at
		if w.back {
			out = r.ends[0]
			within += r.s1 - w.at - (w.at - r.s0)
		}
		if within < -tiny {
			return false
		}
		if a.insulatedJoint(out) || a.ends[out].pit {
			return true
		}
		next, ok := a.beyond(out)
		if !ok {
			return false
		}
		w = next
	}
	return false
}

func (a *analysis) parted(b bound) bool {
	if b.run >= 0 {
		return a.gapAhead(walker{b.run, b.at, true, -1}, stub) || a.gapAhead(walker{b.run, b.at, false, -1}, stub)
	}
	if a.insulatedJoint(b.end) || a.gapAhead(a.into(b.end), stub) {
		return true
	}
	w, ok := a.beyond(b.end)
	return ok && a.gapAhead(w, stub)
}

func (a *analysis) boundLabel(b bound) string {
	if b.run >= 0 {
		return a.label(spot{b.run, b.at, -1})
	}
	return a.label(spot{-1, 0, b.end})
}

// bounds compares blocks as meant with the gaps as cut.
func (a *analysis) bounds() {
	still := a.may.still()
	for _, bl := range a.blocks {
		for _, p := range bl.openEnds {
			a.add(Block, p, "block "+bl.name+": no gap where one is said to bound it")
		}
		edges := a.blockBounds(bl.cover)
		for _, b := range edges {
			if !a.parted(b) {
				a.add(Block, a.boundLabel(b), "block "+bl.name+" has no gap near this bound")
			}
		}
		for _, s := range a.sites() {
			if s.piece < 0 && len(s.pairs) == 2 && a.cutsInside(bl.cover, edges, &s) && !still.joined(s.pairs[0][0], s.pairs[0][1]) && !still.joined(s.pairs[1][0], s.pairs[1][1]) {
				a.add(Block, s.place, "block "+bl.name+" is cut in two")
			}
		}
	}
}

// cutsInside says whether an insulated gap in both rails has the block on either
// side and none of its bounds within a stub's length.
func (a *analysis) cutsInside(c cover, edges []bound, s *site) bool {
	if s.run >= 0 {
		for rail := range 2 {
			if !slices.ContainsFunc(a.runs[s.run].cuts[rail], func(x cut) bool { return x.insulated && math.Abs(x.at-s.at) <= tiny }) {
				return false
			}
		}
		r := a.runs[s.run]
		for _, b := range edges {
			at := b.at
			if b.run < 0 {
				if a.ends[b.end].run != s.run {
					continue
				}
				at = r.s1
				if a.ends[b.end].start {
					at = r.s0
				}
			} else if b.run != s.run {
				continue
			}
			if math.Abs(at-s.at) <= stub+tiny {
				return false
			}
		}
		return slices.ContainsFunc(c.spans, func(sp span) bool { return sp.run == s.run && sp.a < s.at-tiny && s.at+tiny < sp.b })
	}
	w, ok := a.beyond(s.end)
	if !ok || !a.joints[a.ends[s.end].joint].rails[0].insulated || !a.joints[a.ends[s.end].joint].rails[1].insulated {
		return false
	}
	for _, b := range edges {
		for _, side := range []int{s.end, w.end} {
			r := a.ends[side].run
			if r < 0 || (b.run != r && (b.end < 0 || a.ends[b.end].run != r)) {
				continue
			}
			far := a.runs[r].s1 - a.runs[r].s0
			if b.run == r {
				far = math.Abs(b.at - a.into(side).at)
			}
			if far <= stub+tiny {
				return false
			}
		}
	}
	return a.coversEnd(c, s.end) && a.coversEnd(c, w.end)
}

// meant compares blocks with the sources and detectors meant for them.
func (a *analysis) meant() {
	reached := make([][]int, len(a.may.labels))
	for n := range reached {
		reached[n] = slices.Clone(a.may.labels[n])
	}
	for _, gr := range a.mayOf {
		a.may.each([]group{gr}, func(w *world) {
			for _, n := range gr.nets {
				for _, t := range w.labels[w.sets.find(n)] {
					reached[n] = insert(reached[n], t)
				}
			}
		})
	}
	for _, bl := range a.blocks {
		rails := a.coveredNodes(bl.cover, stub)
		for _, d := range a.districts {
			if slices.Contains(d.blocks, bl.name) {
				a.hangsFrom(bl, d, rails, reached)
			}
		}
		if bl.detector != "" {
			a.isSeen(bl, rails, reached)
		}
	}
}

func (a *analysis) hangsFrom(bl block, d district, rails []railAt, reached [][]int) {
	leg := max(d.legs[0], d.legs[1])
	known := leg >= 0 && a.terminals[leg].source >= 0
	for _, r := range rails {
		for _, t := range reached[a.may.net[r.node]] {
			same := false
			for _, want := range d.legs {
				same = same || want >= 0 && a.terminals[want].source == a.terminals[t].source && a.terminals[want].leg == a.terminals[t].leg
			}
			if !same && known && a.terminals[t].source >= 0 {
				a.add(Meant, r.place, fmt.Sprintf("block %s is meant to hang from %s and has %s", bl.name, d.from, a.legName(t)))
			}
		}
	}
}

func (a *analysis) isSeen(bl block, rails []railAt, reached [][]int) {
	watched, ok := a.detectors[bl.detector]
	if !ok {
		return
	}
	some := false
	for _, r := range rails {
		for _, t := range reached[a.may.net[r.node]] {
			tm := a.terminals[t]
			switch {
			case tm.unknown:
			case slices.Contains(tm.seenBy, bl.detector):
				some = true
			case a.canAgree(t, watched, a.anyhow()) || !a.canOppose(t, watched, a.anyhow()):
				a.add(Detector, r.place, fmt.Sprintf("block %s is meant for detector %s and has %s", bl.name, bl.detector, a.legName(t)))
			}
		}
	}
	if !some && len(rails) > 0 {
		a.add(Detector, rails[0].place, fmt.Sprintf("no rail of block %s hangs from detector %s", bl.name, bl.detector))
	}
}
