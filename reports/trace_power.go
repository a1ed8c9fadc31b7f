package reports

import (
	"context"
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/rule"
)

// worthLine is the part of a loop that is worth a line of its own.
const worthLine = 0.005

// powerLines tells a place in volts and amperes: the loop a short there closes, what it draws as direct
// current and under DCC, what trains there lose, and what each part of the way adds.
func powerLines(c *rule.Case, place layout.Place) []Line {
	var out []Line
	add := func(indent int, format string, args ...any) {
		out = append(out, Line{indent, false, fmt.Sprintf(format, args...)})
	}
	p, ok := c.Power.PointOf(place)
	if !ok {
		add(1, "volts and amperes: not computed here, where no source of known volts has a leg in each rail")
		return out
	}
	h := p.Head
	for i, s := range c.Settings(p.Settings) {
		word := "set so: "
		if i > 0 {
			word = "and "
		}
		add(1, "%s%s", word, s)
	}
	add(1, "the loop from %s, out and back: %s", c.C.Sources[h.Source].Name, rule.RangeText(p.Loop, quantity.FormatResistance))
	trips := ""
	if at := h.Passes(p.Guard); finite(at) != nil {
		trips = fmt.Sprintf("; what stands before it trips at %s", quantity.FormatCurrent(at))
	}
	add(1, "a short here draws %s, its own %s counted%s", rule.RangeText(p.Short, quantity.FormatCurrent), rule.RangeText(c.Power.Short, quantity.FormatResistance), trips)
	if pulsed, err := p.Pulsed(context.Background()); err == nil {
		add(2, "under DCC, at the least: peak %s, mean %s, rms %s (%s µH in the loop)", quantity.FormatCurrent(pulsed.Short.Peak), quantity.FormatCurrent(pulsed.Short.MeanAbs), quantity.FormatCurrent(pulsed.Short.RMS), quantity.FormatCount(pulsed.Henries*1e6))
	}
	if volts, amps := p.DropAt(); amps > 0 {
		add(1, "every train that may move at once, here: %s, and at most %s of %s lost, source and detectors included", quantity.FormatCurrent(amps), quantity.FormatVoltage(volts), quantity.FormatVoltage(h.Volts.Lo))
	}
	add(1, "what the loop is made of, at its highest:")
	add(2, "%s  %s itself", quantity.FormatResistance(h.Inside.Hi), c.C.Sources[h.Source].Name)
	parts := c.Parts(&p)
	for i, q := range parts {
		if q.Ohms < worthLine*p.Loop.Hi {
			add(2, "and %d more with less than %s of it each", len(parts)-i, quantity.FormatPercent(100*worthLine))
			break
		}
		wire := ""
		if w, is := c.CulpritWire(q.Culprit); is && w.Known() {
			wire = ", " + rule.WireText(w)
		}
		if q.Missing != "" {
			wire += ", its " + q.Missing + " is not said"
		}
		add(2, "%s  %s%s", quantity.FormatResistance(q.Ohms), c.CulpritName(q.Culprit), wire)
	}
	return out
}
