package proof

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
)

// layoutFiles lists every layout of the repository that is read by itself.
func layoutFiles(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, folder := range []string{"../../testdata", "../catalogue/testdata", "../testdata"} {
		err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err == nil && strings.HasSuffix(path, ".yaml") {
				out = append(out, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// said is what a check says of a layout, without places in the file.
func said(t *testing.T, l *layout.Layout) []string {
	t.Helper()
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range r.Findings {
		out = append(out, fmt.Sprintf("%s %s %s %t", f.Severity, f.Rule, name(f.Place.Piece), f.Accepted))
	}
	slices.Sort(out)
	return out
}

// TestFlatSaysTheSame writes every layout flat and expects the same findings at the same pieces.
func TestFlatSaysTheSame(t *testing.T) {
	read := 0
	for _, file := range layoutFiles(t) {
		l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
		if err != nil {
			t.Fatal(err)
		}
		if len(problems) > 0 || l.IsModule {
			continue // a module is read with the layout that includes it
		}
		text := Flat(l)
		again, err := Read(context.Background(), text)
		if err != nil {
			t.Errorf("%s: %v\n%s", file, err, text)
			continue
		}
		read++
		if got, want := said(t, again), said(t, l); !slices.Equal(got, want) {
			t.Errorf("%s: found %q, want %q", file, got, want)
		}
	}
	if read < 150 {
		t.Errorf("only %d layouts read", read)
	}
}

// TestFlatKeepsStock: sizes at hand and their prices are written too.
func TestFlatKeepsStock(t *testing.T) {
	const stock = "stock: {bus: [14 AWG, {wire: 12 AWG, price: 18.5, per: 100 ft}], feeder: [{wire: 20 AWG, price: 0, per: 10 m}]}"
	l, err := Read(context.Background(), "gapwise: 1\nlayout: Test\ntracks: {M1: {from: end, to: end, length: 3 ft}}\n"+stock+"\n")
	if err != nil {
		t.Fatal(err)
	}
	if text := Flat(l); !strings.Contains(text, "\n"+stock+"\n") {
		t.Errorf("no %s in\n%s", stock, text)
	}
}
