package rules_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"gapwise/netlist/reader"

	"gapwise/rules"
)

// FuzzCheck reads any text as a layout and, when it reads, checks it: no panic, no hang,
// and every finding names a place in the file.
func FuzzCheck(f *testing.F) {
	seeds, err := filepath.Glob("../testdata/tin-harbour/*.yaml")
	if err != nil || len(seeds) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	more, _ := filepath.Glob("catalogue/testdata/*/*.yaml")
	for _, name := range append(seeds, more...) {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		hang := time.AfterFunc(20*time.Second, func() { panic("no answer in 20 s") })
		defer hang.Stop()
		open := func(name string) ([]byte, error) {
			if name == "layout.yaml" {
				return text, nil
			}
			return nil, errors.New("no such file")
		}
		l, problems, err := reader.Read(context.Background(), open, "layout.yaml", rules.ReaderOptions())
		if err != nil || len(problems) > 0 {
			return
		}
		r, err := rules.Check(context.Background(), l, rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range r.Findings {
			if !x.Pos.IsValid() || x.Message == "" || x.Place.Text == "" {
				t.Errorf("finding %s says no place or nothing: %+v", x.Rule, x)
			}
		}
	})
}
