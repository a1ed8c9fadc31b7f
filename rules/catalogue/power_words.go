package catalogue

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// powerJudges are the rules that share verdicts, in the order in which they tell what is equally grave.
func powerJudges() []rule.Judge {
	return []rule.Judge{
		{Rule: &shortTooWeakToTrip, Find: shortsTooWeak},
		{Rule: &wireHotBeforeTrip, Find: hotWires},
		{Rule: &wireEnergyLetThrough, Find: energies},
		{Rule: &shortTooWeakUnderDCC, Find: shortsTooWeakPulsed},
		{Rule: &busDrop, Find: func(c *rule.Case) []rule.Verdict { return drops(c, busPart) }},
		{Rule: &feederDrop, Find: func(c *rule.Case) []rule.Verdict { return drops(c, feederPart) }},
		{Rule: &railDrop, Find: func(c *rule.Case) []rule.Verdict { return drops(c, railPart) }},
	}
}

// tellVerdicts reports the verdicts that are a rule's own to tell.
func tellVerdicts(c *rule.Case) {
	for _, v := range c.Judged(powerJudges()) {
		c.Report(v.Finding)
	}
}

// trip is what acts first, by current, on a short behind a guard.
type trip struct {
	name string
	at   quantity.Current
	held bool // a lamp or a cab holds the current down: nothing need trip
}

// tripOf finds the guard that needs the least current; ok is false when one on the way does not say.
func tripOf(h *power.Head, guard int32) (t trip, ok bool) {
	x, ok := h.Trip(guard)
	t = trip{at: x.At, held: x.Held}
	if x.At.Known() {
		t.name = h.Weak.Guards[x.Guard].Name
	}
	return t, ok
}

// heads lists the sources that were computed and have rails, and leaves the others open.
func heads(c *rule.Case, what string) []*power.Head {
	var out []*power.Head
	for _, h := range c.Power.Heads {
		src := &c.C.Sources[h.Source]
		switch {
		case h.Open != nil:
			c.LeaveOpen(what+" of "+src.Name, h.Open.Why, src.Pos)
		case !h.Known():
			if h.Weak != nil && len(h.Weak.Rails) > 0 {
				c.LeaveOpen(what+" of "+src.Name, "the layout does not say its volts", src.Pos)
			}
		default:
			out = append(out, h)
		}
	}
	return out
}

// wirePart is the wire that adds most to a loop; ok is false when no wire adds a tenth of it.
func wirePart(c *rule.Case, parts []rule.Part) (rule.Part, bool) {
	total := 0.0
	for _, p := range parts {
		total += p.Ohms
	}
	for _, p := range parts {
		if _, is := c.CulpritWire(p.Culprit); is && p.Ohms >= total/10 {
			return p, true
		}
	}
	return rule.Part{}, false
}

// missing is a part of which the layout does not say what decides, the largest of them.
func missing(parts []rule.Part) (rule.Part, bool) {
	for _, p := range parts {
		if p.Missing != "" {
			return p, true
		}
	}
	return rule.Part{}, false
}

// measure says in words which one measurement would decide most about a point.
func measure(c *rule.Case, parts []rule.Part) string {
	if p, found := missing(parts); found {
		if p.Missing == "rail" {
			return fmt.Sprintf("the layout does not say what rail %s has (its code and metal), which decides most", c.L.Pieces[p.Ref].Name)
		}
		return fmt.Sprintf("the layout does not say the %s of %s, which decides most", p.Missing, c.CulpritName(p.Culprit))
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("%s adds most to it", c.CulpritName(parts[0].Culprit))
}

// thicker finds the next size of a part's wire with which a loop's ohms, in all, are few enough. Resistance is
// a concave function of every conductor's own, so what a thicker wire takes away is at least its share.
func thicker(c *rule.Case, p rule.Part, ohms, atMost float64) (w quantity.Wire, newOhms float64, ok bool) {
	from, is := c.CulpritWire(p.Culprit)
	if !is || !from.Known() {
		return w, 0, false
	}
	for _, to := range c.Thicker(from, p.Kind == circuit.FeederWire) {
		if r := ohms - p.Ohms*c.Less(from, to); r <= atMost {
			return to, r, true
		}
	}
	return w, 0, false
}

// chain is the loop to a point in words, part by part.
func chain(c *rule.Case, p *power.Point, parts []rule.Part) []finding.Step {
	out := []finding.Step{{Text: fmt.Sprintf("%s itself: %s", c.C.Sources[p.Head.Source].Name, quantity.FormatResistance(p.Head.Inside.Hi)), Pos: c.C.Sources[p.Head.Source].Pos}}
	for i, q := range parts {
		if i == 8 {
			out = append(out, finding.Step{Text: fmt.Sprintf("and %d parts more with less", len(parts)-i)})
			break
		}
		wire := ""
		if w, is := c.CulpritWire(q.Culprit); is && w.Known() {
			wire = ", " + rule.WireText(w)
		}
		out = append(out, finding.Step{Text: fmt.Sprintf("%s%s: %s of %s", c.CulpritName(q.Culprit), wire, quantity.FormatResistance(q.Ohms), quantity.FormatResistance(p.Loop.Hi)), Pos: c.CulpritPos(q.Culprit)})
	}
	return out
}

// room is the warm end of the room, in °C.
func room(c *rule.Case) conductor.Range { return c.Power.Elements.Celsius() }

// limitOf is the owner's limit of a name, if there is one.
func limitOf(c *rule.Case, name string) (x *layout.Limit, ok bool) {
	for i := range c.L.Limits {
		if l := &c.L.Limits[i]; l.Name == name && l.Value.Known() {
			return l, true
		}
	}
	return nil, false
}

// finite reports whether a number is one.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
