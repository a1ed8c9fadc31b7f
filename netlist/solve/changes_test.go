package solve_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gapwise/netlist/solve"
)

// TestChangeOfExtremes: whatever the ratios, changes and losses are right or refused by name, and
// what floats is found, against an inverse with 400 binary digits and a search of the graph.
func TestChangeOfExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := extremeNetwork(t)
		changed := slices.Clone(edges)
		var changes []solve.EdgeChange
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			k := rapid.IntRange(0, len(edges)-1).Draw(t, "edge")
			if changed[k] != edges[k] {
				continue
			}
			g := -edges[k].G
			if rapid.Bool().Draw(t, "more") {
				g = edges[k].G * math.Pow(10, rapid.Float64Range(-9, 9).Draw(t, "power"))
			}
			changed[k].G += g
			changes = append(changes, solve.EdgeChange{Edge: k, G: g})
		}
		left := slices.DeleteFunc(slices.Clone(changed), func(e solve.Edge) bool { return e.G == 0 })

		f := factor(t, n, edges)
		c, err := f.Change(changes)
		var want, got *solve.FloatingError
		if _, err := solve.Analyse(t.Context(), n, left); errors.As(err, &want) {
			var scale *solve.BadlyScaledError
			if !errors.As(err, &got) && !errors.As(err, &scale) {
				t.Fatalf("%v, and Change says %v", want, err)
			}
			if got != nil && got.Node != want.Node {
				t.Fatalf("%v, and Change says %v", want, got)
			}
			return
		}
		if badlyScaled(t, edges, err) {
			return
		}
		before, after := exactInverse(n, edges), exactInverse(n, left)
		for i := range int32(n) {
			was, _ := before[i][i].Float64()
			is, _ := after[i][i].Float64()
			if less := c.Less(i, i); math.Abs(was-less-is) > 1e-6*max(was, is) {
				t.Fatalf("%v ohms less at %d, from %v to %v", less, i, was, is)
			}
			x, err := c.At(i, i)
			if !badlyScaled(t, edges, err) && math.Abs(x-is) > 1e-9*max(was, is) {
				t.Fatalf("%v ohms at %d, want %v", x, i, is)
			}
		}
	})
}

// TestLossesAtOnce takes both of two parallel conductors away beside a third of next to nothing: the
// loss of each by itself leaves a sound share, and only both together leave Woodbury's formula
// without digits.
func TestLossesAtOnce(t *testing.T) {
	f := factor(t, 1, []solve.Edge{{I: g, J: 0, G: 1}, {I: g, J: 0, G: 1.5e-3}, {I: g, J: 0, G: 2.5e-9}})
	c, err := f.Change([]solve.EdgeChange{{Edge: 0, G: -1}, {Edge: 1, G: -1.5e-3}})
	if err != nil {
		t.Fatal(err)
	}
	x, err := c.At(0, 0)
	if less := inverse(t, f).Diagonal(0) - c.Less(0, 0); err != nil || !near(x, 4e8, 1e-12) || !near(less, 4e8, 1e-12) {
		t.Errorf("%v and %v ohms (%v), want 4e8", x, less, err)
	}
}

// TestBlurredChange: an edge whose own resistance is lost in that to ground has no change to tell.
func TestBlurredChange(t *testing.T) {
	f := factor(t, 2, []solve.Edge{{I: g, J: 0, G: 1}, {I: 0, J: 1, G: 1e15}, {I: 0, J: 1, G: 1}})
	var scale *solve.BadlyScaledError
	if _, err := f.Change([]solve.EdgeChange{{Edge: 1, G: -1e15}}); !errors.As(err, &scale) || scale.Edge != 1 {
		t.Errorf("%v", err)
	}
}
