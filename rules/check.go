// Package rules is the engine: it builds the circuit of a layout, traces it, runs the
// catalogue over it and matches acceptances.
package rules

import (
	"context"
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// Options of Check.
type Options struct {
	// Only names the rules to run; empty runs all.
	Only []string
	// Without names rules to leave out; it serves the tests of the catalogue.
	Without []string
}

// Report is what a check says about one layout.
type Report struct {
	Layout     *layout.Layout
	Trace      *districts.Trace
	Power      *power.Study
	Findings   []finding.Finding // sorted; accepted ones included
	NotChecked []finding.NotChecked
	Ran        []string // rules that ran
	All        bool     // all rules ran
}

// Count is how many findings of a severity stand that nobody accepted.
func (r *Report) Count(s finding.Severity) int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Severity == s && !r.Findings[i].Accepted {
			n++
		}
	}
	return n
}

// Accepted is how many findings are accepted.
func (r *Report) Accepted() int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Accepted {
			n++
		}
	}
	return n
}

// Incomplete reports whether a check gave up before it was done.
func (r *Report) Incomplete() bool {
	return slices.ContainsFunc(r.NotChecked, func(n finding.NotChecked) bool { return n.Incomplete })
}

// Check checks a layout that was read without problems, in every order that uncertain
// measures leave open. The error is ctx's only.
func Check(ctx context.Context, l *layout.Layout, o Options) (*Report, error) {
	r, err := check(ctx, l, o)
	if err != nil {
		return nil, err
	}
	if err := r.tryOrders(ctx, l, o); err != nil {
		return nil, err
	}
	r.leaveOpen(o)
	r.accept(l)
	finding.Sort(r.Findings)
	r.NotChecked = fold(l, tidy(r.NotChecked))
	return r, nil
}

// check runs the catalogue over one reading of a layout.
func check(ctx context.Context, l *layout.Layout, o Options) (*Report, error) {
	c, err := circuit.Build(ctx, l, circuit.OptionsFor(l))
	if err != nil {
		return nil, err
	}
	t, err := districts.Run(ctx, c)
	if err != nil {
		return nil, err
	}
	r := &Report{Layout: l, Trace: t, All: len(o.Only) == 0 && len(o.Without) == 0}
	if r.Power, err = power.Run(ctx, t); err != nil {
		return nil, err
	}
	shared := &rule.Verdicts{}
	for _, rl := range catalogue.All() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if (len(o.Only) > 0 && !slices.Contains(o.Only, rl.ID)) || slices.Contains(o.Without, rl.ID) {
			continue
		}
		k := &rule.Case{L: l, C: t.C, T: t, Power: r.Power, Shared: shared, Rule: rl}
		rl.Check(k)
		r.Ran = append(r.Ran, rl.ID)
		r.Findings = append(r.Findings, k.Findings...)
		r.NotChecked = append(r.NotChecked, k.Open...)
	}
	return r, nil
}

// leaveOpen lists what no rule of this program looks at.
func (r *Report) leaveOpen(o Options) {
	c := r.Trace.C
	for _, n := range c.NotModelled {
		r.NotChecked = append(r.NotChecked, finding.NotChecked{What: n.What, Why: n.Why, Pos: n.Pos})
	}
	if len(c.Layout.Tracks) == 0 {
		r.NotChecked = append(r.NotChecked, finding.NotChecked{What: "anything at all", Why: "the file has no tracks", Incomplete: true})
	}
	if len(o.Only) > 0 {
		r.NotChecked = append(r.NotChecked, finding.NotChecked{What: "every other rule", Why: fmt.Sprintf("only %d of %d rules were asked for", len(r.Ran), len(catalogue.All()))})
	}
}

// tidy sorts what was not checked by place and drops lines said twice.
func tidy(ns []finding.NotChecked) []finding.NotChecked {
	slices.SortStableFunc(ns, func(x, y finding.NotChecked) int {
		switch {
		case x.Pos.Before(y.Pos):
			return -1
		case y.Pos.Before(x.Pos):
			return 1
		default:
			return 0
		}
	})
	return slices.CompactFunc(ns, func(x, y finding.NotChecked) bool { return x.What == y.What && x.Why == y.Why && x.Pos == y.Pos })
}
