package power_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
)

func dump(t *testing.T, l *layout.Layout, verbose bool) {
	ctx := context.Background()
	t0 := time.Now()
	c, err := circuit.Build(ctx, l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	t1 := time.Now()
	tr, err := districts.Run(ctx, c)
	if err != nil {
		t.Fatal(err)
	}
	t2 := time.Now()
	s, err := power.Run(ctx, tr)
	if err != nil {
		t.Fatal(err)
	}
	t3 := time.Now()
	fmt.Println(len(c.Conductors), "circuit", t1.Sub(t0), "trace", t2.Sub(t1), "power", t3.Sub(t2))
	for _, h := range s.Heads {
		if !h.Known() {
			if verbose {
				fmt.Println(c.Sources[h.Source].Name, "not known", h.Open)
			}
			continue
		}
		weakest, drops, carried := h.Weakest, h.Drops, h.Wires
		if !verbose {
			continue
		}
		fmt.Println(c.Sources[h.Source].Name, h.Volts, "nodes", len(h.Weak.Leg[0].Net.Node), len(h.Weak.Rails), "settings", len(h.Settings))
		for g, p := range weakest {
			if p == nil {
				continue
			}
			w := c.Ways[p.Way]
			pu, err := p.Pulsed(ctx)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Printf("  %s: weakest %s @ %.2f m loop %.3f..%.3f short %.2f..%.2f A  dcc %+.2v exact %v L %.1f uH %d branches\n", h.Weak.Guards[g].Name, l.Pieces[w.Piece].Name, p.At, p.Loop.Lo, p.Loop.Hi, p.Short.Lo, p.Short.Hi, pu.Short, pu.Exact, pu.Henries*1e6, len(pu.Branches))
			d := drops[g]
			fmt.Printf("     drop %.2f .. %.2f V at %s @ %.2f (%.1f A, detectors %.2f)\n", d.Least, d.Most, l.Pieces[c.Ways[d.Point.Way].Piece].Name, d.Point.At, d.Amps, d.Detectors)
		}
		for _, x := range carried {
			if x.Kind == circuit.BusSpan {
				fmt.Printf("  bus %s steady %.2f sudden %.1f share %.2f seconds %.3f\n", l.Buses[x.Ref].Name, x.Steady, x.Sudden, x.Share, x.Seconds)
			}
		}
	}
	fmt.Println("asked", time.Since(t3))
}

func TestDump(t *testing.T) {
	for _, f := range []string{"tin-harbour/as-found.yaml", "tin-harbour/sound.yaml"} {
		dump(t, readLayout(t, "../../testdata/"+f), true)
	}
}

func TestSpeed(t *testing.T) {
	for _, n := range []int{1000, 10000, 100000, 1000000} {
		dump(t, generate.Layout(n, 1), false)
	}
}
