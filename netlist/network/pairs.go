package network

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// touching lists the conductors at a circuit node, rising.
func (b *Builder) touching(node int32) []int32 { return b.list[b.start[node]:b.start[node+1]] }

// pairRails finds the lengths of track whose rails lie on the two legs.
func (b *Builder) pairRails(s *Scratch, d *District) {
	for i := range d.Legs[layout.A].Edges {
		id := d.Legs[layout.A].Edges[i].Conductor
		w := b.wayOf[id]
		if w < 0 {
			continue
		}
		rails := b.c.Ways[w].Rails
		other := rails[0] + rails[1] - id
		if rails[0] < 0 || rails[1] < 0 || s.edge[other] == unseen {
			continue
		}
		d.Rails = append(d.Rails, RailPair{Way: w, Edge: [2]int32{int32(i), s.edge[other]}})
	}
	slices.SortFunc(d.Rails, func(x, y RailPair) int { return cmp.Compare(x.Way, y.Way) })
}

// pairTaps finds the places of buses where both legs are at hand.
func (b *Builder) pairTaps(s *Scratch, d *District) {
	for bus := range b.c.BusNodes {
		taps := &b.c.BusNodes[bus]
		for i, at := range taps.At {
			x, y := taps.Node[layout.A][i], taps.Node[layout.B][i]
			if x < 0 || y < 0 {
				continue
			}
			if s.node[0][x] == unseen {
				x, y = y, x // behind a plug that crosses the legs
			}
			if s.node[0][x] == unseen || s.node[1][y] == unseen {
				continue
			}
			d.Taps = append(d.Taps, TapPair{Bus: int32(bus), At: at, Node: [2]int32{s.node[0][x], s.node[1][y]}})
		}
	}
}

// pairGaps finds, for every cut in track, what of this district lies on either side.
func (b *Builder) pairGaps(s *Scratch, d *District) {
	for _, i := range b.cuts {
		w := &b.c.Ways[i]
		x, xok := b.both(s, w.A)
		y, yok := b.both(s, w.B)
		if xok || yok {
			d.Gaps = append(d.Gaps, GapPair{Way: i, Side: [2]Side{{x, xok}, {y, yok}}})
		}
	}
}

// both is the nodes of a spot's two rails in the nets of legs A and B; ok is false when
// they are not on the two legs of this district.
func (b *Builder) both(s *Scratch, spot int32) (node [2]int32, ok bool) {
	n := b.c.Spots[spot].Node
	x, y := n[layout.Left], n[layout.Right]
	if s.node[0][x] == unseen {
		x, y = y, x
	}
	if s.node[0][x] == unseen || s.node[1][y] == unseen {
		return node, false
	}
	return [2]int32{s.node[0][x], s.node[1][y]}, true
}
