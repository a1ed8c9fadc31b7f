package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var doubtfulEntry = rule.Rule{
	ID:       "doubtful-entry",
	Severity: finding.Note,
	Title:    "an entry looks like a slip of the pen",
	Doc: rule.Doc{
		What:    "A bus says under which track it runs, and a feeder of that track hangs from it more than 24 in (61 cm) away from there; or a module leaves out what its gaps are, and they are taken to be as in the file that includes it. The note asks whether that is so.",
		Why:     "A slip of the pen looks just like it: two figures exchanged, or another bus meant.",
		Fix:     "Look at the layout, and mend the entry; if it is right, leave it, or accept the note with a reason.",
		Example: "buses:\n  ring: {from: booster front, wire: 14 AWG, length: 40 ft, under: {0 .. 20 ft: M1}}\nfeeders:\n  M1: {A: left, 2 ft: ring @ 20 ft}",
	},
	Sources: []string{"24 in: " + rule.CommonPractice},
}

func init() { doubtfulEntry.Check = checkDoubtfulEntry }

func checkDoubtfulEntry(c *rule.Case) {
	for i := range c.L.Questions {
		q := &c.L.Questions[i]
		c.Report(finding.Finding{
			Severity: finding.Note,
			Pos:      q.Pos,
			Place:    finding.Place{Text: c.L.Files.Position(q.Pos)},
			Message:  q.Message,
			Why:      "a slip of the pen looks just like it",
			Fix:      "look at the layout, and mend the entry if it is wrong",
		})
	}
}
