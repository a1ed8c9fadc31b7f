package reports

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// viewOf reads and checks a layout of the project by its path from the project's top, and
// names it by that path.
func viewOf(t *testing.T, path string, least finding.Severity) *View {
	t.Helper()
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("..", name)) }
	l, ps, err := reader.Read(context.Background(), open, path, rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) > 0 {
		return ViewOfProblems(path, l, ps)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return NewView(path, r, least)
}

// viewOfText is viewOf for a layout in hand.
func viewOfText(t *testing.T, text string, o rules.Options) *View {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, ps, err := reader.Read(context.Background(), open, "yard.yaml", rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) > 0 {
		return ViewOfProblems("yard.yaml", l, ps)
	}
	r, err := rules.Check(context.Background(), l, o)
	if err != nil {
		t.Fatal(err)
	}
	return NewView("yard.yaml", r, finding.Note)
}

var tinHarbour = []string{
	"testdata/tin-harbour/as-found.yaml", "testdata/tin-harbour/sound.yaml",
	"testdata/tin-harbour/upper.yaml", "testdata/tin-harbour/upper-sound.yaml",
}
