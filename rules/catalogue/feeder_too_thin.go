package catalogue

import (
	"fmt"

	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// thinnestFeeder is the thinnest wire that the published sheets name for a feeder, in square metres: 24 AWG.
var thinnestFeeder = quantity.AWGArea(24)

var feederTooThin = rule.Rule{
	ID:       "feeder-too-thin",
	Severity: finding.Caution,
	Title:    "a feeder is thinner than any standard for one",
	Doc: rule.Doc{
		What:    "A feeder of wire thinner than 24 AWG (0.205 mm²), the thinnest that the published sheets name. Whether it also drops too many volts or gets hot is computed by other rules.",
		Why:     "Such wire breaks at the solder joint when somebody leans on it, and a short through it may burn it before the breaker acts.",
		Fix:     "Feeders of 22 AWG (0.326 mm²) or thicker.",
		Example: "feeders:\n  M1: {A: left, wire: 28 AWG, length: 10 in, 4 ft: main @ 4 ft}",
	},
	Sources: []string{"NMRA MRP-1.3: #22 to #24 solid; MOROP NEM 933/1 CH: 0.5 mm²"},
}

func init() { feederTooThin.Check = checkFeederTooThin }

func checkFeederTooThin(c *rule.Case) {
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		if !f.Wire.Known() || f.Wire.Hi >= thinnestFeeder*(1-1e-6) {
			continue
		}
		place := c.FeederPlace(int32(i))
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      f.Pos,
			Place:    place,
			Message:  fmt.Sprintf("the feeder at %s is of %s", place.Text, rule.WireText(f.Wire)),
			Why:      "it breaks easily, and a short through it may burn it before the breaker acts",
			Numbers:  []finding.Number{{Name: "wire", Text: rule.WireText(f.Wire), SI: f.Wire.Hi, Unit: "m²", Limit: "at least 24 AWG (" + quantity.FormatArea(thinnestFeeder) + ")", Source: "NMRA MRP-1.3"}},
			Fix:      "make it of 22 AWG (" + quantity.FormatArea(quantity.AWGArea(22)) + ") or thicker",
			Mends:    thickFeederMends(c, int32(i)),
		})
	}
}
