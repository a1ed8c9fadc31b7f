package solve_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"gapwise/netlist/solve"
)

// readNetwork makes a network of any bytes: how many nodes, then both ends and a conductance for
// every edge, sound or not.
func readNetwork(data []byte) (n int, edges []solve.Edge) {
	if len(data) == 0 {
		return 0, nil
	}
	n = int(data[0] % 32)
	for data = data[1:]; len(data) >= 3; data = data[3:] {
		e := solve.Edge{I: int32(int8(data[0])), J: int32(int8(data[1])), G: math.Pow(10, float64(int8(data[2]))/8)}
		switch data[2] {
		case 0x80:
			e.G = 0
		case 0x81:
			e.G = math.NaN()
		case 0x82:
			e.G = -1
		}
		edges = append(edges, e)
	}
	return n, edges
}

// FuzzNetwork: whatever the network, it is solved well or refused by an error that says where.
func FuzzNetwork(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		n, edges := readNetwork(data)
		a, err := solve.Analyse(context.Background(), n, edges)
		if err != nil {
			var edge *solve.EdgeError
			var floats *solve.FloatingError
			if !(errors.As(err, &edge) && edge.Edge < len(edges)) && !(errors.As(err, &floats) && int(floats.Node) < n) {
				t.Fatal(err)
			}
			return
		}
		factor, err := a.Factor(context.Background(), edges)
		if badlyScaled(t, edges, err) {
			return
		}
		v, err := factor.SelectedInverse(context.Background())
		if !badlyScaled(t, edges, err) && math.Abs(v.Foster()-float64(n)) > 1e-8*float64(n) {
			t.Fatalf("Foster's sum is %v for %d nodes", v.Foster(), n)
		}
		ohms := make([]float64, n)
		for i := range n {
			ohms[i] = math.Inf(1)
			x, err := factor.Column(int32(i))
			if badlyScaled(t, edges, err) {
				continue
			}
			ohms[i] = x[i]
			for j, volts := range x {
				if !(volts >= 0) || volts > x[i]*(1+1e-12) {
					t.Fatalf("an ampere into %d makes %v volts there and %v at %d", i, x[i], volts, j)
				}
			}
		}
		for k, e := range edges {
			c, err := factor.Change([]solve.EdgeChange{{Edge: k, G: -e.G}})
			var floats *solve.FloatingError
			if errors.As(err, &floats) || badlyScaled(t, edges, err) {
				continue
			}
			for i := range int32(n) {
				if less := c.Less(i, i); !(less <= 1e-6*ohms[i]) {
					t.Fatalf("without edge %d node %d has %v ohms less", k, i, less)
				}
			}
		}
	})
}
