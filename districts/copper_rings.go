package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// CopperRing is bus wire that comes back to itself without passing a rail, a breaker, a
// reverser or a detector. Bus is the one whose far end closes it, Path the way round from
// the tap that it returns to up to that far end, in its first leg, and Length the metres of
// wire on it, one way.
type CopperRing struct {
	Bus    int32
	Legs   []layout.Leg
	Path   []Step
	Length float64
}

// CopperRings lists the rings that buses close by themselves, by bus.
func (t *Trace) CopperRings() []CopperRing {
	u := newUnionFind(t.C.Nodes)
	var returns []int32
	for i := range t.C.Conductors {
		k := &t.C.Conductors[i]
		switch {
		case returning(t.C, k):
			returns = append(returns, int32(i))
		case isCopper(k):
			u.union(k.A, k.B)
		}
	}
	taken := map[int32]bool{}
	var out []CopperRing
	for _, i := range returns {
		k := &t.C.Conductors[i]
		if k.A == k.B {
			continue // it ends at its own end
		}
		if u.union(k.A, k.B) {
			taken[i] = true
			continue
		}
		if n := len(out); n > 0 && out[n-1].Bus == k.Ref {
			out[n-1].Legs = append(out[n-1].Legs, k.Leg)
			continue
		}
		r := CopperRing{Bus: k.Ref, Legs: []layout.Leg{k.Leg}}
		r.Path = shortestWalk(t.C, t.conductorsAt(), []int32{k.B}, func(n int32) bool { return n == k.A }, func(x int32) bool {
			c := &t.C.Conductors[x]
			return isCopper(c) && (!returning(t.C, c) || taken[x])
		})
		for _, s := range r.Path {
			if c := &t.C.Conductors[s.Conductor]; c.Kind == circuit.BusSpan {
				r.Length += c.Length()
			}
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(x, y CopperRing) int { return int(x.Bus - y.Bus) })
	return out
}

// isCopper reports whether a conductor is bus wire, or a plug in it that goes one way round.
func isCopper(k *circuit.Conductor) bool {
	return k.Kind == circuit.BusSpan || k.Kind == circuit.WireEnd || (k.Kind == circuit.PlugLeg && !k.Parts())
}

// returning reports whether a conductor is the far end of a bus that comes back to a tap.
func returning(c *circuit.Circuit, k *circuit.Conductor) bool {
	if k.Kind != circuit.WireEnd {
		return false
	}
	taps := c.BusNodes[k.Ref].Node[k.Leg]
	return k.A == taps[len(taps)-1]
}
