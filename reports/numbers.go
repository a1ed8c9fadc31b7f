package reports

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"gapwise/netlist/conductor"
	"gapwise/netlist/quantity"

	"gapwise/rules"
	"gapwise/rules/rule"
)

// Numbers tells how volts and amperes are made, and what is assumed where a layout does not say. The error is the writer's.
func (t Text) Numbers() error {
	var b bytes.Buffer
	t.paragraph(&b, "", "How the numbers are made: formulas, where they come from, and how far they hold. All of it is arithmetic on what the layout file says; a meter has the last word.")
	for _, m := range rules.Numbers() {
		heading(&b, m.Title)
		t.paragraph(&b, "", m.Text)
		for _, f := range m.Formula {
			t.paragraph(&b, "    ", f)
		}
		t.part(&b, "source", m.Source)
		t.part(&b, "holds", m.Holds)
	}
	heading(&b, "What is taken where the layout does not say")
	var rows [][][]string
	for _, v := range rules.Assumed() {
		rows = append(rows, [][]string{{v.What}, {valueText(v)}, {v.Source}})
	}
	if err := writeTable(&b, t.Width, []string{"of", "value", "source"}, rows); err != nil {
		return err
	}
	return t.flush(&b)
}

// NumbersPage writes the same as Markdown. The error is the writer's.
func NumbersPage(w io.Writer) error {
	var b strings.Builder
	for _, m := range rules.Numbers() {
		fmt.Fprintf(&b, "**%s.** %s\n\n", m.Title, m.Text)
		for _, f := range m.Formula {
			fmt.Fprintf(&b, "    %s\n", f)
		}
		fmt.Fprintf(&b, "\nSource: %s. Holds %s.\n\n", m.Source, m.Holds)
	}
	b.WriteString("| where the layout does not say: of | value | source |\n| --- | --- | --- |\n")
	for _, v := range rules.Assumed() {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", cell(v.What), cell(valueText(v)), cell(v.Source))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// valueText is a value of the tables with its unit.
func valueText(v conductor.Value) string {
	one := func(x float64) string {
		switch v.Unit {
		case "Ω":
			return quantity.FormatResistance(x)
		case "V":
			return quantity.FormatVoltage(x)
		case "°C":
			return quantity.FormatTemperature(x)
		default:
			return strings.TrimSpace(fmt.Sprintf("%.4g %s", x, v.Unit))
		}
	}
	return rule.RangeText(v.Range, one)
}
