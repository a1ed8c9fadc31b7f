package solve

import "math"

// invert inverts a small matrix by Gauss and Jordan, with the pivot that is largest against the
// scale of its row; false when no pivot is more than the part least of that.
func invert(m [][]float64, scale []float64, least float64) ([][]float64, bool) {
	n := len(m)
	inv := make([][]float64, n)
	for i := range inv {
		inv[i] = make([]float64, n)
		inv[i][i] = 1
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i][k])*scale[p] > math.Abs(m[p][k])*scale[i] {
				p = i
			}
		}
		m[k], m[p], inv[k], inv[p], scale[k], scale[p] = m[p], m[k], inv[p], inv[k], scale[p], scale[k]
		pivot := m[k][k]
		if !(math.Abs(pivot) > least*scale[k]) {
			return nil, false
		}
		for j := range n {
			m[k][j] /= pivot
			inv[k][j] /= pivot
		}
		for i := range n {
			if i == k || m[i][k] == 0 {
				continue
			}
			by := m[i][k]
			for j := range n {
				m[i][j] -= by * m[k][j]
				inv[i][j] -= by * inv[k][j]
			}
		}
	}
	return inv, true
}
