package power

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

// readLayout reads a layout file without what only rules know the names of.
func readLayout(t testing.TB, name string) *layout.Layout {
	t.Helper()
	open := func(name string) ([]byte, error) {
		text, err := os.ReadFile(name)
		for _, section := range []string{"\npractice:", "\naccept:"} {
			text, _, _ = bytes.Cut(text, []byte(section))
		}
		return append(text, '\n'), err
	}
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
