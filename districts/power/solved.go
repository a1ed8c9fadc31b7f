package power

import (
	"context"
	"errors"
	"slices"

	"gapwise/netlist/network"
	"gapwise/netlist/solve"

	"gapwise/districts"
)

// Solved is one district at one corner, both legs factored.
type Solved struct {
	Head *Head
	*network.District
	Settings []districts.Setting // of track work that it stands for
	// Best is the strong network of the same settings; that of every setting has none.
	Best *Solved
	Leg  [2]Leg
}

// Leg is one leg's network with what its factor tells: entries of the inverse are ohms.
type Leg struct {
	Net     *network.Net
	Factor  *solve.Factor
	Inverse *solve.Inverse
}

// Ohms is the resistance from the terminal to a node.
func (l *Leg) Ohms(node int32) float64 {
	if node == solve.Ground {
		return 0
	}
	return l.Inverse.Diagonal(node)
}

// Guard is the guard of a node.
func (l *Leg) Guard(node int32) int32 {
	if node == solve.Ground {
		return 0
	}
	return l.Net.Guard[node]
}

// Volts is what detectors drop on the way to a node.
func (l *Leg) Volts(node int32) float64 {
	if node == solve.Ground {
		return 0
	}
	return l.Net.Volts[node]
}

// Open says why a source was not computed. Conductor is where that is, -1 when it is nowhere.
type Open struct {
	Why       string
	Conductor int32
}

// newSolved factors a district. open says why not, nil when it did.
func newSolved(ctx context.Context, h *Head, d *network.District) (x *Solved, open *Open) {
	if d.Meet >= 0 {
		return nil, &Open{Why: "its two legs meet", Conductor: -1}
	}
	x = &Solved{Head: h, District: d}
	for leg := range x.Leg {
		net := d.Legs[leg]
		edges := net.System()
		var err error
		x.Leg[leg], err = factor(ctx, net, edges)
		if err != nil {
			return nil, unsolved(net, err)
		}
	}
	return x, nil
}

func factor(ctx context.Context, net *network.Net, edges []solve.Edge) (Leg, error) {
	a, err := solve.Analyse(ctx, len(net.Node), edges)
	if err != nil {
		return Leg{}, err
	}
	f, err := a.Factor(ctx, edges)
	if err != nil {
		return Leg{}, err
	}
	inv, err := f.SelectedInverse(ctx)
	if err != nil {
		return Leg{}, err
	}
	return Leg{Net: net, Factor: f, Inverse: inv}, nil
}

// unsolved is an Open for a network that could not be solved.
func unsolved(net *network.Net, err error) *Open {
	var scale *solve.BadlyScaledError
	if errors.As(err, &scale) && scale.Edge >= 0 && scale.Edge < len(net.Edges) {
		return &Open{Why: "its resistances lie too far apart to be computed", Conductor: net.Edges[scale.Edge].Conductor}
	}
	return &Open{Why: err.Error(), Conductor: -1}
}

// deeper is the one of two guards that lies behind the other, or the first.
func (x *Solved) deeper(a, b int32) int32 {
	if slices.Contains(x.Above(b), a) {
		return b
	}
	return a
}

// Above lists a guard and those above it, the head last.
func (x *Solved) Above(guard int32) []int32 {
	var out []int32
	for g := guard; g >= 0; g = x.Guards[g].Parent {
		out = append(out, g)
	}
	return out
}
