package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile puts a text in place of a file's, all at once: whoever reads the file meanwhile
// gets the one or the other. Its mode stays, and a link goes on to lead to it.
func replaceFile(name string, text []byte) error {
	name, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errors.New("not a plain file")
	}
	// A file that its owner has protected is not to be written, though it could be replaced.
	old, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err := old.Close(); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".gapwise-*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Chmod(info.Mode().Perm()), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// pathless is an error without the path that it was met at, where that was named before.
func pathless(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
