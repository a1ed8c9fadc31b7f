// Package districts follows wires and rails: which rail carries which leg of which source,
// what is tied that should be apart, which feeder, gap or piece of track work explains each
// contradiction, which blocks and reversing sections the wiring makes, and how all that
// differs from what the owner meant. It decides no severity and writes no advice.
package districts

import (
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Trace is everything that follows from the wiring by topology alone.
type Trace struct {
	// C is the circuit with every staggered gap as one gap: its ways differ from the
	// circuit given there, its conductors do not.
	C     *circuit.Circuit
	Meant *Meant
	Feeds []Feed // parallel to Layout.Feeders
	Ways  *Walkways

	Ties         []Tie // districts tied through rail or a stray feeder
	DetectorTies []Tie // what a detector sees, joined to what it does not
	WireTies     []WireTie
	BondTies     []BondTie // bonds that tie districts
	PastDetector []BondTie // bonds that lead past a detector
	Cut          []bool    // by way: where a gap is missing, taken as parted from here on
	Polarity     *Polarity
	Conflicts    []Conflict
	ConflictsCut bool       // more causes than are named
	Unproven     []int32    // devices at which the search for shorts of several settings stopped
	Fed          []FedState // by node
	FedOpen      []int32    // devices at which the search for feeding settings stopped
	DeadRuns     []DeadRun
	Zones        *Zones
	Differences  []Difference
	Reversing    []ReversingSection
	Staggered    []Staggered

	bonds       []bondWire
	touching    *adjacency
	withFeeder  map[int32]bool
	joined      *Nets           // by any metal
	surely      *Nets           // by sure metal
	terminals   map[int32]Label // by node
	missing     map[int32]bool  // conductors where a gap is missing
	feeding     [2]*together    // by sure metal, by any
	explained   []bool          // by conductor
	feederWires [][]int32       // by feeder
}

// Walkways answers which ways touch a spot.
type Walkways struct{ adj *adjacency }

// Of lists the ways that touch a spot, rising.
func (w *Walkways) Of(spot int32) []int32 { return w.adj.of(spot) }

// WireTie is a piece of wire that two sources feed.
type WireTie struct {
	Sources [2]int32
	Bus     int32
}

// Run traces a circuit. The error is ctx's only.
func Run(ctx context.Context, c *circuit.Circuit) (*Trace, error) {
	ways := spotWays(c)
	ties := wireTies(c)
	meant := newMeant(c)
	c, staggered := wholeGaps(c, meant, ways)
	t := &Trace{C: c, Meant: meant, Staggered: staggered, WireTies: ties, Feeds: newFeeds(c, ties), Ways: &Walkways{ways}, Cut: make([]bool, len(c.Ways))}
	t.Ties = districtTies(c, t.Meant, t.Feeds, ways, t.common)
	stray := map[int32]bool{}
	for _, tie := range t.Ties {
		if tie.Feeder >= 0 {
			stray[tie.Feeder] = true
		} else {
			t.Cut[tie.Cut] = true
		}
	}
	t.bonds = bondWires(c)
	t.BondTies = t.districtBonds(stray)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	t.polarity(ctx, stray, ways)
	t.detectorTies(ways)
	if err := t.conflicts(ctx, stray); err != nil {
		return nil, err
	}
	t.Fed, t.FedOpen = fedNodes(c)
	t.DeadRuns = deadRuns(c, t.Fed, ways)
	t.Zones = newZones(c, t.Meant, t.Feeds)
	t.Differences = differences(c, t.Meant, t.Zones, ways)
	t.Reversing = reversingSections(c, t.Polarity, t.Feeds, t.Cut, ways, staggered)
	return t, ctx.Err()
}

// polarity decides polarity; where whole rail closes a ring that turns its rails, that rail is
// taken as parted and the rest decided again.
func (t *Trace) polarity(ctx context.Context, stray map[int32]bool, ways *adjacency) {
	sections := func() *Sections { return newSections(t.C, t.Cut).bond(t.feedingBonds(), t.Feeds) }
	p := newPolarity(ctx, t.C, sections(), t.Feeds, stray, ways)
	if len(p.WrongRails) > 0 {
		for _, w := range p.WrongRails {
			t.Cut[w] = true
		}
		q := newPolarity(ctx, t.C, sections(), t.Feeds, stray, ways)
		q.WrongRails = p.WrongRails
		q.Others = append(p.Others, q.Others...)
		q.Exact = p.Exact && q.Exact
		p = q
	}
	t.Polarity = p
}

// detectorTies looks at each leg that some detector watches.
func (t *Trace) detectorTies(ways *adjacency) {
	for leg := range layout.Leg(2) {
		if !slices.ContainsFunc(t.C.Layout.Detectors, func(d layout.Detector) bool { return d.Leg == leg }) {
			continue
		}
		t.DetectorTies = append(t.DetectorTies, detectorTies(t.C, t.Meant, t.Feeds, ways, leg, func(spot int32) (layout.Rail, bool) {
			a, ok := t.Polarity.ARail(spot)
			if leg == layout.B {
				a = a.Other()
			}
			return a, ok
		})...)
		t.PastDetector = append(t.PastDetector, t.detectorBonds(leg)...)
	}
}

// conflicts sets aside what is explained and looks for what still shorts.
func (t *Trace) conflicts(ctx context.Context, stray map[int32]bool) (err error) {
	wrong := map[int32]bool{}
	for _, f := range t.Polarity.WrongFeeders {
		wrong[f] = true
	}
	masked := make([]bool, len(t.C.Conductors))
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.FeederWire && (stray[k.Ref] || wrong[k.Ref] || turnedByPlugs(t.C, t.Feeds[k.Ref].Plug, t.Polarity.WrongPlugs)) {
			masked[i] = true
		}
	}
	for w, cut := range t.Cut {
		if !cut {
			continue
		}
		for _, k := range t.C.Ways[w].Rails {
			if k >= 0 {
				masked[k] = true
			}
		}
	}
	t.Conflicts, t.Unproven, t.ConflictsCut, err = findConflicts(ctx, t.C, t.Polarity, masked)
	t.explained = masked
	return err
}

// Explained are the conductors, by id, at which something is wrong that a cause explains: a
// crossed or stray feeder, rail where a gap is missing, the metal of a short. What is
// left when they are set aside is sound.
func (t *Trace) Explained() []bool { return t.explained }

// Stray are the feeders that tie districts, by index: what they should hang from is not known.
func (t *Trace) Stray() []int32 {
	var out []int32
	for i := range t.Ties {
		if f := t.Ties[i].Feeder; f >= 0 {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// wireTies finds wire that two sources feed, without any rail between.
func wireTies(c *circuit.Circuit) []WireTie {
	nets := joinNets(c, func(_ int32, k *circuit.Conductor) bool { return isWire(k) && k.Device < 0 })
	var out []WireTie
	for _, net := range nets.Labelled() {
		ls := nets.labels[net]
		for _, l := range ls[1:] {
			if l.Source == ls[0].Source {
				continue
			}
			tie := WireTie{Sources: [2]int32{ls[0].Source, l.Source}, Bus: busOf(c, nets, net)}
			if !slices.ContainsFunc(out, func(o WireTie) bool { return o.Sources == tie.Sources }) {
				out = append(out, tie)
			}
		}
	}
	return out
}

// busOf names the bus by whose return two sources meet; -1 when none returns.
func busOf(c *circuit.Circuit, nets *Nets, net int32) int32 {
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind == circuit.WireEnd && nets.Of[k.A] == net && c.Layout.Buses[k.Ref].Returns.Bus >= 0 {
			return k.Ref
		}
	}
	return -1
}
