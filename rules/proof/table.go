package proof

import (
	"fmt"
	"slices"
	"strings"
)

// Table counts what became of seeded faults, kind by kind.
type Table struct {
	Rows  []Row
	False int // findings above a note on sound layouts
}

// Row is one kind of fault: how many were seeded, and how many had each outcome.
type Row struct {
	Kind   string
	Seeded int
	Counts [Missed + 1]int
}

// NewTable counts results.
func NewTable(results []Result, falseAlarms int) *Table {
	t := &Table{False: falseAlarms}
	for _, k := range kinds {
		row := Row{Kind: k.name}
		for i := range results {
			if results[i].Fault.Kind == k.name {
				row.Seeded++
				row.Counts[results[i].Outcome]++
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Missed is how many faults nothing spoke of although the oracle sees a hazard.
func (t *Table) Missed() int {
	n := 0
	for _, r := range t.Rows {
		n += r.Counts[Missed]
	}
	return n
}

// String writes the table with a line of sums.
func (t *Table) String() string {
	var out strings.Builder
	line := func(name string, seeded int, counts [Missed + 1]int) {
		fmt.Fprintf(&out, "%-28s %7d", name, seeded)
		for _, n := range counts {
			fmt.Fprintf(&out, " %9d", n)
		}
		out.WriteByte('\n')
	}
	fmt.Fprintf(&out, "%-28s %7s %9s %9s %9s %9s %9s %9s\n", "fault", "seeded", "found", "by other", "harmless", "open", "refused", "missed")
	sum := Row{}
	for _, r := range t.Rows {
		line(r.Kind, r.Seeded, r.Counts)
		sum.Seeded += r.Seeded
		for i, n := range r.Counts {
			sum.Counts[i] += n
		}
	}
	line("all", sum.Seeded, sum.Counts)
	fmt.Fprintf(&out, "false findings on the sound layouts: %d\n", t.False)
	return out.String()
}

// Without is what becomes of a result when a rule is switched off.
func (r Result) Without(rule string) Result {
	off := func(rules []string) []string {
		return slices.DeleteFunc(slices.Clone(rules), func(s string) bool { return s == rule })
	}
	r.By, r.Others = off(r.By), off(r.Others)
	switch {
	case r.Outcome > FoundByAnother:
	case len(r.By) > 0:
		r.Outcome = Found
	case len(r.Others) > 0:
		r.Outcome = FoundByAnother
	default:
		r.Outcome = Missed
	}
	return r
}
