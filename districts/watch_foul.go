package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// Foul is what detectors see of plain track on a leg of track work, near enough that what stands there fouls the other leg.
type Foul struct {
	Detectors []int32 // that see the track work's end of the leg, rising
	// Unseen says that they do not see all of it: not from Spot on, which lies Metres out along the leg, with Settings, the fewest; none for always.
	Unseen   bool
	Spot     int32
	Metres   float64
	Settings []Setting
}

// Fouls walks out along each leg given, by the spot of the track work's end, as far as the metres given or to other track work, and tells whether the
// detectors that see the leg's end in every setting see all the rail there. What the trace has found wrong is taken as put right. The list is by leg; nil
// where no detector sees the leg's end.
func (t *Trace) Fouls(legs []int32, metres []float64) []*Foul {
	out := make([]*Foul, len(legs))
	if len(t.C.Layout.Detectors) == 0 {
		return out
	}
	c, masked := t.detectionPutRight()
	w := t.newWatcher(c, masked)
	for i, spot := range legs {
		out[i] = w.foul(spot, metres[i])
	}
	return out
}

// foul walks one leg.
func (w *watcher) foul(spot int32, metres float64) *Foul {
	c := w.t.C
	f := &Foul{}
	end := w.stretch(c.Spots[spot].Node[:])
	for _, s := range end.Always {
		if !s.Part && !slices.ContainsFunc(end.When, func(n SeenWhen) bool { return w.past(n, s.Detector) }) {
			f.Detectors = append(f.Detectors, s.Detector)
		}
	}
	if len(f.Detectors) == 0 {
		return nil
	}
	out := 0.0
	at, from := spot, int32(-1)
	for range c.Ways {
		next := int32(-1)
		for _, k := range w.t.Ways.Of(at) {
			if x := &c.Ways[k]; k != from && x.Kind != circuit.WayThrough {
				next = k
			}
		}
		if next < 0 || c.Ways[next].Kind == circuit.WayPit {
			return f
		}
		way := &c.Ways[next]
		if way.Kind == circuit.WayTrack {
			if out >= metres-1e-6 {
				return f
			}
			if f.Unseen, f.Settings = w.unseen(at, f.Detectors); f.Unseen {
				f.Spot, f.Metres = at, out
				return f
			}
			out += way.Length
		}
		at, from = way.A+way.B-at, next
		if c.Spots[at].End >= 0 {
			return f
		}
	}
	return f
}

// past reports whether current comes by a leg that a detector watches, and not through it.
func (w *watcher) past(n SeenWhen, detector int32) bool {
	return n.Leg == w.t.C.Layout.Detectors[detector].Leg && n.Detector != detector && !w.d.Behind(n.Detector, detector) && !w.shorted(n.Settings)
}

// unseen reports whether some detectors see nothing of a train at a spot, always or in the fewest settings, while a leg they watch is there.
func (w *watcher) unseen(spot int32, detectors []int32) (unseen bool, settings []Setting) {
	x := w.stretch(w.t.C.Spots[spot].Node[:])
	if slices.ContainsFunc(x.Always, func(s Seen) bool { return slices.Contains(detectors, s.Detector) }) {
		return false, nil
	}
	if !slices.ContainsFunc(detectors, func(d int32) bool { return !x.Legs[w.t.C.Layout.Detectors[d].Leg] }) {
		return true, nil
	}
	seenToo := func(n SeenWhen) bool {
		return slices.ContainsFunc(x.When, func(o SeenWhen) bool {
			return within(o.Settings, n.Settings) && slices.ContainsFunc(detectors, func(d int32) bool { return o.Detector == d || w.d.Behind(o.Detector, d) })
		})
	}
	for _, n := range x.When {
		if !slices.ContainsFunc(detectors, func(d int32) bool { return !w.past(n, d) }) && !seenToo(n) {
			return true, n.Settings
		}
	}
	return false, nil
}
