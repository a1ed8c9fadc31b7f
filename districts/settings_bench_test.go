package districts_test

import (
	"context"
	"fmt"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
)

// BenchmarkSettings measures the whole topological trace with all settings: on layouts of more and
// more turnouts, and on shapes on which the search over settings has the most to do.
func BenchmarkSettings(b *testing.B) {
	shapes := []struct {
		name string
		draw func() *drawing
	}{}
	add := func(name string, draw func() *drawing) {
		shapes = append(shapes, struct {
			name string
			draw func() *drawing
		}{name, draw})
	}
	for _, n := range []int{50, 100, 200, 400, 800} {
		add(fmt.Sprintf("mixed/turnouts=%d", n), func() *drawing { return mixed(n) })
	}
	for _, n := range []int{28, 56, 112} {
		for _, wiring := range []string{"selective", "power-routing"} {
			add(fmt.Sprintf("ladders/%s/turnouts=%d", wiring, n), func() *drawing {
				d := &drawing{wirings: []string{wiring}}
				d.ladders(n/2, false)
				return d
			})
		}
	}
	for w := 2; w <= 6; w++ {
		for _, together := range []bool{false, true} {
			add(fmt.Sprintf("grid/tracks=%d/columns=12/together=%t", w, together), func() *drawing {
				d := &drawing{wirings: []string{"selective"}, together: together}
				d.grid(w, 12, false)
				return d
			})
		}
	}
	for _, shape := range shapes {
		b.Run(shape.name, func(b *testing.B) {
			l, err := readText(shape.draw().text())
			if err != nil {
				b.Fatal(err)
			}
			c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
			if err != nil {
				b.Fatal(err)
			}
			var t *districts.Trace
			for b.Loop() {
				if t, err = districts.Run(context.Background(), c); err != nil {
					b.Fatal(err)
				}
			}
			several := 0
			for _, x := range t.Conflicts {
				if x.Several {
					several++
				}
			}
			b.ReportMetric(float64(len(l.Turnouts)), "turnouts")
			b.ReportMetric(float64(len(t.Conflicts)), "shorts")
			b.ReportMetric(float64(several), "several")
			b.ReportMetric(float64(len(t.Unproven)+len(t.FedOpen)), "open")
		})
	}
}
