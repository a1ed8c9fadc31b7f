package catalogue

import (
	"fmt"

	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var busClosedRing = rule.Rule{
	ID:       "bus-closed-ring",
	Severity: finding.Caution,
	Title:    "a bus closes into a ring of copper",
	Doc: rule.Doc{
		What:    "A bus comes back to its own start, or two buses of one source meet end to end, so that its wire alone makes a ring. Owners disagree about it, so this rule is silent unless the layout lists the practice; what a ring does to volts and shorts is for the computed values to say. Rail between the ends of two buses is no ring.",
		Why:     "Some hold that the signal arrives by two ways of unlike length and blurs, and that a break in the ring is never noticed. Others close rings on purpose, for the copper.",
		Fix:     "Leave the far end of the bus open.",
		Example: "buses:\n  main: {from: booster one, wire: 14 AWG, length: 40 ft, to: main @ 0 ft}\npractice: [buses-not-closed]",
	},
	Practice:   "buses-not-closed",
	OnlyListed: true,
	Sources:    []string{rule.CommonPractice},
}

func init() { busClosedRing.Check = checkBusClosedRing }

func checkBusClosedRing(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	for _, r := range c.T.CopperRings() {
		c.Report(closedRing(c, &r))
	}
}

func closedRing(c *rule.Case, r *districts.CopperRing) finding.Finding {
	bus := &c.L.Buses[r.Bus]
	legs := "both legs"
	if len(r.Legs) == 1 {
		legs = c.LegWord(r.Legs[0])
	}
	back := bus.Returns
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      bus.Pos,
		Place:    finding.Place{Text: "bus " + bus.Name},
		Message:  fmt.Sprintf("the far end of bus %s is joined to bus %s @ %s, and that closes a ring of wire in %s", bus.Name, c.L.Buses[back.Bus].Name, quantity.FormatLength(back.At.Mid()), legs),
		Why:      "your practice keeps buses open: the signal comes round a ring by two ways, and nobody notices when it breaks",
		Numbers:  []finding.Number{rule.Length("wire round the ring, one way", r.Length)},
		Witness:  c.Witness(fmt.Sprintf("bus %s @ %s", c.L.Buses[back.Bus].Name, quantity.FormatLength(back.At.Mid())), back.Pos, r.Path),
		Fix:      fmt.Sprintf("leave the far end of bus %s open (take out `to`)", bus.Name),
		Mends:    openBusMends(c, r.Bus),
	}
}
