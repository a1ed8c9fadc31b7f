package main

import (
	"io"
	"os"
	"strconv"

	"github.com/mattn/go-isatty"
)

// Widths of the text written, in cells. Wider lines are hard to read.
const (
	usualWidth = 80
	leastWidth = 40
	mostWidth  = 100
)

// isTerminal reports whether a stream is a terminal.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// textWidth is COLUMNS where that is set, else the width of the terminal, else 80.
func textWidth(w io.Writer) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return min(max(n, leastWidth), mostWidth)
	}
	if f, ok := w.(*os.File); ok && isTerminal(w) {
		if n := columns(f); n > 0 {
			return min(max(n, leastWidth), mostWidth)
		}
	}
	return usualWidth
}

// wantsColour reports whether a stream is a terminal that shows colours and whose owner
// has not refused them (https://no-color.org).
func wantsColour(w io.Writer) bool {
	return isTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}
