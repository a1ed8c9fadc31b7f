// Package network turns the conductors of a circuit into networks of resistors: for every
// source at the head of a chain (a booster, a cab, a supply) one for each leg, grounded at
// the source's own terminal, with every breaker, reverser, detector and plug below as one of
// its conductors. In sound wiring the two legs never meet, so the loop that a short or a
// train closes is the sum of one path in each.
//
// Each network is built at a corner of what is not known: Weak has every resistance at its
// high end, hot, without the joints nobody vouches for; Strong has every resistance at its
// low end, cold, with them. By Rayleigh's monotonicity law (Doyle and Snell, Random Walks
// and Electric Networks, ch. 4) the resistance between two places of any network between
// the two lies between theirs.
package network

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/solve"
)

// Corner says which end of every range a network is built at.
type Corner uint8

const (
	Weak   Corner = iota // high, hot, unsure joints open: drop, and shorts too weak to trip
	Strong               // low, cold, unsure joints closed: heat, let-through, the best case of a short
)

// Edge is one conductor of a network, between its nodes I and J (solve.Ground is the
// terminal): ohms, and henries of its own half of the loop, at the corner's end of the range. Assumed says
// that its ohms rest on a range for something the layout does not say.
type Edge struct {
	I, J      int32
	Conductor int32 // Circuit.Conductors
	Ohms      float64
	Henries   float64
	Assumed   bool
}

// Net is one leg of one source at one corner. Nodes are 0 .. len(Node)-1.
type Net struct {
	Terminal int32   // circuit node of the terminal
	Node     []int32 // a circuit node of each; conductors of no resistance make several one
	Edges    []Edge
	// Guard is, by node, what would act first on a short there: an index into District.Guards.
	Guard []int32
	// Volts is, by node, what detectors on the way drop, at the corner's end of the range.
	Volts []float64
}

// RailPair is a length of both rails between two spots, one rail on each leg: Edge are
// its conductors in the nets of legs A and B, both laid from the way's A spot to its B spot.
type RailPair struct {
	Way  int32
	Edge [2]int32
}

// TapPair is a place of a bus with both legs at hand: Node are its nodes in the nets of legs A
// and B (solve.Ground at the terminal itself).
type TapPair struct {
	Bus  int32
	At   float64
	Node [2]int32
}

// Side is one side of a cut: its rails' nodes in the nets of legs A and B. OK is false when
// they are not both of this district.
type Side struct {
	Node [2]int32
	OK   bool
}

// GapPair is a cut in track (Circuit.Ways) with what of this district lies on either side,
// the side of the way's A spot first.
type GapPair struct {
	Way  int32
	Side [2]Side
}

// District is everything that hangs from one source at the head of a chain.
type District struct {
	Source int32 // Circuit.Sources
	Corner Corner
	Legs   [2]*Net
	Rails  []RailPair // in order of the circuit's ways
	Taps   []TapPair  // in order of buses and places
	Gaps   []GapPair  // in order of the circuit's ways
	Guards []Guard    // the source itself first
	// Meet is a circuit node that both legs reach, -1 in sound wiring. Where it is not -1 the
	// rest is empty.
	Meet int32
}

// System is a net as the solver takes it: conductances of its edges, in their order.
func (n *Net) System() []solve.Edge {
	out := make([]solve.Edge, len(n.Edges))
	for i := range n.Edges {
		e := &n.Edges[i]
		out[i] = solve.Edge{I: e.I, J: e.J, G: 1 / e.Ohms}
	}
	return out
}

// HeadsOf lists the sources at the head of a chain: boosters, cabs and supplies.
func HeadsOf(c *circuit.Circuit) []int32 {
	var out []int32
	for i := range c.Sources {
		switch c.Sources[i].Kind {
		case circuit.BoosterSource, circuit.CabSource, circuit.SupplySource:
			out = append(out, int32(i))
		}
	}
	return out
}
