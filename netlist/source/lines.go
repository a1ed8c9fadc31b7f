package source

import (
	"bytes"
	"unicode/utf8"
)

// ByteOrderMark may stand at the start of a file; it belongs to no line or column.
const ByteOrderMark = "\ufeff"

// Line returns the text of a line, counted from 1, without its end and without a byte
// order mark. A line that the file does not have is empty.
func (f *File) Line(line int32) []byte {
	r := newLineReader(f)
	if line < 1 || !r.seek(line) {
		return nil
	}
	return r.text()
}

// Offset returns the byte in f.Text at which the character at p stands; one column
// beyond a line's last character is its end. ok is false when p is not in the file.
func (f *File) Offset(p Pos) (offset int, ok bool) {
	r := newLineReader(f)
	if p.Line < 1 || p.Col < 1 || !r.seek(p.Line) {
		return 0, false
	}
	at, ok := r.column(p.Col)
	if !ok {
		return 0, false
	}
	return len(f.Text) - len(r.file) + r.start + at, true
}

// lineReader finds places of one file, in rising order, in one pass over it.
type lineReader struct {
	file  []byte // without a byte order mark
	line  int32
	start int   // of the line
	end   int   // of the line, where its line feed stands
	col   int32 // of the last place found in it
	at    int   // the byte behind start at col
}

func newLineReader(f *File) *lineReader {
	r := &lineReader{file: bytes.TrimPrefix(f.Text, []byte(ByteOrderMark))}
	r.enter(1, 0)
	return r
}

func (r *lineReader) enter(line int32, start int) {
	r.line, r.start, r.col, r.at = line, start, 1, 0
	r.end = len(r.file)
	if n := bytes.IndexByte(r.file[start:], '\n'); n >= 0 {
		r.end = start + n
	}
}

// seek goes on to a line that is not before the current one. It reports false when
// there is none.
func (r *lineReader) seek(line int32) bool {
	for r.line < line {
		if r.end == len(r.file) {
			return false
		}
		r.enter(r.line+1, r.end+1)
	}
	return true
}

// text is the current line without its end.
func (r *lineReader) text() []byte {
	return bytes.TrimSuffix(r.file[r.start:r.end], []byte{'\r'})
}

// column returns the byte of the current line at which the character col stands. col is
// not before the last one asked for in the line. It reports false, and the line's end,
// when the line is shorter.
func (r *lineReader) column(col int32) (at int, ok bool) {
	line := r.text()
	for r.col < col && r.at < len(line) {
		_, n := utf8.DecodeRune(line[r.at:])
		r.at += n
		r.col++
	}
	return r.at, r.col >= col
}
