package solve_test

import (
	"math"
	"testing"

	"gapwise/netlist/solve"
)

// million solves a network of a million nodes for an ampere at one of them, and gives resistances
// to ground.
func million(t *testing.T, n int, edges []solve.Edge, at int32) *solve.Inverse {
	t.Helper()
	f := factor(t, n, edges)
	v := inverse(t, f)
	x, err := f.Column(at)
	if err != nil {
		t.Fatal(err)
	}
	if !near(x[at], v.Diagonal(at), 1e-11) { // both add up along a way of up to n nodes
		t.Errorf("node %d has %v ohms by its column, %v by the selected inverse", at, x[at], v.Diagonal(at))
	}
	b := make([]float64, n)
	b[at] = 1
	if worst := leftOver(edges, x, b); worst > 1e-8 {
		t.Errorf("%v A left over of 1 A", worst)
	}
	return v
}

const many = 1_000_000

// long leaves a test of a million nodes out of a short run.
func long(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("a million nodes")
	}
}

// TestMillionInLine: resistances in series add up.
func TestMillionInLine(t *testing.T) {
	long(t)
	edges := make([]solve.Edge, many)
	for i := range edges {
		edges[i] = solve.Edge{I: int32(i) - 1, J: int32(i), G: 1}
	}
	v := million(t, many, edges, many-1)
	for _, i := range []int32{0, 12345, many - 1} {
		if !near(v.Diagonal(i), float64(i+1), 1e-12) {
			t.Errorf("node %d has %v ohms", i, v.Diagonal(i))
		}
	}
}

// TestMillionInTree: the resistance to ground of a node of a tree is the sum on its way.
func TestMillionInTree(t *testing.T) {
	long(t)
	edges := randomTree(many, 9)
	v := million(t, many, edges, many/2)
	sum := make([]float64, many)
	for i, e := range edges { // edge i hangs node i on an earlier one
		sum[i] = 1 / e.G
		if e.I != g {
			sum[i] += sum[e.I]
		}
		if !near(v.Diagonal(int32(i)), sum[i], 1e-12) {
			t.Fatalf("node %d has %v ohms, want %v", i, v.Diagonal(int32(i)), sum[i])
		}
	}
}

// TestMillionInLadder: a long ladder of unit resistors has the golden ratio less 1 at its feed.
func TestMillionInLadder(t *testing.T) {
	long(t)
	v := million(t, many, ladder(many, 1, 1), 0)
	if !near(v.Diagonal(0), math.Phi-1, 1e-12) {
		t.Errorf("%v ohms", v.Diagonal(0))
	}
}

// TestMillionInStrip: along a strip of a grid, 4 nodes wide and with ground at one end, the
// resistance to ground rises by a quarter of a unit resistor at every step, far from the ends.
func TestMillionInStrip(t *testing.T) {
	long(t)
	const width = 4
	length := many / width
	edges := make([]solve.Edge, 0, 2*many)
	for i := range int32(length) {
		for j := range int32(width) {
			to, from := i*width+j, (i-1)*width+j
			if i == 0 {
				from = g
			}
			edges = append(edges, solve.Edge{I: from, J: to, G: 1})
			if j > 0 {
				edges = append(edges, solve.Edge{I: to - 1, J: to, G: 1})
			}
		}
	}
	v := million(t, many, edges, many-1)
	middle := int32(many / 2)
	if rise := v.Diagonal(middle+width*1000) - v.Diagonal(middle); !near(rise, 1000./width, 1e-9) {
		t.Errorf("1000 steps of a strip %d wide have %v ohms", width, rise)
	}
}

// TestMillionAsCircuit: a million nodes as layouts have them, against the sum of Foster.
func TestMillionAsCircuit(t *testing.T) {
	long(t)
	n, edges := circuitLike(many, 1)
	v := million(t, n, edges, int32(n)/2)
	if !near(v.Foster(), float64(n), 1e-9) {
		t.Errorf("Foster's sum is %v for %d nodes", v.Foster(), n)
	}
}

// TestLargeGrid: between neighbours in the middle of a large grid of unit resistors lies half an
// ohm, less by less than a thousandth here for the edge of the grid (infinite grid: G. Venezian,
// Am. J. Phys. 62, 1994).
func TestLargeGrid(t *testing.T) {
	side := 300
	n, edges := grid(side)
	v := inverse(t, factor(t, n, edges))
	k := -1
	for i, e := range edges {
		if e.I == int32(side/2*side+side/2) && e.J == e.I+1 {
			k = i
		}
	}
	ii, ij, jj := v.Edge(k)
	if r := ii + jj - 2*ij; math.Abs(r-0.5) > 1e-4 {
		t.Errorf("%v ohms", r)
	}
}
