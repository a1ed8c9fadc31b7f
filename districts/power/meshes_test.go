package power

import (
	"testing"

	"gonum.org/v1/gonum/graph/multi"
	"gonum.org/v1/gonum/graph/topo"
)

// TestMeshes takes every conductor out of some networks, as gonum's multigraph: the network falls apart if and only if
// the conductor is a part of its own.
func TestMeshes(t *testing.T) {
	bridges := 0
	for _, s := range studies(t)[4:6] {
		for _, h := range s.Heads {
			if !h.Known() {
				continue
			}
			l := &h.Weak.Leg[0]
			mesh, size := meshes(l)
			g := multi.NewUndirectedGraph()
			for n := -1; n < len(l.Net.Node); n++ {
				g.AddNode(multi.Node(n + 1))
			}
			lines := make([]multi.Line, len(l.Net.Edges))
			for e := range l.Net.Edges {
				k := &l.Net.Edges[e]
				lines[e] = multi.Line{F: multi.Node(k.I + 1), T: multi.Node(k.J + 1), UID: int64(e)}
				g.SetLine(lines[e])
			}
			whole := len(topo.ConnectedComponents(g))
			for e := range lines {
				g.RemoveLine(int64(l.Net.Edges[e].I+1), int64(l.Net.Edges[e].J+1), int64(e))
				parts := len(topo.ConnectedComponents(g))
				g.SetLine(lines[e])
				if bridge := size[mesh[e]] == 1; bridge != (parts > whole) {
					t.Fatalf("conductor %d: a bridge %v, parts %d of %d", e, bridge, parts, whole)
				} else if bridge {
					bridges++
				}
			}
		}
	}
	if bridges < 10 {
		t.Fatalf("only %d bridges seen", bridges)
	}
}
