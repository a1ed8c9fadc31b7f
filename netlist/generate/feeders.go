package generate

import (
	"slices"

	"gapwise/netlist/layout"
)

// feeder of the plan, by its track's own walk.
type feeder struct {
	at    int
	aRail layout.Rail
	taps  [2]tap // by leg
}

// Steps along a bus from tap to tap, in inches.
const (
	busStep      = 30
	detectedStep = 60
)

// feed hangs one feeder on a route.
func (r route) feed(at int, s supply) {
	t := r.track()
	f := feeder{at: r.own(at), aRail: t.aRail}
	both := r.b.tap(s.bus, busStep)
	f.taps = [2]tap{both, both}
	if s.detected >= 0 {
		f.taps[s.leg] = r.b.tap(s.detected, detectedStep)
	}
	t.feeders = append(t.feeders, f)
	r.b.conductors += 4 // two wires, and the rails parted there
}

// feedAlong hangs feeders along rail that is free from one place to another, near both
// ends and between them every 3 to 6 ft.
func (r route) feedAlong(from, to int, s supply) {
	if to-from < 36 {
		r.feed((from+to)/2, s)
		return
	}
	first, last := from+r.b.between(3, 8), to-r.b.between(3, 8)
	apart := r.b.between(36, 72)
	n := (last - first + apart - 1) / apart
	for i := range n + 1 {
		r.feed(first+(last-first)*i/n, s)
	}
}

// feedersIn are the places of the feeders from one place to another, rising, by the
// track's own walk.
func (t *track) feedersIn(from, to int) []int {
	var places []int
	for _, f := range t.feeders {
		if from <= f.at && f.at <= to {
			places = append(places, f.at)
		}
	}
	slices.Sort(places)
	return places
}

// cutIn reports whether a gap lies between two places of the track's own walk.
func (t *track) cutIn(from, to int) bool {
	return slices.ContainsFunc(t.cuts, func(c cut) bool { return from < c.at && c.at < to })
}

// inOrder sorts what stands on each track by place.
func (t *track) inOrder() {
	slices.SortFunc(t.cuts, func(a, b cut) int { return a.at - b.at })
	slices.SortFunc(t.joins, func(a, b railJoint) int { return a.at - b.at })
	slices.SortFunc(t.feeders, func(a, b feeder) int { return a.at - b.at })
	slices.SortFunc(t.stands, func(a, b stand) int { return a.at - b.at })
}
