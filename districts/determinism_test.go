package districts_test

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"github.com/rogpeppe/go-internal/txtar"
)

// build reads no file: it lays a layout out anew.
func build(t *testing.T, l *layout.Layout) *districts.Trace {
	t.Helper()
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	tr, err := districts.Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// TestSameEveryTime: tracing a layout again, on one core or two, gives the same trace to the
// last field, map or no map inside.
func TestSameEveryTime(t *testing.T) {
	var layouts []*layout.Layout
	for _, pattern := range []string{"testdata/layouts/*.txtar", "../testdata/tin-harbour/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, error %v", pattern, len(files), err)
		}
		for _, name := range files {
			layouts = append(layouts, readAny(t, name))
		}
	}
	layouts = append(layouts, generate.Layout(20_000, 3))
	before := runtime.GOMAXPROCS(0)
	t.Cleanup(func() { runtime.GOMAXPROCS(before) })
	for _, l := range layouts {
		if l == nil {
			continue
		}
		runtime.GOMAXPROCS(1)
		one := build(t, l)
		runtime.GOMAXPROCS(2)
		for range 3 {
			if again := build(t, l); !reflect.DeepEqual(one, again) {
				t.Errorf("%s: traced twice, two results", l.Name)
			}
		}
		if found(one) != found(build(t, l)) {
			t.Errorf("%s: told twice, two texts", l.Name)
		}
	}
}

// readAny reads a layout file or the layout in an archive; nil for one that is only part of another.
func readAny(t *testing.T, name string) *layout.Layout {
	t.Helper()
	if filepath.Ext(name) == ".txtar" {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		l, err := readText(string(a.Files[0].Data))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l, problems, err := reader.Read(context.Background(), os.ReadFile, name, reader.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		return nil
	}
	return l
}

// TestCancelled: a context that has ended gives its error and no trace.
func TestCancelled(t *testing.T) {
	l := generate.Layout(2_000, 1)
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if tr, err := districts.Run(ctx, c); err != context.Canceled || tr != nil {
		t.Errorf("got %v, error %v", tr, err)
	}
}
