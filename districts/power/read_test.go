package power_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

// readLayout reads a layout file; limits are those the program knows.
func readLayout(t testing.TB, name string) *layout.Layout {
	t.Helper()
	return readWith(t, os.ReadFile, name)
}

func readWith(t testing.TB, open func(string) ([]byte, error), name string) *layout.Layout {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), open, name, reader.Options{LimitNames: []string{"bus-drop", "feeder-drop", "rail-drop", "short-resistance", "temperature"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	return l
}
