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

// Row is one kind of fault: how many were seeded, how many had each outcome, and how many new
// findings above a note there were in all.
type Row struct {
	Kind   string
	Seeded int
	Counts [Missed + 1]int
	New    int
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
				row.New += results[i].New
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

// String writes the table with a line of sums. The last column is how many findings above a note
// a fault that was found has on average.
func (t *Table) String() string {
	var out strings.Builder
	line := func(r Row) {
		fmt.Fprintf(&out, "%-26s %7d", r.Kind, r.Seeded)
		for _, n := range r.Counts {
			fmt.Fprintf(&out, " %8d", n)
		}
		fmt.Fprintf(&out, " %9.2f\n", float64(r.New)/float64(max(1, r.Counts[Found]+r.Counts[FoundByAnother])))
	}
	fmt.Fprintf(&out, "%-26s %7s %8s %8s %8s %8s %8s %8s %9s\n", "fault", "seeded", "found", "by other", "harmless", "open", "refused", "missed", "findings")
	sum := Row{Kind: "all"}
	for _, r := range t.Rows {
		line(r)
		sum.New += r.New
		sum.Seeded += r.Seeded
		for i, n := range r.Counts {
			sum.Counts[i] += n
		}
	}
	line(sum)
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
