package split

import "gapwise/districts/partition"

// instance is a layout as a problem of package partition.
type instance struct {
	atoms  *atoms
	nodes  []partition.Node
	edges  []partition.Edge
	seams  []int32 // into ground.seams, parallel to edges
	trains []partition.Train
	atOnce int
	place  string // where power is fed in
	notes  []string
}

// newInstance builds it.
func newInstance(a *atoms, ask *Ask) (*instance, error) {
	x := &instance{atoms: a, atOnce: a.g.l.Operations.AtOnce}
	if len(a.list) == 0 {
		return nil, refuse("the layout has no track that hangs from a booster for running trains, or from nothing yet")
	}
	kinds, err := x.findTrains(ask)
	if err != nil {
		return nil, err
	}
	ends := make([]int, len(a.list)) // ways out
	for i := range a.g.seams {
		s := &a.g.seams[i]
		e := partition.Edge{A: a.of[s.a], B: a.of[s.b]}
		if e.A < 0 || e.B < 0 || e.A == e.B {
			continue
		}
		if s.place >= 0 {
			e.Cuts = 1
		}
		x.edges = append(x.edges, e)
		x.seams = append(x.seams, int32(i))
		ends[e.A]++
		ends[e.B]++
	}
	x.nodes = make([]partition.Node, len(a.list))
	for n := range x.nodes {
		x.nodes[n] = partition.Node{Berths: a.berths(int32(n), ends[n]), Only: a.admits(int32(n), kinds), Pin: -1}
	}
	x.standing()
	return x, x.near(ask)
}
