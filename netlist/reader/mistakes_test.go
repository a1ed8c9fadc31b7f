package reader

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// testOptions name a few rules, so that acceptances can be checked.
var testOptions = Options{
	RuleNames:     []string{"gap-staggered", "gap-one-rail", "leg-to-leg-short", "household-mains"},
	NeverAccepted: []string{"leg-to-leg-short", "household-mains"},
}

// openArchive opens the files of an archive by name.
func openArchive(a *txtar.Archive) func(string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		for _, f := range a.Files {
			if f.Name == filepath.ToSlash(name) {
				return f.Data, nil
			}
		}
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
}

// rendered reads layout.yaml of an archive and prints its problems.
func rendered(t *testing.T, a *txtar.Archive) string {
	t.Helper()
	l, problems, err := Read(context.Background(), openArchive(a), "layout.yaml", testOptions)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := l.Files.Render(&b, problems); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The mistakes of language.md section 10, those of newcomers, and further ones: each file
// in, the whole message out.
func TestMistakes(t *testing.T) {
	for dir, least := range map[string]int{"mistakes": 53, "further": 1} {
		files, err := filepath.Glob(filepath.Join("testdata", dir, "*.txtar"))
		if err != nil || len(files) < least {
			t.Fatalf("%s: %d files, want at least %d; %v", dir, len(files), least, err)
		}
		for _, file := range files {
			t.Run(filepath.Base(file), func(t *testing.T) {
				a, err := txtar.ParseFile(file)
				if err != nil {
					t.Fatal(err)
				}
				want, err := openArchive(a)("want")
				if err != nil {
					t.Fatal(err)
				}
				if got := rendered(t, a); got != string(want) {
					t.Errorf("got:\n%s\nwant:\n%s", got, want)
				}
			})
		}
	}
}

// The root file is the only one whose absence is an error and no problem.
func TestMissingRoot(t *testing.T) {
	_, _, err := ReadFile(context.Background(), filepath.Join(t.TempDir(), "none.yaml"), Options{})
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v", err)
	}
}
