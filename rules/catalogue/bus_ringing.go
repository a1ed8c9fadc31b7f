package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
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
		What:    "For owners who list the practice. A bus so long that edges of the DCC signal run to its end and back while they still rise rings at an open end. Its own inductance and capacitance say from which length, and which resistor and capacitor across its far end quiet it. Only the bus's own length counts, and buses that return to a tap or carry one leg are left out. The watts are those that the resistor really turns into heat under DCC, and its rating twice that. Of a network that is there already the heat is told, as a note, where a resistor for 1/2 W (twice the heat) would not do.",
		Why:     "Peaks of ringing confuse decoders, and may be too high for some.",
		Fix:     "Put the resistor and the capacitor in series across the far end of the bus, before any detector, where air can reach them: the resistor gets hot.",
		Example: "buses:\n  main: {from: booster front, wire: 14 AWG, laid: twisted, length: 60 ft}\npractice: [long-buses-terminated]",
	},
	Sources: []string{
		rule.CommonPractice,
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
	hotNetworks(c)
	for i := range c.L.Buses {
		b := &c.L.Buses[i]
		if b.Use != layout.BusTrack || b.Legs != layout.LegsBoth || b.Returns.Bus >= 0 {
			continue
		}
		source, _ := c.C.SourceAbove(b.From)
		h := c.Power.HeadOf(source)
		switch {
		case h == nil || c.C.Sources[h.Source].Kind != circuit.BoosterSource:
			continue
		case !h.Known():
			c.LeaveOpen("whether bus "+b.Name+" is long enough to ring", "the volts of its booster are not known, or its wiring could not be computed", b.Pos)
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
			Fix:   fmt.Sprintf("put %s across its far end, before any detector; the resistor makes %.3g W at %s: %s, and keep it clear of wood and foam", part, t.Watts, quantity.FormatVoltage(h.Volts.Hi), rating),
			Mends: networkMends(c, int32(i), t.Snubber, fmt.Sprintf("%.3g W at %s: %s", t.Watts, quantity.FormatVoltage(h.Volts.Hi), rating)),
		})
	}
}

// smallRating is the resistor that is at hand everywhere, in watts. Common practice, no source.
const smallRating = 0.5

// hotNetworks tells the heat of networks that hang from the buses of boosters already.
func hotNetworks(c *rule.Case) {
	for i := range c.L.Terminators {
		t := &c.L.Terminators[i]
		if t.OnRail || t.Tap.Bus < 0 {
			continue
		}
		source, _ := c.C.SourceAbove(c.L.Buses[t.Tap.Bus].From)
		h := c.Power.HeadOf(source)
		if h == nil || !h.Known() || c.C.Sources[h.Source].Kind != circuit.BoosterSource {
			continue
		}
		if !t.Resistance.Known() || !t.Capacitance.Known() {
			c.LeaveOpen("how hot the network at "+t.Tap.Text+" gets", "the layout does not say both its ohms and its farads", t.Pos)
			continue
		}
		watts := dcc.Snubber{Ohms: t.Resistance.Lo, Farads: t.Capacitance.Hi}.Watts(h.Volts.Hi, dcc.OneHalf)
		rating := dcc.Rating(watts)
		if rating <= smallRating {
			continue
		}
		fix := fmt.Sprintf("see that its resistor is one for %.3g W or more, and keep it clear of wood and foam", rating)
		if !finite(rating) {
			fix = "take more ohms or fewer farads: no common resistor stands that"
		}
		c.Report(finding.Finding{
			Severity: finding.Note,
			Pos:      t.Pos,
			Place:    finding.Place{Text: "bus " + t.Tap.Text},
			Message:  fmt.Sprintf("the resistor of the network at %s turns %.3g W into heat under DCC at %s", t.Tap.Text, watts, quantity.FormatVoltage(h.Volts.Hi)),
			Why:      "a small resistor scorches, and what it touches with it",
			Numbers:  []finding.Number{{Name: "heat of the resistor", Text: fmt.Sprintf("%.3g W", watts), SI: watts, Unit: "W", Limit: fmt.Sprintf("at most %.3g W, half of what a resistor for %.3g W stands", smallRating/2, smallRating), Source: rule.CommonPractice}},
			Fix:      fix,
			Mends:    coolerMends(c, int32(i), h.Volts.Hi),
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
