package reports

import (
	"bytes"
	"fmt"
	"strings"

	"gapwise/netlist/network"
	"gapwise/netlist/quantity"

	"gapwise/rules/gauge"
)

// usualFeeder is what a feeder of unknown length is reckoned at.
var usualFeeder = quantity.FormatLength(network.UsualFeederMetres.Mid())

// Gauge writes a choice of wire. The error is the writer's.
func (t Text) Gauge(v *GaugeView) error {
	var b bytes.Buffer
	t.paragraph(&b, "", fmt.Sprintf("%s: wire chosen by %s, for each source by itself", v.Name, v.By))
	for _, n := range v.Notes {
		t.paragraph(&b, "- ", n)
	}
	for i := range v.Heads {
		if err := t.gaugeHead(&b, v, &v.Heads[i]); err != nil {
			return err
		}
	}
	heading(&b, "Limits that the wire was held against")
	for _, l := range v.Limits {
		t.paragraph(&b, "- ", l.Limit+": "+l.Text+" ("+l.Source+")")
	}
	if len(v.Undecided) > 0 {
		heading(&b, "Not decided")
		for _, u := range v.Undecided {
			t.paragraph(&b, "- ", u)
		}
	}
	if len(v.Brought) > 0 {
		heading(&b, "With this wire a check of the whole layout finds besides")
		for _, f := range v.Brought {
			t.paragraph(&b, "- ", f)
		}
	}
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}

// GaugeLimit writes what one limit of a choice of wire asks. The error is the writer's.
func (t Text) GaugeLimit(l gauge.Limit) error {
	var b bytes.Buffer
	t.paragraph(&b, "", l.Name+", a limit that `gapwise gauge` holds wire against: "+l.Text+".")
	t.paragraph(&b, "source: ", l.Source)
	return t.flush(&b)
}

func (t Text) gaugeHead(b *bytes.Buffer, v *GaugeView, h *GaugeHead) error {
	b.WriteByte('\n')
	t.paragraph(b, "", h.Source+": "+h.headline())
	if len(h.Wires) > 0 {
		b.WriteByte('\n')
		var rows [][][]string
		for i := range h.Wires {
			w := &h.Wires[i]
			length := []string{w.length}
			if w.Unsaid > 0 {
				length = append(length, fmt.Sprintf("%d of unknown length at %s", w.Unsaid, usualFeeder))
			}
			rows = append(rows, [][]string{{w.Wire}, length, {orDash(w.Present)}, {orDash(w.Choice)}, {w.cost}, {w.why}})
		}
		if err := writeTable(b, t.Width, []string{"wire", "single wire", "as it is", "choose", v.By, "one size thinner would"}, rows); err != nil {
			return err
		}
	}
	t.falls(b, "No size meets, and those chosen neither", h.Never)
	t.falls(b, "The wire as it is does not meet", h.Lacks)
	if len(h.Instead) > 0 {
		heading(b, "Instead of thicker wire")
		for i := range h.Instead {
			o := &h.Instead[i]
			text := o.Text + ": " + o.cost + " in all"
			if o.Mends > 0 {
				text += fmt.Sprintf(", and %s met that no size meets now", counted(o.Mends, "limit is", "limits are"))
			}
			if len(o.Wires) > 0 {
				text += ", with " + strings.Join(o.Wires, ", ")
			}
			t.paragraph(b, "- ", text)
		}
	}
	if len(h.Kept) > 0 {
		heading(b, "Not chosen")
		for _, k := range h.Kept {
			t.paragraph(b, "- ", k.Wire+": "+k.Why)
		}
	}
	return nil
}

func (t Text) falls(b *bytes.Buffer, title string, falls []GaugeFalls) {
	if len(falls) == 0 {
		return
	}
	heading(b, title)
	for i := range falls {
		f := &falls[i]
		text := f.Limit + ": " + f.Text
		if f.Bound != "" {
			text += "; " + f.Bound
			if f.Source != "" {
				text += " (" + f.Source + ")"
			}
		}
		t.paragraph(b, "- ", text)
		if f.Advice != "" {
			t.paragraph(b, "  what else mends it: ", f.Advice)
		}
	}
}
