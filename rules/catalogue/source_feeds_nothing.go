package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var sourceFeedsNothing = rule.Rule{
	ID:       "source-feeds-nothing",
	Severity: finding.Note,
	Title:    "a booster, breaker, reverser or changeover feeds nothing",
	Doc: rule.Doc{
		What:    "No feeder, turntable bridge, frog, load or accessory bus hangs from it, directly or through other devices. Supplies and cabs are not looked at, nor a source that `districts` names: its blocks then hang from elsewhere, which another rule tells.",
		Why:     "It stands in the file, or on the bench, and does nothing; often a bus that should hang from it hangs past it.",
		Fix:     "Hang its bus from it, or take it out of the file.",
		Example: "reversers:\n  loop: {from: main @ 8 ft}\nbuses:\n  loop: {from: main @ 8 ft}   # should be: from: reverser loop",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { sourceFeedsNothing.Check = checkSourceFeedsNothing }

func checkSourceFeedsNothing(c *rule.Case) {
	for _, s := range c.T.IdleSources() {
		source := &c.C.Sources[s]
		switch source.Kind {
		case circuit.BoosterSource, circuit.BreakerSource, circuit.ReverserSource, circuit.ChangeoverSource:
		default:
			continue
		}
		if slices.ContainsFunc(c.L.Districts, func(d layout.District) bool {
			meant, _ := c.C.SourceAbove(d.From)
			return meant == s && len(d.Blocks) > 0
		}) {
			continue // its blocks hang from elsewhere, and that is told
		}
		c.Report(finding.Finding{
			Severity: finding.Note,
			Pos:      source.Pos,
			Place:    finding.Place{Text: source.Name},
			Message:  fmt.Sprintf("%s feeds nothing", source.Name),
			Why:      "a bus that should hang from it may hang past it",
			Fix:      fmt.Sprintf("hang a bus from %s, or take it out of the file", source.Name),
			Mends:    idleMends(c, s),
		})
	}
}
