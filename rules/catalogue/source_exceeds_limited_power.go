package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// What a source may give, in amperes, volt-amperes and volts.
const (
	nemAmps        = 10.0
	nemWatts       = 200.0
	class2Watts    = 100.0
	class2Amps     = 5.0
	class2LowVolts = 20.0
)

var sourceExceedsLimitedPower = rule.Rule{
	ID:       "source-exceeds-limited-power",
	Severity: finding.Note,
	Title:    "a supply or booster can give more than a limited-power class allows",
	Doc: rule.Doc{
		What:    "The rating of a supply or booster goes beyond 10 A or 200 VA, which the European standard for model railroads allows; or a supply of which the layout does not say `listed: yes` goes beyond NEC Class 2, 5 A up to 20 V and 100 VA above. Of a listed supply the second question is not asked: its label names its class, and many a listed supply of 18 V and 6 A is none of Class 2. Where a supply is named, the boosters behind it are not.",
		Why:     "Class 2 is what many rules for low-voltage wiring take for granted. Beyond it the wire's size, insulation and protection are subject to other rules, and a short can start a fire.",
		Fix:     "Read the class on the maker's label, and follow the local electrical code; ask a licensed electrician which rules hold. Smaller supplies, one a booster, keep within the class.",
		Example: "supplies:\n  brick: {volts: 18 V, rating: 15 A, listed: yes}",
	},
	Sources: []string{
		"10 A and 200 VA: NEM 609:2010, 6.1",
		"NEC Class 2, 5 A up to 20 V and 100 VA from 20 to 30 V (Table 11): from memory, not re-checked; taken for higher volts too",
	},
}

func init() { sourceExceedsLimitedPower.Check = checkSourceExceedsLimitedPower }

func checkSourceExceedsLimitedPower(c *rule.Case) {
	named := make([]bool, len(c.L.Supplies))
	for i := range c.L.Supplies {
		s := &c.L.Supplies[i]
		if s.Listed == layout.No {
			named[i] = true // household-mains speaks of it
			continue
		}
		if !s.Volts.Known() || !s.Rating.Known() {
			c.LeaveOpen("whether supply "+s.Name+" keeps within a limited-power class", "the layout does not say its volts and its rating", s.Pos)
			continue
		}
		named[i] = limitedPower(c, "supply "+s.Name, s.Volts, s.Rating, s.Listed != layout.Yes, s.Pos, func(most float64) []finding.Mend { return classMends(c, int32(i), most) })
	}
	for i := range c.L.Boosters {
		b := &c.L.Boosters[i]
		if b.Volts.Known() && b.Rating.Known() && (b.Supply < 0 || !named[b.Supply]) {
			limitedPower(c, "booster "+b.Name, b.Volts, b.Rating, false, b.Pos, func(most float64) []finding.Mend { return boosterClassMends(c, int32(i), most) })
		}
	}
}

// limitedPower reports a source that goes beyond the limits, of Class 2 only when asked to,
// and whether a source was named. Of ranges the higher ends count. Mends make it give at most some amperes.
func limitedPower(c *rule.Case, name string, v quantity.Voltage, rating quantity.Current, class2 bool, pos source.Pos, mends func(most float64) []finding.Mend) bool {
	volts, amps := v.Hi, rating.Hi
	watts := volts * amps
	var class, limit, origin string
	low := volts <= class2LowVolts
	switch {
	case volts > mainsVolts: // household-mains speaks of it
		return true
	case beyond(amps, nemAmps) || beyond(watts, nemWatts):
		class, limit, origin = "what NEM 609 allows a model railroad's supply", "at most 10 A and 200 VA", "NEM 609:2010, 6.1"
	case class2 && low && beyond(amps, class2Amps):
		class, limit, origin = "NEC Class 2", "at most 5 A", "NEC Table 11, from memory"
	case class2 && !low && beyond(watts, class2Watts):
		class, limit, origin = "NEC Class 2", "at most 100 VA", "NEC Table 11, from memory"
	default:
		return false
	}
	most := min(nemAmps, nemWatts/volts)
	switch {
	case class2 && low:
		most = min(most, class2Amps)
	case class2:
		most = min(most, class2Watts/volts)
	}
	f := finding.Finding{
		Severity: finding.Note,
		Pos:      pos,
		Place:    finding.Place{Text: name},
		Message:  fmt.Sprintf("%s is rated %s at %s, beyond %s", name, rating, v, class),
		Why:      "beyond the class other rules hold for wire, insulation and protection, and a short can start a fire",
		Numbers: []finding.Number{
			{Name: "rating", Text: rating.String(), SI: amps, Unit: "A", Limit: limit, Source: origin},
			{Name: "power", Text: fmt.Sprintf("%.0f VA", watts), SI: watts, Unit: "VA", Limit: limit, Source: origin},
		},
		Fix: "go by the class on the maker's label and the local electrical code, and ask a licensed electrician which rules hold",
	}
	f.Mends = mends(most)
	c.Report(f)
	return true
}

// beyond reports whether a value exceeds a limit by more than rounding.
func beyond(value, limit float64) bool { return value > limit*(1+1e-9) }
