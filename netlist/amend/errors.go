package amend

import (
	"fmt"
	"strings"

	"gapwise/netlist/source"
)

// RefusedError lists the changes that could not be made, in the order in which they were
// asked for, kind by kind.
type RefusedError struct{ Refusals []Refusal }

// Refusal is one change that could not be made, and why not.
type Refusal struct{ Change, Why string }

func (e *RefusedError) Error() string {
	lines := make([]string, len(e.Refusals))
	for i, r := range e.Refusals {
		lines[i] = r.Change + ": " + r.Why
	}
	return strings.Join(lines, "\n")
}

// SaveError says which path could not be written and why; nothing was written then, unless
// Written says what was.
type SaveError struct {
	Path    string
	Err     error
	Written []string
}

func (e *SaveError) Error() string {
	text := fmt.Sprintf("cannot write %s: %v", source.Safe(e.Path), e.Err)
	if len(e.Written) > 0 {
		text += "; written before that: " + source.Safe(strings.Join(e.Written, ", "))
	}
	return text
}

func (e *SaveError) Unwrap() error { return e.Err }
