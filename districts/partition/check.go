package partition

import (
	"fmt"
	"slices"
)

// tooMuch bounds quantities, so that no sum overflows.
const tooMuch = 1 << 40

// check refuses what makes no sense.
func (p *Problem) check() error {
	n := int32(len(p.Nodes))
	for i, e := range p.Edges {
		if e.A < 0 || e.A >= n || e.B < 0 || e.B >= n || e.Cuts < 0 {
			return &InputError{fmt.Sprintf("edge %d makes no sense", i)}
		}
	}
	for i := range p.Nodes {
		v := &p.Nodes[i]
		if v.Berths < 0 || v.Load < 0 || v.Load > tooMuch || v.Near < 0 || v.Near > tooMuch || v.Pin < -1 || v.Pin >= len(p.Parts) {
			return &InputError{fmt.Sprintf("node %d makes no sense", i)}
		}
		for _, t := range v.Only {
			if t < 0 || t >= len(p.Trains) {
				return &InputError{fmt.Sprintf("node %d admits a train that is not there", i)}
			}
		}
	}
	for i, t := range p.Trains {
		if t.MilliAmps < 0 || t.MilliAmps > tooMuch {
			return &InputError{fmt.Sprintf("what train %d draws makes no sense", i)}
		}
	}
	for i, c := range p.Parts {
		if c.MilliAmps > tooMuch {
			return &InputError{fmt.Sprintf("what district %d may draw makes no sense", i)}
		}
	}
	o := p.order()
	sorted := o
	slices.Sort(sorted[:])
	switch {
	case n == 0:
		return &InputError{"there are no nodes"}
	case n > 1<<15:
		return &InputError{"there are too many nodes"}
	case len(p.Parts) == 0:
		return &InputError{"there are no districts"}
	case p.Least < 0 || p.Least > len(p.Parts):
		return &InputError{"more districts have to be used than there are"}
	case len(p.Trains) > 250:
		return &InputError{"there are too many trains"}
	case len(p.Parts) > 250:
		return &InputError{"there are too many districts"}
	case sorted != [3]Term{Cuts, Trains, Bus}:
		return &InputError{"the order of terms names one twice"}
	}
	return nil
}
