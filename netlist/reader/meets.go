package reader

import "gapwise/netlist/layout"

// meets tells which piece ends are one joint, and how their left and right compare.
// Ends are numbered through; turned says that looking out of an end and looking out of
// the one it is joined under are opposite ways.
type meets struct {
	first  []int32 // of each piece, the number of its end 0
	owner  []layout.EndRef
	under  []int32
	turned []bool
}

func newMeets(pieces []layout.Piece) meets {
	var m meets
	for p := range pieces {
		m.first = append(m.first, int32(len(m.owner)))
		for e := range pieces[p].Ends {
			m.under = append(m.under, int32(len(m.owner)))
			m.owner = append(m.owner, layout.EndRef{Piece: layout.PieceID(p), End: int32(e)})
			m.turned = append(m.turned, false)
		}
	}
	return m
}

func (m *meets) number(e layout.EndRef) int32 { return m.first[e.Piece] + e.End }

// root is the end that stands for the joint of n, and whether n looks the other way.
func (m *meets) root(n int32) (int32, bool) {
	turned := false
	for m.under[n] != n {
		turned = turned != m.turned[n]
		n = m.under[n]
	}
	return n, turned
}

// join makes two ends one joint. Opposite says that they look opposite ways out, as two
// pieces that meet do; a body's edge at a track's end looks the same way as that end.
func (m *meets) join(a, b layout.EndRef, opposite bool) {
	x, xTurned := m.root(m.number(a))
	y, yTurned := m.root(m.number(b))
	if x == y {
		return
	}
	if y < x {
		x, y = y, x
	}
	m.under[y] = x
	m.turned[y] = xTurned != yTurned != opposite
}

// joint is the one name of the joint at e.
func (m *meets) joint(e layout.EndRef) layout.EndRef {
	n, _ := m.root(m.number(e))
	return m.owner[n]
}

// rail names rail rail of e's piece by the piece that stands for the joint, looking out
// of it.
func (m *meets) rail(pieces []layout.Piece, e layout.EndRef, rail layout.Rail) layout.Rail {
	_, turned := m.root(m.number(e))
	if turned != (pieces[e.Piece].Ends[e.End].Facing == layout.AtStart) {
		return rail.Other()
	}
	return rail
}
