// Package audit says what a change to a layout did: which findings are new, gone, worse or better, what became of
// every district, reversing section and block, also of those nobody touched, what is to be done before
// power goes on, and which one measurement would settle most of what is unknown.
package audit

import (
	"context"

	"gapwise/netlist/layout"

	"gapwise/districts/difference"
	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// Audit compares the checks of two layouts.
type Audit struct {
	Difference    *difference.Difference
	Before, After *rules.Report
	Findings      []FindingChange // new and worse first, as the findings are ordered; the same ones last
	NotChecked    []OpenChange    // lines that only one check has
	OpenSame      int             // lines that both have
	Districts     []District
	Sections      []Section // reversing sections
	Blocks        []Block
	Steps         []Step // what to do before power goes on, in order
	Measure       *Measurement
	Unknown       []Unknown // lengths and wires of track and bus that are not known, other than what Measure finds out

	old, new *rule.Case
}

// Outcome is what became of a finding.
type Outcome uint8

// The outcomes.
const (
	New Outcome = iota
	Worse
	Better
	Gone
	Same
)

// OutcomeWords name the outcomes, by value.
var OutcomeWords = []string{"new", "worse", "better", "gone", "same"}

func (o Outcome) String() string { return OutcomeWords[o] }

// Mirror is the outcome as seen from the other layout.
func (o Outcome) Mirror() Outcome { return [...]Outcome{Gone, Better, Worse, New, Same}[o] }

// Run checks both layouts, which were read without problems, and compares what came of it. The error is ctx's only.
func Run(ctx context.Context, before, after *layout.Layout) (*Audit, error) {
	a := &Audit{Difference: difference.Compare(before, after)}
	var err error
	if a.Before, err = rules.Check(ctx, before, rules.Options{}); err != nil {
		return nil, err
	}
	if a.After, err = rules.Check(ctx, after, rules.Options{}); err != nil {
		return nil, err
	}
	a.old, a.new = caseOf(a.Before), caseOf(a.After)
	n := newNames(a.Difference)
	a.Findings = a.matchFindings(n)
	a.NotChecked, a.OpenSame = a.matchOpen(n)
	a.Districts = a.districts()
	a.Sections = a.sections()
	a.Blocks = a.blocks()
	list := unknowns(after)
	if a.Measure, err = measure(ctx, a.After, list); err != nil {
		return nil, err
	}
	a.Unknown = stillOpen(list, a.Measure)
	a.Steps = a.steps()
	return a, nil
}

func caseOf(r *rules.Report) *rule.Case {
	return &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power}
}

// Count is how many findings of a severity are new or worse, and not accepted now.
func (a *Audit) Count(s finding.Severity) int {
	n := 0
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Outcome <= Worse && f.After.Severity == s && !f.After.Accepted {
			n++
		}
	}
	return n
}

// Outcomes counts the findings of one outcome.
func (a *Audit) Outcomes(o Outcome) int {
	n := 0
	for i := range a.Findings {
		if a.Findings[i].Outcome == o {
			n++
		}
	}
	return n
}

// leastGone is how many entries must be gone for the two files to be taken for exchanged. Common practice, no source.
const leastGone = 10

// Emptied reports whether hardly anything differs but what was taken away, and nothing is wrong now that was not: as
// when the two files were named in the wrong order.
func (a *Audit) Emptied() bool {
	if a.Count(finding.Fault)+a.Count(finding.Caution) > 0 {
		return false
	}
	fates := map[difference.Fate]int{}
	for i := range a.Difference.Entries {
		fates[a.Difference.Entries[i].Fate]++
	}
	gone := fates[difference.Removed]
	return gone >= leastGone && 4*fates[difference.Added] < gone && 4*gone >= 3*(len(a.Difference.Entries)-fates[difference.Renamed])
}

// Unchanged reports whether nothing differs, in the wiring or in what follows from it.
func (a *Audit) Unchanged() bool {
	return a.Difference.Empty() && len(a.Findings) == a.Outcomes(Same) && len(a.NotChecked) == 0
}
