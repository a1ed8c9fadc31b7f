package main

import (
	"context"
	"strings"

	"github.com/spf13/pflag"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules/gauge"
)

// runOptions are the flags of gauge that describe a run of wire without a layout, as typed.
type runOptions struct {
	volts, amps, length, trip, tripTime, spacing, ambient, inside, short string
	twisted, solid, metric, feeder                                       bool
}

// runFlags are their names.
var runFlags = []string{"volts", "amps", "length", "trip", "trip-time", "spacing", "twisted", "ambient", "inside", "short", "solid", "metric", "feeder"}

func (o *runOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.volts, "volts", "", "without a file: what the booster gives, `VOLTS`")
	f.StringVar(&o.amps, "amps", "", "without a file: what trains draw at the far end, `AMPERES`")
	f.StringVar(&o.length, "length", "", "without a file: `LENGTH` of the run, one way")
	f.StringVar(&o.trip, "trip", "", "without a file: `AMPERES` at which the booster or breaker trips")
	f.StringVar(&o.tripTime, "trip-time", "", "without a file: `TIME` it takes for that")
	f.StringVar(&o.spacing, "spacing", "", "without a file: how far apart the two wires lie, `LENGTH` from middle to middle")
	f.BoolVar(&o.twisted, "twisted", false, "without a file: the two wires are twisted")
	f.StringVar(&o.ambient, "ambient", "", "without a file: `TEMPERATURE` of the room")
	f.StringVar(&o.inside, "inside", "", "without a file: `RESISTANCE` inside the booster")
	f.StringVar(&o.short, "short", "", "without a file: `RESISTANCE` of the short itself")
	f.BoolVar(&o.solid, "solid", false, "without a file: solid wire, not stranded")
	f.BoolVar(&o.metric, "metric", false, "without a file: sizes in mm² first")
	f.BoolVar(&o.feeder, "feeder", false, "without a file: the run is a feeder, not a bus")
}

// given lists those that were given.
func (o *runOptions) given(f *pflag.FlagSet) []string {
	var out []string
	for _, name := range runFlags {
		if f.Changed(name) {
			out = append(out, name)
		}
	}
	return out
}

// firstChanged is the first of some flags that was given, "" for none.
func firstChanged(f *pflag.FlagSet, names ...string) string {
	for _, name := range names {
		if f.Changed(name) {
			return name
		}
	}
	return ""
}

// measuredFlag reads a quantity; a number alone has the unit.
func measuredFlag[T any](errs *error, flag, text, unit, expected string, read func(string, source.Pos) (T, *quantity.Error)) (v T) {
	if text == "" || *errs != nil {
		return v
	}
	if unit != "" && strings.Trim(text, "0123456789. ") == "" {
		text += " " + unit
	}
	v, bad := read(text, source.Pos{})
	if bad != nil {
		*errs = flagValue(flag, text, expected, bad)
	}
	return v
}

// runAsk turns the flags of a run into what is asked.
func (o *gaugeOptions) runAsk() (a gauge.TableAsk, err error) {
	r := &o.run
	a.Volts = measuredFlag(&err, "volts", r.volts, "V", "volts such as 15 V", quantity.ParseVoltage)
	a.Amps = measuredFlag(&err, "amps", r.amps, "A", "amperes such as 5 A", quantity.ParseCurrent)
	a.Length = measuredFlag(&err, "length", r.length, "", "a length such as 40 ft or 12 m", quantity.ParseLength)
	a.Trip = measuredFlag(&err, "trip", r.trip, "A", "amperes such as 5 A", quantity.ParseCurrent)
	a.TripTime = measuredFlag(&err, "trip-time", r.tripTime, "", "a time such as 40 ms", quantity.ParseTime)
	a.Ambient = measuredFlag(&err, "ambient", r.ambient, "", "a temperature such as 25 °C or 77 °F", quantity.ParseTemperature)
	a.Inside = measuredFlag(&err, "inside", r.inside, "Ω", "a resistance such as 0.1 Ω", quantity.ParseResistanceFromZero)
	a.Short = measuredFlag(&err, "short", r.short, "Ω", "a resistance such as 0.1 .. 0.5 Ω", quantity.ParseResistanceFromZero)
	spacing := measuredFlag(&err, "spacing", r.spacing, "", "a length such as 2 in", quantity.ParseLength)
	switch {
	case err != nil:
		return a, err
	case r.twisted && r.spacing != "":
		return a, flagValue("spacing", r.spacing, "either --twisted or --spacing", nil)
	case r.twisted:
		a.Laid = layout.Laid{Kind: layout.LaidTwisted}
	case spacing.Known():
		a.Laid = layout.Laid{Kind: layout.LaidApart, Spacing: spacing}
	}
	if r.solid {
		a.Strands = gauge.Solid
	}
	a.Metric, a.Feeder = r.metric, r.feeder
	limits, err := o.ask()
	if err != nil {
		return a, err
	}
	a.Margin, a.Sizes = limits.Margin, limits.Sizes
	a.Metric = a.Metric || limits.System == gauge.Metric
	if o.dropSaid {
		a.WireDrop, a.Relative = limits.WireDrop, limits.Relative
		if limits.WireDrop == 0 {
			return a, flagValue("drop", o.drop, "volts or a percentage, for a run without a file", nil)
		}
	}
	return a, nil
}

// gaugeRun prints the sizes for one run of wire.
func (p *program) gaugeRun(ctx context.Context, o gaugeOptions) error {
	a, err := o.runAsk()
	if err != nil {
		return err
	}
	t, err := gauge.NewTable(ctx, a)
	if err != nil {
		return err
	}
	if o.format == "json" {
		err = reports.WriteGaugeTableJSON(p.out, t)
	} else {
		text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
		err = text.GaugeTable(t)
	}
	switch {
	case err != nil:
		return writing(err)
	case t.Choice < 0:
		return end(exitFaults)
	}
	return nil
}
