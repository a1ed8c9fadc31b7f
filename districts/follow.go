package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// conductorsAt lists the conductors that touch a node.
func (t *Trace) conductorsAt() *adjacency {
	if t.touching == nil {
		t.touching = nodeConductors(t.C)
	}
	return t.touching
}

// PathTo is the shortest walk from a source's leg to a node, through what conducts in
// every setting, or failing that through what conducts in some; ok is false when no leg reaches it.
func (t *Trace) PathTo(node int32) (from Label, path []Step, ok bool) { return t.PathApart(node, -1) }

// turnedRound is a walk from its end to its start.
func turnedRound(c *circuit.Circuit, path []Step) []Step {
	out := make([]Step, len(path))
	for i, s := range path {
		k := &c.Conductors[s.Conductor]
		out[len(path)-1-i] = Step{Conductor: s.Conductor, Node: k.A + k.B - s.Node}
	}
	return out
}

// PathApart is PathTo without passing the metal of a way, nor of any other where a gap is
// missing (-1 passes everything).
func (t *Trace) PathApart(node, way int32) (from Label, path []Step, ok bool) {
	own := [2]int32{-1, -1}
	if way >= 0 {
		own = t.C.Ways[way].Rails
	}
	t.lookup()
	if l, found := t.terminals[node]; found {
		return l, nil, true
	}
	for _, conditional := range [2]bool{false, true} {
		var settings []Setting
		if conditional {
			if settings, ok = t.feedSettings(node); !ok {
				return Label{}, nil, false
			}
		}
		path = shortestWalk(t.C, t.conductorsAt(), []int32{node}, func(n int32) bool { _, found := t.terminals[n]; return found }, func(k int32) bool {
			c := &t.C.Conductors[k]
			return !(way >= 0 && (k == own[0] || k == own[1] || t.missing[k])) && !c.Parts() && (c.Device < 0 || slices.Contains(settings, Setting{c.Device, c.Position}))
		})
		if path != nil {
			return t.terminals[path[len(path)-1].Node], turnedRound(t.C, path), true
		}
	}
	return Label{}, nil, false
}

// OppositeLegs finds settings in which the two rails of a spot carry the two legs of one source,
// and those legs, by rail; ok is false when there are none.
func (t *Trace) OppositeLegs(spot int32) (from [2]Label, settings []Setting, ok bool) {
	n := t.C.Spots[spot].Node
	t.feedSettings(n[layout.Left]) // makes the search
	g := t.feeding[0]
	for _, left := range g.spread(g.nets.Of[n[layout.Left]], nil, false) {
		for _, right := range g.spread(g.nets.Of[n[layout.Right]], left.settings, false) {
			for _, a := range g.nets.labels[left.net] {
				for _, b := range g.nets.labels[right.net] {
					if a.Source == b.Source && a.Leg != b.Leg {
						return [2]Label{a, b}, right.settings, true
					}
				}
			}
		}
	}
	return from, nil, false
}

// feedSettings finds settings in which a leg reaches a node, by sure metal if there are any.
func (t *Trace) feedSettings(node int32) ([]Setting, bool) {
	for n, sure := range [2]bool{true, false} {
		if t.feeding[n] == nil {
			proof := NoShort
			if sure {
				proof = Feeding
			}
			t.feeding[n] = feedingBy(t.C, joinNets(t.C, always(proof)), sure)
		}
		if settings, ok := t.feeding[n].reached(t.feeding[n].nets.Of[node]); ok {
			return settings, true
		}
	}
	return nil, false
}

// lookup makes, once, what walks are looked up by: where legs begin, the metal where a
// gap is missing, and the wires of each feeder.
func (t *Trace) lookup() {
	if t.terminals != nil {
		return
	}
	t.terminals, t.missing = map[int32]Label{}, map[int32]bool{}
	for s := range t.C.Sources {
		for leg := range layout.Leg(2) {
			t.terminals[t.C.Sources[s].Out[leg]] = Label{int32(s), leg}
		}
	}
	for w, cut := range t.Cut {
		if cut {
			t.missing[t.C.Ways[w].Rails[0]], t.missing[t.C.Ways[w].Rails[1]] = true, true
		}
	}
	t.feederWires = make([][]int32, len(t.C.Layout.Feeders))
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.FeederWire {
			t.feederWires[k.Ref] = append(t.feederWires[k.Ref], int32(i))
		}
	}
}

// AlwaysJoined are the nets of what conducts in every setting by sure metal.
func (t *Trace) AlwaysJoined() *Nets {
	if t.surely == nil {
		t.surely = joinNets(t.C, always(Feeding))
	}
	return t.surely
}

// Legs are all the legs that a node is joined to in every setting, by source, then leg:
// more than one where something is wrong.
func (t *Trace) Legs(node int32) []Label {
	if t.joined == nil {
		t.joined = joinNets(t.C, always(NoShort))
	}
	return t.joined.Labels(node)
}

// PathThrough is a walk from one leg of a feeder's source out through the feeder's own wire
// of that leg and on to the other leg of the same phase: the short that a crossed feeder
// makes. It is nil when the feeder meets no other.
func (t *Trace) PathThrough(feeder int32) (from, to Label, path []Step) {
	t.lookup()
	for _, i := range t.feederWires[feeder] {
		k := &t.C.Conductors[i]
		label := t.Feeds[feeder].Legs[k.Leg]
		if label.Source < 0 {
			continue
		}
		out := &t.C.Sources[label.Source].Out
		own := func(c *circuit.Conductor) bool { return c.Kind == circuit.FeederWire && c.Ref == feeder }
		in := turnedRound(t.C, shortestWalk(t.C, t.conductorsAt(), []int32{k.A}, func(n int32) bool { return n == out[label.Leg] }, func(x int32) bool {
			return isWire(&t.C.Conductors[x])
		}))
		goal := map[int32]Label{}
		root, crossed := phaseRoot(t.C, label.Source)
		for s := range t.C.Sources {
			r, c := phaseRoot(t.C, int32(s))
			if r != root {
				continue
			}
			leg := label.Leg.Other()
			if crossed != c {
				leg = leg.Other()
			}
			goal[t.C.Sources[s].Out[leg]] = Label{int32(s), leg}
		}
		back := shortestWalk(t.C, t.conductorsAt(), []int32{k.B}, func(n int32) bool { _, found := goal[n]; return found }, func(x int32) bool {
			c := &t.C.Conductors[x]
			return c.Device < 0 && !c.Parts() && !own(c)
		})
		if back == nil {
			continue
		}
		path = append(slices.Clone(in), Step{Conductor: i, Node: k.B})
		path = append(path, back...)
		return label, goal[path[len(path)-1].Node], path
	}
	return Label{}, Label{}, nil
}
