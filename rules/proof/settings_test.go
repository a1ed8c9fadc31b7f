package proof

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/reader"

	"gapwise/districts"
	"gapwise/rules"
	"gapwise/rules/proof/oracle"
)

// TestShortsAgainstTheSecondProgram compares shorts inside the layouts of the catalogue with the second program, which tries every setting: where
// nothing but settings is wrong, both see one or neither does, and both need as few devices set.
func TestShortsAgainstTheSecondProgram(t *testing.T) {
	files, err := filepath.Glob("../catalogue/testdata/*/*.yaml")
	if err != nil || len(files) < 200 {
		t.Fatal(len(files), err)
	}
	compared, short := 0, 0
	for _, file := range files {
		l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
		if err != nil || len(problems) > 0 {
			t.Fatal(file, err, problems)
		}
		r, err := rules.Check(context.Background(), l, rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := r.Trace.Polarity
		if len(r.Trace.Ties)+len(r.Trace.BondTies)+len(r.Trace.WireTies)+len(p.WrongFeeders)+len(p.WrongGaps)+len(p.WrongRails)+len(p.WrongSignals)+len(p.WrongPlugs) > 0 || r.Trace.ConflictsCut {
			continue // explained otherwise
		}
		o, err := oracle.Read(file, os.ReadFile)
		if err != nil {
			continue // a feeder without a leg: it does not judge that
		}
		all, err := o.Shorts()
		if errors.Is(err, oracle.ErrTooBig) {
			continue
		}
		if err != nil {
			t.Fatal(file, err)
		}
		compared++
		want := -1
		for i := range all.Set {
			if c := &all.Set[i]; c.Kind != oracle.SourceToSource && (want < 0 || c.Fewest() < want) {
				want = c.Fewest()
			}
		}
		got := -1
		for i := range r.Trace.Conflicts {
			x := &r.Trace.Conflicts[i]
			if x.Demand >= 0 || passes(r.Trace.C, x) {
				continue
			}
			if n := levers(r.Trace.C, x.Settings); got < 0 || n < got {
				got = n
			}
		}
		if got != want {
			t.Errorf("%s: shorts with %d devices set, by every setting %d: %+v", strings.TrimPrefix(file, "../catalogue/testdata/"), got, want, all.Set)
		}
		if want >= 0 {
			short++
		}
	}
	if t.Logf("%d layouts compared, %d short", compared, short); compared < 200 || short < 5 {
		t.Error("too few to tell")
	}
}

// passes reports whether a short is there only while contacts change over.
func passes(c *circuit.Circuit, x *districts.Conflict) bool {
	for _, s := range x.Settings {
		if c.Devices[s.Device].Momentary(s.Position) {
			return true
		}
	}
	return false
}

// levers counts devices, those thrown together once.
func levers(c *circuit.Circuit, settings []districts.Setting) int {
	n := 0
	for i, s := range settings {
		own := true
		for _, before := range settings[:i] {
			for _, k := range c.Devices[s.Device].Coupled {
				own = own && k.Device != before.Device
			}
		}
		if own {
			n++
		}
	}
	return n
}
