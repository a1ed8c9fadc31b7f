package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/rule"
)

// traceOptions are the flags of trace.
type traceOptions struct {
	without string
	route   bool
}

func (p *program) traceCommand() *cobra.Command {
	var o traceOptions
	c := &cobra.Command{
		Use:   "trace FILE [PLACE]",
		Short: "follow the wiring: districts, what feeds a place, what dies without a device",
		Long: `Follow the wiring of a layout, without judging it.

  gapwise trace FILE                          every district, block and reversing section
  gapwise trace FILE "M1 @ 3 ft"              what feeds a place, wire by wire
  gapwise trace FILE "T3 points"              the same at the end of a piece
  gapwise trace FILE --without "breaker yard" what dies and what stays alive
  gapwise trace FILE --route "M1 @ 3 ft" T3   a walk from one place to the other`,
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("without") && strings.TrimSpace(o.without) == "" {
				return errors.New("--without names nothing; write kind and name, as in \"breaker yard\"")
			}
			return p.trace(c.Context(), o, args)
		},
		Args:              func(_ *cobra.Command, args []string) error { return o.validate(args) },
		ValidArgsFunction: completePlaces,
	}
	c.Flags().StringVar(&o.without, "without", "", "take this device, bus or feeder out first (\"breaker yard\", \"feeder M1 @ 6 ft\")")
	c.Flags().BoolVar(&o.route, "route", false, "walk from the first place to the second, piece by piece")
	completeFlag(c, "without", completeRemovals)
	return c
}

// validate refuses what does not fit together.
func (o *traceOptions) validate(args []string) error {
	switch {
	case len(args) == 0:
		return errors.New("trace needs a layout: gapwise trace FILE")
	case o.route && o.without != "":
		return errors.New("--route and --without do not go together")
	case o.route && len(args) != 3:
		return errors.New("--route needs two places: gapwise trace FILE --route PLACE PLACE")
	case o.without != "" && len(args) > 1:
		return errors.New("--without takes no place: gapwise trace FILE --without DEVICE")
	case !o.route && len(args) > 2:
		return errors.New("trace takes one place (quote it: \"M1 @ 3 ft\"), or two with --route")
	}
	return nil
}

// traced is a layout read and followed.
type traced struct {
	unread   error
	layout   *layout.Layout
	problems []source.Problem
	unfound  error // a place asked for is not there
	places   []layout.Place
	c        *rule.Case
}

func readAndTrace(ctx context.Context, file string, places []string) (r traced) {
	r.layout, r.problems, r.unread = reader.ReadFile(ctx, file, rules.ReaderOptions())
	if r.unread != nil || len(r.problems) > 0 {
		return r
	}
	for _, text := range places {
		place, err := r.layout.FindPlace(text)
		if err != nil {
			r.unfound = err
			return r
		}
		r.places = append(r.places, place)
	}
	r.c, r.unread = rules.Trace(ctx, r.layout, r.places...)
	return r
}

func (p *program) trace(ctx context.Context, o traceOptions, args []string) error {
	file := args[0]
	done := p.progress("following " + file)
	r, err := inTime(ctx, func() traced { return readAndTrace(ctx, file, args[1:]) })
	done()
	switch {
	case err != nil:
		return err
	case r.unread != nil:
		return errors.New(unreadable(file, r.unread))
	case r.unfound != nil:
		return r.unfound
	case r.c == nil:
		if err := r.layout.Files.Render(p.err, r.problems); err != nil {
			return err
		}
		return end(exitNotUnderstood)
	}
	lines, err := traceLines(r.c, o, r.places)
	if err != nil {
		return err
	}
	text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
	return writing(text.Lines(lines))
}

// traceLines is what was asked for. The error names a device that is not there.
func traceLines(c *rule.Case, o traceOptions, places []layout.Place) ([]reports.Line, error) {
	switch {
	case o.without != "":
		r, names, ok := districts.FindRemoval(c.L, strings.TrimSpace(o.without))
		if !ok {
			return nil, noSuchDevice(o.without, names)
		}
		return reports.WithoutLines(c, r), nil
	case o.route:
		return reports.RouteLines(c, places[0], places[1])
	case len(places) == 1:
		return reports.PlaceLines(c, places[0])
	default:
		return reports.TraceLines(c), nil
	}
}

// noSuchDevice refuses a device's name.
func noSuchDevice(name string, names []string) error {
	if nearest := source.Nearest(name, names); nearest != "" {
		return fmt.Errorf("nothing is named %q; nearest: %s", name, nearest)
	}
	return fmt.Errorf("nothing is named %q; write kind and name, as in \"breaker yard\" or \"feeder M1 @ 6 ft\"", name)
}
