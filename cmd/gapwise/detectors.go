package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"gapwise/reports"
)

// detectorsOptions are the flags of detectors as typed.
type detectorsOptions struct {
	format string
	unseen bool
}

func (p *program) detectorsCommand() *cobra.Command {
	o := detectorsOptions{format: "text"}
	c := &cobra.Command{
		Use:   "detectors FILE",
		Short: "say for every length of track which detector sees a train there, in every setting",
		Long: `Say for every length of track, and every route of track work, which detectors see
a train there: all of its current, or a part of it because the rail gets its leg
past them too. What blades, frogs and contacts add in some settings is told with
the fewest settings that do. Nothing is judged here; check does that.`,
		Example: "  gapwise detectors layout.yaml\n  gapwise detectors --unseen layout.yaml\n  gapwise detectors --format json layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("detectors takes one layout file: gapwise detectors FILE")
			}
			return nil
		},
		RunE:              func(c *cobra.Command, args []string) error { return p.detectors(c.Context(), o, args[0]) },
		ValidArgsFunction: layoutFiles,
	}
	c.Flags().StringVar(&o.format, "format", o.format, "`FORMAT` of the result: text or json")
	c.Flags().BoolVar(&o.unseen, "unseen", false, "leave out what one detector alone sees in every setting")
	c.Flags().SortFlags = false
	completeFlag(c, "format", oneOf("text", "json"))
	return c
}

func (p *program) detectors(ctx context.Context, o detectorsOptions, file string) error {
	if o.format != "text" && o.format != "json" {
		return noSuch("format", o.format, []string{"text", "json"})
	}
	done := p.progress("following the detectors of " + file)
	var v *reports.DetectorsView
	r, err := inTime(ctx, func() traced {
		r := readAndTrace(ctx, file, nil)
		if r.c != nil {
			v = reports.NewDetectorsView(file, r.c)
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
	if o.format == "json" {
		err = reports.WriteDetectorsJSON(p.out, v)
	} else {
		text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
		err = text.DetectorMap(v, o.unseen)
	}
	switch {
	case err != nil:
		return writing(err)
	case !v.Complete:
		return end(exitIncomplete)
	}
	return nil
}
