package oracle

import (
	"fmt"
	"slices"
)

// trainsOver judges every two gaps that one train can bridge at once: each alone
// may suit, both together not.
func (a *analysis) trainsOver(all []site) error {
	longest := 0.0
	for _, t := range a.trains {
		longest = max(longest, t.length)
	}
	for i := range all {
		s := &all[i]
		if !s.suits || s.broken {
			continue
		}
		reach := a.reach(all, i, longest)
		for _, j := range sortedInts(reach) {
			o := &all[j]
			if j < i && all[j].suits || !o.suits || o.broken {
				continue
			}
			long := a.longestOver(s, o)
			if reach[j] >= long-tiny {
				continue
			}
			if err := a.pair(s, o, reach[j], long); err != nil {
				return err
			}
		}
	}
	return nil
}

func sortedInts(m map[int]float64) []int {
	var out []int
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (a *analysis) pair(s, o *site, apart, long float64) error {
	found := false
	ids := a.groupsOf(s, o)
	if a.worlds(ids) > tries {
		return errTooMany
	}
	a.may.each(a.pick(ids), func(w *world) {
		if found {
			return
		}
		x, _ := a.meets(w, s)
		y, _ := a.meets(w, o)
		if x == nil || y == nil || a.unsuited(x, w.lie) || a.unsuited(y, w.lie) {
			return
		}
		if a.unsuited(append(slices.Clone(x), y...), w.lie) {
			found = true
			a.add(Train, s.place, fmt.Sprintf("a train of %.2f m is over %s too, %.2f m away, and no state suits both", long, o.place, apart))
		}
	})
	return nil
}

// longestOver is the longest train that may stand on both sites: blocks may keep
// others out.
func (a *analysis) longestOver(s, o *site) float64 {
	var kept [][]string
	for _, x := range []*site{s, o} {
		for _, b := range a.blocks {
			if b.trains != nil && a.touches(b.cover, x) {
				kept = append(kept, b.trains)
			}
		}
	}
	longest := 0.0
	for _, t := range a.trains {
		if !slices.ContainsFunc(kept, func(only []string) bool { return !slices.Contains(only, t.name) }) {
			longest = max(longest, t.length)
		}
	}
	return longest
}

func (a *analysis) touches(c cover, s *site) bool {
	if s.run >= 0 {
		return slices.ContainsFunc(c.spans, func(sp span) bool { return sp.run == s.run && sp.a <= s.at+tiny && s.at <= sp.b+tiny })
	}
	if s.end < 0 {
		return false
	}
	if a.coversEnd(c, s.end) {
		return true
	}
	w, ok := a.beyond(s.end)
	return ok && a.coversEnd(c, w.end)
}

// coversEnd says whether a cover takes in the track or piece at an end.
func (a *analysis) coversEnd(c cover, e int) bool {
	r := a.ends[e].run
	if r < 0 {
		return slices.Contains(c.ends, e)
	}
	at := a.runs[r].s1
	if a.ends[e].start {
		at = a.runs[r].s0
	}
	return slices.ContainsFunc(c.spans, func(sp span) bool { return sp.run == r && sp.a <= at+tiny && at <= sp.b+tiny })
}

// reach measures along the track, by ways that a train can take, how near other
// sites lie. Distances of bound or more are left out.
func (a *analysis) reach(all []site, from int, bound float64) map[int]float64 {
	out := map[int]float64{}
	note := func(j int, d float64) {
		if old, ok := out[j]; j != from && (!ok || d < old) {
			out[j] = d
		}
	}
	best := map[int]float64{} // by the end that was entered
	var enter func(w walker, d float64)
	leave := func(e int, d float64) {
		for j := range all {
			if s := &all[j]; s.run < 0 && s.end >= 0 && a.ends[e].joint >= 0 && a.ends[s.end].joint == a.ends[e].joint {
				note(j, d)
			}
		}
		if w, ok := a.beyond(e); ok {
			enter(w, d)
		}
	}
	cross := func(j int, d float64) { // a bridge, from the site at one edge to what lies beyond the other
		for k := range all {
			o := &all[k]
			if k != j && o.piece == all[j].piece && o.in == all[j].in && o.end >= 0 && a.ends[o.end].pit {
				note(k, d+a.pieces[o.piece].bridge)
				if w, ok := a.beyond(o.end); ok {
					enter(w, d+a.pieces[o.piece].bridge)
				}
			}
		}
	}
	enter = func(w walker, d float64) {
		if d >= bound {
			return
		}
		if w.end >= 0 {
			if old, ok := best[w.end]; ok && old <= d {
				return
			}
			best[w.end] = d
		}
		if w.run >= 0 {
			for j := range all {
				if s := &all[j]; s.run == w.run && (w.back && s.at < w.at+tiny || !w.back && s.at > w.at-tiny) {
					note(j, d+max(s.at-w.at, w.at-s.at))
				}
			}
			r := a.runs[w.run]
			if w.back {
				leave(r.ends[0], d+w.at-r.s0)
			} else {
				leave(r.ends[1], d+r.s1-w.at)
			}
			return
		}
		e := a.ends[w.end]
		if e.pit {
			for j := range all {
				if all[j].end == w.end && all[j].piece >= 0 {
					cross(j, d)
				}
			}
			return
		}
		for _, st := range a.pieces[e.piece].settings {
			for _, r := range st.routes {
				if r[0] == e.name {
					leave(a.endOf(e.piece, r[1]), d+a.pieces[e.piece].length)
				} else if r[1] == e.name {
					leave(a.endOf(e.piece, r[0]), d+a.pieces[e.piece].length)
				}
			}
		}
	}
	s := &all[from]
	switch {
	case s.run >= 0:
		enter(walker{s.run, s.at, true, -1}, 0)
		enter(walker{s.run, s.at, false, -1}, 0)
	case s.end >= 0 && a.ends[s.end].pit:
		cross(from, 0)
		if w, ok := a.beyond(s.end); ok {
			enter(w, 0)
		}
	case s.end >= 0:
		enter(a.into(s.end), 0)
		if w, ok := a.beyond(s.end); ok {
			enter(w, 0)
		}
	}
	return out
}
