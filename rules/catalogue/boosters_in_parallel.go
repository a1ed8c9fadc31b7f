package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var boostersInParallel = rule.Rule{
	ID:       "boosters-in-parallel",
	Severity: finding.Fault,
	Title:    "two sources are joined by wire",
	Doc: rule.Doc{
		What:    "A bus that hangs from one booster or breaker is wired to a bus that hangs from another, without any rail between. A fault for two boosters, a caution for two breakers of one booster.",
		Why:     "Two boosters in parallel drive current through each other; two breakers in parallel trip at the sum of their settings, or one after the other.",
		Fix:     "Part the two buses, and part the rails they feed with gaps in both rails.",
		Example: "buses:\n  north: {from: booster one, wire: 14 AWG, length: 20 ft, to: south @ 5 ft}   # south hangs from booster two",
	},
	Sources:      []string{"NEM 609:2010, 6.1: outputs are never joined in series or parallel"},
	CannotAccept: true,
}

func init() { boostersInParallel.Check = checkBoostersInParallel }

func checkBoostersInParallel(c *rule.Case) {
	for _, t := range c.T.WireTies {
		f := finding.Finding{
			Severity: c.PairSeverity(t.Sources[0], t.Sources[1]),
			Pos:      c.C.Sources[t.Sources[1]].Pos,
			Place:    finding.Place{Text: c.SourceName(t.Sources[1])},
			Message:  fmt.Sprintf("wire joins %s to %s", c.SourceName(t.Sources[0]), c.SourceName(t.Sources[1])),
			Why:      "they drive current through each other, and neither protects its own district",
			Fix:      "part the two buses",
		}
		if t.Bus >= 0 {
			bus := &c.L.Buses[t.Bus]
			f.Pos, f.Place = bus.Pos, finding.Place{Text: "bus " + bus.Name}
			f.Message += fmt.Sprintf(": bus %s ends at bus %s", bus.Name, c.L.Buses[bus.Returns.Bus].Name)
			f.Fix = fmt.Sprintf("end bus %s open (leave out `to`)", bus.Name)
			f.Mends = openBusMends(c, t.Bus)
		}
		c.Report(f)
	}
}
