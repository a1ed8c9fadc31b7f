package districts

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// joinedLegs is rails of some groups, each with the leg of some phase, in the straddler's own terms.
type joinedLegs struct {
	phases, groups int
	legs           []carried
}

func drawJoinedLegs(t *rapid.T) *joinedLegs {
	g := &joinedLegs{phases: rapid.IntRange(1, 5).Draw(t, "phases"), groups: rapid.IntRange(1, 4).Draw(t, "groups")}
	for range rapid.IntRange(0, 9).Draw(t, "legs") {
		g.legs = append(g.legs, carried{
			label: Label{int32(rapid.IntRange(0, g.phases-1).Draw(t, "phase")), layout.Leg(rapid.IntRange(0, 1).Draw(t, "leg"))},
			group: int32(rapid.IntRange(0, g.groups-1).Draw(t, "group")),
		})
	}
	return g
}

// judged is the straddler's verdict.
func (g *joinedLegs) judged() bool {
	s := &straddler{c: &circuit.Circuit{Sources: make([]circuit.Source, g.phases)}, class: make([]phaseClass, g.phases)}
	for i := range s.class {
		s.class[i].of = int32(i)
	}
	_, found := s.unbalanced(g.legs)
	return found
}

// wrongLegs counts the legs that do not suit when each phase is in a state and each group has a side.
func (g *joinedLegs) wrongLegs(states, sides int) int {
	wrong := 0
	for _, x := range g.legs {
		if (states>>x.label.Source&1 == sides>>x.group&1) != (x.label.Leg == layout.A) {
			wrong++
		}
	}
	return wrong
}

// leastWrong is the fewest legs that do not suit, over every state and side: the frustration index.
func (g *joinedLegs) leastWrong() int {
	least := len(g.legs)
	for states := range 1 << g.phases {
		for sides := range 1 << g.groups {
			least = min(least, g.wrongLegs(states, sides))
		}
	}
	return least
}

// oddRing walks every ring of legs, no vertex twice, and reports whether one turns over.
func (g *joinedLegs) oddRing() bool {
	var walk func(start, at int, odd bool, seen []int, used []int) bool
	walk = func(start, at int, odd bool, seen, used []int) bool {
		for i, x := range g.legs {
			if slices.Contains(used, i) {
				continue
			}
			a, b := int(x.label.Source), g.phases+int(x.group)
			if at != a && at != b {
				continue
			}
			to, turned := a+b-at, odd != (x.label.Leg == layout.B)
			if to == start && len(used) > 0 && turned {
				return true
			}
			if !slices.Contains(seen, to) && walk(start, to, turned, append(slices.Clip(seen), to), append(slices.Clip(used), i)) {
				return true
			}
		}
		return false
	}
	for v := range g.phases + g.groups {
		if walk(v, v, false, []int{v}, nil) {
			return true
		}
	}
	return false
}

// TestBalanceOfJoinedLegs holds the verdict to what signed graphs are known for: a graph is balanced just when no
// ring in it is odd, and just when its vertices fall into two parts that every edge respects (Harary
// 1953), which is a frustration index of nothing.
func TestBalanceOfJoinedLegs(t *testing.T) {
	odd, even := 0, 0
	checkOften(t, func(t *rapid.T) {
		g := drawJoinedLegs(t)
		found := g.judged()
		if ring := g.oddRing(); ring != found {
			t.Fatalf("judged at fault: %v, an odd ring: %v: %+v", found, ring, g)
		}
		if wrong := g.leastWrong(); (wrong > 0) != found {
			t.Fatalf("judged at fault: %v, but the least number of wrong legs is %d: %+v", found, wrong, g)
		}
		if found {
			odd++
		} else {
			even++
		}
	})
	if odd < 100 || even < 100 {
		t.Errorf("%d odd and %d even graphs are too few", odd, even)
	}
}

// TestSwitchingKeepsBalance: exchanging the legs of one phase, which is throwing its reverser, changes no verdict,
// nor does giving the legs in another order.
func TestSwitchingKeepsBalance(t *testing.T) {
	checkOften(t, func(t *rapid.T) {
		g := drawJoinedLegs(t)
		before := g.judged()
		phase := int32(rapid.IntRange(0, g.phases-1).Draw(t, "thrown"))
		for i := range g.legs {
			if g.legs[i].label.Source == phase {
				g.legs[i].label.Leg ^= 1
			}
		}
		if g.judged() != before {
			t.Fatalf("throwing phase %d changes the verdict: %+v", phase, g)
		}
		if len(g.legs) > 1 {
			g.legs = rapid.Permutation(g.legs).Draw(t, "order")
		}
		if g.judged() != before {
			t.Fatalf("another order changes the verdict: %+v", g)
		}
	})
}
