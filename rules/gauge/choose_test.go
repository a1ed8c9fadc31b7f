package gauge

import (
	"context"
	"math"
	"slices"
	"testing"
)

var inf = math.Inf(1)

// TestChooseDemo: for layouts of the demo a choice is found, with a cost between its bound and that of the thickest, and nothing that a
// check did not find before.
func TestChooseDemo(t *testing.T) {
	proven, runs := 0, 0
	for _, name := range demo[:4] {
		c, err := Choose(context.Background(), demoReport(t, name), Ask{WireDrop: 2 * DefaultWireDrop, Work: 300})
		if err != nil {
			t.Fatal(err)
		}
		work := 0
		for i := range c.Heads {
			h := &c.Heads[i]
			work += h.Work
			if h.Open != "" || len(h.Runs) == 0 {
				continue
			}
			if !h.Found {
				t.Errorf("%s, %s: nothing found", name, h.Source)
				continue
			}
			sum, thickest := 0.0, 0.0
			for j := range h.Runs {
				r := &h.Runs[j]
				sum += r.Sizes[r.Size].Cost
				thickest += r.Sizes[len(r.Sizes)-1].Cost
				if r.Thinner && h.Proven && len(r.Breaks) == 0 && r.Sizes[r.Size-1].Cost < r.Sizes[r.Size].Cost {
					t.Errorf("%s, %s: %s could be thinner", name, h.Source, r.Name)
				}
				runs++
			}
			if math.Abs(sum-h.Cost) > 1e-9*sum || h.Bound > h.Cost*(1+1e-12) || h.Cost > thickest*(1+1e-12) || h.Proven != (h.Bound == h.Cost) {
				t.Errorf("%s, %s: cost %g, bound %g, proven %v, runs %g, thickest %g", name, h.Source, h.Cost, h.Bound, h.Proven, sum, thickest)
			}
			if h.Proven {
				proven++
			}
			for _, o := range h.Others {
				if o.Mends <= 0 && o.Cost >= h.Cost {
					t.Errorf("%s, %s: %s mends nothing and saves nothing", name, h.Source, o.Text)
				}
			}
			if !slices.IsSortedFunc(h.Others, func(a, b Alternative) int { return b.Mends - a.Mends }) {
				t.Errorf("%s, %s: what mends least is offered first", name, h.Source)
			}
		}
		if work != c.Work {
			t.Errorf("%s: %d of work, its sources have %d", name, c.Work, work)
		}
	}
	if proven < 4 || runs < 20 {
		t.Errorf("only %d proven, %d runs", proven, runs)
	}
}

// BenchmarkChoose chooses for layouts of the demo with what the command asks by default.
func BenchmarkChoose(b *testing.B) {
	for _, name := range append(slices.Clone(demo), "quillow-meet/sound", "cinder-gorge/sound") {
		r := demoReport(b, name)
		b.Run(name, func(b *testing.B) {
			looks, proven, heads := 0, 0, 0
			for b.Loop() {
				c, err := Choose(context.Background(), r, Ask{WireDrop: DefaultWireDrop, Margin: DefaultMargin})
				if err != nil {
					b.Fatal(err)
				}
				looks, proven, heads = c.Work, 0, 0
				for i := range c.Heads {
					if len(c.Heads[i].Runs) == 0 {
						continue
					}
					heads++
					if c.Heads[i].Proven {
						proven++
					}
				}
			}
			b.ReportMetric(float64(looks), "looks")
			b.ReportMetric(float64(heads), "sources")
			b.ReportMetric(float64(proven), "proven")
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/choice")
		})
	}
}
