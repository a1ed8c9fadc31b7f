package solve_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// leftOver is the largest current that volts leave over at a node, by sums of our own.
func leftOver(edges []solve.Edge, x, b []float64) float64 {
	r := slices.Clone(b)
	for _, e := range edges {
		at := func(i int32) float64 {
			if i == solve.Ground {
				return 0
			}
			return x[i]
		}
		amps := e.G * (at(e.I) - at(e.J))
		if e.I >= 0 {
			r[e.I] -= amps
		}
		if e.J >= 0 {
			r[e.J] += amps
		}
	}
	worst := 0.0
	for _, v := range r {
		worst = max(worst, math.Abs(v))
	}
	return worst
}

// TestKirchhoff: what flows into a node flows out of it.
func TestKirchhoff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		b := rapid.SliceOfN(rapid.Float64Range(-10, 10), n, n).Draw(t, "amperes")
		x, err := factor(t, n, edges).Solve(b)
		if err != nil {
			t.Fatal(err)
		}
		most := 0.0
		for _, v := range b {
			most += math.Abs(v)
		}
		if worst := leftOver(edges, x, b); worst > 1e-10*most {
			t.Fatalf("%v A left over of %v", worst, most)
		}
	})
}

// TestFoster: conductance times resistance sums to the number of nodes (R. M. Foster 1949), here
// with the resistances of columns, not of the selected inverse.
func TestFoster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f := factor(t, n, edges)
		sum := 0.0
		for _, e := range edges {
			x, err := f.Difference(e.I, e.J)
			if err != nil {
				t.Fatal(err)
			}
			if e.I >= 0 {
				sum += e.G * x[e.I]
			}
			if e.J >= 0 {
				sum -= e.G * x[e.J]
			}
		}
		if !near(sum, float64(n), 1e-8) || !near(inverse(t, f).Foster(), float64(n), 1e-8) {
			t.Fatalf("sums %v and %v, want %d", sum, inverse(t, f).Foster(), n)
		}
	})
}

// TestReciprocity: volts at i by an ampere into j are volts at j by an ampere into i.
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f := factor(t, n, edges)
		i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
		x, err := f.Column(int32(i))
		if err != nil {
			t.Fatal(err)
		}
		y, err := f.Column(int32(j))
		if err != nil {
			t.Fatal(err)
		}
		if !near(x[j], y[i], 1e-12) {
			t.Fatalf("%v and %v", x[j], y[i])
		}
	})
}

// TestRayleigh: more conductance anywhere raises no resistance.
func TestRayleigh(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f := factor(t, n, edges)
		before := inverse(t, f)
		k := rapid.IntRange(0, len(edges)-1).Draw(t, "edge")
		more := rapid.Float64Range(0.01, 100).Draw(t, "siemens")
		thicker := slices.Clone(edges)
		thicker[k].G += more
		other, err := f.Factor(t.Context(), thicker)
		if err != nil {
			t.Fatal(err)
		}
		after := inverse(t, other)
		c, err := f.Change([]solve.EdgeChange{{Edge: k, G: more}})
		if err != nil {
			t.Fatal(err)
		}
		for i := range int32(n) {
			if after.Diagonal(i) > before.Diagonal(i)*(1+1e-12) {
				t.Fatalf("node %d went from %v to %v ohms", i, before.Diagonal(i), after.Diagonal(i))
			}
			if less := c.Less(i, i); less < 0 || !near(before.Diagonal(i)-less, after.Diagonal(i), 1e-9) && less < before.Diagonal(i)*0.99 {
				t.Fatalf("node %d: %v less, from %v to %v ohms", i, less, before.Diagonal(i), after.Diagonal(i))
			}
		}
	})
}

// TestDifference is a column less another.
func TestDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := randomNetwork(t)
		f := factor(t, n, edges)
		i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
		x, errX := f.Column(int32(i))
		y, errY := f.Column(int32(j))
		z, errZ := f.Difference(int32(i), int32(j))
		if errX != nil || errY != nil || errZ != nil {
			t.Fatal(errX, errY, errZ)
		}
		for k := range z {
			if math.Abs(x[k]-y[k]-z[k]) > 1e-12*(x[k]+y[k]) {
				t.Fatalf("node %d: %v - %v is not %v", k, x[k], y[k], z[k])
			}
		}
	})
}
