package solve

// triangle is the inverse at the rows below a block: every such row with itself and with the later
// ones. By the theory of the elimination tree all of it lies on the pattern.
type triangle struct {
	diagonal []float64
	below    [][]float64 // by row: with the later rows
	store    []float64
	spot     []int32
}

// gather fills the triangle for block b from columns that are complete.
func (t *triangle) gather(v *Inverse, b int32) {
	f := v.f
	rows := f.rows(f.first[b+1] - 1)
	m := len(rows)
	t.diagonal, t.below = t.diagonal[:0], t.below[:0]
	if need := m * (m - 1) / 2; need > len(t.store) {
		t.store = make([]float64, need)
	}
	free := t.store
	from := int32(0) // first column of the block that spot is for
	for p, k := range rows {
		t.diagonal = append(t.diagonal, v.diagonal[k])
		column := v.value[f.column[k]:f.column[k+1]]
		left := m - p - 1
		if left == len(column) || left == 0 {
			t.below = append(t.below, column[:left]) // nothing to leave out
			continue
		}
		c := f.of[k]
		if p == 0 || f.of[rows[p-1]] != c {
			from = k
			t.spots(rows[p+1:], f.rows(k))
		}
		out := free[:left]
		free = free[left:]
		spot := t.spot[len(t.spot)-left:]
		for q, s := range spot {
			out[q] = column[s-(k-from)]
		}
		t.below = append(t.below, out)
	}
}

// spots finds where each of some rows stands in a longer list.
func (t *triangle) spots(some, all []int32) {
	t.spot = t.spot[:0]
	p := int32(0)
	for _, i := range some {
		for all[p] != i {
			p++
		}
		t.spot = append(t.spot, p)
		p++
	}
}
