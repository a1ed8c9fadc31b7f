package solve

import "fmt"

// Column is the volts of every node by one ampere into node i: a column of the inverse.
func (f *Factor) Column(i int32) ([]float64, error) { return f.Difference(i, Ground) }

// Difference is the volts of every node by one ampere into i and out of j. Either may be Ground.
//
// What is injected at a node reaches only those above it in the elimination tree, so only these are
// substituted forward (J. R. Gilbert and T. Peierls, SIAM J. Sci. Stat. Comput. 9, 1988).
func (f *Factor) Difference(i, j int32) ([]float64, error) { return f.difference(i, j, nil) }

// outside says that a node is none of the network's.
func (f *Factor) outside(i, j int32) error {
	return fmt.Errorf("solve: nodes %d and %d are not both among %d", i, j, f.n)
}

func (f *Factor) difference(i, j int32, c *Change) ([]float64, error) {
	if i < Ground || j < Ground || int(i) >= f.n || int(j) >= f.n {
		return nil, f.outside(i, j)
	}
	x := make([]float64, f.n)
	b, w := f.space.get(), f.space.get()
	defer f.space.put(b)
	defer f.space.put(w)
	clear(b)
	clear(w)
	k, m := int32(none), int32(none)
	if i != Ground {
		k = f.at[i]
		b[i]++
		w[k]++
	}
	if j != Ground {
		m = f.at[j]
		b[j]--
		w[m]--
	}
	for k != none || m != none {
		lower := k
		if k == none || m != none && m < k {
			lower = m
		}
		f.forward(w, lower)
		if k == lower {
			k = f.parent[k]
		}
		if m == lower {
			m = f.parent[m]
		}
	}
	f.backward(x, w)
	c.less(x)
	return x, f.refine(x, b, w, c)
}

// ohms is the resistance from a node to ground, 0 for Ground: the sum of w²/D on its way up the
// elimination tree, where w comes from an ampere into it.
func (f *Factor) ohms(i int32) float64 {
	if i == Ground {
		return 0
	}
	w := f.space.get()
	defer f.space.put(w)
	for k := f.at[i]; k != none; k = f.parent[k] {
		w[k] = 0
	}
	w[f.at[i]] = 1
	sum := 0.0
	for k := f.at[i]; k != none; k = f.parent[k] {
		f.forward(w, k)
		sum += w[k] * w[k] / f.star[k]
	}
	return sum
}
