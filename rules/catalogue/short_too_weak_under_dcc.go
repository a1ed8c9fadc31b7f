package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var shortTooWeakUnderDCC = rule.Rule{
	ID:       "short-too-weak-under-dcc",
	Severity: finding.Fault,
	Title:    "a short that direct current would trip on is held down by the wires' inductance",
	Doc: rule.Doc{
		What:    "DCC turns its polarity over every 58 µs or more, and the current of a short has to climb anew each time, against the inductance of the loop it takes. The current is computed for one bits, zero bits and idle packets, from the loop's own geometry, at the weakest point behind each breaker and booster. Nobody says whether a booster senses the peak, the mean or the root mean square: where even the peak stays below the trip, that is a fault; where the mean does, a caution.",
		Why:     "A multimeter and direct-current arithmetic say the breaker trips, and it does not.",
		Fix:     "Twist the bus wires, or lay them close together; thicker wire alone does little.",
		Example: "buses:\n  main: {from: booster front, wire: 12 AWG, laid: 4 in apart, length: 150 ft}   # a booster that trips at 5 A",
	},
	Sources: []string{
		"half-bits: NMRA S-9.1, Table 1; the current of a series of resistance and inductance on a square wave: derived, see `gapwise explain numbers`",
		"inductance of parallel wires: (µ0/π) acosh(D/d), any text on transmission lines; how far apart they lie, where the layout does not say: " + rule.CommonPractice,
	},
}

func init() { shortTooWeakUnderDCC.Check = tellVerdicts }

func shortsTooWeakPulsed(c *rule.Case) []rule.Verdict {
	var out []rule.Verdict
	for _, h := range c.Power.Heads {
		if !h.Known() || c.C.Sources[h.Source].Kind != circuit.BoosterSource {
			continue // what is not computed is left open by short-too-weak-to-trip; nothing else sends DCC
		}
		for g := range h.Deciding {
			d := &h.Deciding[g]
			t, known := tripOf(h, int32(g))
			if t.held || !known {
				continue
			}
			if d.Left > 0 {
				guard := &h.Weak.Guards[g]
				c.GiveUp(fmt.Sprintf("the short current under DCC at %d places behind %s", d.Left, guard.Name), "the bound on work was reached", guard.Pos)
			}
			if d.Worst == nil || h.Weakest[g] != nil && h.Weakest[g].Short.Lo < t.at.Hi {
				continue // direct current does not trip it either
			}
			if v, ok := shortTooWeakPulsed(c, d.Worst, t); ok {
				out = append(out, v)
			}
		}
	}
	return out
}

func shortTooWeakPulsed(c *rule.Case, pulsed *power.Pulsed, t trip) (v rule.Verdict, ok bool) {
	p, s := &pulsed.Point, pulsed.Short
	place := c.PointPlace(p)
	if s.MeanAbs >= t.at.Hi {
		return v, false
	}
	parts := c.Parts(p)
	least := 0.0
	for _, q := range parts {
		least += q.LeastHenries
	}
	if bus, unsaid := loose(c, parts); unsaid && p.MeanAtLeast(least) >= t.at.Hi {
		c.LeaveOpen(fmt.Sprintf("whether a short at %s trips %s under DCC", place.Text, t.name), fmt.Sprintf("the layout does not say how the wires of bus %s are `laid`: close together they are fine", c.L.Buses[bus].Name), c.L.Buses[bus].Pos)
		return v, false
	}
	severity := finding.Caution
	if s.Peak < t.at.Lo {
		severity = finding.Fault
	}
	culprit, by := parts[0], 0.0
	for _, q := range parts {
		if q.Henries > by {
			culprit, by = q, q.Henries
		}
	}
	peak, mean := quantity.FormatCurrent(s.Peak), quantity.FormatCurrent(s.MeanAbs)
	v.Culprit = culprit.Culprit
	v.Brief = fmt.Sprintf("under DCC a short at %s draws a mean of %s (peak %s); %s trips at %s", place.Text, mean, peak, t.name, t.at)
	v.Finding = finding.Finding{
		Severity: severity,
		Pos:      c.CulpritPos(culprit.Culprit),
		Place:    place,
		Message:  fmt.Sprintf("under DCC a short at %s draws a mean of only %s (peak %s, direct current would be %s), and %s trips at %s", place.Text, mean, peak, quantity.FormatCurrent(p.Short.Lo), t.name, t.at),
		Why:      "the current has to climb anew in every half-bit against the inductance of the loop; what the booster senses is not known",
		Settings: c.Settings(p.Settings),
		Numbers: []finding.Number{
			{Name: "mean current of the short", Text: mean, SI: s.MeanAbs, Unit: "A", Limit: "at least " + t.at.String(), Source: t.name + ", yours; " + pulsed.Pattern.String() + ", NMRA S-9.1"},
			{Name: "its peak", Text: peak, SI: s.Peak, Unit: "A"},
			{Name: "its root mean square", Text: quantity.FormatCurrent(s.RMS), SI: s.RMS, Unit: "A"},
			{Name: "inductance of the loop", Text: henries(pulsed.Henries), SI: pulsed.Henries, Unit: "H"},
		},
		Witness: chain(c, p, parts),
		Fix:     mendPulsed(c, p, culprit, pulsed.Henries, t),
		Mends:   pulsedMends(c, pulsed, p.Guard, culprit.Culprit),
	}
	return v, true
}

// loose is a bus on the way whose layout does not say how its wires lie.
func loose(c *rule.Case, parts []rule.Part) (bus int32, ok bool) {
	for _, q := range parts {
		if q.Kind == circuit.BusSpan && (c.L.Buses[q.Ref].Laid.Kind == layout.LaidUnsaid || c.L.Buses[q.Ref].Laid.Kind == layout.LaidUnknown) {
			return q.Ref, true
		}
	}
	return -1, false
}

// henries prints inductance in microhenries.
func henries(l float64) string { return quantity.FormatCount(l*1e6) + " µH" }

// mendPulsed says what twisting the largest part of the loop would do.
func mendPulsed(c *rule.Case, p *power.Point, part rule.Part, henries float64, t trip) string {
	name := c.CulpritName(part.Culprit)
	if part.Kind == circuit.BusSpan {
		bus := &c.L.Buses[part.Ref]
		if bus.Wire.Known() && bus.Legs == layout.LegsBoth && bus.Laid.Kind != layout.LaidTwisted {
			twisted := conductor.LaidInductance(bus.Wire, layout.Laid{Kind: layout.LaidTwisted})
			left := henries - part.Henries*(1-twisted.Hi/conductor.LaidInductance(bus.Wire, bus.Laid).Hi)
			if amps := p.MeanAtLeast(left); amps >= t.at.Hi {
				return fmt.Sprintf("twist the two wires of %s: the short then draws a mean of %s or more", name, quantity.FormatCurrent(amps))
			}
			return fmt.Sprintf("twist the two wires of %s, and bring a source nearer or set %s to trip at a lower current", name, t.name)
		}
	}
	return fmt.Sprintf("keep the two wires of the loop through %s close together, bring a source nearer, or set %s to trip at a lower current", name, t.name)
}
