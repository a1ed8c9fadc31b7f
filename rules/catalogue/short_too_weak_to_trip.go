package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var shortTooWeakToTrip = rule.Rule{
	ID:       "short-too-weak-to-trip",
	Severity: finding.Fault,
	Title:    "a short at the far end draws too little to trip its breaker",
	Doc: rule.Doc{
		What:    "At every point of every rail the loop is computed, out by one leg and back by the other, with the source's inside, every wire, joint and contact on the way, and the short itself. Named is the weakest point behind each breaker, reverser and booster where even the best case (low resistances, cold, a good short) draws less than what would trip first: a fault. Where only the worst case does, a caution. A reverser has to see the short that wheels make over its gaps. Behind a lamp nothing need trip.",
		Why:     "A short that trips nothing goes on heating wire and rail for as long as nobody looks.",
		Fix:     "Thicker or shorter wire, more feeders near that end, or a breaker of lower current there.",
		Example: "buses:\n  mine: {from: booster back, wire: 24 AWG, length: 61 ft}   # the booster trips at 5 A, a short at the end draws less",
	},
	Sources: []string{"the trip currents in the layout; resistances as `gapwise explain numbers` lists them", "the short itself, 0.1 to 0.5 Ω: " + rule.CommonPractice},
}

func init() { shortTooWeakToTrip.Check = tellVerdicts }

func shortsTooWeak(c *rule.Case) []rule.Verdict {
	var out []rule.Verdict
	for _, h := range heads(c, "whether a short trips anything behind what hangs") {
		if h.SettingsLeft > 0 {
			src := &c.C.Sources[h.Source]
			c.GiveUp(fmt.Sprintf("volts and amperes of track that %s feeds in %d more settings of track work", src.Name, h.SettingsLeft), "the bound on work was reached", src.Pos)
		}
		for g, p := range h.Weakest {
			if p == nil {
				continue
			}
			if v, ok := shortTooWeak(c, h, int32(g), p); ok {
				out = append(out, v)
			}
		}
		out = append(out, weakGapShorts(c, h)...)
	}
	return out
}

// shortTooWeak judges the weakest point behind one guard.
func shortTooWeak(c *rule.Case, h *power.Head, guard int32, p *power.Point) (v rule.Verdict, ok bool) {
	t, known := tripOf(h, guard)
	place := c.PointPlace(p)
	switch {
	case t.held:
		return v, false
	case !known:
		c.LeaveOpen("whether a short behind "+h.Weak.Guards[guard].Name+" trips anything", "the layout does not say at what current it trips", h.Weak.Guards[guard].Pos)
		return v, false
	case p.Short.Lo >= t.at.Hi:
		return v, false
	}
	parts := c.Parts(p)
	severity := finding.Caution
	if p.Short.Hi < t.at.Lo {
		severity = finding.Fault
	} else if _, assumed := missing(parts); assumed {
		c.LeaveOpen(fmt.Sprintf("whether a short at %s trips %s", place.Text, t.name), measure(c, parts), c.PointPos(p))
		return v, false
	}
	draws := rule.RangeText(p.Short, quantity.FormatCurrent)
	f := finding.Finding{
		Severity: severity,
		Pos:      c.PointPos(p),
		Place:    place,
		Message:  fmt.Sprintf("a short at %s draws only %s, and %s trips at %s", place.Text, draws, t.name, t.at),
		Why:      "a short that trips nothing goes on heating wire and rail for as long as nobody looks",
		Settings: c.Settings(p.Settings),
		Numbers: []finding.Number{
			{Name: "short current", Text: draws, SI: p.Short.Lo, Unit: "A", Limit: "at least " + t.at.String(), Source: t.name + ", yours"},
			{Name: "resistance of the loop", Text: rule.RangeText(p.Loop, quantity.FormatResistance), SI: p.Loop.Hi, Unit: "Ω"},
		},
		Witness: chain(c, p, parts),
	}
	v.Culprit, f.Fix = mendShort(c, p, parts, t)
	f.Pos = c.CulpritPos(v.Culprit)
	above, _ := h.Trip(guard)
	f.Mends = weakMends(c, h, above.Guard, p, parts, v.Culprit)
	v.Finding = f
	v.Brief = fmt.Sprintf("a short at %s draws only %s; %s trips at %s", place.Text, draws, t.name, t.at)
	return v, true
}

// mendShort finds the culprit of a weak short and the smallest change that mends it.
func mendShort(c *rule.Case, p *power.Point, parts []rule.Part, t trip) (rule.Culprit, string) {
	h := p.Head
	most := (h.Volts.Lo-p.Drop.Hi)/t.at.Hi - c.Power.Short.Hi // ohms of the loop with which it would trip
	wire, found := wirePart(c, parts)
	if !found {
		if p.Way < 0 {
			return rule.Culprit{Kind: circuit.BusSpan, Ref: p.Bus}, fmt.Sprintf("bring a source nearer, or put in a breaker that trips below %s", quantity.FormatCurrent(p.Short.Lo))
		}
		if len(parts) == 0 {
			return rule.Culprit{Kind: circuit.RailLength, Ref: int32(c.C.Ways[p.Way].Piece)}, "hang a feeder near there"
		}
		return parts[0].Culprit, fmt.Sprintf("hang a feeder near %s, from a bus", c.PointPlace(p).Text)
	}
	if to, ohms, ok := thicker(c, wire, p.Loop.Hi, most); ok {
		amps := (h.Volts.Lo - p.Drop.Hi) / (ohms + c.Power.Short.Hi)
		return wire.Culprit, fmt.Sprintf("make %s of %s: the short then draws %s or more", c.CulpritName(wire.Culprit), rule.WireText(to), quantity.FormatCurrent(amps))
	}
	return wire.Culprit, fmt.Sprintf("no usual size of wire for %s is enough: bring a source nearer, put in a breaker that trips below %s, or hang feeders from a second bus", c.CulpritName(wire.Culprit), quantity.FormatCurrent(p.Short.Lo))
}

// weakGapShorts judges what wheels over the gaps of reversing sections draw, against what the reverser needs.
func weakGapShorts(c *rule.Case, h *power.Head) []rule.Verdict {
	var out []rule.Verdict
	for i := range h.Gaps {
		g := &h.Gaps[i]
		guard := &h.Weak.Guards[g.Reverser]
		if !guard.TripsAt.Known() || g.Short.Lo >= guard.TripsAt.Hi {
			continue
		}
		severity := finding.Caution
		if g.Short.Hi < guard.TripsAt.Lo {
			severity = finding.Fault
		}
		place := c.WayPlace(g.Way)
		if severity == finding.Caution && g.Assumed {
			c.LeaveOpen(fmt.Sprintf("whether wheels over the gap at %s make %s act", place.Text, guard.Name), "the layout does not say the size or length of some wire there", guard.Pos)
			continue
		}
		draws := rule.RangeText(g.Short, quantity.FormatCurrent)
		brief := fmt.Sprintf("wheels over the gap at %s draw only %s, and %s acts at %s", place.Text, draws, guard.Name, guard.TripsAt)
		out = append(out, rule.Verdict{
			Culprit: rule.Culprit{Kind: circuit.ReverserLeg, Ref: guard.Ref},
			Brief:   brief,
			Finding: finding.Finding{
				Severity: severity,
				Pos:      guard.Pos,
				Place:    place,
				Message:  brief,
				Why:      "the reverser does not see the short that should make it act, and the train stands on the gap with a current that trips nothing",
				Numbers: []finding.Number{
					{Name: "current over the gap", Text: draws, SI: g.Short.Lo, Unit: "A", Limit: "at least " + guard.TripsAt.String(), Source: guard.Name + ", yours"},
					{Name: "resistance of the loop", Text: rule.RangeText(g.Loop, quantity.FormatResistance), SI: g.Loop.Hi, Unit: "Ω"},
				},
				Fix:   fmt.Sprintf("set %s to act below %s, or hang feeders close to both sides of the gap", guard.Name, quantity.FormatCurrent(g.Short.Lo)),
				Mends: gapShortMends(c, h, g),
			},
		})
	}
	return out
}
