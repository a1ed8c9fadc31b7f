// Package finding is what the checker says: findings, what was not checked, and the
// verdict. It has no electrical knowledge and no layout of text.
package finding

import (
	"cmp"
	"slices"

	"gapwise/netlist/source"
)

// Severity of a finding.
type Severity uint8

const (
	Note    Severity = iota // worth knowing
	Caution                 // will misbehave, or is out of a published limit or the owner's practice
	Fault                   // do not switch on
)

func (s Severity) String() string { return [...]string{"note", "caution", "fault"}[s] }

// Place is where a finding is. Piece is a track or piece name ("" when it is not on
// one); AtM is metres from the piece's start when HasAt; Text is what a person walks
// to, both measures included: "M1 @ 4 ft (1.22 m)", "reverser loop".
type Place struct {
	Piece string
	AtM   float64
	HasAt bool
	Text  string
}

// Number is one figure of a finding with the limit it was held against. Text carries
// the unit ("9 ft (2.74 m)"); SI and Unit are for machines. Limit and Source are ""
// when there is none; Source is "common practice, no source" for a rule of thumb,
// "yours" for the owner's own limits.
type Number struct {
	Name   string
	Text   string
	SI     float64
	Unit   string
	Limit  string
	Source string
}

// Step is one conductor of a witness path, in the order a finger follows it.
type Step struct {
	Text string // "M1 right rail, 4 ft to 6 ft (1.22 m to 1.83 m)"
	Pos  source.Pos
}

// Finding is one thing that is wrong, for one cause, at the place to fix.
type Finding struct {
	Rule       string
	Severity   Severity
	Pos        source.Pos
	Place      Place
	Message    string   // what is wrong: one sentence, lower case, no full stop
	Why        string   // why it matters: one sentence
	Settings   []string // turnout settings that make it: "T9 curved"
	Train      string   // train position that makes it, "" if none is needed
	Assumed    string   // an assumption it rests on, e.g. the order of two uncertain places
	Numbers    []Number
	Witness    []Step
	Also       []string // other places the same cause shows up, as text
	Candidates []string // other explanations, by how little would have to change
	Fix        string
	FixChecked bool     // the fix was applied to a copy and everything re-run
	FixAlso    []string // findings that a checked fix takes away besides, by title
	Mends      []Mend   // changes to try, the smallest first

	Accepted bool
	Because  string // reason of the acceptance
}

// NotChecked is one line about what could not be checked and why.
type NotChecked struct {
	Rule       string // rule it concerns, "" for the whole check
	What       string
	Why        string
	Pos        source.Pos
	Incomplete bool // the check gave up before it was complete: status 3
}

// Compare orders findings: severity down, then place in the files, rule, message.
func Compare(a, b Finding) int {
	return cmp.Or(
		-cmp.Compare(a.Severity, b.Severity),
		cmp.Compare(a.Pos.File, b.Pos.File),
		cmp.Compare(a.Pos.Line, b.Pos.Line),
		cmp.Compare(a.Pos.Col, b.Pos.Col),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Place.Text, b.Place.Text),
		cmp.Compare(a.Message, b.Message),
	)
}

// Sort puts findings in the order of Compare.
func Sort(fs []Finding) { slices.SortStableFunc(fs, Compare) }
