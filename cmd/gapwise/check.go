package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"github.com/spf13/cobra"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/fixes"
)

// checkOptions are the flags of check as typed.
type checkOptions struct {
	format, severity string
	only             []string
	strict, complete bool
	fixPlan          bool
	writeFixed       string
	overwrite        bool
}

func (p *program) checkCommand() *cobra.Command {
	var o checkOptions
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "say what is wrong with a layout's wiring",
		Long: `check reads each layout file by itself, follows its wires and rails, and prints
a verdict, the findings with the path a finger can follow, the districts and
blocks as wired, and what was not checked. Where a file has mistakes, they are
printed instead, all at once.

` + statuses,
		Example: "  gapwise check layout.yaml\n  gapwise check --fix-plan layout.yaml\n  gapwise check --write-fixed mended.yaml layout.yaml\n  gapwise check --only feeder-crossed,rail-dead layout.yaml\n  gapwise check --format json layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("check takes at least one layout file: gapwise check FILE")
			}
			if len(args) > 1 && o.writeFixed != "" {
				return errors.New("--write-fixed takes one layout file at a time")
			}
			return nil
		},
		RunE:              func(c *cobra.Command, args []string) error { return p.check(c.Context(), o, args) },
		ValidArgsFunction: layoutFiles,
	}
	f := c.Flags()
	f.StringVar(&o.format, "format", "text", "`FORMAT` of the result: text or json")
	f.StringSliceVar(&o.only, "only", nil, "run only these rules: `RULE`, or several with commas between")
	f.StringVar(&o.severity, "severity", "note", "least `SEVERITY` shown: note, caution or fault")
	f.BoolVar(&o.strict, "strict", false, "status 1 for a caution too")
	f.BoolVar(&o.complete, "complete", false, "status 3 if anything was not checked")
	f.BoolVar(&o.fixPlan, "fix-plan", false, "try changes for each finding on copies, each checked again whole, and list what to do in working order")
	f.StringVar(&o.writeFixed, "write-fixed", "", "write a copy with all fixes to `OUT`, changed lines marked: a file, or a folder where the layout includes others")
	f.BoolVar(&o.overwrite, "overwrite", false, "let --write-fixed replace what is there")
	f.SortFlags = false
	completeFlag(c, "format", oneOf("text", "json"))
	completeFlag(c, "severity", oneOf("note", "caution", "fault"))
	completeFlag(c, "only", completeRules)
	return c
}

// check checks every file and prints the outcome: text as it comes, JSON in one document.
func (p *program) check(ctx context.Context, o checkOptions, files []string) error {
	least, err := o.validate()
	if err != nil {
		return err
	}
	text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
	var views []*reports.View
	for i, file := range files {
		v, err := p.checkFile(ctx, file, o, least)
		if err != nil {
			return err
		}
		views = append(views, v)
		if o.format == "json" {
			continue
		}
		if i > 0 {
			fmt.Fprintln(p.out)
		}
		if err := text.Check(v, len(files) > 1); err != nil {
			return writing(err)
		}
	}
	switch {
	case o.format == "json":
		err = reports.WriteJSON(p.out, views)
	case len(views) > 1:
		err = text.Recap(views)
	}
	if err != nil {
		return writing(err)
	}
	return end(checkStatus(views, o.strict, o.complete))
}

// validate refuses values that a flag does not take.
func (o *checkOptions) validate() (least finding.Severity, err error) {
	if o.format != "text" && o.format != "json" {
		return 0, noSuch("format", o.format, []string{"text", "json"})
	}
	if o.only != nil && len(o.only) == 0 {
		return 0, errors.New("--only names no rule")
	}
	for _, id := range o.only {
		if catalogue.ByID(id) == nil {
			return 0, noSuchRule(id)
		}
	}
	words := []string{}
	for s := finding.Note; s <= finding.Fault; s++ {
		if words = append(words, s.String()); s.String() == o.severity {
			return s, nil
		}
	}
	return 0, noSuch("severity", o.severity, words)
}

// checkFile reads and checks one layout. A file that cannot be read is told on stderr at
// once; the error is ctx's only.
func (p *program) checkFile(ctx context.Context, file string, o checkOptions, least finding.Severity) (*reports.View, error) {
	done := p.progress("checking " + file)
	r, err := inTime(ctx, func() result { return readAndCheck(ctx, file, o) })
	done()
	switch {
	case err != nil:
		return nil, err
	case r.unread != nil:
		message := unreadable(file, r.unread)
		fmt.Fprintln(p.err, "gapwise: "+source.Safe(message))
		return reports.ViewOfUnread(file, message), nil
	case r.report == nil:
		return reports.ViewOfProblems(file, r.layout, r.problems), nil
	}
	v := reports.NewView(file, r.report, least)
	if r.plan != nil {
		v.Fixes(r.plan)
		if err := p.writeFixed(r.plan, o); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// result is what became of one layout file: unread, with problems, or checked.
type result struct {
	unread   error
	layout   *layout.Layout
	problems []source.Problem
	report   *rules.Report
	plan     *fixes.Plan // nil where none was asked for
}

func readAndCheck(ctx context.Context, file string, o checkOptions) (r result) {
	r.layout, r.problems, r.unread = reader.ReadFile(ctx, file, rules.ReaderOptions())
	if r.unread == nil && len(r.problems) == 0 {
		r.report, r.unread = rules.Check(ctx, r.layout, rules.Options{Only: o.only})
	}
	if r.report != nil && (o.fixPlan || o.writeFixed != "") {
		r.plan, r.unread = planFixes(ctx, r.report)
	}
	return r
}

// planFixes tries the fixes of a report, each alone and then all together.
func planFixes(ctx context.Context, r *rules.Report) (*fixes.Plan, error) {
	all, err := fixes.Each(ctx, r)
	if err != nil {
		return nil, err
	}
	plan, err := fixes.Compose(ctx, r)
	if err != nil {
		return nil, err
	}
	plan.All = plan.All && all
	return plan, nil
}

// writeFixed writes a copy of the layout with all fixes in it, where one is asked for and there are any.
func (p *program) writeFixed(plan *fixes.Plan, o checkOptions) error {
	switch {
	case o.writeFixed == "":
		return nil
	case !plan.Saved():
		fmt.Fprintln(p.err, "gapwise: nothing to mend was found that a change to the file would mend; nothing was written")
		return nil
	}
	files, err := plan.Save(o.writeFixed, o.overwrite)
	if err != nil {
		return notSaved(err)
	}
	for _, f := range files {
		fmt.Fprintln(p.err, "wrote "+source.Safe(f))
	}
	return nil
}

// inTime does a piece of work, and leaves it behind when ctx ends first: a file may be a pipe
// that nobody writes to. The error is ctx's.
func inTime[T any](ctx context.Context, work func() T) (T, error) {
	finished := make(chan T, 1)
	go func() { finished <- work() }()
	var none T
	select {
	case <-ctx.Done():
		return none, ctx.Err()
	case x := <-finished:
		return x, ctx.Err()
	}
}

// unreadable says in one line why a file could not be read, and its name once.
func unreadable(file string, err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Sprintf("cannot read %s: %v", file, err)
}

// writing says of an error that it came from writing the result.
func writing(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("cannot write the result: %w", err)
}

// checkStatus is the exit status of a check.
func checkStatus(views []*reports.View, strict, complete bool) int {
	faults, gaveUp := false, false
	for _, v := range views {
		if v.Verdict == reports.CannotRead {
			return exitNotUnderstood
		}
		faults = faults || v.Counts.Faults > 0 || (strict && v.Counts.Cautions > 0)
		gaveUp = gaveUp || !v.Complete || (complete && v.Counts.NotChecked > 0)
	}
	switch {
	case faults:
		return exitFaults
	case gaveUp:
		return exitIncomplete
	}
	return exitOK
}
