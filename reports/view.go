// Package reports turns what a check found into one view, and the view into text for a
// terminal or JSON for a program. It formats; it judges nothing.
package reports

import (
	"math"

	"gapwise/netlist/source"

	"gapwise/rules/finding"
)

// View is the check of one layout file, ready to be written. Its parts carry the names
// they have in JSON; slices are never nil.
type View struct {
	File    string // as the user named it
	Name    string // the layout's own name, "" when it could not be read
	Verdict Verdict
	// Complete says that no check gave up.
	Complete bool
	Counts   Counts
	Rules    [2]int           // how many rules ran, of how many
	Hidden   int              // findings below the least severity asked for
	Least    finding.Severity // that severity

	Problems   []Problem
	Questions  []Problem
	Findings   []Finding
	NotChecked []NotChecked
	Districts  []District
	Blocks     []Block
	Power      []Power
	Plan       *FixPlan // nil where none was asked for

	files     source.Files
	problems  []source.Problem
	questions []source.Problem
}

// Counts are how many of each there are, whatever is shown. Accepted findings count there
// and nowhere else.
type Counts struct {
	Faults     int `json:"faults"`
	Cautions   int `json:"cautions"`
	Notes      int `json:"notes"`
	Accepted   int `json:"accepted"`
	NotChecked int `json:"not_checked"`
	Questions  int `json:"questions"`
	Problems   int `json:"problems"`
}

func (c *Counts) add(o Counts) {
	c.Faults += o.Faults
	c.Cautions += o.Cautions
	c.Notes += o.Notes
	c.Accepted += o.Accepted
	c.NotChecked += o.NotChecked
	c.Questions += o.Questions
	c.Problems += o.Problems
}

// Spot is a place in a layout file: line and column count from 1, the column in
// characters; 0 when there is none.
type Spot struct {
	File   string `json:"file"`
	Line   int32  `json:"line"`
	Column int32  `json:"column"`
}

func spotOf(files source.Files, p source.Pos) Spot {
	if p.File < 0 || int(p.File) >= len(files) || !p.IsValid() {
		return Spot{}
	}
	return Spot{File: files[p.File].Name, Line: p.Line, Column: p.Col}
}

// Problem is a mistake in a layout file, or a question about it.
type Problem struct {
	Layout string `json:"layout"`
	Spot
	Message  string `json:"message"`
	Expected string `json:"expected"`
	Nearest  string `json:"nearest"`
}

// finite is nil for what JSON has no number for.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// some is s itself, never nil.
func some[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
