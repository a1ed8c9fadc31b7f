package circuit_test

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"gapwise/netlist/circuit"
)

// FuzzBuild reads a layout, with a second file for whatever it includes, and builds it:
// no panic, nothing that is not there, and the same circuit again. What the reader
// refuses is not built.
func FuzzBuild(f *testing.F) {
	module, err := os.ReadFile("../reader/testdata/language/pieces-module.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, pattern := range []string{"../../testdata/tin-harbour/*.yaml", "../reader/testdata/language/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds: %s, %v", pattern, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text, module)
		}
	}
	for _, text := range []string{grid, "", head} {
		f.Add([]byte(text), module)
	}
	drawn := pictures(f)
	for i := range drawn {
		text, err := drawn[i].layoutText()
		if err != nil {
			f.Fatal(err)
		}
		f.Add([]byte(text), []byte(nil))
	}
	f.Fuzz(func(t *testing.T, text, included []byte) {
		if len(text)+len(included) > 40000 {
			return
		}
		l, problems, err := readFrom(func(name string) ([]byte, error) {
			if name == "layout.yaml" {
				return text, nil
			}
			return included, nil
		})
		if err != nil || len(problems) > 0 {
			return
		}
		c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
		if err != nil {
			t.Fatal(err)
		}
		sound(t, c)
		railLengths(t, c)
		again, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
		if err != nil || !reflect.DeepEqual(c, again) {
			t.Fatalf("built twice, it differs: %v", err)
		}
	})
}

// TestBuildStopsWhenTold gives up between its steps.
func TestBuildStopsWhenTold(t *testing.T) {
	l, problems, err := read(map[string]string{"layout.yaml": grid})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if c, err := circuit.Build(ctx, l, circuit.Options{}); c != nil || err != context.Canceled {
		t.Errorf("got %v, %v", c, err)
	}
}
