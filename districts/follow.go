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

// PathApart is PathTo without passing the metal of a way, nor of any other where a gap is
// missing (-1 passes everything).
func (t *Trace) PathApart(node, way int32) (from Label, path []Step, ok bool) {
	apart := map[int32]bool{}
	if way >= 0 {
		for k := range t.C.Ways {
			if t.Cut[k] || int32(k) == way {
				apart[t.C.Ways[k].Rails[0]], apart[t.C.Ways[k].Rails[1]] = true, true
			}
		}
	}
	terminals := map[int32]Label{}
	var starts []int32
	for s := range t.C.Sources {
		for leg := range layout.Leg(2) {
			n := t.C.Sources[s].Out[leg]
			terminals[n] = Label{int32(s), leg}
			starts = append(starts, n)
		}
	}
	if l, found := terminals[node]; found {
		return l, nil, true
	}
	for _, conditional := range [2]bool{false, true} {
		path = shortestWalk(t.C, t.conductorsAt(), starts, func(n int32) bool { return n == node }, func(k int32) bool {
			c := &t.C.Conductors[k]
			return !apart[k] && !c.Parts() && (conditional || c.Device < 0)
		})
		if path != nil {
			first := path[0]
			start := t.C.Conductors[first.Conductor].A + t.C.Conductors[first.Conductor].B - first.Node
			return terminals[start], path, true
		}
	}
	return Label{}, nil, false
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
	for i := range t.C.Conductors {
		k := &t.C.Conductors[i]
		if k.Kind != circuit.FeederWire || k.Ref != feeder {
			continue
		}
		label := t.Feeds[feeder].Legs[k.Leg]
		if label.Source < 0 {
			continue
		}
		out := &t.C.Sources[label.Source].Out
		own := func(c *circuit.Conductor) bool { return c.Kind == circuit.FeederWire && c.Ref == feeder }
		in := shortestWalk(t.C, t.conductorsAt(), []int32{out[label.Leg]}, func(n int32) bool { return n == k.A }, func(x int32) bool {
			return isWire(&t.C.Conductors[x])
		})
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
		path = append(slices.Clone(in), Step{Conductor: int32(i), Node: k.B})
		path = append(path, back...)
		return label, goal[path[len(path)-1].Node], path
	}
	return Label{}, Label{}, nil
}
