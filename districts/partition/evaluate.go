package partition

import (
	"fmt"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// Evaluate is what a division is worth, in the order of the terms. The error is a *DivisionError where a district is not
// connected, exceeds what it may draw, or lacks a node that belongs to it.
func (p *Problem) Evaluate(part []int32) (value [3]int64, err error) {
	if err := p.check(); err != nil {
		return value, err
	}
	if len(part) != len(p.Nodes) {
		return value, &DivisionError{fmt.Sprintf("%d nodes, %d are divided", len(p.Nodes), len(part))}
	}
	members := make([][]int32, len(p.Parts))
	for v, k := range part {
		if k < 0 || int(k) >= len(p.Parts) {
			return value, &DivisionError{fmt.Sprintf("node %d is in no district", v)}
		}
		if pin := p.Nodes[v].Pin; pin >= 0 && pin != int(k) {
			return value, &DivisionError{fmt.Sprintf("node %d belongs to district %d", v, pin)}
		}
		members[k] = append(members[k], int32(v))
	}
	var cuts, trains, bus int64
	g := simple.NewUndirectedGraph()
	for v := range p.Nodes {
		g.AddNode(simple.Node(v))
	}
	for _, e := range p.Edges {
		switch {
		case part[e.A] != part[e.B]:
			cuts += int64(e.Cuts)
		case e.A != e.B:
			g.SetEdge(g.NewEdge(simple.Node(e.A), simple.Node(e.B)))
		}
	}
	used := 0
	for k, nodes := range members {
		if len(nodes) == 0 {
			continue
		}
		used++
		load, n := p.LoadOf(nodes)
		if load > p.Parts[k].MilliAmps {
			return value, &DivisionError{fmt.Sprintf("district %d draws %d mA of %d", k, load, p.Parts[k].MilliAmps)}
		}
		trains = max(trains, int64(n))
		near := p.Nodes[nodes[0]].Near
		for _, v := range nodes {
			near = min(near, p.Nodes[v].Near)
		}
		bus += near
	}
	if used < p.Least {
		return value, &DivisionError{fmt.Sprintf("%d districts are used, %d have to be", used, p.Least)}
	}
	if parts := len(topo.ConnectedComponents(g)); parts != used {
		return value, &DivisionError{fmt.Sprintf("%d districts lie in %d pieces", used, parts)}
	}
	terms := [...]int64{Cuts: cuts, Trains: trains, Bus: bus}
	for i, t := range p.order() {
		value[i] = terms[t]
	}
	return value, nil
}
