package catalogue

import (
	"fmt"

	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var falseOccupancy = rule.Rule{
	ID:       "false-occupancy",
	Severity: finding.Caution,
	Title:    "a detector sees current with nothing on its track",
	Doc: rule.Doc{
		What:    "With no train about, a detector still carries what the wires and rails behind it pass as capacitors under DCC, what a terminating network inside its block draws, and lamps or other loads there. Where that is more than the current of the largest resistance it sees, even with everything at its favourable end, it shows the block occupied for ever. What only the careful end would do is listed as not checked, and so is a detector that does not say what it `sees`, or has something behind it of which the layout does not say enough.",
		Why:     "Signals stay red and trains are held for a block that is empty.",
		Fix:     "Hang terminating networks and lights before the detector, keep the wires of its leg short and apart from the other leg, or set it less sensitive.",
		Example: "terminators:\n  - {at: M1 @ 4 ft, resistance: 100 Ω, capacitance: 0.1 µF}   # inside a block whose detector sees 12 kΩ",
	},
	Sources: []string{"current of a capacitance 4 V C f, of a network 4 V C f tanh(T/2RC): derived, one bits of NMRA S-9.1", "how near wires lie, where the layout does not say: " + rule.CommonPractice},
}

func init() { falseOccupancy.Check = checkFalseOccupancy }

func checkFalseOccupancy(c *rule.Case) {
	unsaid, first := 0, int32(-1)
	for _, h := range c.Power.Heads {
		if !h.Known() {
			continue
		}
		for _, s := range h.Sensed() {
			d := &c.L.Detectors[s.Detector]
			if !d.Sees.Known() {
				if unsaid++; unsaid == 1 {
					first = s.Detector
				}
				continue
			}
			falselyOccupied(c, &s)
		}
	}
	if unsaid > 0 {
		what := fmt.Sprintf("whether %d detectors see what their own wires pass, the first of them detector %s", unsaid, c.L.Detectors[first].Name)
		if unsaid == 1 {
			what = "whether detector " + c.L.Detectors[first].Name + " sees what its own wires pass"
		}
		c.LeaveOpen(what, "the layout does not say the largest resistance it `sees`", c.L.Detectors[first].Pos)
	}
}

func falselyOccupied(c *rule.Case, s *power.Sensed) {
	d := &c.L.Detectors[s.Detector]
	amps := s.Amps()
	least, most := s.Volts.Lo/d.Sees.Hi, s.Volts.Hi/d.Sees.Lo // what it takes for occupied, from when it may to when it surely does
	carries, threshold := rule.RangeText(amps, quantity.FormatCurrent), quantity.FormatCurrent(most)
	name := "detector " + d.Name
	switch {
	case amps.Hi < least && s.Assumed:
		c.LeaveOpen("whether "+name+" shows its block occupied with nothing on it", "the layout does not say the wire of a bus behind it, or the ohms and farads of a network or load there", d.Pos)
	case amps.Hi < least:
	case amps.Lo <= most:
		c.LeaveOpen(fmt.Sprintf("whether %s shows its block occupied with nothing on it", name), fmt.Sprintf("it may carry %s by its wires, rails and loads alone, and takes %s for a train; look at it once the track is empty", carries, threshold), d.Pos)
	default:
		what := "the wires and rails behind it alone"
		if s.Fixed.Hi > s.Wires.Hi {
			what = "the networks and loads behind it alone"
		}
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      d.Pos,
			Place:    finding.Place{Text: name},
			Message:  fmt.Sprintf("%s carries %s by %s, and takes %s for a train (%s at %s)", name, carries, what, threshold, d.Sees, quantity.FormatVoltage(s.Volts.Hi)),
			Why:      "it shows its block occupied for ever",
			Numbers: []finding.Number{
				{Name: "current with nothing on the track", Text: carries, SI: amps.Lo, Unit: "A", Limit: "below " + threshold, Source: name + ", yours"},
				{Name: "of it by networks and loads", Text: rule.RangeText(s.Fixed, quantity.FormatCurrent), SI: s.Fixed.Hi, Unit: "A"},
			},
			Fix:   "hang terminating networks and lights before " + name + ", keep the wires of its leg short, or set it less sensitive",
			Mends: quietMends(c, s),
		})
	}
}
