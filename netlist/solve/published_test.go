package solve_test

import (
	"math"
	"testing"

	"gapwise/netlist/solve"
)

// The examples W1 to W24 are Lessons in Electric Circuits, vol. I, ch. 10 (W1-W5, W3's change W24
// derived from it), Principles of Power System, Ex. 13.1 (W6), and Power Distribution Systems, Ex.
// 2.18.1 (W7).

const g = solve.Ground

// ohms makes edges of resistances.
func ohms(rows ...[3]float64) []solve.Edge {
	var out []solve.Edge
	for _, r := range rows {
		out = append(out, solve.Edge{I: int32(r[0]), J: int32(r[1]), G: 1 / r[2]})
	}
	return out
}

// volts solves a network.
func volts(t *testing.T, n int, edges []solve.Edge, amps ...float64) []float64 {
	t.Helper()
	x, err := factor(t, n, edges).Solve(amps)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// same compares to half a unit of the last digit printed.
func same(t *testing.T, what string, got, want, unit float64) {
	t.Helper()
	if !(math.Abs(got-want) <= unit/2*1.0001) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func TestTwoSources(t *testing.T) { // W1, W2
	edges := ohms([3]float64{0, g, 4}, [3]float64{0, g, 1}, [3]float64{0, g, 2})
	v := volts(t, 1, edges, 28./4+7)[0]
	same(t, "node", v, 8, 1e-9)
	for k, want := range []float64{5, -1} {
		same(t, "source", ([]float64{28, 7}[k]-v)*edges[k].G, want, 1e-9)
	}
	same(t, "load", v/2, 4, 1e-9)

	c, err := factor(t, 1, edges).Change([]solve.EdgeChange{{Edge: 2, G: -1. / 2}})
	if err != nil {
		t.Fatal(err)
	}
	inside, err := c.At(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	open, err := c.Solve([]float64{28./4 + 7})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "open", open[0], 11.2, 1e-9)
	same(t, "inside", inside, 0.8, 1e-9)
	same(t, "short", open[0]/inside, 14, 1e-9)
	for _, c := range []struct{ load, watts, unit float64 }{{0.8, 39.2, 0.1}, {0.5, 37.11, 0.01}, {1.1, 38.22, 0.01}} {
		amps := open[0] / (inside + c.load)
		same(t, "load's watts", amps*amps*c.load, c.watts, c.unit)
	}
}

// bridge is W3 and W5 with the source's terminals at ground: nodes 2 and 3 are 0 and 1.
func bridge(r12, r13, r23, r20, r30 float64) []solve.Edge {
	return ohms([3]float64{g, 0, r12}, [3]float64{g, 1, r13}, [3]float64{0, 1, r23}, [3]float64{0, g, r20}, [3]float64{1, g, r30})
}

func TestBridge(t *testing.T) { // W3, W24
	edges := bridge(150, 50, 100, 300, 250)
	v := volts(t, 2, edges, 24./150, 24./50)
	same(t, "V2", v[0], 512./29, 1e-9)
	same(t, "V3", v[1], 560./29, 1e-9)
	milli := []float64{(24 - v[0]) / .150, (24 - v[1]) / .050, (v[1] - v[0]) / .100, v[0] / .300, v[1] / .250}
	for k, want := range []float64{42.299, 93.793, 16.552, 58.851, 77.241} {
		same(t, "current", milli[k], want, 0.001)
	}
	total := milli[0] + milli[1]
	same(t, "total", total, 136.092, 0.001)
	same(t, "ohms", 24e3/total, 176.351, 0.001)
	heat := 0.0
	for k, r := range []float64{150, 50, 100, 300, 250} {
		heat += milli[k] * milli[k] * r * 1e-6
	}
	same(t, "power", heat, 3.26621, 0.00001)
	same(t, "power by Tellegen", heat, 24*total/1e3, 1e-9)

	f := factor(t, 2, edges)
	for _, k := range []int32{0, 1} {
		column, err := f.Column(k)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "reciprocity", column[1-k], 17.2414, 0.0001)
	}

	c, err := f.Change([]solve.EdgeChange{{Edge: 2, G: 1. / 100}})
	if err != nil {
		t.Fatal(err)
	}
	w, err := c.Solve([]float64{24. / 150, 24. / 50})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "V2 with more copper", w[0], 18.0870, 0.0001)
	same(t, "V3 with more copper", w[1], 19.1304, 0.0001)
	more := (24-w[0])/.150 + (24-w[1])/.050
	same(t, "total with more copper", more, 136.812, 0.001)
	same(t, "ohms with more copper", 24e3/more, 175.424, 0.001)
}

func TestTwoLoops(t *testing.T) { // W4
	v := volts(t, 2, ohms([3]float64{0, g, 2}, [3]float64{0, g, 4}, [3]float64{0, 1, 2.5}, [3]float64{1, g, 5}, [3]float64{1, g, 1}), 5, -4)
	same(t, "V1", v[0], 80./21, 1e-9)
	same(t, "V2", v[1], -65./42, 1e-9)
}

func TestDeltaToStar(t *testing.T) { // W5
	v := volts(t, 2, bridge(12, 18, 6, 18, 12), 10./12, 10./18)
	same(t, "V2", v[0], 5.294, 0.001)
	same(t, "V3", v[1], 4.706, 0.001)
	same(t, "V23", v[0]-v[1], 0.5882, 0.0001)
	same(t, "total", (10-v[0])/12+(10-v[1])/18, 0.686275, 0.000001)
}

func TestDistributor(t *testing.T) { // W6
	v := volts(t, 4, ohms([3]float64{g, 0, .010}, [3]float64{0, 1, .010}, [3]float64{1, 2, .012}, [3]float64{2, 3, .008}), -100, -150, -200, -50)
	for k, want := range []float64{295.0, 291.0, 288.0, 287.6} {
		same(t, "tap", 300+v[k], want, 0.1)
	}
}

func TestCirculatingSources(t *testing.T) { // W7
	r, source := []float64{5, 1, 1, 2, 2}, []float64{225, 210, 230, 230, 240}
	var edges []solve.Edge
	amps := 0.0
	for k := range r {
		edges = append(edges, solve.Edge{I: 0, J: g, G: 1 / r[k]})
		amps += source[k] / r[k]
	}
	v := volts(t, 1, edges, amps)[0]
	same(t, "O", v, 225, 1e-9)
	for k, want := range []float64{0, -15, 5, 2.50, 7.50} {
		same(t, "source", (source[k]-v)/r[k], want, 0.01)
	}
}

// across is the resistance between the ends of every edge.
func across(t *testing.T, n int, edges []solve.Edge) []float64 {
	t.Helper()
	v := inverse(t, factor(t, n, edges))
	var out []float64
	for k := range edges {
		ii, ij, jj := v.Edge(k)
		out = append(out, ii+jj-2*ij)
	}
	return out
}

// TestFosterOfBridge: resistances across the edges of W3's bridge, 2625/37 and so on, make Foster's
// sum 3 (derived).
func TestFosterOfBridge(t *testing.T) {
	r := []float64{150, 50, 100, 300, 250}
	edges := ohms([3]float64{1, 2, r[0]}, [3]float64{1, 0, r[1]}, [3]float64{2, 0, r[2]}, [3]float64{2, g, r[3]}, [3]float64{0, g, r[4]})
	sum := 0.0
	for k, got := range across(t, 3, edges) {
		same(t, "across", got, []float64{2625, 1525, 2200, 5700, 5500}[k]/37, 1e-9)
		sum += got / r[k]
	}
	same(t, "Foster's sum", sum, 3, 1e-9)
}

// cube is the n-cube of unit resistors with corner 0 at ground; corner c is node c-1.
func cube(n int) []solve.Edge {
	var edges []solve.Edge
	for c := range int32(1) << n {
		for d := range n {
			if to := c ^ 1<<d; to > c {
				edges = append(edges, solve.Edge{I: c - 1, J: to - 1, G: 1})
			}
		}
	}
	return edges
}

// TestCube: school-physics page "Resistance networks", and the 1985 newsgroup table for more
// dimensions.
func TestCube(t *testing.T) {
	v := inverse(t, factor(t, 7, cube(3)))
	same(t, "edge", v.Diagonal(0), 7./12, 1e-12)
	same(t, "face", v.Diagonal(2), 3./4, 1e-12)
	same(t, "body", v.Diagonal(6), 5./6, 1e-12)
	same(t, "Foster's sum", v.Foster(), 7, 1e-12)
	for n, want := range map[int]float64{3: .833333, 4: .666667, 5: .533333, 6: .433333, 7: .359524} {
		last := int32(1)<<n - 2
		same(t, "body diagonal", inverse(t, factor(t, int(last)+1, cube(n))).Diagonal(last), want, 1e-6)
	}
}

// TestPetersen: every edge of the Petersen graph is 3/5, and the sum is 9 (derived, exact).
func TestPetersen(t *testing.T) {
	var edges []solve.Edge
	for i := range int32(5) {
		edges = append(edges, solve.Edge{I: i - 1, J: (i+1)%5 - 1, G: 1}, solve.Edge{I: i - 1, J: i + 4, G: 1}, solve.Edge{I: i + 4, J: (i+2)%5 + 4, G: 1})
	}
	sum := 0.0
	for _, got := range across(t, 9, edges) {
		same(t, "across", got, 3./5, 1e-12)
		sum += got
	}
	same(t, "Foster's sum", sum, 9, 1e-12)
}

// TestLadder: ladders of unit resistors, fed at one end; the limits are the golden ratio (derived)
// and 1 + square root of 3 (school-physics page "Resistance networks").
func TestLadder(t *testing.T) {
	for sections, want := range map[int]float64{1: 2, 2: 5. / 3, 3: 13. / 8, 4: 34. / 21, 40: math.Phi} {
		same(t, "one rail", 1+inverse(t, factor(t, sections, ladder(sections, 1, 1))).Diagonal(0), want, 1e-12)
	}
	for sections, want := range map[int]float64{1: 3, 2: 11. / 4, 3: 41. / 15, 40: 1 + math.Sqrt(3)} {
		edges := []solve.Edge{{I: g, J: 0, G: 1}} // rails are even and odd nodes, the far feed is ground
		for i := range int32(sections) {
			near, far := 2*i, 2*i-1
			if i > 0 {
				edges = append(edges, solve.Edge{I: near - 2, J: near, G: 1}, solve.Edge{I: far, J: far + 2, G: 1})
			}
			edges = append(edges, solve.Edge{I: near, J: far + 2, G: 1})
		}
		v := inverse(t, factor(t, 2*sections, edges))
		same(t, "both rails", 1+v.Diagonal(1), want, 1e-12)
	}
}
