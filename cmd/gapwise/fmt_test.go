package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/format"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// findings are what a check says of a layout, without positions and blanks, which may differ
// when it is formatted, and sorted.
func findings(t *testing.T, open func(string) ([]byte, error), file string) []string {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), open, file, rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatalf("%s: %v %v", file, err, problems)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, f := range r.Findings {
		all = append(all, said(f))
	}
	for _, n := range r.NotChecked {
		all = append(all, n.Rule+n.What+n.Why)
	}
	for i := range all {
		all[i] = strings.ReplaceAll(all[i], " ", "")
	}
	slices.Sort(all)
	return all
}

// said is a finding in words.
func said(f finding.Finding) string {
	parts := []string{f.Rule, f.Severity.String(), f.Place.Text, f.Message, f.Why, f.Train, f.Assumed, f.Fix, f.Because}
	for _, list := range [][]string{f.Settings, f.Also, f.Candidates} {
		parts = append(parts, list...)
	}
	for _, n := range f.Numbers {
		parts = append(parts, n.Name, n.Text, n.Limit, n.Source)
	}
	for _, s := range f.Witness {
		parts = append(parts, s.Text)
	}
	return strings.Join(parts, "|")
}

// TestFormattedSaysTheSame checks every layout with findings before and after it is formatted.
func TestFormattedSaysTheSame(t *testing.T) {
	formatted := func(name string) ([]byte, error) {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		out, problems, err := format.Format(&source.File{Name: name, Text: text})
		if len(problems) > 0 {
			return nil, errors.New(problems[0].Message)
		}
		return out, err
	}
	seen, told := 0, 0
	for _, root := range []string{"../../testdata", "../../rules/catalogue/testdata"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".yaml" {
				return err
			}
			if l, _, err := reader.ReadFile(t.Context(), path, rules.ReaderOptions()); err != nil || l.IsModule {
				return err // checked with what includes it
			}
			was, is := findings(t, os.ReadFile, path), findings(t, formatted, path)
			if !slices.Equal(was, is) {
				t.Errorf("%s: said\n%s\nand says\n%s", path, strings.Join(was, "\n"), strings.Join(is, "\n"))
			}
			seen++
			told += len(was)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 100 || told < 100 {
		t.Errorf("%d layouts with %d findings seen", seen, told)
	}
}

// TestOffered: every place that is offered is one that trace finds.
func TestOffered(t *testing.T) {
	for _, file := range []string{demo + "as-found.yaml", "../../netlist/reader/testdata/language/pieces.yaml", "../../netlist/reader/testdata/language/upper.yaml"} {
		l := readForCompletion(t.Context(), file)
		if l == nil {
			t.Fatalf("%s is not read", file)
		}
		places := placesOf(l)
		if len(places) < 2*len(l.Pieces) {
			t.Errorf("%s: only %d places", file, len(places))
		}
		for _, p := range places {
			text, _, _ := strings.Cut(p, "\t")
			if _, err := l.FindPlace(text); err != nil {
				t.Errorf("%s: %q: %v", file, text, err)
			}
		}
	}
}

// TestFmtCannotWrite: a result that cannot be written is told in one line.
func TestFmtCannotWrite(t *testing.T) {
	full, err := os.OpenFile(os.DevNull, os.O_RDONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	var e bytes.Buffer
	p := program{in: strings.NewReader(""), out: full, err: &e}
	if status := p.Main([]string{"fmt", demo + "sound.yaml"}); status != exitNotUnderstood || !strings.HasPrefix(e.String(), "gapwise: cannot write the result: ") {
		t.Errorf("status %d, %q", status, e.String())
	}
}

// TestReplaceFile: what cannot be written is refused, and nothing is left behind.
func TestReplaceFile(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "yard.yaml")
	if err := os.WriteFile(name, []byte("old"), 0o604); err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(name, []byte("new")); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(name)
	if err != nil || string(text) != "new" {
		t.Errorf("%q, %v", text, err)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o604 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	for _, wrong := range []string{folder, filepath.Join(folder, "none.yaml")} {
		if err := replaceFile(wrong, []byte("x")); err == nil {
			t.Errorf("%s is written", wrong)
		}
	}
	entries, err := os.ReadDir(folder)
	if names := fileNames(entries); err != nil || !reflect.DeepEqual(names, []string{"yard.yaml"}) {
		t.Errorf("%v, %v", names, err)
	}
}

func fileNames(entries []os.DirEntry) []string {
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
