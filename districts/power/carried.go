package power

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/solve"
)

// Carried is what one entry of wire (a bus, a feeder, a bond) may come to carry, at its worst
// conductor: Steady amperes for as long as nothing trips, and Sudden amperes of a dead short at its far end until something
// does, after Seconds. Guard is what stands before it; By tells whether the guard or the
// resistance of the way sets Steady.
type Carried struct {
	Kind      circuit.Kind
	Ref       int32
	Conductor int32
	Wire      quantity.Wire
	Head      *Head
	Guard     int32
	Share     float64 // of the current behind the guard that goes through this conductor, at most
	Steady    float64
	ByGuard   bool // a guard sets Steady; else the resistance of the way does
	Unguarded bool // no guard on the way says when it trips
	Sudden    float64
	Seconds   float64 // 0 when no guard that would trip says how fast
	Trips     int32   // the guard that acts first on Sudden, -1 when none would
}

// carriedWires lists the wires of a head, each entry once, in the order of kinds and entries.
//
// For one leg and one ampere drawn anywhere, the share of a conductor is largest when the ampere
// is drawn at one of its own ends (maximum principle for the voltage of a resistive network), and there it is
// (R_ii - R_ij)/r. The conductor's own resistance is taken low and all others' high, which
// makes that share large.
func (h *Head) carriedWires() []Carried {
	type key struct {
		kind circuit.Kind
		ref  int32
	}
	worst := map[key]int{}
	var out []Carried
	strong := h.strongEnds()
	for leg := range h.Weak.Leg {
		l := &h.Weak.Leg[leg]
		for e := range l.Net.Edges {
			edge := &l.Net.Edges[e]
			k := &h.Study.C.Conductors[edge.Conductor]
			wire, isWire := h.Study.wireOf(k)
			if !isWire {
				continue
			}
			c := h.carried(leg, int32(e), k, strong)
			c.Wire = wire
			at, seen := worst[key{k.Kind, k.Ref}]
			switch {
			case !seen:
				worst[key{k.Kind, k.Ref}] = len(out)
				out = append(out, c)
			case c.Steady > out[at].Steady || c.Steady == out[at].Steady && c.Sudden > out[at].Sudden:
				out[at] = c
			}
		}
	}
	slices.SortFunc(out, func(x, y Carried) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Ref, y.Ref))
	})
	return out
}

// wireOf is the copper of a conductor, if it is copper that somebody laid.
func (s *Study) wireOf(k *circuit.Conductor) (quantity.Wire, bool) {
	l := s.C.Layout
	switch k.Kind {
	case circuit.FeederWire:
		return l.Feeders[k.Ref].Wire, true
	case circuit.BusSpan:
		return l.Buses[k.Ref].Wire, true
	case circuit.BondWire:
		return l.Bonds[k.Ref].Wire, true
	default:
		return quantity.Wire{}, false
	}
}

// farEnd is the node of a conductor that lies farther from the source.
func (l *Leg) farEnd(e int32) int32 {
	edge := &l.Net.Edges[e]
	if l.Ohms(edge.J) >= l.Ohms(edge.I) {
		return edge.J
	}
	return edge.I
}

// carried is what one conductor of a leg may carry.
func (h *Head) carried(leg int, e int32, k *circuit.Conductor, strong *strongEnds) Carried {
	l := &h.Weak.Leg[leg]
	edge := &l.Net.Edges[e]
	far := l.farEnd(e)
	c := Carried{Kind: k.Kind, Ref: k.Ref, Conductor: edge.Conductor, Head: h, Guard: l.Guard(far), Trips: -1}
	c.Share = h.share(l, e)
	if strongest := h.shareIn(strong, leg, edge.Conductor); strongest > c.Share {
		c.Share = strongest
	}
	passes := h.Passes(c.Guard)
	c.Unguarded = math.IsInf(passes, 1)
	loop := strong.loop(leg, k, edge.Conductor)
	most := h.Volts.Hi / loop
	c.Sudden = most * c.Share
	total := min(passes, most)
	c.ByGuard = passes <= most
	c.Steady = total * c.Share
	for _, g := range h.Weak.Above(c.Guard) {
		x := &h.Weak.Guards[g]
		if !x.TripsAt.Known() || x.TripsAt.Hi > most || !x.TripTime.Known() {
			continue
		}
		if c.Trips < 0 || x.TripTime.Hi < c.Seconds {
			c.Trips, c.Seconds = g, x.TripTime.Hi
		}
	}
	return c
}

// share is the largest share of a conductor, its own resistance at the low end.
func (h *Head) share(l *Leg, e int32) float64 {
	edge := &l.Net.Edges[e]
	ii, ij, jj := l.Inverse.Edge(int(e))
	low := h.Study.Elements.Of(edge.Conductor).Ohms.Lo
	g, more := 1/low, 1/low-1/edge.Ohms
	return min(1, (max(ii, jj)-ij)*g/(1+more*(ii+jj-2*ij)))
}

// strongEnds finds conductors of wire in the strong networks.
type strongEnds struct {
	head *Head
	edge [2]map[int32]int32 // by leg, by conductor
	// companion is the far node of the other leg's wire of the same entry, by leg, kind, entry and place.
	companion [2]map[companionKey]int32
}

type companionKey struct {
	kind circuit.Kind
	ref  int32
	to   float64
}

func (h *Head) strongEnds() *strongEnds {
	s := &strongEnds{head: h}
	for leg := range s.edge {
		s.edge[leg], s.companion[leg] = map[int32]int32{}, map[companionKey]int32{}
		l := &h.Strong.Leg[leg]
		for e := range l.Net.Edges {
			id := l.Net.Edges[e].Conductor
			k := &h.Study.C.Conductors[id]
			if _, is := h.Study.wireOf(k); is {
				s.edge[leg][id] = int32(e)
				s.companion[leg][companionOf(k)] = l.farEnd(int32(e))
			}
		}
	}
	return s
}

func companionOf(k *circuit.Conductor) companionKey {
	if k.Kind == circuit.BusSpan {
		return companionKey{k.Kind, k.Ref, k.To}
	}
	return companionKey{k.Kind, k.Ref, 0}
}

// shareIn is a conductor's largest share in the strong network, 0 when it is not there.
func (h *Head) shareIn(s *strongEnds, leg int, conductor int32) float64 {
	e, found := s.edge[leg][conductor]
	if !found {
		return 0
	}
	l := &h.Strong.Leg[leg]
	ii, ij, jj := l.Inverse.Edge(int(e))
	return min(1, (max(ii, jj)-ij)/l.Net.Edges[e].Ohms)
}

// loop is the least resistance of the loop that a dead short at the far end of a wire closes, in
// ohms: its own leg's, and that of the wire laid with it where there is one.
func (s *strongEnds) loop(leg int, k *circuit.Conductor, conductor int32) float64 {
	ohms := s.head.Inside.Lo
	if !s.head.InsideSaid {
		ohms = s.head.Inside.Hi // the usual range is wide, and no booster gives what its low end would
	}
	if e, found := s.edge[leg][conductor]; found {
		l := &s.head.Strong.Leg[leg]
		ohms += l.Ohms(l.farEnd(e))
	}
	if node, found := s.companion[1-leg][companionOf(k)]; found && node != solve.Ground {
		ohms += s.head.Strong.Leg[1-leg].Ohms(node)
	}
	return max(ohms, 1e-3)
}

// IsPair reports whether the two legs of a wire lie together along one line, so that they
// warm each other.
func (c *Carried) IsPair(l *layout.Layout) bool {
	if c.Kind != circuit.BusSpan {
		return false
	}
	b := &l.Buses[c.Ref]
	return b.Legs == layout.LegsBoth && b.Laid.Kind != layout.LaidApart
}
