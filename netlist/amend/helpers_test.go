package amend

import (
	"context"
	"io/fs"
	"path/filepath"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

// failer is what a *testing.T and a *rapid.T share.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// head starts the layouts of the tables here: 40 ft of track, fed from bus main.
const head = `gapwise: 1
layout: Here
tracks: {M1: {from: end, to: end, length: 40 ft}, M2: {from: end, to: end, length: 40 ft}}
defaults: {bus: {wire: 16 AWG, length: 60 ft}, feeder: {A: left}}
supplies: {front: {volts: 18 V}}
boosters: {front: {volts: 15 V, supply: front}}
`

// read reads files from memory, the first of them as the root.
func read(t failer, texts map[string]string, root string) *layout.Layout {
	t.Helper()
	l, problems := readAny(t, texts, root)
	if len(problems) > 0 {
		t.Fatalf("problems:\n%s\n%v", texts[root], problems)
	}
	return l
}

func readAny(t failer, texts map[string]string, root string) (*layout.Layout, []source.Problem) {
	t.Helper()
	open := func(name string) ([]byte, error) {
		text, ok := texts[filepath.Clean(name)]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return []byte(text), nil
	}
	l, problems, err := reader.Read(context.Background(), open, root, reader.Options{})
	if err != nil {
		t.Fatalf("%v", err)
	}
	return l, problems
}

// readText reads a layout of one file.
func readText(t failer, text string) *layout.Layout {
	t.Helper()
	return read(t, map[string]string{"a.yaml": text}, "a.yaml")
}

// text is the new text of the only file.
func text(t failer, w *Writer) string {
	t.Helper()
	texts, err := w.Texts()
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(texts[0])
}

// reread reads the layout with the changes made; it must have no problems.
func reread(t failer, w *Writer) *layout.Layout {
	t.Helper()
	l, problems, err := w.Reread(context.Background())
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v %v", err, problems)
	}
	return l
}
