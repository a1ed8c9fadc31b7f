package conductor

import (
	"fmt"
	"testing"

	"gapwise/netlist/quantity"
)

func awg(n int) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
}
func TestX(t *testing.T) {
	for _, c := range []struct {
		n       int
		printed, p90 float64
	}{{10, 40,55}, {12, 30,40}, {14, 25,35}, {16, 18,24}, {18, 13,18}, {20, 9,12.5}, {22,4,0},{24,2.5,0},{26,1.5,0},{28,1,0},{30,.7,0}} {
		f := func(T float64) float64 {
		lo, hi := 0.0, 100.0
		for range 50 {
			m := (lo + hi) / 2
			if SteadyCelsius(awg(c.n), m, 30, false) > T {
				hi = m
			} else {
				lo = m
			}
		}
		return lo
		}
		fmt.Println(c.n, c.printed, f(60), f(60)/c.printed, c.p90, f(90), f(90)/c.p90)
	}
}
