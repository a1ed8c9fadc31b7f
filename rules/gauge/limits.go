package gauge

import (
	"fmt"
	"slices"

	"gapwise/netlist/quantity"

	"gapwise/rules/catalogue"
	"gapwise/rules/rule"
)

// Limit is one limit that wire is held against, in words.
type Limit struct{ Name, Text, Source string }

// LimitByName is one of the limits that only a choice of wire knows, as it is asked for by itself.
func LimitByName(name string) (Limit, bool) {
	for _, l := range Limits(&Ask{WireDrop: DefaultWireDrop, Margin: DefaultMargin, LoseOne: true}) {
		if l.Name == name {
			return l, true
		}
	}
	return Limit{}, false
}

// Judging are the rules of a check that wire is held against besides.
func Judging() []string { return slices.Clone(judging) }

// Limits are those that an Ask holds wire against.
func Limits(a *Ask) []Limit {
	var out []Limit
	if a.WireDrop > 0 {
		l := Limit{"wire-drop", "buses and feeders alone may lose " + quantity.FormatVoltage(a.WireDrop), "yours"}
		switch {
		case a.Relative:
			l.Text = fmt.Sprintf("buses and feeders alone may lose %s of the source's volts", quantity.FormatPercent(100*a.WireDrop))
		case a.WireDrop == DefaultWireDrop:
			l.Source = WireDropSource
		}
		l.Text += ", with every train that may move at once at the worst point: what the same track would lose less with wire of no resistance"
		out = append(out, l)
	}
	out = append(out, Limit{"whole-drop", fmt.Sprintf("wires, joints and rails together may lose %s of the source's volts anywhere, at their best, from the two heaviest trains", quantity.FormatPercent(catalogue.MostDrop)), catalogue.MostDropSource})
	if a.Margin > 0 {
		l := Limit{"short-margin", fmt.Sprintf("a short anywhere has to draw %s more than what trips, with every resistance high, hot, and a poor short", quantity.FormatPercent(100*a.Margin)), "yours"}
		if a.Margin == DefaultMargin {
			l.Source = rule.CommonPractice
		}
		out = append(out, l, Limit{"short-margin-dcc", "the same in the mean under the DCC waveform", l.Source})
	}
	if a.LoseOne {
		out = append(out, Limit{"feeder-lost", "a short anywhere has to trip when any one feeder has broken", "yours"})
	}
	return out
}
