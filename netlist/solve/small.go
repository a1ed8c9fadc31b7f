package solve

import "math"

// invert inverts a small matrix by Gauss and Jordan. doubt is how large the numbers were that each
// row was made of, to whose last digits it is right; it grows as rows are added up (the running
// error of J. H. Wilkinson 1963). The pivot is the one that is largest against its doubt; false when
// that is no more than the part least.
func invert(m [][]float64, doubt []float64, least float64) ([][]float64, bool) {
	n := len(m)
	inv := make([][]float64, n)
	for i := range inv {
		inv[i] = make([]float64, n)
		inv[i][i] = 1
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i][k])*doubt[p] > math.Abs(m[p][k])*doubt[i] {
				p = i
			}
		}
		m[k], m[p], inv[k], inv[p], doubt[k], doubt[p] = m[p], m[k], inv[p], inv[k], doubt[p], doubt[k]
		pivot := m[k][k]
		if !(math.Abs(pivot) > least*doubt[k]) {
			return nil, false
		}
		most := 0.0 // of the rest of the row
		for j := range n {
			m[k][j] /= pivot
			inv[k][j] /= pivot
			if j > k {
				most = max(most, math.Abs(m[k][j]))
			}
		}
		doubt[k] *= (1 + most) / math.Abs(pivot)
		for i := range n {
			if i == k || m[i][k] == 0 {
				continue
			}
			by := m[i][k]
			for j := range n {
				m[i][j] -= by * m[k][j]
				inv[i][j] -= by * inv[k][j]
			}
			doubt[i] += doubt[i]*most + math.Abs(by)*doubt[k]
		}
	}
	return inv, true
}
