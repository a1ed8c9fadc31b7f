package districts

import (
	"cmp"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Removal is a thing taken out of the circuit: a breaker tripped, a plug pulled, a feeder
// broken, a booster switched off.
type Removal struct {
	Name  string
	takes func(k *circuit.Conductor) bool // conductors that go
	roots func(source int32) bool         // boosters that stop
}

// removalKinds are the kinds a removal may name, with the names of each.
func removals(l *layout.Layout) []Removal {
	var out []Removal
	add := func(name string, kind circuit.Kind, ref int) {
		out = append(out, Removal{Name: name, takes: func(k *circuit.Conductor) bool { return k.Kind == kind && int(k.Ref) == ref }})
	}
	for i := range l.Boosters {
		out = append(out, Removal{Name: "booster " + l.Boosters[i].Name, roots: func(s int32) bool { return int(s) == i }})
	}
	for i := range l.Breakers {
		add("breaker "+l.Breakers[i].Name, circuit.BreakerLeg, i)
	}
	for i := range l.Reversers {
		add("reverser "+l.Reversers[i].Name, circuit.ReverserLeg, i)
	}
	for i := range l.Detectors {
		add("detector "+l.Detectors[i].Name, circuit.DetectorLeg, i)
	}
	for i := range l.InLines {
		add("in-line "+l.InLines[i].Name, circuit.InLineLeg, i)
	}
	for i := range l.Changeovers {
		add("changeover "+l.Changeovers[i].Name, circuit.ChangeoverLeg, i)
	}
	for i := range l.Plugs {
		add("plug "+l.Plugs[i].Name, circuit.PlugLeg, i)
	}
	for i := range l.Buses {
		add("bus "+l.Buses[i].Name, circuit.BusSpan, i)
	}
	for i := range l.Feeders {
		add("feeder "+feederName(&l.Feeders[i]), circuit.FeederWire, i)
	}
	return out
}

func feederName(f *layout.Feeder) string {
	if f.Name != "" {
		return f.Name
	}
	return f.Place.Text
}

// FindRemoval looks a device up by kind and name: "breaker yard", "plug jetty", "feeder M1 @
// 6 ft", or by name alone where one thing only has it. names are all that could be meant.
func FindRemoval(l *layout.Layout, name string) (r Removal, names []string, ok bool) {
	all := removals(l)
	var bare []Removal
	for _, r := range all {
		if r.Name == name {
			return r, nil, true
		}
		if _, rest, _ := strings.Cut(r.Name, " "); rest == name {
			bare = append(bare, r)
		}
		names = append(names, r.Name)
	}
	if len(bare) == 1 {
		return bare[0], nil, true
	}
	return Removal{}, names, false
}

// Interval is a stretch of one track.
type Interval struct {
	Track    int32
	From, To float64
}

// Without says what a removal does: Dies lists the stretches that no leg reaches any more
// in one rail or both; Stays those of the same districts that stay alive, with the feeder
// each is kept alive by in Through (-1 unknown).
type Without struct {
	Dies  []Interval
	Stays []Interval
	// Through has, for each of Stays, a feeder that still brings current there.
	Through []int32
}

// Without takes a device out and follows what is left, with reversers straight and
// changeovers in their first position.
func (t *Trace) Without(r Removal) Without {
	before, after := t.alive(Removal{}), t.alive(r)
	hit := map[int32]bool{} // zones where something died, or that the removed thing feeds
	var out Without
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		if w.Kind != circuit.WayTrack || !t.bothAlive(before, w) || t.bothAlive(after, w) {
			continue
		}
		hit[t.Zones.Of[w.A]] = true
		out.Dies = append(out.Dies, t.interval(w))
	}
	for s := range t.C.Sources {
		if t.removes(r, int32(s)) {
			for _, z := range t.Summaries()[s].Zones {
				hit[z] = true
			}
		}
	}
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		if w.Kind == circuit.WayTrack && hit[t.Zones.Of[w.A]] && t.bothAlive(before, w) && t.bothAlive(after, w) {
			out.Stays = append(out.Stays, t.interval(w))
		}
	}
	out.Dies, out.Stays = joinIntervals(out.Dies), joinIntervals(out.Stays)
	for _, s := range out.Stays {
		out.Through = append(out.Through, t.keptBy(s, r))
	}
	return out
}

// removes reports whether a removal takes away a source's own legs.
func (t *Trace) removes(r Removal, s int32) bool {
	return r.Name == t.C.Sources[s].Name
}

func (t *Trace) interval(w *circuit.Way) Interval {
	return Interval{Track: t.C.Layout.Pieces[w.Piece].Index, From: t.C.Spots[w.A].At, To: t.C.Spots[w.B].At}
}

func (t *Trace) bothAlive(alive []bool, w *circuit.Way) bool {
	n := t.C.Spots[w.A].Node
	return alive[n[0]] && alive[n[1]]
}

// alive marks the nodes that a booster, cab or supply reaches when a removal is taken out.
func (t *Trace) alive(r Removal) []bool {
	u := newUnionFind(t.C.Nodes)
	for i := range t.C.Conductors {
		k := &t.C.Conductors[i]
		if !k.Sure || (r.takes != nil && r.takes(k)) || !t.atRest(k) {
			continue
		}
		u.union(k.A, k.B)
	}
	net := u.flatten()
	live := make([]bool, t.C.Nodes)
	for _, n := range t.roots(r) {
		live[net[n]] = true
	}
	out := make([]bool, t.C.Nodes)
	for n := range out {
		out[n] = live[net[n]]
	}
	return out
}

// atRest takes what holds in every setting, devices of the power side in their first
// position, and track work in any.
func (t *Trace) atRest(k *circuit.Conductor) bool {
	return k.Device < 0 || k.Position == 0 || t.C.Devices[k.Device].Kind == circuit.PieceDevice
}

// keptBy is the feeder by which current still comes to a stretch, on the shortest way
// from a booster, cab or supply; -1 when no feeder is on it.
func (t *Trace) keptBy(s Interval, r Removal) int32 {
	starts := t.roots(r)
	node := int32(-1)
	for _, spot := range t.C.TrackSpots[s.Track] {
		if at := t.C.Spots[spot].At; s.From <= at && at <= s.To {
			node = t.C.Spots[spot].Node[0]
			if at > s.From {
				break
			}
		}
	}
	path := shortestWalk(t.C, t.conductorsAt(), starts, func(n int32) bool { return n == node }, func(i int32) bool {
		k := &t.C.Conductors[i]
		return k.Sure && t.atRest(k) && (r.takes == nil || !r.takes(k))
	})
	for _, step := range path {
		if k := &t.C.Conductors[step.Conductor]; k.Kind == circuit.FeederWire {
			return k.Ref
		}
	}
	return -1
}

// roots are the terminals where legs begin that a removal leaves in place.
func (t *Trace) roots(r Removal) []int32 {
	var out []int32
	for s := range t.C.Sources {
		src := &t.C.Sources[s]
		if src.Parent >= 0 || (src.Kind != circuit.BoosterSource && src.Kind != circuit.CabSource && src.Kind != circuit.SupplySource) {
			continue
		}
		if r.roots == nil || !r.roots(int32(s)) {
			out = append(out, src.Out[0], src.Out[1])
		}
	}
	return out
}

// joinIntervals sorts stretches and joins those that touch.
func joinIntervals(in []Interval) []Interval {
	slices.SortFunc(in, func(x, y Interval) int {
		return cmp.Or(cmp.Compare(x.Track, y.Track), cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To))
	})
	var out []Interval
	for _, s := range in {
		if n := len(out); n > 0 && out[n-1].Track == s.Track && s.From <= out[n-1].To+1e-9 {
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return out
}
