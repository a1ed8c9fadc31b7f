package partition

import (
	"context"
	"testing"
)

// parts is a problem of dividing weights into at most k connected parts, none over a most.
func parts(weights []int64, edges []Edge, k int, most int64) *Problem {
	p := &Problem{Edges: edges}
	for _, w := range weights {
		p.Nodes = append(p.Nodes, Node{Load: w, Pin: -1})
	}
	for range k {
		p.Parts = append(p.Parts, Capacity{most})
	}
	return p
}

func path(n int) (out []Edge) {
	for v := 1; v < n; v++ {
		out = append(out, Edge{int32(v - 1), int32(v), 1})
	}
	return out
}

func complete(n int) (out []Edge) {
	for a := range n {
		for b := range a {
			out = append(out, Edge{int32(a), int32(b), 1})
		}
	}
	return out
}

// TestPublishedPartitions finds the least largest part of instances whose optimum is known: the encyclopedia's example of the largest
// differencing method, {8,7,6,5,4} in two (optimum difference 0, so 15); and, derived by hand, largest-first's bad cases
// {3,3,2,2,2} in two (6) and {5,5,4,4,3,3,3} in three (9), and the path 3 1 4 1 5 9 2 6 5 3 5 in 2, 3 and 4 connected parts (23, 17, 14).
func TestPublishedPartitions(t *testing.T) {
	pi := []int64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5}
	for _, k := range []struct {
		name    string
		weights []int64
		edges   []Edge
		parts   int
		want    int64
	}{
		{"differencing", []int64{8, 7, 6, 5, 4}, complete(5), 2, 15},
		{"largest first, two", []int64{3, 3, 2, 2, 2}, complete(5), 2, 6},
		{"largest first, three", []int64{5, 5, 4, 4, 3, 3, 3}, complete(7), 3, 9},
		{"path in two", pi, path(11), 2, 23},
		{"path in three", pi, path(11), 3, 17},
		{"path in four", pi, path(11), 4, 14},
	} {
		for most := int64(1); ; most++ {
			x, err := Solve(context.Background(), parts(k.weights, k.edges, k.parts, most), DefaultWork)
			if err != nil {
				t.Fatal(err)
			}
			if x.Feasible == Unknown || most > k.want {
				t.Fatalf("%s: %+v at %d", k.name, x, most)
			}
			if x.Feasible == Found {
				if most != k.want {
					t.Errorf("%s: %d, want %d", k.name, most, k.want)
				}
				break
			}
		}
	}
}
