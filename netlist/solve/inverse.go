package solve

import (
	"context"
	"math"
)

// Inverse has the entries of A⁻¹ on the pattern of the factor: of every node with itself, and of
// the two ends of every edge. An entry is ohms: A⁻¹_ii is the resistance from node i to ground.
type Inverse struct {
	f        *Factor
	entries  []float64 // where L has entries
	diagonal []float64 // by place in the order
}

// fosterTolerance is how far the sum of Foster's theorem may be off, relative to the number of nodes.
const fosterTolerance = 1e-8

// SelectedInverse computes the inverse on the factor's pattern, from the last column to the first, by the recurrence of K. Takahashi, J. Fagan and
// M. Chen (1973): with Z the inverse, for j < i both in the pattern of column j
// Z_ij = - sum over k > j of L_kj Z_ik, and Z_jj = 1/D_j - sum of L_kj Z_kj. All that is needed lies on the pattern
// (A. M. Erisman and W. F. Tinney, Comm. ACM 18, 1975). The result is held against the theorem of R. M. Foster (1949): conductance
// times resistance, summed over all edges, is the number of nodes.
func (f *Factor) SelectedInverse(ctx context.Context) (*Inverse, error) {
	v := &Inverse{f: f, entries: make([]float64, len(f.row)), diagonal: make([]float64, f.n)}
	w := make([]float64, f.n) // column j of L, scattered by row
	z := make([]float64, f.n) // sums, by row
	in := make([]int32, f.n)  // 1 + the last column in which a row has an entry
	for j := f.n - 1; j >= 0; j-- {
		if j%65536 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		from, to := f.column[j], f.column[j+1]
		switch to - from {
		case 0:
			v.diagonal[j] = 1 / f.d[j]
			continue
		case 1:
			l := f.l[from]
			z := -l * v.diagonal[f.row[from]]
			v.entries[from] = z
			v.diagonal[j] = 1/f.d[j] - l*z
			continue
		}
		rows := f.row[from:to]
		for p, i := range rows {
			w[i], z[i], in[i] = f.l[from+int64(p)], 0, int32(j)+1
		}
		for p, k := range rows {
			lk := f.l[from+int64(p)]
			sum := lk * v.diagonal[k]
			for q := f.column[k]; q < f.column[k+1]; q++ {
				i := f.row[q]
				if in[i] != int32(j)+1 {
					continue
				}
				zik := v.entries[q]
				sum += w[i] * zik
				z[i] += lk * zik
			}
			z[k] += sum
		}
		own := 1 / f.d[j]
		for p, i := range rows {
			v.entries[from+int64(p)] = -z[i]
			own += w[i] * z[i]
		}
		v.diagonal[j] = own
	}
	return v, v.foster()
}

// foster holds the inverse against Foster's theorem.
func (v *Inverse) foster() error {
	if v.f.n == 0 {
		return nil
	}
	sum := v.Foster()
	if off := math.Abs(sum-float64(v.f.n)) / float64(v.f.n); !(off <= fosterTolerance) {
		worst, at := 0.0, 0
		for k := range v.f.edges {
			if x := v.share(k) - 1; x > worst || math.IsNaN(x) {
				worst, at = x, k
			}
		}
		return &BadlyScaledError{Edge: at, What: "the resistances of the inverse miss Foster's sum by", By: off}
	}
	return nil
}

// Foster is the sum over all edges of conductance times resistance between its ends: the number of nodes.
func (v *Inverse) Foster() float64 {
	sum, lost := 0.0, 0.0 // with what rounding loses (W. Kahan 1965)
	for k := range v.f.edges {
		y := v.share(k) - lost
		t := sum + y
		lost = t - sum - y
		sum = t
	}
	return sum
}

// share is an edge's conductance times the resistance between its ends: the part of a current from end to end that goes through it.
func (v *Inverse) share(k int) float64 {
	e := &v.f.edges[k]
	if e.I == e.J {
		return 0
	}
	ii, ij, jj := v.Edge(k)
	return e.G * (ii + jj - 2*ij)
}

// Diagonal is the resistance from a node to ground, in ohms.
func (v *Inverse) Diagonal(i int32) float64 { return v.diagonal[v.f.at[i]] }

// Edge is the inverse at the ends I and J of an edge; 0 where one is Ground.
func (v *Inverse) Edge(k int) (ii, ij, jj float64) {
	e := &v.f.edges[k]
	if e.I != Ground {
		ii = v.diagonal[v.f.at[e.I]]
	}
	if e.J != Ground {
		jj = v.diagonal[v.f.at[e.J]]
	}
	switch {
	case e.I == e.J:
		ij = ii
	case v.f.entry[k] != none:
		ij = v.entries[v.f.entry[k]]
	}
	return ii, ij, jj
}
