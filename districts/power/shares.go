package power

import (
	"math"

	"gapwise/netlist/solve"
)

// Share is one conductor on the way to a point: the part of the current that it carries
// (negative: from its B node to its A node), and its part of the loop's resistance, which is its
// ohms times the square of that. The parts of all conductors and of the source itself add up to the loop: power put in is power lost (Tellegen).
type Share struct {
	Conductor int32
	Leg       int
	Current   float64
	Ohms      float64
	Of        float64 // ohms of the conductor by itself
}

// worthNaming is the least share of the loop that a conductor must have to be listed.
const worthNaming = 1e-4

// Shares is how a current from the source to a point spreads over the weak network's conductors, leg by leg
// in the order of the nets; those that have no part worth naming are left out.
func (p *Point) Shares() ([]Share, error) {
	flows, err := p.flows(p.weakest())
	if err != nil {
		return nil, err
	}
	var out []Share
	for leg := range flows {
		net := p.weakest().Leg[leg].Net
		for e, f := range flows[leg] {
			own := net.Edges[e].Ohms * f * f
			if own > worthNaming*p.Loop.Hi {
				out = append(out, Share{Conductor: net.Edges[e].Conductor, Leg: leg, Current: f, Ohms: own, Of: net.Edges[e].Ohms})
			}
		}
	}
	return out, nil
}

// weakest is the weak network that a point belongs to.
func (p *Point) weakest() *Solved {
	for _, x := range p.Head.Settings {
		if len(p.Settings) > 0 && len(x.Settings) == len(p.Settings) && x.Settings[0] == p.Settings[0] && sameSettings(x, p) {
			return x
		}
	}
	return p.Head.Weak
}

func sameSettings(x *Solved, p *Point) bool {
	for i := range x.Settings {
		if x.Settings[i] != p.Settings[i] {
			return false
		}
	}
	return true
}

// flows is, leg by leg and conductor by conductor, the current of one ampere through the point:
// in each leg from the terminal to the point, positive from I to J.
func (p *Point) flows(x *Solved) (flow [2][]float64, err error) {
	for leg := range x.Leg {
		l := &x.Leg[leg]
		volts, inside, t, err := p.column(x, leg)
		if err != nil {
			return flow, err
		}
		flow[leg] = make([]float64, len(l.Net.Edges))
		for e := range l.Net.Edges {
			k := &l.Net.Edges[e]
			flow[leg][e] = (potential(volts, k.J) - potential(volts, k.I)) / k.Ohms
		}
		if inside >= 0 {
			flow[leg][inside] = p.inside(l, inside, t, volts)
		}
	}
	return flow, nil
}

func potential(volts []float64, node int32) float64 {
	if node == solve.Ground {
		return 0
	}
	return volts[node]
}

// column is the rise of every node's voltage for one ampere that leaves a leg at the point. Inside
// a length of rail (edge inside, at its share t) the ampere is split between its ends as t : 1-t,
// which leaves every other node as it would be.
func (p *Point) column(x *Solved, leg int) (volts []float64, inside int32, t float64, err error) {
	l := &x.Leg[leg]
	b := make([]float64, len(l.Net.Node))
	add := func(node int32, amps float64) {
		if node != solve.Ground {
			b[node] += amps
		}
	}
	inside = -1
	switch {
	case p.Way >= 0:
		pair := x.railOn(p.Way)
		e := &l.Net.Edges[pair.Edge[leg]]
		inside, t = pair.Edge[leg], p.T
		add(e.I, 1-t)
		add(e.J, t)
	default:
		add(x.tapNode(p, leg), 1)
	}
	volts, err = l.Factor.Solve(b)
	return volts, inside, t, err
}

func (x *Solved) tapNode(p *Point, leg int) int32 {
	if q := x.tapOn(p.Bus, p.At); q != nil {
		return q.Node[leg]
	}
	return solve.Ground
}

// inside is the current of the conductor in which the point lies, as one number: the root mean
// square of what its two parts carry, by their lengths, so that ohms times its square is its loss.
func (p *Point) inside(l *Leg, edge int32, t float64, volts []float64) float64 {
	k := &l.Net.Edges[edge]
	through := (potential(volts, k.J) - potential(volts, k.I)) / k.Ohms
	// A current of one ampere drawn at t adds (1-t) towards I and t towards J.
	first, second := through+(1-t), through-t
	sum := t*first*first + (1-t)*second*second
	return math.Copysign(math.Sqrt(sum), first+second)
}

// In is where a point lies in a leg of a network of its source: inside the conductor edge, at the point's T, or at a node (edge
// -1). A point of track that the network does not have gives neither.
func (p *Point) In(x *Solved, leg int) (edge, node int32) {
	if p.Way < 0 {
		return -1, x.tapNode(p, leg)
	}
	if pair := x.railOn(p.Way); pair != nil {
		return pair.Edge[leg], solve.Ground
	}
	return -1, solve.Ground
}

// Network is the weak network that a point stands in: that of every setting, or that of its own.
func (p *Point) Network() *Solved { return p.weakest() }
