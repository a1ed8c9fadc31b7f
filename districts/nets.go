package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Proof says what is being proved, and so which uncertain conductors count.
type Proof uint8

const (
	// NoShort counts every conductor that may conduct.
	NoShort Proof = iota
	// Feeding counts only conductors that are sure to.
	Feeding
)

// Nets are the groups of nodes that are one piece of metal: Of gives a node's net, named
// by its least node.
type Nets struct {
	Of     []int32
	labels map[int32][]Label
}

// Label is a leg of a source that a net reaches without passing a breaker, reverser,
// changeover or loose plug.
type Label struct {
	Source int32
	Leg    layout.Leg
}

// joinNets groups the nodes of a circuit by the conductors for which take returns true.
func joinNets(c *circuit.Circuit, take func(int32, *circuit.Conductor) bool) *Nets {
	u := newUnionFind(c.Nodes)
	for i := range c.Conductors {
		if k := &c.Conductors[i]; take(int32(i), k) {
			u.union(k.A, k.B)
		}
	}
	n := &Nets{Of: u.flatten(), labels: map[int32][]Label{}}
	for s := range c.Sources {
		for leg := range layout.Leg(2) {
			net := n.Of[c.Sources[s].Out[leg]]
			n.labels[net] = append(n.labels[net], Label{int32(s), leg})
		}
	}
	return n
}

// Labels of the net of a node, by source, then leg.
func (n *Nets) Labels(node int32) []Label { return n.labels[n.Of[node]] }

// Labelled lists the nets that reach a source, in rising order.
func (n *Nets) Labelled() []int32 {
	nets := make([]int32, 0, len(n.labels))
	for net := range n.labels {
		nets = append(nets, net)
	}
	slices.Sort(nets)
	return nets
}

// always takes the conductors that hold in every setting and part no districts.
func always(p Proof) func(int32, *circuit.Conductor) bool {
	return func(_ int32, k *circuit.Conductor) bool {
		return k.Device < 0 && !k.Parts() && (k.Sure || p == NoShort)
	}
}

// isWire reports whether a conductor belongs to the power side: no rail, no feeder.
func isWire(k *circuit.Conductor) bool {
	switch k.Kind {
	case circuit.BusSpan, circuit.WireEnd, circuit.DetectorLeg, circuit.PastDetector, circuit.InLineLeg, circuit.PastInLine, circuit.PlugLeg:
		return !k.Parts()
	default:
		return false
	}
}
