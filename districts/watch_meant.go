package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Unwatched is a stretch of a detected block where the block's own detector does not see a train, or sees a part of its current.
type Unwatched struct {
	Watch
	Detector int32 // that the block is meant to have
	// Through are the detectors by which the watched leg comes there instead or besides, rising; -1 for none.
	Through []int32
	Part    bool // the leg comes through the detector too
	// Settings are the fewest in which it is so; none for always.
	Settings []Setting
	// Spot and Rail are where the leg comes past the detector.
	Spot int32
	Rail layout.Rail
}

// Unwatched lists the stretches longer than a stub, in the order of Watches, in which a block with a detector is not seen by it while its
// watched leg is there. What the trace has found wrong is taken as put right: crossed and stray feeders, gaps that are missing, what joins
// the rails of two detectors; blocks that differ from what is meant, and blocks none of whose feeders passes their detector, are left out.
// open are devices at which the search over settings reached its bound on work.
func (t *Trace) Unwatched() (out []Unwatched, open []int32) {
	if len(t.C.Layout.Detectors) == 0 {
		return nil, nil
	}
	c, masked := t.detectionPutRight()
	w := t.newWatcher(c, masked)
	told := t.toldBlocks(w.d)
	for i := range c.Layout.Tracks {
		for _, x := range w.track(int32(i)) {
			u, found := w.unwatched(x, told)
			if n := len(out); found && n > 0 && out[n-1].goesOn(&u) {
				out[n-1].To = u.To
			} else if found {
				out = append(out, u)
			}
		}
	}
	out = slices.DeleteFunc(out, func(u Unwatched) bool { return u.Length() <= stub+1e-6 })
	return out, w.g.unproven()
}

// goesOn reports whether a stretch takes up where another ends, and all is alike.
func (u *Unwatched) goesOn(o *Unwatched) bool {
	return u.Piece == o.Piece && u.To == o.From && u.Block == o.Block && u.Part == o.Part && slices.Equal(u.Through, o.Through) && slices.Equal(u.Settings, o.Settings)
}

// detectionPutRight is putRight, with what joins the rails of two detectors set aside too.
func (t *Trace) detectionPutRight() (c *circuit.Circuit, masked []bool) {
	c, masked, _ = t.putRight()
	feeders, bonds := map[int32]bool{}, map[int32]bool{}
	for i := range t.DetectorTies {
		tie := &t.DetectorTies[i]
		if tie.Feeder >= 0 {
			feeders[tie.Feeder] = true
			continue
		}
		for _, k := range c.Ways[tie.Cut].Rails {
			if k >= 0 {
				masked[k] = true
			}
		}
	}
	for i := range t.PastDetector {
		bonds[t.PastDetector[i].Bond] = true
	}
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.FeederWire && feeders[k.Ref] || k.Kind == circuit.BondWire && bonds[k.Ref] {
			masked[i] = true
		}
	}
	return c, masked
}

// toldBlocks marks the blocks that need not be looked at: without a detector, different from what is meant, all of whose feeders miss
// the detector, or whose detector is bridged by its own wire.
func (t *Trace) toldBlocks(d *Detection) []bool {
	blocks := t.C.Layout.Blocks
	told := make([]bool, len(blocks))
	for i := range blocks {
		told[i] = blocks[i].Detector < 0 || d.Reach[blocks[i].Detector].Around
	}
	for _, x := range t.Differences {
		for _, b := range x.Blocks {
			if b >= 0 {
				told[b] = true
			}
		}
	}
	for _, x := range d.OtherDetectors() {
		told[x.Block] = true
		if x.Exchanged >= 0 {
			told[x.Exchanged] = true
		}
	}
	return told
}

// unwatched judges one stretch of track; found is false where the detector of its block sees all of a train's current in every setting, or
// no leg is there.
func (w *watcher) unwatched(x Watch, told []bool) (u Unwatched, found bool) {
	if x.Block < 0 || told[x.Block] {
		return u, false
	}
	u = Unwatched{Watch: x, Detector: w.t.C.Layout.Blocks[x.Block].Detector}
	leg := w.t.C.Layout.Detectors[u.Detector].Leg
	own := func(d int32) bool { return d == u.Detector || d >= 0 && w.d.Behind(d, u.Detector) }
	u.Spot = w.spotAt(&x)
	var when *SeenWhen
	var part [][]Setting // with which the leg comes through the detector too
	for rail, node := range w.t.C.Spots[u.Spot].Node {
		s := w.net(node)
		for _, l := range s.always {
			switch {
			case l.Leg != leg:
			case own(l.Source):
				u.Part = true
			case !slices.Contains(u.Through, l.Source):
				u.Through, u.Rail = append(u.Through, l.Source), layout.Rail(rail)
			}
		}
		for i := range s.when {
			n := &s.when[i]
			if n.Leg == leg && own(n.Detector) {
				part = append(part, n.Settings)
			}
			if n.Leg == leg && !own(n.Detector) && !w.shorted(n.Settings) && (when == nil || len(n.Settings) < len(when.Settings)) {
				when = n
				if len(u.Through) == 0 {
					u.Rail = layout.Rail(rail)
				}
			}
		}
	}
	if len(u.Through) == 0 {
		if when == nil {
			return u, false
		}
		u.Through, u.Settings = []int32{when.Detector}, when.Settings
		u.Part = u.Part || slices.ContainsFunc(part, func(p []Setting) bool { return within(p, when.Settings) })
	}
	slices.Sort(u.Through)
	return u, true
}

// spotAt is the spot at which a stretch of track begins.
func (w *watcher) spotAt(x *Watch) int32 {
	spots := w.t.C.TrackSpots[w.t.C.Layout.Pieces[x.Piece].Index]
	at := int32(-1)
	for i := 1; i < len(spots) && at < 0; i++ {
		if w.t.C.Spots[spots[i-1]].At == x.From && w.t.C.Spots[spots[i]].At > x.From {
			at = spots[i-1]
		}
	}
	return at
}

// shorted reports whether settings hold all of a short that is told.
func (w *watcher) shorted(settings []Setting) bool {
	return slices.ContainsFunc(w.t.Conflicts, func(x Conflict) bool { return len(x.Settings) > 0 && within(x.Settings, settings) })
}
