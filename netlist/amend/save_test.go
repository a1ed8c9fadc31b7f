package amend

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// onDisk writes files and reads the layout of the first.
func onDisk(t *testing.T, dir string, files map[string]string, root string) *Writer {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	l, problems, err := reader.ReadFile(context.Background(), filepath.Join(dir, root), reader.Options{})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return New(l, reader.Options{})
}

// filesIn are the files below a folder.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		below, _ := filepath.Rel(dir, path)
		found[filepath.ToSlash(below)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

const oneFile = head + "buses: {ring: {from: booster front}}\n"

// TestSaveOneFile writes a layout of one file.
func TestSaveOneFile(t *testing.T) {
	dir := t.TempDir()
	w := onDisk(t, dir, map[string]string{"in.yaml": oneFile, "taken.yaml": "mine"}, "in.yaml")
	w.Set("buses", "ring", Key{"wire", "12 AWG"})
	out := filepath.Join(dir, "deep", "out.yaml")
	paths, err := w.Save(out, false)
	if err != nil || len(paths) != 1 || paths[0] != out {
		t.Fatal(paths, err)
	}
	if _, err := w.Save(out, false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("written over: %v", err)
	}
	if _, err := w.Save(filepath.Join(dir, "deep"), true); err == nil {
		t.Error("a folder was written over")
	}
	taken := filepath.Join(dir, "taken.yaml")
	if err := os.Chmod(taken, 0o600); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.yaml")
	if err := os.Symlink("taken.yaml", link); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Save(link, true); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(taken); err != nil || info.Mode().Perm() != 0o600 {
		t.Error("rights changed", err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link is gone", err)
	}
	if err := os.Symlink("nowhere", filepath.Join(dir, "loose")); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Save(filepath.Join(dir, "loose"), false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a link was written over: %v", err)
	}
	if err := os.Remove(filepath.Join(dir, "loose")); err != nil {
		t.Fatal(err)
	}
	got := filesIn(t, dir)
	want := strings.Replace(oneFile, "booster front}", "booster front, wire: 12 AWG}", 1)
	if got["deep/out.yaml"] != want || got["taken.yaml"] != want || got["in.yaml"] != oneFile {
		t.Errorf("%v", got)
	}
}

// TestSaveFolder writes a layout with includes into a folder.
func TestSaveFolder(t *testing.T) {
	dir := t.TempDir()
	w := onDisk(t, dir, club, "d/root.yaml")
	w.Set("buses", "bend/under", Key{"wire", "12 AWG"})
	out := filepath.Join(dir, "new")
	paths, err := w.Save(out, false)
	if err != nil || len(paths) != 4 {
		t.Fatal(paths, err)
	}
	got := filesIn(t, out)
	for name, text := range club {
		want := text
		if name == "d/sub/bend.yaml" {
			want = strings.Replace(text, "14 AWG", "12 AWG", 1)
		}
		if got[strings.TrimPrefix(name, "d/")] != want {
			t.Errorf("%s: %v", name, got)
		}
	}
	if len(got) != len(club) {
		t.Errorf("%v", got)
	}
	if err := os.Remove(filepath.Join(out, "root.yaml")); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Save(out, false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("written over: %v", err)
	}
	if _, there := filesIn(t, out)["root.yaml"]; there {
		t.Error("a file was written though another was refused")
	}
	if _, err := w.Save(out, true); err != nil {
		t.Error(err)
	}
	w.Set("buses", "none", Key{"wire", "12 AWG"})
	var refused *RefusedError
	if _, err := w.Save(filepath.Join(dir, "other"), false); !errors.As(err, &refused) {
		t.Errorf("written though a change was refused: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "other")); err == nil {
		t.Error("a folder was made though a change was refused")
	}
}

// TestSaveOutside has an include from a folder beside the root file's.
func TestSaveOutside(t *testing.T) {
	dir := t.TempDir()
	w := onDisk(t, dir, map[string]string{
		"a/in.yaml": "include: [../b/rest.yaml]\n" + oneFile, "b/rest.yaml": "gapwise: 1\nlayout: Rest\nloads: [{at: M1 @ 1 ft, draws: 1 A}]\n",
	}, "a/in.yaml")
	var refused *SaveError
	if _, err := w.Save(filepath.Join(dir, "out"), false); !errors.As(err, &refused) || !strings.Contains(err.Error(), "outside the folder") {
		t.Errorf("%v", err)
	}
	if len(filesIn(t, dir)) != 2 {
		t.Error("something was written")
	}
}

// TestSaveNoFolder cannot make the folder, and leaves nothing behind.
func TestSaveNoFolder(t *testing.T) {
	dir := t.TempDir()
	w := onDisk(t, dir, map[string]string{"in.yaml": oneFile}, "in.yaml")
	var refused *SaveError
	if _, err := w.Save(filepath.Join(dir, "in.yaml", "out.yaml"), false); !errors.As(err, &refused) {
		t.Errorf("%v", err)
	}
	if len(filesIn(t, dir)) != 1 {
		t.Error("something was written")
	}
}
