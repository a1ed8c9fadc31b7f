package districts

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestUnionFindAgainstRelabelling: each union relabels, in a plain list, all of the one
// group by the lesser label.
func TestUnionFindAgainstRelabelling(t *testing.T) {
	checkOften(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		u := newUnionFind(n)
		label := make([]int32, n)
		for i := range label {
			label[i] = int32(i)
		}
		element := rapid.Int32Range(0, int32(n-1))
		for range rapid.IntRange(0, 15).Draw(t, "unions") {
			x, y := element.Draw(t, "x"), element.Draw(t, "y")
			apart := label[x] != label[y]
			from, to := max(label[x], label[y]), min(label[x], label[y])
			for i := range label {
				if label[i] == from {
					label[i] = to
				}
			}
			if got := u.union(x, y); got != apart {
				t.Fatalf("union(%d, %d) says they were apart: %t", x, y, got)
			}
			if z := element.Draw(t, "z"); u.find(z) != label[z] {
				t.Fatalf("find(%d) = %d, want %d", z, u.find(z), label[z])
			}
		}
		if got := u.flatten(); !slices.Equal(got, label) {
			t.Fatalf("flattened %v, want %v", got, label)
		}
	})
}

// TestParityFindAgainstRelabelling: each union relabels and turns, in plain lists, all of the
// one group. What contradicts changes nothing.
func TestParityFindAgainstRelabelling(t *testing.T) {
	contradictions := 0
	checkOften(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		p := newParityFind(n)
		label, turned := make([]int32, n), make([]bool, n)
		for i := range label {
			label[i] = int32(i)
		}
		element := rapid.Int32Range(0, int32(n-1))
		for range rapid.IntRange(0, 20).Draw(t, "unions") {
			x, y, turn := element.Draw(t, "x"), element.Draw(t, "y"), rapid.Bool().Draw(t, "turned")
			agree := true
			if label[x] == label[y] {
				agree = (turned[x] != turned[y]) == turn
			} else {
				from, to := max(label[x], label[y]), min(label[x], label[y])
				swap := (turned[x] != turned[y]) != turn
				for i := range label {
					if label[i] == from {
						label[i], turned[i] = to, turned[i] != swap
					}
				}
			}
			if !agree {
				contradictions++
			}
			if got := p.union(x, y, turn); got != agree {
				t.Fatalf("union(%d, %d, %t) = %t, want %t", x, y, turn, got, agree)
			}
			z := element.Draw(t, "z")
			if root, against := p.find(z); root != label[z] || against != turned[z] {
				t.Fatalf("find(%d) = %d, %t; want %d, %t", z, root, against, label[z], turned[z])
			}
		}
		for z := range int32(n) {
			if root, against := p.find(z); root != label[z] || against != turned[z] {
				t.Fatalf("at the end find(%d) = %d, %t; want %d, %t", z, root, against, label[z], turned[z])
			}
		}
	})
	if contradictions < 300 {
		t.Errorf("only %d contradictions were tried", contradictions)
	}
}
