package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var tapFarFromRail = rule.Rule{
	ID:       "tap-far-from-rail",
	Severity: finding.Note,
	Title:    "a feeder taps its bus far from where the bus runs below that rail",
	Doc: rule.Doc{
		What:    "A bus says under which track it runs, and a feeder of that track hangs from it more than 24 in (61 cm) away from there.",
		Why:     "It is asked because a slip of the pen looks just like it: two figures exchanged, or another bus meant.",
		Fix:     "Look at the feeder, and mend the tap or the bus's `under`.",
		Example: "buses:\n  ring: {from: booster front, wire: 14 AWG, length: 40 ft, under: {0 .. 20 ft: M1}}\nfeeders:\n  M1: {A: left, 2 ft: ring @ 20 ft}",
	},
	Sources: []string{"24 in: " + rule.CommonPractice},
}

func init() { tapFarFromRail.Check = checkTapFarFromRail }

func checkTapFarFromRail(c *rule.Case) {
	for i := range c.L.Questions {
		q := &c.L.Questions[i]
		c.Report(finding.Finding{
			Severity: finding.Note,
			Pos:      q.Pos,
			Place:    finding.Place{Text: c.L.Files.Position(q.Pos)},
			Message:  q.Message,
			Why:      "a slip of the pen looks just like it",
			Fix:      "look at the feeder, and mend the tap or the bus's `under`",
		})
	}
}
