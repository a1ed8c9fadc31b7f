package reader

import (
	"bytes"
	"slices"
	"strings"

	"gapwise/netlist/source"
)

// tornByTabs reports whether the levels of a file cannot be told because some of its lines
// are set in with tabs and some with blanks. With tabs alone they can.
func tornByTabs(text []byte) bool {
	tabs, spaces := false, false
	for line := range bytes.Lines(text) {
		rest := bytes.TrimLeft(line, " \t")
		if trimmed := bytes.TrimRight(rest, "\r\n"); len(trimmed) == 0 || trimmed[0] == '#' {
			continue
		}
		inset := line[:len(line)-len(rest)]
		tabs = tabs || bytes.IndexByte(inset, '\t') >= 0
		spaces = spaces || bytes.IndexByte(inset, ' ') >= 0
	}
	return tabs && spaces
}

// onlyTabs leaves of a file's mistakes those about tabs, from which the others may follow.
func onlyTabs(problems []source.Problem) []source.Problem {
	return slices.DeleteFunc(slices.Clone(problems), func(p source.Problem) bool { return !strings.HasPrefix(p.Message, "a tab;") })
}
