package oracle

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near1(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// resistors builds a network of ohms; ground is -1.
func resistors(nodes int, of [][3]float64) *meshed {
	c := newConductances(nodes)
	for _, r := range of {
		c.add(int(r[0]), int(r[1]), 1/r[2])
	}
	return c.reduce()
}

// bridge is W3 of facts.md (LEC ch. 10): 24 V at node 0, R12 150, R13 50, R23 100, R20 300, R30 250 Ω.
var bridge = [][3]float64{{0, 1, 150}, {0, 2, 50}, {1, 2, 100}, {1, -1, 300}, {2, -1, 250}}

func TestMeshPublished(t *testing.T) {
	m := resistors(3, bridge)
	loop := m.column(0)[0]
	near1(t, "W3 resistance", loop, 176.351, 0.0005)
	near1(t, "W3 V2", 24/loop*m.column(0)[1], 17.655, 0.0005)
	near1(t, "W3 V3", 24/loop*m.column(0)[2], 19.310, 0.0005)

	more := resistors(3, append([][3]float64{{1, 2, 100}}, bridge...))
	loop = more.column(0)[0]
	near1(t, "W24 resistance", loop, 175.424, 0.0005)
	near1(t, "W24 V2", 24/loop*more.column(0)[1], 18.0870, 0.00005)
	near1(t, "W24 V3", 24/loop*more.column(0)[2], 19.1304, 0.00005)

	// W3 with node 1 grounded, facts.md section 10: 1 A into 2 gives 17.2414 V at 3, and the same the other way.
	grounded := resistors(2, [][3]float64{{-1, 0, 150}, {-1, 1, 50}, {0, 1, 100}, {0, -1, 300}, {1, -1, 250}})
	near1(t, "reciprocity", grounded.column(0)[1], 17.2414, 0.00005)
	near1(t, "reciprocity", grounded.column(1)[0], 17.2414, 0.00005)
}

// The unit cube, CUB: edge 7/12, face diagonal 3/4, body diagonal 5/6. Corner 7 is ground.
func TestMeshCube(t *testing.T) {
	var edges [][3]float64
	for x := range 8 {
		for _, bit := range []int{1, 2, 4} {
			if y := x | bit; y != x {
				to := float64(y)
				if y == 7 {
					to = -1
				}
				edges = append(edges, [3]float64{float64(x), to, 1})
			}
		}
	}
	m := resistors(7, edges)
	for corner, want := range map[int]float64{0: 5. / 6, 1: 3. / 4, 3: 7. / 12} {
		near1(t, "cube", m.column(corner)[corner], want, 1e-12)
	}
}

// W6 (DCD 13.1): 300 V, 0.01 Ω/km a conductor, sections 500, 500, 600, 400 m, taps 100, 150, 200, 50 A.
func TestMeshDistributor(t *testing.T) {
	const loop = 2 * 0.01 / 1000
	m := resistors(4, [][3]float64{{-1, 0, 500 * loop}, {0, 1, 500 * loop}, {1, 2, 600 * loop}, {2, 3, 400 * loop}})
	for tap, want := range []float64{295.0, 291.0, 288.0, 287.6} {
		volts := 300.0
		for from, amps := range []float64{100, 150, 200, 50} {
			volts -= amps * m.column(from)[tap]
		}
		near1(t, "W6", volts, want, 1e-9)
	}
}

// Any network by plain Gaussian elimination.
func TestMeshAgainstGauss(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 50 {
		n := 1 + r.IntN(25)
		var of [][3]float64
		for i := range n {
			of = append(of, [3]float64{float64(i), float64(r.IntN(i+1) - 1), math.Pow(10, 4*r.Float64()-3)})
		}
		for range r.IntN(3 * n) {
			of = append(of, [3]float64{float64(r.IntN(n)), float64(r.IntN(n+1) - 1), math.Pow(10, 4*r.Float64()-3)})
		}
		m := resistors(n, of)
		into := r.IntN(n)
		want := gauss(n, of, into)
		for i, v := range m.column(into) {
			near1(t, "volts", v, want[i], 1e-9*(1+math.Abs(want[i])))
		}
	}
}

func gauss(n int, of [][3]float64, into int) []float64 {
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, n+1)
	}
	a[into][n] = 1
	for _, r := range of {
		x, y, g := int(r[0]), int(r[1]), 1/r[2]
		if x == y {
			continue
		}
		for _, e := range [][2]int{{x, y}, {y, x}} {
			if e[0] < 0 {
				continue
			}
			a[e[0]][e[0]] += g
			if e[1] >= 0 {
				a[e[0]][e[1]] -= g
			}
		}
	}
	for k := range n {
		for i := range n {
			if i == k {
				continue
			}
			by := a[i][k] / a[k][k]
			for j := k; j <= n; j++ {
				a[i][j] -= by * a[k][j]
			}
		}
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = a[i][n] / a[i][i]
	}
	return out
}
