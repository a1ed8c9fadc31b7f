package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// mainsVolts is where a voltage stops being extra-low: the touch limit of 60 V for
// direct current. From memory, not re-checked; the careful 42.4 V peak of non-sinusoidal
// alternating current is published (Pocket Guide to the NEC 2005, notes to Table 11).
const mainsVolts = 42.4

var householdMains = rule.Rule{
	ID:       "household-mains",
	Severity: finding.Fault,
	Title:    "something looks like household mains, or a supply is not listed",
	Doc: rule.Doc{
		What:    "A supply, booster or cab is given more volts than a low-voltage output may have, or a supply is said not to be a listed product. Mains wiring is not this program's business: it stops here and refers you on.",
		Why:     "Household voltage kills, and a supply that nobody has tested can put it on the rails.",
		Fix:     "Do not go on. Ask a licensed electrician, follow the local electrical code, and use a listed supply with a low-voltage output.",
		Example: "supplies:\n  front: {volts: 120 V, rating: 6 A, listed: no}",
	},
	Sources: []string{
		"42.4 V peak, non-sinusoidal alternating current, Class 2: Pocket Guide to the NEC 2005, notes to Tables 11(A) and 11(B)",
		"NEM 609:2010, 6.1: a supply is safety extra-low voltage (SELV)",
	},
	CannotAccept: true,
}

func init() { householdMains.Check = checkHouseholdMains }

func checkHouseholdMains(c *rule.Case) {
	for i := range c.L.Supplies {
		s := &c.L.Supplies[i]
		tooHigh(c, "supply "+s.Name, s.Volts, s.Pos)
		switch s.Listed {
		case layout.No:
			c.Report(finding.Finding{
				Severity: finding.Fault,
				Pos:      s.Pos,
				Place:    finding.Place{Text: "supply " + s.Name},
				Message:  fmt.Sprintf("supply %s is not a listed product", s.Name),
				Why:      "a supply that nobody has tested can put household voltage on the rails",
				Fix:      "do not use it: replace it by a listed supply with a low-voltage output, and leave anything on the mains side to a licensed electrician and the local code",
			})
		case layout.Yes:
		default:
			c.LeaveOpen("whether supply "+s.Name+" is a listed product", "the layout does not say (`listed`)", s.Pos)
		}
	}
	for i := range c.L.Boosters {
		tooHigh(c, "booster "+c.L.Boosters[i].Name, c.L.Boosters[i].Volts, c.L.Boosters[i].Pos)
	}
	for i := range c.L.Cabs {
		tooHigh(c, "cab "+c.L.Cabs[i].Name, c.L.Cabs[i].Volts, c.L.Cabs[i].Pos)
	}
}

func tooHigh(c *rule.Case, name string, v quantity.Voltage, pos source.Pos) {
	if !v.Known() || v.Hi <= mainsVolts {
		return
	}
	c.Report(finding.Finding{
		Severity: finding.Fault,
		Pos:      pos,
		Place:    finding.Place{Text: name},
		Message:  fmt.Sprintf("%s is given %s: that is not a low voltage", name, v),
		Why:      "household voltage kills; nothing on a layout may carry it",
		Numbers:  []finding.Number{{Name: name, Text: v.String(), SI: v.Hi, Unit: "V", Limit: "at most 42.4 V peak", Source: "Pocket Guide to the NEC 2005, notes to Tables 11(A) and 11(B)"}},
		Fix:      "stop: have a licensed electrician look at it, follow the local electrical code, and use a listed supply with a low-voltage output",
	})
}
