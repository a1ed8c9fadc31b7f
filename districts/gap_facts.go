package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// GapMeeting is what comes together where rails are joined across a gap, the harmless first.
type GapMeeting uint8

// What may meet. Both sides of a gap may be one already, so MeetsItself is not rare.
const (
	MeetsItself   GapMeeting = iota // both sides are one, or neither has current
	MeetsDead                       // a rail without current gets some
	MeetsUnseen                     // what a detector sees, and what it does not
	MeetsDistrict                   // two districts of one booster
	MeetsBooster                    // two boosters in phase
	MeetsReverser                   // a reversing section and track outside it
	MeetsByHand                     // the same, where nothing but a hand switches it
	MeetsUnknown                    // two sources that may be in phase or not
	MeetsShort                      // opposite legs
)

// GapJoin is one thing that joining the rails across a gap does.
type GapJoin struct {
	Meets GapMeeting
	// Classes are the two sources that meet, of MeetsUnseen two detectors; -1 for none.
	Classes [2]int32
	// Settings in which it does; none for always.
	Settings []Setting
	// Standing says that in these settings no train runs over the gap: a vehicle has to stand there.
	Standing bool
	// Frog says that it takes wheels on a frog too.
	Frog bool
}

// GapSide is one side of a gap. Sources and Detectors are those that reach a rail there in
// some setting, rising; -1 among Detectors is current that passes none.
type GapSide struct {
	Spot      int32
	Sources   []int32
	Detectors []int32
	Blocks    []int32 // meant for the block as wired there, rising
}

// GapFact is what one gap does. Way is -1 for a gap that stands at no rail.
type GapFact struct {
	Gap, Way int32
	Sides    [2]GapSide // in walking order of its track
	Cut      [2]bool    // rails of the gap's own piece that it cuts
	Parted   bool       // a block as wired ends here
	Joins    []GapJoin  // what joining its rails does, gravest first; none for nothing
	Whole    bool       // every setting was looked at
}

// gapFinder works out what gaps do.
type gapFinder struct {
	t       *Trace
	power   *together // nets by source
	seen    *together // nets by detector
	demands map[int32][]int32
	wayOf   []int32 // by gap
}

// GapFacts lists every gap in walking order of its track, by putting its rails back and
// looking at what they join. What the trace has found wrong is taken as put right; faulty
// says that there was anything.
func (t *Trace) GapFacts() (facts []GapFact, faulty bool) {
	c, masked, faulty := t.putRight()
	f := t.gapFinder(c, masked)
	out := make([]GapFact, len(t.C.Layout.Gaps))
	type key struct {
		track int32
		at    float64
	}
	keys := make([]key, len(out))
	for g := range out {
		out[g] = f.fact(int32(g))
		keys[g] = key{track: int32(len(t.C.Layout.Tracks))}
		if w := out[g].Way; w >= 0 {
			if s := t.trackSpot(w); s >= 0 {
				keys[g] = key{t.C.Layout.Pieces[t.C.Spots[s].Piece].Index, t.C.Spots[s].At}
			}
		}
	}
	slices.SortStableFunc(out, func(x, y GapFact) int {
		a, b := keys[x.Gap], keys[y.Gap]
		return cmp.Or(cmp.Compare(a.track, b.track), cmp.Compare(a.at, b.at), cmp.Compare(x.Gap, y.Gap))
	})
	return out, faulty
}

// putRight is the circuit with crossed feeders turned round, and marks the conductors that
// are at fault in every setting: stray feeders, metal where a gap is missing, bonds that tie,
// and what shorts.
func (t *Trace) putRight() (c *circuit.Circuit, masked []bool, faulty bool) {
	right := *t.C
	right.Conductors = slices.Clone(t.C.Conductors)
	masked = make([]bool, len(right.Conductors))
	stray, bonds := map[int32]bool{}, map[int32]bool{}
	for i := range t.Ties {
		stray[t.Ties[i].Feeder] = true
	}
	for i := range t.BondTies {
		bonds[t.BondTies[i].Bond] = true
	}
	for i := range right.Conductors {
		k := &right.Conductors[i]
		switch {
		case k.Kind == circuit.FeederWire && stray[k.Ref], k.Kind == circuit.BondWire && bonds[k.Ref]:
			masked[i], faulty = true, true
		case k.Kind == circuit.FeederWire && t.turnedRound(k.Ref):
			k.B = right.Spots[right.FeederSpot[k.Ref]].Node[k.Rail.Other()]
			faulty = true
		}
	}
	off := func(k int32) {
		if k >= 0 {
			masked[k], faulty = true, true
		}
	}
	for w, cut := range t.Cut {
		if cut {
			off(right.Ways[w].Rails[layout.Left])
			off(right.Ways[w].Rails[layout.Right])
		}
	}
	for i := range t.Conflicts {
		if x := &t.Conflicts[i]; len(x.Settings) == 0 {
			for _, k := range x.Cause {
				off(k)
			}
		}
	}
	return &right, masked, faulty
}

// turnedRound reports whether a feeder is the wrong way round, by itself or by its plug.
func (t *Trace) turnedRound(feeder int32) bool {
	return slices.Contains(t.Polarity.WrongFeeders, feeder) || turnedByPlugs(t.C, t.Feeds[feeder].Plug, t.Polarity.WrongPlugs)
}

// gapFinder is ready for the gaps of a circuit whose faulty conductors are masked.
func (t *Trace) gapFinder(c *circuit.Circuit, masked []bool) *gapFinder {
	f := &gapFinder{t: t, demands: map[int32][]int32{}, wayOf: make([]int32, len(c.Layout.Gaps))}
	for g := range f.wayOf {
		f.wayOf[g] = -1
	}
	bridged := map[int32]bool{} // what an in-line part across a gap conducts is not the gap's metal
	for i := range c.Ways {
		for r, g := range c.Ways[i].Gaps {
			if g < 0 {
				continue
			}
			f.wayOf[g] = int32(i)
			if c.Layout.Gaps[g].BridgedBy >= 0 {
				bridged[c.Ways[i].Rails[r]] = true
			}
		}
	}
	takes := func(i int32, k *circuit.Conductor) bool {
		return !k.Parts() && takesSwitch(c, k) && !bridged[i] && !masked[i]
	}
	search := &conflictFinder{c: c, masked: masked, never: exclusions(c)}
	f.power = search.newTogether(joinNets(c, takes), search.shorts)
	watched := joinNets(c, func(i int32, k *circuit.Conductor) bool { return takes(i, k) && k.Kind != circuit.DetectorLeg })
	f.seen = search.newTogether(&Nets{Of: watched.Of, labels: t.detectorLabels(watched)}, search.shorts)
	for i := range c.Demands {
		d := &c.Demands[i]
		for _, n := range [2]int32{d.Frog, d.As} {
			net := f.power.nets.Of[n]
			f.demands[net] = append(f.demands[net], int32(i))
		}
	}
	return f
}

// detectorLabels marks each net by the detector that its current comes through, in place of
// a source; -1 for none.
func (t *Trace) detectorLabels(nets *Nets) map[int32][]Label {
	out := map[int32][]Label{}
	mark := func(node, detector int32, leg layout.Leg) {
		net := nets.Of[node]
		if l := (Label{detector, leg}); !slices.Contains(out[net], l) {
			out[net] = append(out[net], l)
		}
	}
	d := t.Detection()
	for s := range t.C.Sources {
		above := d.SourceDetector(int32(s))
		for leg := range layout.Leg(2) {
			mark(t.C.Sources[s].Out[leg], above, leg)
		}
	}
	for i, node := range t.C.DetectorOut {
		mark(node, int32(i), t.C.Layout.Detectors[i].Leg)
	}
	return out
}

// trackSpot is the spot of a way that lies on a track, -1 for none.
func (t *Trace) trackSpot(way int32) int32 {
	for _, s := range [2]int32{t.C.Ways[way].A, t.C.Ways[way].B} {
		if t.C.Layout.Pieces[t.C.Spots[s].Piece].Kind == layout.TrackPiece {
			return s
		}
	}
	return -1
}

// inOrder gives the spots of a way in walking order of its track: the one from which the
// track goes on upwards comes second.
func (t *Trace) inOrder(way int32) [2]int32 {
	w := &t.C.Ways[way]
	s := t.trackSpot(way)
	if s < 0 {
		return [2]int32{w.A, w.B}
	}
	for _, k := range t.Ways.Of(s) {
		v := &t.C.Ways[k]
		if v.Kind != circuit.WayTrack {
			continue
		}
		if t.C.Spots[v.A+v.B-s].At > t.C.Spots[s].At {
			return [2]int32{w.A + w.B - s, s}
		}
		return [2]int32{s, w.A + w.B - s}
	}
	return [2]int32{w.A, w.B}
}

// fact works out one gap.
func (f *gapFinder) fact(gap int32) GapFact {
	c := f.t.C
	out := GapFact{Gap: gap, Way: f.wayOf[gap], Whole: true, Cut: [2]bool{layout.Left: true, layout.Right: true}}
	switch c.Layout.Gaps[gap].Rails {
	case layout.LeftRail:
		out.Cut[layout.Right] = false
	case layout.RightRail:
		out.Cut[layout.Left] = false
	}
	if out.Way < 0 {
		return out
	}
	f.power.left, f.seen.left = workPerGap, workPerGap
	f.power.open, f.seen.open = nil, nil
	w := &c.Ways[out.Way]
	var pairs [][2]int32 // nodes that its metal would join
	for r, g := range w.Gaps {
		if g == gap {
			across := r
			if w.Turned {
				across = 1 - r
			}
			pairs = append(pairs, [2]int32{c.Spots[w.A].Node[r], c.Spots[w.B].Node[across]})
		}
	}
	for i, s := range f.t.inOrder(out.Way) {
		out.Sides[i] = f.side(s, pairs, s == w.B)
	}
	out.Parted = f.t.Zones.Of[w.A] != f.t.Zones.Of[w.B] && (bothInsulated(c, w) || !slices.Equal(out.Sides[0].Blocks, out.Sides[1].Blocks))
	out.Joins = tidyJoins(append(f.joins(out.Way, f.power, pairs), f.detectorJoins(out.Way, pairs)...))
	out.Whole = len(f.power.open) == 0 && len(f.seen.open) == 0
	return out
}

// side lists what reaches one side of a gap.
func (f *gapFinder) side(spot int32, pairs [][2]int32, far bool) GapSide {
	out := GapSide{Spot: spot}
	for _, n := range f.t.C.Spots[spot].Node {
		for _, x := range f.power.spread(f.power.nets.Of[n], nil, false) {
			for _, l := range f.power.nets.labels[x.net] {
				out.Sources = append(out.Sources, l.Source)
			}
		}
	}
	for _, p := range pairs {
		n := p[0]
		if far {
			n = p[1]
		}
		for _, x := range f.seen.spread(f.seen.nets.Of[n], nil, false) {
			for _, l := range f.seen.nets.labels[x.net] {
				out.Detectors = append(out.Detectors, l.Source)
			}
		}
	}
	for _, m := range f.t.Zones.List[f.t.Zones.Of[spot]].Meant {
		if m.Length > stub {
			out.Blocks = append(out.Blocks, m.Block)
		}
	}
	for _, list := range []*[]int32{&out.Sources, &out.Detectors, &out.Blocks} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	return out
}
