package reports_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/reader"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/reports"
	"gapwise/rules"
)

// BenchmarkAgainstSimulator prints how many times faster the whole map of short currents, every point of
// every rail at both corners, is than ngspice's operating point of the same networks at one corner with one short each. Both read
// a file: ours the layout, ngspice the netlist of every source.
func BenchmarkAgainstSimulator(b *testing.B) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		b.Skip("ngspice is not installed")
	}
	for _, size := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("conductors=%d", size), func(b *testing.B) {
			dir := b.TempDir()
			name := filepath.Join(dir, "layout.yaml")
			if err := os.WriteFile(name, []byte(generate.YAML(generate.Layout(size, 1))), 0o600); err != nil {
				b.Fatal(err)
			}
			nets := writeNets(b, name, dir)
			var ours, theirs time.Duration
			for b.Loop() {
				start := time.Now()
				mapOf(b, name)
				middle := time.Now()
				for _, net := range nets {
					_ = exec.CommandContext(b.Context(), program, "-b", net).Run() // its status says nothing
				}
				ours, theirs = middle.Sub(start), time.Since(middle)
			}
			b.ReportMetric(float64(theirs)/float64(ours), "times-faster")
			b.ReportMetric(ours.Seconds()*1000, "ours-ms")
			b.ReportMetric(theirs.Seconds()*1000, "ngspice-ms")
		})
	}
}

// mapOf reads, traces and computes a layout file.
func mapOf(b *testing.B, name string) *power.Study {
	ctx := context.Background()
	l, problems, err := reader.ReadFile(ctx, name, rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		b.Fatal(err, len(problems))
	}
	c, err := circuit.Build(ctx, l, circuit.OptionsFor(l))
	if err != nil {
		b.Fatal(err)
	}
	t, err := districts.Run(ctx, c)
	if err != nil {
		b.Fatal(err)
	}
	s, err := power.Run(ctx, t)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// writeNets writes the weak netlist of every source, the short at its weakest place.
func writeNets(b *testing.B, name, dir string) []string {
	l, _, err := reader.ReadFile(context.Background(), name, rules.ReaderOptions())
	if err != nil {
		b.Fatal(err)
	}
	c, err := rules.Trace(context.Background(), l)
	if err != nil {
		b.Fatal(err)
	}
	var out []string
	for i, h := range c.Power.Heads {
		for _, p := range h.Weakest {
			if p == nil {
				continue
			}
			net := filepath.Join(dir, fmt.Sprintf("net%d.cir", i))
			f, err := os.Create(net)
			if err != nil {
				b.Fatal(err)
			}
			if err := (&reports.Spice{Case: c, Net: h.Weak, Point: *p}).Write(f); err != nil {
				b.Fatal(err)
			}
			if err := f.Close(); err != nil {
				b.Fatal(err)
			}
			out = append(out, net)
			break
		}
	}
	return out
}

// BenchmarkCheck times the whole check, every rule, and prints how it grows from one size to the next: the exponent
// of time over conductors.
func BenchmarkCheck(b *testing.B) {
	last, lastSize := 0.0, 0
	for _, size := range []int{2_000, 10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprintf("conductors=%d", size), func(b *testing.B) {
			l := generate.Layout(size, 1)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rules.Check(context.Background(), l, rules.Options{}); err != nil {
					b.Fatal(err)
				}
			}
			each := b.Elapsed().Seconds() / float64(b.N)
			if lastSize > 0 {
				b.ReportMetric(math.Log(each/last)/math.Log(float64(size)/float64(lastSize)), "exponent")
			}
			last, lastSize = each, size
		})
	}
}
