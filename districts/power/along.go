package power

import "gapwise/netlist/network"

// Curve is the resistance of both legs along a length of track, in ohms, by the share t of its
// length from 0 to 1: C0 + C1 t + C2 t². It is concave: a point inside is fed from both ends.
//
// With R the inverse of a leg's conductance matrix, and r the ohms of the rail between its
// nodes i and j, a point that divides the rail t : 1-t has
// (1-t)² R_ii + t² R_jj + 2t(1-t) R_ij + t(1-t) r,
// which follows from eliminating the point's own node.
type Curve struct{ C0, C1, C2 float64 }

// At is the value at t.
func (c Curve) At(t float64) float64 { return c.C0 + t*(c.C1+t*c.C2) }

// Max is where the curve is highest between 0 and 1.
func (c Curve) Max() (t float64) {
	if c.C2 < 0 {
		if t = -c.C1 / (2 * c.C2); t > 0 && t < 1 {
			return t
		}
	}
	if c.C1+c.C2 > 0 {
		return 1
	}
	return 0
}

// plus adds another curve.
func (c Curve) plus(d Curve) Curve { return Curve{c.C0 + d.C0, c.C1 + d.C1, c.C2 + d.C2} }

// curveOf is one leg's part of a curve, from entries of the inverse.
func curveOf(ii, ij, jj, ohms float64) Curve {
	return Curve{ii, 2*(ij-ii) + ohms, ii + jj - 2*ij - ohms}
}

// curve is one leg's resistance along one of its conductors.
func (l *Leg) curve(edge int32) Curve {
	ii, ij, jj := l.Inverse.Edge(int(edge))
	return curveOf(ii, ij, jj, l.Net.Edges[edge].Ohms)
}

// Along is the resistance of both legs along a length of track.
func (x *Solved) Along(p *network.RailPair) Curve {
	return x.Leg[0].curve(p.Edge[0]).plus(x.Leg[1].curve(p.Edge[1]))
}
