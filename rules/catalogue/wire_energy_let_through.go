package catalogue

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var wireEnergyLetThrough = rule.Rule{
	ID:       "wire-energy-let-through",
	Severity: finding.Fault,
	Title:    "a dead short spoils a wire before anything has tripped",
	Doc: rule.Doc{
		What:    "For every bus, feeder and bond the current of a dead short at its far end is computed, low resistances and cold, and how long its insulation stands it, (k S / I)², with k = 115 for copper in PVC. Named is a wire that the first to trip does not save in time.",
		Why:     "The insulation melts within the trip time, though the breaker works as it should.",
		Fix:     "Thicker wire, or a breaker that acts sooner.",
		Example: "boosters:\n  front: {volts: 18 V, trips-at: 10 A, trip-time: 2 s, inside: 0.05 Ω}   # before feeders of 28 AWG",
	},
	Sources: []string{"IEC 60364-4-43, 434.5.2 and Table 43A, k = 115 (clause from memory); valid to 5 s"},
}

func init() { wireEnergyLetThrough.Check = tellVerdicts }

func energies(c *rule.Case) []rule.Verdict {
	var out []rule.Verdict
	of := carriers{}
	for _, h := range heads(c, "what a dead short does to wires") {
		open := map[int32]bool{}
		for i := range h.Wires {
			w := &h.Wires[i]
			if !w.Wire.Known() || !finite(w.Sudden) {
				continue
			}
			if w.Trips < 0 {
				if guard := &h.Weak.Guards[w.Guard]; !open[w.Guard] && guard.TripsAt.Known() && !guard.TripTime.Known() {
					open[w.Guard] = true
					c.LeaveOpen("what a dead short does to wires behind "+guard.Name, "the layout does not say its `trip-time`", guard.Pos)
				}
				continue
			}
			if v, ok := energy(c, h, w); ok {
				of.add(&v, h, w)
				out = append(out, v)
			}
		}
	}
	out = alike(out)
	of.mend(out, func(h *power.Head, w *power.Carried) []finding.Mend { return energyMends(c, h, w) })
	return out
}

func energy(c *rule.Case, h *power.Head, w *power.Carried) (v rule.Verdict, ok bool) {
	stands, valid := conductor.AdiabaticSeconds(w.Wire.Lo, w.Sudden, conductor.KPVC)
	switch {
	case stands >= w.Seconds:
		return v, false // the formula gives off no heat, so what it says is the least
	case !valid:
		c.LeaveOpen("whether "+c.CulpritName(culpritOf(w))+" stands a dead short until "+h.Weak.Guards[w.Trips].Name+" trips", "the formula does not hold past 5 s", c.CulpritPos(culpritOf(w)))
		return v, false
	}
	name, guard := c.CulpritName(culpritOf(w)), h.Weak.Guards[w.Trips].Name
	amps, lasts, takes := quantity.FormatCurrent(w.Sudden), quantity.FormatTime(stands), quantity.FormatTime(w.Seconds)
	area := w.Sudden * math.Sqrt(w.Seconds) / conductor.KPVC * 1e-6
	fix := "set " + guard + " to trip sooner"
	for _, to := range c.Thicker(w.Wire, w.Kind == circuit.FeederWire) {
		if to.Lo >= area*1.1 {
			fix += fmt.Sprintf(", or make %s of %s", name, rule.WireText(to))
			break
		}
	}
	v = rule.Verdict{
		Culprit: culpritOf(w),
		Group:   group(h, w.Trips, w),
		Worse:   -stands,
		Brief:   fmt.Sprintf("a dead short spoils it in %s; %s takes %s to trip", lasts, guard, takes),
		Finding: finding.Finding{
			Severity: finding.Fault,
			Pos:      c.CulpritPos(culpritOf(w)),
			Place:    finding.Place{Text: name},
			Message:  fmt.Sprintf("a dead short sends %s through %s, %s, which stands that for %s; %s takes %s to trip", amps, name, rule.WireText(w.Wire), lasts, guard, takes),
			Why:      "the insulation melts though the breaker works as it should",
			Numbers: []finding.Number{
				{Name: "time the wire stands it", Text: lasts, SI: stands, Unit: "s", Limit: "at least " + takes, Source: "IEC 60364-4-43, k = 115; " + guard + ", yours"},
			},
			Fix: fix,
		},
	}
	if w.Kind == circuit.FeederWire {
		v.Finding.Place = c.FeederPlace(w.Ref)
	}
	return v, true
}
