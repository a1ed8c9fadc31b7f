// Package source knows where every value of a layout came from: files, positions, and
// the one form in which a mistake in a layout file is told.
package source

import "fmt"

// Pos is a place in a layout file. Line and Col count from 1; Col counts characters
// (Unicode code points), not bytes. The zero Pos is "no place".
type Pos struct {
	File int32 // index into Files
	Line int32
	Col  int32
}

// IsValid reports whether p names a line.
func (p Pos) IsValid() bool { return p.Line > 0 }

// Before orders positions by file, line and column.
func (p Pos) Before(q Pos) bool {
	if p.File != q.File {
		return p.File < q.File
	}
	if p.Line != q.Line {
		return p.Line < q.Line
	}
	return p.Col < q.Col
}

// File is one layout file as read: Name is the path as the user gave it (or as an
// `include` led to it), Text its bytes.
type File struct {
	Name string
	Text []byte
}

// Files are the files of one layout, in the order they were first met. Pos.File
// indexes it.
type Files []*File

// Position renders p as file:line:col.
func (fs Files) Position(p Pos) string {
	if int(p.File) >= len(fs) || !p.IsValid() {
		return "-"
	}
	return fmt.Sprintf("%s:%d:%d", fs[p.File].Name, p.Line, p.Col)
}
