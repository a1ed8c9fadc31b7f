package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/districts/partition"
	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/split"
)

// splitOptions are the flags of split as typed.
type splitOptions struct {
	format, margin, at, with, trainAmps, write string
	ratings, whole, prefer                     []string
	districts                                  int
	work                                       int64
	overwrite                                  bool
}

func (p *program) splitCommand() *cobra.Command {
	o := splitOptions{format: "text", margin: "20 %", with: "auto", whole: split.DefaultWhole, prefer: []string{"cuts", "trains", "bus"}, work: partition.DefaultWork}
	c := &cobra.Command{
		Use:   "split FILE",
		Short: "divide a layout into booster or breaker districts",
		Long: `split divides the track of a layout into districts, each of which stays within what
its booster or breaker may carry, wherever the trains are. Of all divisions it takes
the one with the fewest new cuts in the rails; of those the one in which a single
short stops the fewest trains; of those the one whose buses are shortest. --prefer
changes that order. "Proved" is said only where every other division was ruled out.

Blocks as meant stay whole, and gaps that are there come first. A new cut is thought of
only where one can be made: where one block is meant to end and the next to begin, and
where no block is meant 3 in beside track work or in the middle of a track longer than
two trains; on plain track, 3 in clear of feeders and gaps, never on a lift-out, on track
for programming or a cab, nor where a rail is declared common. A reversing section stays
one, so does what hangs from one detector, fuse, lamp or plug, and a turntable with its
tracks. Neighbouring blocks of a yard, or of an interlocking, stay together unless
--whole says otherwise.

Trains are reckoned at their worst: one in each block as meant, one on every track of a
yard or of staging that holds one, where no block is meant as many as fit and one more
at each way out, never more than ` + "`at-once`" + ` lets move. Without flags the layout's own
boosters are taken, and as few districts as will do. --districts allows some; fewer are
used where more would only cost cuts.

The table says what each district draws, and what a check of the layout finds with the
division written in. Nothing is changed in your file. --write writes a copy with the
cuts, buses, feeders, devices and districts in it.

Exit status:
  2  the layout or the command line was not understood, or a file was not read or
     written
  1  no such division exists, some booster may come to carry more than it may, or a
     check finds a fault or a caution with it that it does not find without
  3  nothing was found before the bound on work was reached, or the division cannot
     be written into the file, and so was not checked
  0  otherwise`,
		Example: "  gapwise split layout.yaml\n  gapwise split --districts 3 --rating 3A --with breakers layout.yaml\n  gapwise split --rating 5A --prefer trains,cuts,bus --write split.yaml layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("split takes one layout file: gapwise split FILE")
			}
			return nil
		},
		RunE:              func(c *cobra.Command, args []string) error { return p.split(c.Context(), o, args[0]) },
		ValidArgsFunction: layoutFiles,
	}
	f := c.Flags()
	f.IntVar(&o.districts, "districts", 0, "at most `N` districts; without it the fewest that will do")
	f.StringSliceVar(&o.ratings, "rating", nil, "what each district's booster is rated for, or its breaker trips at: `AMPERES`, or several with commas between, the last for all further ones")
	f.StringVar(&o.margin, "margin", o.margin, "part of its rating that a district leaves free: `PERCENT`; 20 % is common practice, no source")
	f.StringVar(&o.with, "with", o.with, "what each district gets: boosters or breakers; auto takes boosters where the present one is too small or there are several")
	f.StringSliceVar(&o.whole, "whole", o.whole, "what stays together: neighbours of a `USE` of track, or neighbouring blocks by name, with commas between, or none")
	f.StringVar(&o.at, "at", "", "where power comes in: `PLACE`, such as \"M1 @ 3 ft\"; without it the first feeder's")
	f.StringSliceVar(&o.prefer, "prefer", o.prefer, "what ranks first: `TERMS` cuts, trains and bus in your order")
	f.StringVar(&o.trainAmps, "train-amps", "", "what a train without `current` is taken to draw: `AMPERES`")
	f.StringVar(&o.write, "write", "", "write the layout with the division to `OUT`; with includes OUT is a folder")
	f.BoolVar(&o.overwrite, "overwrite", false, "let --write replace what is there")
	f.Int64Var(&o.work, "work", o.work, "bound on each search, in `STEPS`")
	f.StringVar(&o.format, "format", o.format, "`FORMAT` of the result: text or json")
	f.SortFlags = false
	completeFlag(c, "with", oneOf(split.WithWords...))
	completeFlag(c, "format", oneOf("text", "json"))
	return c
}

// ask turns the flags into what is asked, but for the place, which needs the layout.
func (o *splitOptions) ask() (a split.Ask, err error) {
	switch {
	case o.format != "text" && o.format != "json":
		return a, noSuch("format", o.format, []string{"text", "json"})
	case o.districts < 0 || o.districts > split.MostDistricts:
		return a, fmt.Errorf("--districts takes a number from 1 to %d", split.MostDistricts)
	case o.work < 1:
		return a, errors.New("--work takes a number from 1 up")
	case len(o.ratings) > split.MostDistricts:
		return a, fmt.Errorf("--rating takes at most %d ratings", split.MostDistricts)
	}
	a.Districts, a.Work = o.districts, o.work
	if a.With, err = withOf(o.with); err != nil {
		return a, err
	}
	for _, text := range o.ratings {
		amps, err := amperesOf("rating", text)
		if err != nil {
			return a, err
		}
		a.Ratings = append(a.Ratings, amps)
	}
	if o.districts > 0 && len(a.Ratings) > o.districts {
		return a, fmt.Errorf("--rating gives %d ratings for --districts %d", len(a.Ratings), o.districts)
	}
	if o.trainAmps != "" {
		if a.TrainAmps, err = amperesOf("train-amps", o.trainAmps); err != nil {
			return a, err
		}
	}
	if a.Margin, err = partFlag("margin", o.margin); err != nil || a.Margin >= 1 {
		return a, flagValue("margin", o.margin, "a percentage below 100, such as 20 %", nil)
	}
	if len(o.whole) != 1 || o.whole[0] != "none" {
		a.Whole = o.whole
	}
	a.Order, err = orderOf(o.prefer)
	return a, err
}

func withOf(word string) (split.With, error) {
	for w, name := range split.WithWords {
		if name == word {
			return split.With(w), nil
		}
	}
	return 0, noSuch("device", word, split.WithWords)
}

func amperesOf(flag, text string) (float64, error) {
	v, bad := quantity.ParseCurrent(text, source.Pos{})
	if bad != nil || !v.Known() || v.Lo != v.Hi {
		return 0, flagValue(flag, text, "a current such as 5 A", bad)
	}
	return v.Lo, nil
}

// orderOf reads the terms in their order; those not named come behind.
func orderOf(words []string) (order [3]partition.Term, err error) {
	names := []string{partition.Cuts.String(), partition.Trains.String(), partition.Bus.String()}
	var seen [3]bool
	n := 0
	for _, w := range words {
		found := false
		for t, name := range names {
			if name != w {
				continue
			}
			if seen[t] {
				return order, fmt.Errorf("--prefer names %s twice", w)
			}
			found, seen[t] = true, true
			order[n] = partition.Term(t)
			n++
		}
		if !found {
			return order, noSuch("term", w, names)
		}
	}
	for t := range names {
		if !seen[t] {
			order[n] = partition.Term(t)
			n++
		}
	}
	return order, nil
}

// splitting is what became of one layout file.
type splitting struct {
	unread   error
	layout   *layout.Layout
	problems []source.Problem
	answer   *split.Answer
}

func (p *program) split(ctx context.Context, o splitOptions, file string) error {
	a, err := o.ask()
	if err != nil {
		return err
	}
	done := p.progress("dividing " + file)
	r, err := inTime(ctx, func() splitting { return readAndSplit(ctx, file, o.at, a) })
	done()
	var asked *split.AskError
	var place *layout.FindError
	switch {
	case err != nil:
		return err
	case errors.As(r.unread, &asked) || errors.As(r.unread, &place):
		return r.unread
	case r.unread != nil:
		return errors.New(unreadable(file, r.unread))
	case r.answer == nil:
		if err := r.layout.Files.Render(p.err, r.problems); err != nil {
			return err
		}
		return end(exitNotUnderstood)
	}
	v := reports.NewSplitView(file, r.answer)
	if o.format == "json" {
		err = reports.WriteSplitJSON(p.out, v)
	} else {
		text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
		err = text.Split(v)
	}
	if err != nil {
		return writing(err)
	}
	switch {
	case r.answer.Feasible == partition.Unknown:
		return end(exitIncomplete)
	case r.answer.Feasible == partition.Impossible:
		return end(exitFaults)
	}
	if o.write != "" {
		if err := p.writeSplit(r.answer, o); err != nil {
			return err
		}
	}
	switch {
	case len(r.answer.Brought) > 0 || r.answer.Overloaded:
		return end(exitFaults)
	case r.answer.After == nil:
		return end(exitIncomplete)
	}
	return nil
}

func readAndSplit(ctx context.Context, file, at string, a split.Ask) (r splitting) {
	r.layout, r.problems, r.unread = reader.ReadFile(ctx, file, rules.ReaderOptions())
	if r.unread != nil || len(r.problems) > 0 {
		return r
	}
	if at != "" {
		place, err := r.layout.FindPlace(at)
		if err != nil {
			r.unread = err
			return r
		}
		a.At = &place
	}
	report, err := rules.Check(ctx, r.layout, rules.Options{})
	if err != nil {
		r.unread = err
		return r
	}
	r.answer, r.unread = split.Split(ctx, report, a)
	return r
}

// writeSplit writes a copy of the layout with the division in it.
func (p *program) writeSplit(a *split.Answer, o splitOptions) error {
	files, err := a.Save(o.write, o.overwrite)
	if err != nil {
		return notSaved(err)
	}
	for _, f := range files {
		fmt.Fprintln(p.err, "wrote "+source.Safe(f))
	}
	return nil
}
