package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/gauge"
)

// gaugeOptions are the flags of gauge as typed.
type gaugeOptions struct {
	format, by, sizes, drop, margin string
	keep                            []string
	loseOne, overwrite, dropSaid    bool
	work                            int
	write                           string
	run                             runOptions
}

func (p *program) gaugeCommand() *cobra.Command {
	o := gaugeOptions{format: "text", by: "", sizes: "typed", drop: "1 V", margin: "25 %"}
	c := &cobra.Command{
		Use:   "gauge [FILE]",
		Short: "choose wire for buses and feeders",
		Long: `Without a layout file, gauge prints what each size of wire does on one run of a
length, one way, and names the thinnest that meets every limit. It takes --volts,
--amps and --length; what else is not said takes a default, which is named.

With a layout file, gauge finds the cheapest sizes of bus and feeder wire with which
the whole layout meets every limit: volts lost at the worst place, a short that
trips what stands before it, by direct current and under DCC, wires that stay cool
and survive until it does. Every bus is one run of wire, and so are the feeders
that hang from it; what one loses the other may not, so all are chosen together.
A wire that is thinner would break a limit: the table says which, where and by how
much. Where something else than thicker wire does better, it is told.

Sizes come from the layout's ` + "`stock`" + ` where it lists any, else from what shops
keep. By copper the lightest choice is sought, by price the cheapest; prices stand
in ` + "`stock`" + `. "Proved" is said only when every cheaper choice was ruled out.

Nothing is changed in your file. --write writes a copy with the sizes in it.

Exit status:
  2  the layout or the command line was not understood, or a file was not read
  1  some limit cannot be met by any size, or the wire chosen brings a fault or
     a caution elsewhere
  3  nothing was found before the bound on work was reached, or the layout does
     not say what decides some limit
  0  otherwise`,
		Example: "  gapwise gauge --volts 15 --amps 5 --length 40ft\n  gapwise gauge --volts 15 --amps 3 --length 12m --trip 5A --twisted --sizes \"2.5 mm², 4 mm²\"\n  gapwise gauge layout.yaml\n  gapwise gauge --by price layout.yaml\n  gapwise gauge --drop 5% --margin 50% --lose-one layout.yaml\n  gapwise gauge --write wired.yaml layout.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return errors.New("gauge takes one layout file: gapwise gauge FILE")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			alone := o.run.given(c.Flags())
			switch {
			case len(args) == 1 && len(alone) > 0:
				return fmt.Errorf("--%s is for a run of wire without a layout file; the file says it for each wire", alone[0])
			case len(args) == 1:
				return p.gauge(c.Context(), o, args[0])
			case len(alone) == 0:
				return errors.New("gauge takes a layout file, or a run of wire: gapwise gauge FILE, or gapwise gauge --volts 15 --amps 5 --length 40ft")
			}
			if f := firstChanged(c.Flags(), "by", "lose-one", "keep", "write", "overwrite", "work"); f != "" {
				return fmt.Errorf("--%s needs a layout file", f)
			}
			o.dropSaid = c.Flags().Changed("drop")
			return p.gaugeRun(c.Context(), o)
		},
		ValidArgsFunction: layoutFiles,
	}
	f := c.Flags()
	f.StringVar(&o.by, "by", o.by, "what is cheapest: copper or price; price where `stock` has one for every size")
	f.StringVar(&o.sizes, "sizes", o.sizes, "`SIZES` to choose from: typed (as each wire is now), awg, metric, or a list such as \"12 AWG, 14 AWG\"")
	f.StringVar(&o.drop, "drop", o.drop, "the most that wire alone may lose: `VOLTS`, a percentage of the source's, or none")
	f.StringVar(&o.margin, "margin", o.margin, "how much more than its trip a short has to draw: `PERCENT`")
	f.BoolVar(&o.loseOne, "lose-one", false, "a short has to trip even when any one feeder has broken")
	f.StringSliceVar(&o.keep, "keep", nil, "leave a bus as it is: `BUS`, or several with commas between; \"feeders of BUS\" for its feeders")
	f.StringVar(&o.write, "write", "", "write the layout with the sizes chosen to `OUT`; with includes OUT is a folder")
	f.BoolVar(&o.overwrite, "overwrite", false, "let --write replace what is there")
	f.IntVar(&o.work, "work", 0, "bound on the search of one source, in `LOOKS` at a choice; 0 takes 15000, or fewer for a large one")
	f.StringVar(&o.format, "format", o.format, "`FORMAT` of the result: text or json")
	o.run.flags(f)
	f.SortFlags = false
	completeFlag(c, "by", oneOf("copper", "price"))
	completeFlag(c, "sizes", oneOf("typed", "awg", "metric"))
	completeFlag(c, "format", oneOf("text", "json"))
	return c
}

// ask turns the flags into what is asked.
func (o *gaugeOptions) ask() (a gauge.Ask, err error) {
	a.Keep, a.LoseOne, a.Work = o.keep, o.loseOne, o.work
	switch o.sizes {
	case "typed":
	case "awg":
		a.System = gauge.AWG
	case "metric":
		a.System = gauge.Metric
	default:
		if !strings.ContainsAny(o.sizes, "0123456789") {
			return a, noSuch("system of sizes", o.sizes, []string{"typed", "awg", "metric"})
		}
		for text := range strings.SplitSeq(o.sizes, ",") {
			w, bad := quantity.ParseWire(strings.TrimSpace(text), source.Pos{})
			if bad != nil || !w.Known() || w.Lo != w.Hi {
				return a, flagValue("sizes", o.sizes, "sizes such as 12 AWG, 2.5 mm²", bad)
			}
			a.Sizes = append(a.Sizes, w)
		}
	}
	switch {
	case o.format != "text" && o.format != "json":
		return a, noSuch("format", o.format, []string{"text", "json"})
	case o.by != "" && o.by != "copper" && o.by != "price":
		return a, noSuch("measure", o.by, []string{"copper", "price"})
	case o.work < 0:
		return a, errors.New("--work takes a number from 0 up")
	}
	if o.drop != "none" {
		if a.WireDrop, a.Relative, err = voltsOrPart("drop", o.drop); err != nil {
			return a, err
		}
	}
	a.Margin, err = partFlag("margin", o.margin)
	return a, err
}

// partFlag reads a percentage as a part of one; 0 is one.
func partFlag(flag, text string) (float64, error) {
	if strings.Trim(text, " %") == "0" {
		return 0, nil
	}
	m, bad := quantity.ParsePercent(text, source.Pos{})
	if bad != nil || !m.Known() || m.Lo != m.Hi {
		return 0, flagValue(flag, text, "a percentage such as 25 %", bad)
	}
	return m.Lo / 100, nil
}

// voltsOrPart reads volts, or a percentage as a part of one.
func voltsOrPart(flag, text string) (value float64, relative bool, err error) {
	if strings.HasSuffix(strings.TrimSpace(text), "%") {
		v, bad := quantity.ParsePercent(text, source.Pos{})
		if bad != nil || !v.Known() || v.Hi <= 0 {
			return 0, false, flagValue(flag, text, "a percentage such as 5 %, above 0", bad)
		}
		return v.Hi / 100, true, nil
	}
	v, bad := quantity.ParseVoltage(text, source.Pos{})
	if bad != nil || !v.Known() || v.Hi <= 0 {
		return 0, false, flagValue(flag, text, "volts such as 1 V, above 0", bad)
	}
	return v.Hi, false, nil
}

// flagValue refuses the value of a flag.
func flagValue(flag, text, expected string, bad *quantity.Error) error {
	if bad != nil {
		return fmt.Errorf("--%s does not take %q: %s; expected %s", flag, text, bad.Message, expected)
	}
	return fmt.Errorf("--%s does not take %q; expected %s", flag, text, expected)
}

// gauging is what became of one layout file.
type gauging struct {
	unread   error
	refused  error // what was asked does not fit the layout
	layout   *layout.Layout
	problems []source.Problem
	choice   *gauge.Choice
}

func (p *program) gauge(ctx context.Context, o gaugeOptions, file string) error {
	a, err := o.ask()
	if err != nil {
		return err
	}
	done := p.progress("choosing wire for " + file)
	r, err := inTime(ctx, func() gauging { return readAndGauge(ctx, file, o.by, a) })
	done()
	switch {
	case err != nil:
		return err
	case r.unread != nil:
		return errors.New(unreadable(file, r.unread))
	case r.refused != nil:
		return r.refused
	case r.choice == nil:
		if err := r.layout.Files.Render(p.err, r.problems); err != nil {
			return err
		}
		return end(exitNotUnderstood)
	}
	v := reports.NewGaugeView(file, r.choice)
	if o.format == "json" {
		err = reports.WriteGaugeJSON(p.out, v)
	} else {
		text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
		err = text.Gauge(v)
	}
	if err != nil {
		return writing(err)
	}
	if o.write != "" {
		if err := p.writeWires(r.choice, o); err != nil {
			return err
		}
	}
	switch {
	case v.Met:
		return nil
	case v.GaveUp && !v.Found, len(v.Brought) == 0 && !v.Broken():
		return end(exitIncomplete)
	}
	return end(exitFaults)
}

func readAndGauge(ctx context.Context, file, by string, a gauge.Ask) (r gauging) {
	r.layout, r.problems, r.unread = reader.ReadFile(ctx, file, rules.ReaderOptions())
	if r.unread != nil || len(r.problems) > 0 {
		return r
	}
	report, err := rules.Check(ctx, r.layout, rules.Options{})
	if err != nil {
		r.unread = err
		return r
	}
	if r.refused = keepsWhat(r.layout, a.Keep); r.refused != nil {
		return r
	}
	a.ByPrice = by == "price" || by == "" && gauge.AllPriced(r.layout)
	if by == "price" && !gauge.AnyPriced(r.layout) {
		r.refused = errors.New("the layout's `stock` has no prices; write them as stock: {bus: [{wire: 14 AWG, price: 18.50, per: 100 ft}]}")
		return r
	}
	r.choice, r.unread = gauge.Choose(ctx, report, a)
	return r
}

// notSaved says why a layout was not written, and what lets it be.
func notSaved(err error) error {
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%w; --overwrite lets it be replaced", err)
	}
	return err
}

// keepsWhat refuses a name to keep that is of nothing.
func keepsWhat(l *layout.Layout, keep []string) error {
	var names []string
	for i := range l.Buses {
		names = append(names, l.Buses[i].Name, "feeders of "+l.Buses[i].Name)
	}
	for _, k := range keep {
		if !slices.Contains(names, k) {
			return noSuch("bus to keep", source.Safe(k), names)
		}
	}
	return nil
}

// writeWires writes a copy of the layout with the sizes chosen.
func (p *program) writeWires(c *gauge.Choice, o gaugeOptions) error {
	w := amend.New(c.Layout, rules.ReaderOptions())
	c.Amend(w)
	files, err := w.Save(o.write, o.overwrite)
	if err != nil {
		return notSaved(err)
	}
	for _, f := range files {
		fmt.Fprintln(p.err, "wrote "+source.Safe(f))
	}
	return nil
}
