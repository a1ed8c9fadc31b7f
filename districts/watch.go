package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Watch is a stretch of one piece over which the same detectors see a train: of a track its metres, of track work one route. A train
// draws its current from rail to rail; a detector sees it when the current of its leg there comes through it.
type Watch struct {
	Piece    layout.PieceID
	From, To float64 // metres along a track; 0 and the length of a route
	Way      int32   // the route of track work, -1 on a track
	Block    int32   // as meant, -1 for none
	Always   []Seen  // by detector
	Legs     [2]bool // that are there in every setting
	// When is what else current comes through once some devices are set, fewest first.
	When []SeenWhen
	// Unfed says that a rail has no leg, in every setting or until some device is set.
	Unfed bool
}

// Seen is a detector that sees a train. Part says that the rail gets its leg past it too, so that it sees a part of the current only.
type Seen struct {
	Detector int32
	Part     bool
}

// SeenWhen is a way of current that settings add: through a detector, or through none (-1).
type SeenWhen struct {
	Detector int32
	Leg      layout.Leg
	Settings []Setting
}

// Length of a stretch in metres.
func (w *Watch) Length() float64 { return w.To - w.From }

// Watches says for every length of track and every route of track work which detectors see a train there, in every setting and in
// some: in the order of the layout's tracks and their metres, then of its other pieces. open are devices at which the search over settings reached its bound on
// work: what they would add is not known.
func (t *Trace) Watches() (out []Watch, open []int32) {
	w := t.newWatcher(t.C, make([]bool, len(t.C.Conductors)))
	for i := range t.C.Layout.Tracks {
		out = append(out, w.track(int32(i))...)
	}
	for i := range t.C.Ways {
		if way := &t.C.Ways[i]; way.Kind == circuit.WayThrough {
			out = append(out, w.route(int32(i)))
		}
	}
	first := len(out)
	for first > 0 && out[first-1].Way >= 0 {
		first--
	}
	slices.SortStableFunc(out[first:], func(x, y Watch) int { return cmp.Compare(x.Piece, y.Piece) })
	return out, w.g.unproven()
}

// watcher looks nets up by the detectors that their legs come through.
type watcher struct {
	t    *Trace
	d    *Detection
	g    *together
	nets map[int32]*seenNet
}

// seenNet is what the rail of one net gets its leg through.
type seenNet struct {
	always []Label // a detector, or -1, in place of a source
	when   []SeenWhen
}

// newWatcher looks nets up in a circuit with the spots of the trace's, without the conductors that are masked.
func (t *Trace) newWatcher(c *circuit.Circuit, masked []bool) *watcher {
	f := &conflictFinder{c: c, masked: masked, never: exclusions(c)}
	metal := joinNets(c, func(i int32, k *circuit.Conductor) bool {
		return k.Device < 0 && !masked[i] && !k.Parts() && k.Kind != circuit.DetectorLeg
	})
	g := f.newTogether(&Nets{Of: metal.Of, labels: t.detectorLabels(metal)}, f.shorts)
	return &watcher{t: t, d: t.Detection(), g: g, nets: map[int32]*seenNet{}}
}

// mostReached bounds how many nets with a leg are asked further for one; beyond it the search is open.
const mostReached = 64

// net looks a net up.
func (w *watcher) net(node int32) *seenNet {
	net := w.g.nets.Of[node]
	if s := w.nets[net]; s != nil {
		return s
	}
	s := &seenNet{always: slices.Clone(w.g.nets.labels[net])}
	w.nets[net] = s
	// Current comes on from a net with a leg of its own to the next: each is asked further with the settings it took.
	queue := []reachedNet{{net, nil}}
	for k := 0; k < len(queue) && k < mostReached; k++ {
		for _, r := range w.g.spread(queue[k].net, queue[k].settings, true) {
			if r.net == net || !w.real(r.settings) || slices.ContainsFunc(queue, func(o reachedNet) bool { return o.net == r.net && within(o.settings, r.settings) }) {
				continue
			}
			queue = append(queue, r)
			for _, l := range w.g.nets.labels[r.net] {
				known := slices.Contains(s.always, l) || slices.ContainsFunc(s.when, func(x SeenWhen) bool { return x.Detector == l.Source && x.Leg == l.Leg })
				if !known {
					s.when = append(s.when, SeenWhen{l.Source, l.Leg, r.settings})
				}
			}
		}
	}
	if len(queue) > mostReached {
		w.g.open = append(w.g.open, queue[mostReached].settings[0].Device)
	}
	return s
}

// real reports whether settings are ones in which a train may stand: not a moment in which contacts change over.
func (w *watcher) real(settings []Setting) bool {
	return !slices.ContainsFunc(settings, func(s Setting) bool {
		return w.t.C.Devices[s.Device].Momentary(s.Position)
	})
}

// track divides a track into stretches over which all is alike. What stands on it has no rail of the track and is left out.
func (w *watcher) track(track int32) []Watch {
	c := w.t.C
	spots := c.TrackSpots[track]
	var out []Watch
	for i := 1; i < len(spots); i++ {
		a, b := &c.Spots[spots[i-1]], &c.Spots[spots[i]]
		if b.At <= a.At || !w.t.adjoin(spots[i-1], spots[i]) {
			continue
		}
		x := w.stretch(a.Node[:], b.Node[:])
		x.Piece, x.From, x.To, x.Way = a.Piece, a.At, b.At, -1
		x.Block = w.t.Meant.trackBlock(track, (a.At+b.At)/2)
		if n := len(out); n > 0 && out[n-1].To == x.From && out[n-1].alike(&x) {
			out[n-1].To = x.To
			continue
		}
		out = append(out, x)
	}
	return out
}

// route is a way through track work.
func (w *watcher) route(way int32) Watch {
	c := w.t.C
	k := &c.Ways[way]
	a, b := &c.Spots[k.A], &c.Spots[k.B]
	x := w.stretch(a.Node[:], b.Node[:])
	x.Piece, x.To, x.Way = k.Piece, k.Length, way
	x.Block = w.t.Meant.sideBlock(c, k.A)
	return x
}

// stretch is what sees a train whose wheels stand on some rails.
func (w *watcher) stretch(ends ...[]int32) Watch {
	var x Watch
	for side := range 2 {
		var labels []Label
		for _, nodes := range ends {
			s := w.net(nodes[side])
			for _, l := range s.always {
				if !slices.Contains(labels, l) {
					labels = append(labels, l)
				}
			}
			for _, n := range s.when {
				if !slices.ContainsFunc(x.When, func(o SeenWhen) bool { return o.Detector == n.Detector && o.Leg == n.Leg }) {
					x.When = append(x.When, n)
				}
			}
		}
		if len(labels) == 0 {
			x.Unfed = true
		}
		for _, l := range labels {
			x.Legs[l.Leg] = true
		}
		for _, seen := range w.seen(labels) {
			if i := slices.IndexFunc(x.Always, func(o Seen) bool { return o.Detector == seen.Detector }); i >= 0 {
				x.Always[i].Part = x.Always[i].Part || seen.Part
			} else {
				x.Always = append(x.Always, seen)
			}
		}
	}
	x.When = slices.DeleteFunc(x.When, func(n SeenWhen) bool {
		return slices.ContainsFunc(x.Always, func(s Seen) bool { return s.Detector == n.Detector })
	})
	slices.SortFunc(x.Always, func(p, q Seen) int { return cmp.Compare(p.Detector, q.Detector) })
	slices.SortStableFunc(x.When, func(p, q SeenWhen) int {
		return cmp.Or(cmp.Compare(len(p.Settings), len(q.Settings)), cmp.Compare(p.Detector, q.Detector), cmp.Compare(p.Leg, q.Leg))
	})
	return x
}

// seen lists the detectors that the current of one rail comes through: those it is labelled by, and those before them.
func (w *watcher) seen(labels []Label) []Seen {
	var out []Seen
	for d := range w.t.C.Layout.Detectors {
		d := int32(d)
		through := func(l Label) bool { return l.Source == d || l.Source >= 0 && w.d.Behind(l.Source, d) }
		if slices.ContainsFunc(labels, through) {
			out = append(out, Seen{d, slices.ContainsFunc(labels, func(l Label) bool { return !through(l) })})
		}
	}
	return out
}

// alike reports whether two stretches of one piece are one.
func (w *Watch) alike(o *Watch) bool {
	return w.Block == o.Block && w.Unfed == o.Unfed && w.Legs == o.Legs && slices.Equal(w.Always, o.Always) &&
		slices.EqualFunc(w.When, o.When, func(x, y SeenWhen) bool {
			return x.Detector == y.Detector && x.Leg == y.Leg && slices.Equal(x.Settings, y.Settings)
		})
}
