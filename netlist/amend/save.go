package amend

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Save writes the new texts: a layout of one file to the file out, one with includes into
// the folder out, each file by its path below the root file's folder. Files that exist are
// written over only when overwrite says so. Each file appears whole or not at all, and
// nothing is written when any file is refused. It returns the paths written; the error is a
// *RefusedError or a *SaveError.
func (w *Writer) Save(out string, overwrite bool) ([]string, error) {
	texts, err := w.Texts()
	if err != nil {
		return nil, err
	}
	paths, err := w.targets(out)
	if err != nil {
		return nil, err
	}
	for i, path := range paths {
		if paths[i], err = writable(path, overwrite); err != nil {
			return nil, &SaveError{Path: path, Err: err}
		}
	}
	return writeAll(paths, texts)
}

// targets are the paths that the files of the layout are written to.
func (w *Writer) targets(out string) ([]string, error) {
	files := w.lay.Files
	if len(files) == 1 {
		return []string{out}, nil
	}
	var paths []string
	for _, f := range files {
		below, err := filepath.Rel(filepath.Dir(files[0].Name), f.Name)
		if err != nil || !filepath.IsLocal(below) {
			return nil, &SaveError{Path: f.Name, Err: errOutside}
		}
		paths = append(paths, filepath.Join(out, below))
	}
	return paths, nil
}

// Why a path is refused.
var (
	errOutside = errors.New("it lies outside the folder of the layout's first file")
	errFolder  = errors.New("a folder of that name is there")
)

// writable is the path that is written for a path asked for: where it is a link, what it
// leads to.
func writable(path string, overwrite bool) (string, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(path); err == nil {
			return path, fs.ErrExist // a link to nothing
		}
		return path, nil
	case err != nil:
		return path, err
	case info.IsDir():
		return path, errFolder
	case !overwrite:
		return path, fs.ErrExist
	}
	return filepath.EvalSymlinks(path)
}

// writeAll writes all files beside their places, and then puts each in its place.
func writeAll(paths []string, texts [][]byte) ([]string, error) {
	var made []string
	defer func() {
		for _, temp := range made {
			_ = os.Remove(temp) // gone already where it was put in its place
		}
	}()
	for i, path := range paths {
		temp, err := writeTemp(path, texts[i])
		if temp != "" {
			made = append(made, temp)
		}
		if err != nil {
			return nil, &SaveError{Path: path, Err: err}
		}
	}
	for i, path := range paths {
		if err := os.Rename(made[i], path); err != nil {
			return nil, &SaveError{Path: path, Err: err, Written: paths[:i]}
		}
	}
	return paths, nil
}

// writeTemp writes a text into a new file beside path, with the rights of the file that is
// there.
func writeTemp(path string, text []byte) (string, error) {
	dir, name := filepath.Split(path)
	if dir != "" {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			return "", err
		}
	}
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	f, err := os.CreateTemp(filepath.Clean(dir), "."+strings.TrimPrefix(name, ".")+"-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	return f.Name(), errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
}
