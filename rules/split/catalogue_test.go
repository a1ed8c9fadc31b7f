package split

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/districts/partition"
	"gapwise/rules"
	"gapwise/rules/finding"
)

// never are rules that no division of a layout without faults and cautions may come to offend against.
var never = []string{
	"leg-to-leg-short", "leg-back-fed", "rail-dead", "rail-one-leg-only", "gap-missing-between-districts", "gap-one-rail", "boosters-in-parallel",
	"loop-ungapped", "block-differs-from-meant", "district-overloaded", "detector-bypassed", "detector-sees-nothing",
}

// TestCatalogue divides the layouts of the catalogue's own tests, with trains added where they have none: what is written is what was
// asked for, and brings nothing that a division by itself must not bring. Without -full every seventh is taken.
func TestCatalogue(t *testing.T) {
	files, err := filepath.Glob("../catalogue/testdata/*/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob("../testdata/sound/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	written := 0
	for i, file := range append(files, more...) {
		if !*full && i%7 != 0 {
			continue
		}
		r := withTrains(t, file)
		for _, with := range []With{Boosters, Breakers} {
			ask := usual()
			ask.With, ask.TrainAmps, ask.Districts = with, 1, 6
			ask = fits(r, ask, 1.01)
			a, err := Split(context.Background(), r, ask)
			if err != nil || a.Feasible != partition.Found || a.After == nil {
				continue
			}
			written++
			for _, x := range append(asWritten(a), a.plan.apart()...) {
				t.Errorf("%s, %s: %s", file, with, x)
			}
			if r.Count(finding.Fault)+r.Count(finding.Caution) > 0 || len(a.Notes) > 0 {
				continue
			}
			for j := range a.Brought {
				if f := &a.Brought[j]; slices.Contains(never, f.Rule) {
					t.Errorf("%s, %s: %s %s", file, with, f.Rule, f.Message)
				}
			}
		}
	}
	t.Logf("%d written", written)
	if written < 100 {
		t.Errorf("only %d written", written)
	}
}

// withTrains checks a layout, with trains added where it has none.
func withTrains(t *testing.T, file string) *rules.Report {
	t.Helper()
	open := func(name string) ([]byte, error) {
		text, err := os.ReadFile(name)
		if err == nil && name == file && !strings.Contains(string(text), "\ntrains:") {
			text = append(text, "\ntrains: {zz: {length: 3 ft, current: 1 A, at-once: 3}}\n"...)
		}
		return text, err
	}
	l, problems, err := reader.Read(context.Background(), open, file, rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatal(file, err, problems)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}
