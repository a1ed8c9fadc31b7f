package districts_test

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"testing"
	"time"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"

	"gapwise/districts"
)

// BenchmarkTrace measures from the decoded layout to traced districts on generated sound
// layouts, and prints nanoseconds and bytes a conductor, and the growth exponent from
// each size to the next.
func BenchmarkTrace(b *testing.B) {
	lastTime, lastSize := 0.0, 0.0
	for _, size := range []int{1_000, 10_000, 100_000, 1_000_000} {
		l := generate.Layout(size, 1)
		b.Run(fmt.Sprintf("conductors=%d", size), func(b *testing.B) {
			var before, after runtime.MemStats
			conductors := 0
			runtime.GC()
			runtime.ReadMemStats(&before)
			start := time.Now()
			n := 0
			for b.Loop() {
				c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
				if err != nil {
					b.Fatal(err)
				}
				t, err := districts.Run(context.Background(), c)
				if err != nil {
					b.Fatal(err)
				}
				conductors = len(c.Conductors)
				if len(t.Conflicts) > 0 || len(t.Ties) > 0 {
					b.Fatalf("a sound layout has %d shorts and %d ties", len(t.Conflicts), len(t.Ties))
				}
				n++
			}
			per := time.Since(start).Seconds() / float64(n)
			runtime.ReadMemStats(&after)
			b.ReportMetric(per*1e9/float64(conductors), "ns/conductor")
			b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/float64(n)/float64(conductors), "bytes/conductor")
			b.ReportMetric(per, "s/layout")
			if lastTime > 0 {
				b.ReportMetric(math.Log(per/lastTime)/math.Log(float64(conductors)/lastSize), "growth-exponent")
			}
			lastTime, lastSize = per, float64(conductors)
		})
	}
}
