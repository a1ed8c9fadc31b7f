package audit

import (
	"context"
	"fmt"

	"gapwise/netlist/source"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// Measurement is the one thing that would settle most of what is not checked, if it were known.
type Measurement struct {
	What    string
	Pos     source.Pos // where it would be said
	Decides int        // lines of what was not checked that go away with a value at either end of what it may be
	Open    int        // lines of what was not checked, in all
	How     []string
	Tried   int // values that were tried
	Left    int // values that were not, because a bound on the work was reached
}

// The bound on the work of trying values: so many conductors checked, and at least so many values.
const (
	mostWork  = 60_000
	leastTrie = 6
)

// measure tries every value that a layout does not say at both ends of what it may be, on a copy in memory, and checks
// the copy whole. nil when nothing that is unknown would settle anything. The error is ctx's only.
func measure(ctx context.Context, r *rules.Report, list []unknown) (*Measurement, error) {
	if len(list) == 0 || len(r.NotChecked) == 0 {
		return nil, nil
	}
	most := max(leastTrie, mostWork/(2*(1+len(r.Trace.C.Conductors))))
	tried := min(len(list), most)
	var best *Measurement
	for i := range list[:tried] {
		n, err := decides(ctx, r, &list[i])
		if err != nil {
			return nil, err
		}
		if n > 0 && (best == nil || n > best.Decides) {
			best = &Measurement{What: list[i].what, Pos: list[i].pos, Decides: n, How: list[i].manual}
		}
	}
	if best != nil {
		best.Open, best.Tried, best.Left = len(r.NotChecked), tried, len(list)-tried
	}
	return best, nil
}

// Unknown is a value that the layout does not say.
type Unknown struct {
	What string
	Pos  source.Pos // where it would be said
	How  []string
}

// stillOpen are the values that are told whether or not they settle anything by themselves, but for the one that is measured first.
func stillOpen(list []unknown, m *Measurement) (out []Unknown) {
	for i := range list {
		if u := &list[i]; u.told && (m == nil || m.What != u.what) {
			out = append(out, Unknown{u.what, u.pos, u.manual})
		}
	}
	return out
}

// decides counts the open lines that neither end of what a value may be leaves open.
func decides(ctx context.Context, r *rules.Report, u *unknown) (int, error) {
	still := map[string]bool{}
	for _, guess := range u.guess {
		c := *r.Layout
		guess(&c)
		again, err := rules.Check(ctx, &c, rules.Options{})
		if err != nil {
			return 0, err
		}
		for i := range again.NotChecked {
			still[openKey(&again.NotChecked[i])] = true
		}
	}
	n := 0
	for i := range r.NotChecked {
		if !still[openKey(&r.NotChecked[i])] {
			n++
		}
	}
	return n, nil
}

// openKey is what a line is about, without measured values.
func openKey(n *finding.NotChecked) string {
	return n.Rule + "|" + numbers.ReplaceAllString(measured.ReplaceAllString(n.What, " @"), "$1#") + fmt.Sprint(n.Pos)
}
