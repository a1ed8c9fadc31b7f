package network

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/solve"
)

// walker goes out from one terminal over everything that conducts.
type walker struct {
	b        *Builder
	d        *District
	guards   map[guardKey]int32
	corner   Corner
	settings []Setting
	leg      layout.Leg
	local    []int32 // by circuit node
	net      *Net

	queue []int32 // circuit nodes, as met
	guard []int32 // by place in the queue
	volts []float64
}

type guardKey struct {
	kind        GuardKind
	ref, parent int32
}

// walk numbers the nodes in the order in which it meets them.
func (w *walker) walk() {
	w.meet(w.net.Terminal, solve.Ground, 0, 0)
	for at := 0; at < len(w.queue); at++ {
		here := w.queue[at]
		for _, id := range w.b.touching(here) {
			k := &w.b.c.Conductors[id]
			there := k.A + k.B - here
			if w.local[there] != unseen || !w.b.follows(id, w.corner, w.settings) {
				continue
			}
			if isOne(k) {
				w.meet(there, w.local[here], w.guard[at], w.volts[at])
				continue
			}
			guard, volts := w.guardBehind(k, w.guard[at], w.local[here]), w.volts[at]+w.dropOf(id, k)
			w.meet(there, int32(len(w.net.Node)), guard, volts)
			w.net.Node = append(w.net.Node, there)
			w.net.Guard = append(w.net.Guard, guard)
			w.net.Volts = append(w.net.Volts, volts)
		}
	}
}

func (w *walker) meet(node, local, guard int32, volts float64) {
	w.local[node] = local
	w.queue = append(w.queue, node)
	w.guard = append(w.guard, guard)
	w.volts = append(w.volts, volts)
}

// guardBehind is the guard of what lies behind a conductor.
func (w *walker) guardBehind(k *circuit.Conductor, above, node int32) int32 {
	g, brings := guardOf(w.b.c.Layout, k)
	if !brings {
		return above
	}
	key := guardKey{g.Kind, g.Ref, above}
	id, seen := w.guards[key]
	if !seen {
		g.Parent, g.Above = above, [2]int32{solve.Ground, solve.Ground}
		id = int32(len(w.d.Guards))
		w.guards[key] = id
		w.d.Guards = append(w.d.Guards, g)
	}
	w.d.Guards[id].Above[w.leg] = node
	return id
}

// dropOf is the fixed drop of a conductor at the corner, in volts.
func (w *walker) dropOf(id int32, k *circuit.Conductor) float64 {
	if k.Kind != circuit.DetectorLeg {
		return 0
	}
	v := w.b.elements.Of(id).Volts
	if w.corner == Weak {
		return v.Hi
	}
	return v.Lo
}

// isOne reports whether a conductor makes its two nodes one: it is a name, not a thing.
func isOne(k *circuit.Conductor) bool {
	switch k.Kind {
	case circuit.PastDetector, circuit.PastInLine:
		return true
	case circuit.JointMetal:
		return k.Joint == circuit.OneJoint
	default:
		return false
	}
}

// lay lists the conductors between the nodes met.
func (w *walker) lay() {
	for _, here := range w.queue {
		for _, id := range w.b.touching(here) {
			k := &w.b.c.Conductors[id]
			if k.A != here || w.local[k.A] == w.local[k.B] || !w.b.follows(id, w.corner, w.settings) {
				continue
			}
			e := Edge{I: w.local[k.A], J: w.local[k.B], Conductor: id}
			e.take(w.b.elements.Of(id), w.corner)
			w.net.Edges = append(w.net.Edges, e)
		}
	}
}
