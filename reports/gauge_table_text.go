package reports

import (
	"bytes"
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/gauge"
	"gapwise/rules/rule"
)

// GaugeTable writes the sizes of wire for one run. The error is the writer's.
func (t Text) GaugeTable(x *gauge.Table) error {
	var b bytes.Buffer
	t.paragraph(&b, "", gaugeTableTitle(x))
	b.WriteByte('\n')
	t.tableChoice(&b, x)
	if len(x.Taken) > 0 {
		heading(&b, "You did not say, so this was taken")
		for _, k := range x.Taken {
			t.paragraph(&b, "- ", k.Name+": "+k.Text+" ("+k.Source+")")
		}
	}
	for _, write := range []func(*bytes.Buffer, *gauge.Table) error{t.tableLosses, t.tableShorts, t.tableReach} {
		if err := write(&b, x); err != nil {
			return err
		}
	}
	heading(&b, "Limits")
	for _, l := range x.Limits {
		t.paragraph(&b, "- ", l.Name+": "+l.Text+" ("+l.Source+")")
	}
	heading(&b, "How to read this")
	for _, line := range gaugeTableNotes(x) {
		t.paragraph(&b, "- ", line)
	}
	b.WriteByte('\n')
	t.paragraph(&b, "", tableSafety)
	return t.flush(&b)
}

const tableSafety = "Read SAFETY.md before you power up. This is arithmetic for one run of sound copper wire in free air: bundles, boxes and scenery make it hotter, and bad joints make shorts weaker."

// gaugeTableTitle says what run the table is for.
func gaugeTableTitle(x *gauge.Table) string {
	what := "Bus"
	if x.Ask.Feeder {
		what = "Feeder"
	}
	laid := "twisted"
	if x.Ask.Laid.Kind == layout.LaidApart {
		laid = x.Ask.Laid.Spacing.String() + " apart"
	}
	return fmt.Sprintf("%s of two wires, %s, %s one way: %s from the booster, trains that draw %s at the far end, a trip of %s", what, laid, x.Ask.Length.Both(), x.Ask.Volts, x.Ask.Amps, quantity.FormatCurrent(x.Trip))
}

func (t Text) tableChoice(b *bytes.Buffer, x *gauge.Table) {
	switch {
	case x.Choice < 0 && len(x.Ask.Sizes) > 0:
		t.paragraph(b, "", "None of these sizes meets every limit.")
	case x.Choice < 0:
		t.paragraph(b, "", "No size that shops keep meets every limit.")
	default:
		t.paragraph(b, "", "Choose "+rule.WireText(x.Rows[x.Choice].Wire)+": the thinnest that meets every limit.")
		t.paragraph(b, "", thinnerText(x, x.Choice))
	}
	if x.Other >= 0 {
		sold := "mm²"
		if x.Ask.Metric {
			sold = "AWG"
		}
		t.paragraph(b, "", "Where wire is sold by "+sold+": "+rule.WireText(x.Rows[x.Other].Wire)+".")
	}
	for _, i := range x.Impossible {
		text := i.Text
		if i.Limit != "" {
			text = i.Limit + ": " + text
		}
		t.paragraph(b, "- ", text)
	}
	if len(x.Remedies) > 0 {
		title := "What would have to give"
		if x.Choice >= 0 {
			title = "What lets the wire be thinner"
		}
		heading(b, title)
		for _, r := range x.Remedies {
			t.paragraph(b, "- ", r.Text+": "+r.Then)
		}
	}
	if r := x.Ringing; r != nil {
		heading(b, "Besides")
		rating := fmt.Sprintf("buy one for %.3g W or more and keep it clear of wood and foam", r.Rating)
		if finite(r.Rating) == nil {
			rating = "no common resistor stands that"
		}
		t.paragraph(b, "- ", fmt.Sprintf("edges of the signal ring on such a run from %s on: put %s and %s in series across its far end, before any detector; the resistor makes %.3g W of heat: %s (%s)", quantity.FormatLength(r.From), quantity.FormatResistance(r.Ohms), quantity.FormatCapacitance(r.Farads), r.Watts, rating, rule.CommonPractice))
	}
}

// thinnerText tells what the next thinner size would break.
func thinnerText(x *gauge.Table, at int) string {
	i := x.Thinner(at)
	if i < 0 {
		return "It is the thinnest in the table."
	}
	text := "One size thinner, " + rule.WireText(x.Rows[i].Wire) + ": "
	for k := range x.Rows[i].Misses {
		m := &x.Rows[i].Misses[k]
		if k > 0 {
			text += "; "
		}
		text += m.Text() + " (" + m.Limit + ")"
	}
	return text + "."
}

// verdictCell is what a size's row ends with.
func verdictCell(r *gauge.Row) []string {
	if r.Passes() {
		return []string{"passes"}
	}
	var out []string
	for i := range r.Misses {
		m := &r.Misses[i]
		switch m.Limit {
		case gauge.LimitShort:
			out = append(out, "no: a short draws "+m.By)
		case gauge.LimitShortDCC:
			out = append(out, "no: under DCC a short draws "+m.By)
		case gauge.LimitWireDrop, gauge.LimitWholeDrop:
			out = append(out, "no: loses "+m.By)
		case gauge.LimitEnergy:
			out = append(out, "no: "+m.Does)
		default:
			out = append(out, "no: "+m.By)
		}
	}
	return out
}

// lossCell is what a size loses, in volts and per cent.
func lossCell(r *gauge.Row) []string {
	if r.DropPart >= 1 {
		return []string{"all of it"}
	}
	return []string{quantity.FormatVoltage(r.Drop), quantity.FormatPercent(100 * r.DropPart)}
}

func (t Text) tableLosses(b *bytes.Buffer, x *gauge.Table) error {
	heading(b, "What each size does")
	var rows [][][]string
	sizes := x.First()
	for i := range sizes {
		r := &sizes[i]
		rows = append(rows, [][]string{
			{rule.WireText(r.Wire)},
			{quantity.FormatResistance(r.Loop.Hi)},
			lossCell(r),
			{quantity.FormatTemperature(r.Celsius)},
			verdictCell(r),
		})
	}
	return writeTable(b, t.Width, []string{"size", "out and back", "loses", "gets warm", "verdict"}, rows)
}

func (t Text) tableShorts(b *bytes.Buffer, x *gauge.Table) error {
	b.WriteByte('\n')
	t.paragraph(b, "", "A short at the far end: the least it draws, and how long wire stands a dead one")
	var rows [][][]string
	sizes := x.First()
	for i := range sizes {
		r := &sizes[i]
		stands := "over 5 s"
		if r.Valid {
			stands = quantity.FormatTime(r.Stands)
		}
		rows = append(rows, [][]string{
			{rule.WireText(r.Wire)},
			{quantity.FormatCurrent(r.Short)},
			{quantity.FormatCurrent(r.Pulsed.MeanAbs)},
			{quantity.FormatCurrent(r.Pulsed.RMS)},
			{quantity.FormatCurrent(r.Pulsed.Peak)},
			{stands + " at " + quantity.FormatCurrent(r.Sudden)},
		})
	}
	return writeTable(b, t.Width, []string{"size", "direct", "DCC mean", "DCC rms", "DCC peak", "stands dead short"}, rows)
}

func (t Text) tableReach(b *bytes.Buffer, x *gauge.Table) error {
	heading(b, "How far each size may go, one way, and its copper")
	length, per := 30.48, "a 100 ft run"
	if x.Ask.Metric {
		length, per = 100, "a 100 m run"
	}
	var rows [][][]string
	sizes := x.First()
	for i := range sizes {
		r := &sizes[i]
		reach := "nowhere: " + r.ReachBy
		if r.Reach > 0 {
			reach = quantity.FormatLength(gauge.Inches(r.Reach)) + ", then " + r.ReachBy
		}
		rows = append(rows, [][]string{{rule.WireText(r.Wire)}, {reach}, {quantity.FormatMass(r.Kilograms)}, {quantity.FormatMass(length * r.PerMetre)}})
	}
	return writeTable(b, t.Width, []string{"size", "may go", "copper of this run", per}, rows)
}

func gaugeTableNotes(x *gauge.Table) []string {
	out := []string{
		"On a layout rails and several feeders carry current too, so a thinner bus may do there: `gapwise gauge FILE` reckons with them.",
		"Length is one way; current goes out by one wire and back by the other, and both are counted.",
		"Losses and weak shorts are of warm wire, a tired booster and a poor short; how long wire stands a dead short is of cold wire and a good booster.",
		"DCC turns its polarity over thousands of times a second, and a short has to climb anew each time against the loop between the two wires: wires close together trip better than thick ones.",
		"Each DCC figure is the least of one bits, zero bits and idle packets (NMRA S-9.1).",
		"Warmth: natural convection and radiation in the warmest air, from memory of the formulas. Past 5 s the formula for a dead short does not hold, and the warmth decides.",
	}
	if x.Ask.Strands == gauge.Solid {
		out = append(out, "Solid: AWG sizes have the copper of their size; mm² sizes keep the most that IEC 60228 allows flexible wire.")
	}
	if x.Ask.Feeder {
		return append(out, "Module standards: feeders of 0.5 mm² (NEM 933/1 CH, section 5), or 22 to 24 AWG, solid (NMRA MRP-1.3).")
	}
	return append(out, "A module standard asks for 1.5 mm² through the module (NEM 933/1 CH, section 5).")
}
