package solve

import "context"

// Inverse has the entries of A⁻¹ on the pattern of the factor: of every node with itself, and of
// the two ends of every edge. An entry is ohms: the volts at one node by an ampere into the other.
// It serves several goroutines at once.
type Inverse struct {
	f        *Factor
	value    []float64 // where the factor has entries
	diagonal []float64 // by place in the order
}

// SelectedInverse computes the inverse on the factor's pattern, from the last column to the first:
// with Z the inverse and shares s of column j, Z_ij = sum of s_k Z_ik over the rows k of column j,
// and Z_jj = 1/D_j + sum of s_k Z_kj (K. Takahashi, J. Fagan and M. Chen 1973). All that is needed
// lies on the pattern (A. M. Erisman and W. F. Tinney, Comm. ACM 18, 1975), and nothing is
// subtracted. The result is held against Foster's theorem.
func (f *Factor) SelectedInverse(ctx context.Context) (*Inverse, error) {
	v, err := f.selectedInverse(ctx)
	if err != nil {
		return nil, err
	}
	if err := v.foster(); err != nil {
		return nil, err
	}
	return v, nil
}

func (f *Factor) selectedInverse(ctx context.Context) (*Inverse, error) {
	v := &Inverse{f: f, value: make([]float64, len(f.share)), diagonal: make([]float64, f.n)}
	var t triangle
	for b := int32(len(f.first)) - 2; b >= 0; b-- {
		if b%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		t.gather(v, b)
		for j := f.first[b+1] - 1; j >= f.first[b]; j-- {
			if j%256 == 0 && ctx.Err() != nil {
				return nil, ctx.Err()
			}
			v.complete(j, &t)
		}
	}
	return v, nil
}

// complete computes column j from the columns that its rows are; t has those behind its block.
func (v *Inverse) complete(j int32, t *triangle) {
	f := v.f
	from, to := f.column[j], f.column[j+1]
	share, z := f.share[from:to], v.value[from:to]
	inside := len(z) - len(t.diagonal) // rows that are columns of the block itself
	for p, s := range share {
		var below []float64
		var own float64
		if p < inside {
			k := j + 1 + int32(p)
			below, own = v.value[f.column[k]:f.column[k+1]], v.diagonal[k]
		} else {
			below, own = t.below[p-inside], t.diagonal[p-inside]
		}
		sum := z[p] + own*s
		rest, out := share[p+1:][:len(below)], z[p+1:][:len(below)]
		for q, zq := range below {
			sum += zq * rest[q]
			out[q] += zq * s
		}
		z[p] = sum
	}
	sum := 1 / f.star[j]
	for p, s := range share {
		sum += s * z[p]
	}
	v.diagonal[j] = sum
}

// Diagonal is the resistance from a node to ground, in ohms; 0 for Ground.
func (v *Inverse) Diagonal(i int32) float64 {
	if i == Ground {
		return 0
	}
	return v.diagonal[v.f.at[i]]
}

// Edge is the inverse at the ends I and J of an edge, in ohms; 0 where one is Ground.
func (v *Inverse) Edge(k int) (ii, ij, jj float64) {
	e := &v.f.edges[k]
	ii, jj = v.Diagonal(e.I), v.Diagonal(e.J)
	switch {
	case v.f.entry[k] != none:
		ij = v.value[v.f.entry[k]]
	case e.I == e.J:
		ij = ii
	}
	return ii, ij, jj
}
