package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"gapwise/reports"
)

func (p *program) gapsCommand() *cobra.Command {
	format := "text"
	c := &cobra.Command{
		Use:   "gaps FILE",
		Short: "list every gap: what it parts, what wheels do on it, what its closing would do",
		Long: `List every gap of a layout in walking order of its track: what it parts, what a
wheel that bridges it does, and what would happen if its rails crept together.
Then the gaps to fill and watch, the gravest first.

The gap's metal is put back and what then meets is looked up, in every setting of
the track work. What check finds wrong in every setting is taken as put right;
nothing is judged here.`,
		Example: "  gapwise gaps layout.yaml\n  gapwise gaps --format json layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("gaps takes one layout file: gapwise gaps FILE")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return p.gaps(c.Context(), format, args[0]) },
	}
	c.Flags().StringVar(&format, "format", format, "`FORMAT` of the result: text or json")
	return c
}

func (p *program) gaps(ctx context.Context, format, file string) error {
	if format != "text" && format != "json" {
		return noSuch("format", format, []string{"text", "json"})
	}
	done := p.progress("looking at the gaps of " + file)
	var v *reports.GapsView
	r, err := inTime(ctx, func() traced {
		r := readAndTrace(ctx, file, nil)
		if r.c != nil {
			v = reports.NewGapsView(file, r.c)
		}
		return r
	})
	done()
	switch {
	case err != nil:
		return err
	case r.unread != nil:
		return errors.New(unreadable(file, r.unread))
	case r.c == nil:
		if err := r.layout.Files.Render(p.err, r.problems); err != nil {
			return err
		}
		return end(exitNotUnderstood)
	}
	if format == "json" {
		err = reports.WriteGapsJSON(p.out, v)
	} else {
		text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
		err = text.Gaps(v)
	}
	switch {
	case err != nil:
		return writing(err)
	case !v.Complete:
		return end(exitIncomplete)
	}
	return nil
}
