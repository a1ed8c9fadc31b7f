package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/audit"
	"gapwise/rules/finding"
)

// auditOptions are the flags of audit as typed.
type auditOptions struct {
	format           string
	strict, complete bool
}

func (p *program) auditCommand() *cobra.Command {
	var o auditOptions
	c := &cobra.Command{
		Use:   "audit BEFORE AFTER",
		Short: "say what a change to a layout did, and what to do before power goes on",
		Long: `audit compares a layout with what it was before something was added or changed:
what differs in the wiring, what that made new, worse, better or put right, each
district before and after, also those nobody touched, and what is to be done
before power goes on, in order. Entries are matched by names, by what they join
and by where they lie, so that a track that was renamed, turned or cut in two is
still the same track. Where the layout leaves things unknown, the one that would
settle most is named, with how to find it out.

Exit status:
  2  a layout or the command line was not understood, or a file was not read
  1  at least one fault that is new or worse (with --strict: or caution)
  3  a check gave up, or was stopped, before it was complete (with --complete:
     or there is something new that is not checked)
  0  otherwise
What was wrong before and is no worse does not count; it is told.`,
		Example: "  gapwise audit last-year.yaml layout.yaml\n  gapwise audit --format json last-year.yaml layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New("audit takes two layout files: gapwise audit BEFORE AFTER")
			}
			return nil
		},
		RunE:              func(c *cobra.Command, args []string) error { return p.audit(c.Context(), o, [2]string(args)) },
		ValidArgsFunction: layoutFiles,
	}
	f := c.Flags()
	f.StringVar(&o.format, "format", "text", "`FORMAT` of the result: text or json")
	f.BoolVar(&o.strict, "strict", false, "status 1 for a caution too")
	f.BoolVar(&o.complete, "complete", false, "status 3 if anything new is not checked")
	f.SortFlags = false
	completeFlag(c, "format", oneOf("text", "json"))
	return c
}

func (p *program) audit(ctx context.Context, o auditOptions, files [2]string) error {
	if o.format != "text" && o.format != "json" {
		return noSuch("format", o.format, []string{"text", "json"})
	}
	done := p.progress("comparing " + files[0] + " with " + files[1])
	r, err := inTime(ctx, func() audited { return readAndAudit(ctx, files) })
	done()
	switch {
	case err != nil:
		return err
	case r.err != nil:
		return r.err
	case r.audit == nil:
		return p.auditUnread(o, files, r.read)
	}
	v := reports.NewAuditView(files, r.audit)
	if o.format == "json" {
		err = reports.WriteAuditJSON(p.out, v)
	} else {
		err = reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}.Audit(v)
	}
	if err != nil {
		return writing(err)
	}
	return end(auditStatus(r.audit, v, o))
}

// audited is what became of two layout files.
type audited struct {
	read  [2]result
	audit *audit.Audit // nil when one of the files was not understood
	err   error        // ctx's only
}

func readAndAudit(ctx context.Context, files [2]string) (r audited) {
	for i, file := range files {
		r.read[i].layout, r.read[i].problems, r.read[i].unread = reader.ReadFile(ctx, file, rules.ReaderOptions())
	}
	for i := range r.read {
		if r.read[i].unread != nil || len(r.read[i].problems) > 0 {
			return r
		}
	}
	r.audit, r.err = audit.Run(ctx, r.read[0].layout, r.read[1].layout)
	return r
}

// auditUnread tells why the files could not be compared.
func (p *program) auditUnread(o auditOptions, files [2]string, read [2]result) error {
	var views [2]*reports.View
	for i, r := range read {
		if r.unread != nil {
			message := unreadable(files[i], r.unread)
			fmt.Fprintln(p.err, "gapwise: "+source.Safe(message))
			views[i] = reports.ViewOfUnread(files[i], message)
			continue
		}
		views[i] = reports.ViewOfProblems(files[i], r.layout, r.problems)
		if o.format == "text" && len(r.problems) > 0 {
			if err := (reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}).Check(views[i], true); err != nil {
				return writing(err)
			}
		}
	}
	if o.format == "json" {
		if err := reports.WriteAuditProblems(p.out, views); err != nil {
			return writing(err)
		}
	}
	return end(exitNotUnderstood)
}

// auditStatus is the exit status of an audit: of what is new or worse.
func auditStatus(a *audit.Audit, v *reports.AuditView, o auditOptions) int {
	switch {
	case a.Count(finding.Fault) > 0 || o.strict && a.Count(finding.Caution) > 0:
		return exitFaults
	case !v.Complete || o.complete && v.Counts.NotCheckedNew > 0:
		return exitIncomplete
	}
	return exitOK
}
