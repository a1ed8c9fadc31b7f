package catalogue

import (
	"fmt"

	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var busRinging = rule.Rule{
	ID:         "bus-ringing",
	Severity:   finding.Caution,
	Practice:   "long-buses-terminated",
	OnlyListed: true,
	Title:      "a long bus without a terminating network",
	Doc: rule.Doc{
		What:    "For owners who list the practice. A bus so long that edges of the DCC signal run to its end and back while they still rise rings at an open end. Its own inductance and capacitance say from which length, and which resistor and capacitor across its far end quiet it. The watts are those that the resistor really turns into heat under DCC, and its rating twice that.",
		Why:     "Peaks of ringing confuse decoders, and may be too high for some.",
		Fix:     "Put the resistor and the capacitor in series across the far end of the bus, before any detector, where air can reach them: the resistor gets hot.",
		Example: "buses:\n  main: {from: booster front, wire: 14 AWG, laid: twisted, length: 60 ft}\npractice: [long-buses-terminated]",
	},
	Sources: []string{
		"surge resistance and travel time from inductance and capacitance: any text on transmission lines",
		"six travel times in an edge of 0.3 µs, 100 Ω with 0.1 µF, a rating of twice the heat: " + rule.CommonPractice,
		"heat of the resistor, 4 f C V² tanh(T/2RC): derived",
	},
}

func init() { busRinging.Check = checkBusRinging }

func checkBusRinging(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	for i := range c.L.Buses {
		b := &c.L.Buses[i]
		if b.Use != layout.BusTrack || b.Legs != layout.LegsBoth || b.Returns.Bus >= 0 {
			continue
		}
		source, _ := c.C.SourceAbove(b.From)
		h := c.Power.HeadOf(source)
		switch {
		case h == nil || !h.Known():
			continue
		case !b.Length.Known() || !b.Wire.Known():
			c.LeaveOpen("whether bus "+b.Name+" is long enough to ring", "the layout does not say its length or wire", b.Pos)
			continue
		}
		l, f := conductor.LaidInductance(b.Wire, b.Laid), conductor.LaidCapacitance(b.Wire, b.Laid)
		pair := dcc.Pair{Henries: l.Mid(), Farads: f.Mid()}
		from := pair.RingsFrom(dcc.FastEdge)
		if b.Length.Hi <= from || terminated(c, int32(i)) {
			continue
		}
		t := dcc.Terminate(pair.SurgeOhms(), h.Volts.Hi)
		part := fmt.Sprintf("%s and %s in series", quantity.FormatResistance(t.Ohms), quantity.FormatCapacitance(t.Farads))
		rating := "no common resistor stands that"
		if finite(t.Rating) {
			rating = fmt.Sprintf("take one for %.3g W", t.Rating)
		}
		length := b.Length.Both()
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      b.Pos,
			Place:    finding.Place{Text: "bus " + b.Name},
			Message:  fmt.Sprintf("bus %s is %s long and ends open: edges of the signal ring on it from %s on", b.Name, length, quantity.FormatLength(from)),
			Why:      "peaks of ringing confuse decoders",
			Numbers: []finding.Number{
				{Name: "length", Text: length, SI: b.Length.Hi, Unit: "m", Limit: "at most " + quantity.FormatLength(from) + " without a network", Source: rule.CommonPractice},
				{Name: "heat of the resistor", Text: fmt.Sprintf("%.3g W", t.Watts), SI: t.Watts, Unit: "W"},
			},
			Fix: fmt.Sprintf("put %s across its far end, before any detector; the resistor makes %.3g W at %s: %s, and keep it clear of wood and foam", part, t.Watts, quantity.FormatVoltage(h.Volts.Hi), rating),
		})
	}
}

// terminated reports whether a network hangs in the last fifth of a bus.
func terminated(c *rule.Case, bus int32) bool {
	for i := range c.L.Terminators {
		t := &c.L.Terminators[i]
		if !t.OnRail && t.Tap.Bus == bus && t.Tap.At.Known() && t.Tap.At.Hi >= 0.8*c.L.Buses[bus].Length.Mid() {
			return true
		}
	}
	return false
}
