package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Runs lists the rail of some tracks that cannot move by itself: between gaps, loose
// joints, track work, other tracks and track ends. Joints of unknown kind part it, or not when
// unknownHolds is set.
func (r *RailLines) Runs(on func(track int32) bool, unknownHolds bool) [][]RailPart {
	u := newUnionFind(r.c.Nodes + len(r.parts))
	joints := defaultJoints(r.c)
	for i := range r.parts {
		p, id := &r.parts[i], int32(r.c.Nodes+i)
		for _, n := range p.ends {
			if n >= 0 {
				u.union(n, id)
			}
		}
		if p.joint && unknownHolds && joints.kind[p.Track] == layout.JointUnknown {
			u.union(id-1, id)
		}
	}
	for i := range r.c.Ways {
		w := &r.c.Ways[i]
		if w.Kind != circuit.WayJoint || !r.onTrack(w.A, on) || !r.onTrack(w.B, on) {
			continue
		}
		for _, k := range w.Rails {
			if k < 0 {
				continue
			}
			c := &r.c.Conductors[k]
			if c.Sure || (unknownHolds && !r.trusting.Conductors[k].Sure && !r.liftsOut(w)) {
				u.union(c.A, c.B)
			}
		}
	}
	var out [][]RailPart
	at := map[int32]int{}
	for i := range r.parts {
		if p := &r.parts[i]; p.From < p.To && on(p.Track) {
			root := u.find(int32(r.c.Nodes + i))
			n, found := at[root]
			if !found {
				n = len(out)
				at[root] = n
				out = append(out, nil)
			}
			out[n] = append(out[n], p.RailPart)
		}
	}
	for i := range out {
		out[i] = joinParts(out[i])
	}
	return out
}

// onTrack reports whether a spot lies on a track that on takes.
func (r *RailLines) onTrack(spot int32, on func(track int32) bool) bool {
	p := &r.c.Layout.Pieces[r.c.Spots[spot].Piece]
	return p.Kind == layout.TrackPiece && on(p.Index)
}
