package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// longFeeder is how long a feeder may be, in metres (12 in). Common practice, no source.
const longFeeder = 0.3048

var feederTooLong = rule.Rule{
	ID:         "feeder-too-long",
	Severity:   finding.Caution,
	Practice:   "feeders-short",
	OnlyListed: true,
	Title:      "a feeder is longer than 12 in",
	Doc: rule.Doc{
		What:    "For owners who list the practice. A feeder is longer than 12 in (305 mm); of a range the longer end counts. A feeder whose length the layout does not say is listed as not checked. How thick its wire is, this rule does not ask.",
		Why:     "Feeders are thin: a long one loses volts under a train and weakens a short so that the breaker may not see it.",
		Fix:     "Bring the bus nearer, or make the long part of thicker wire, as a bus of its own.",
		Example: "feeders:\n  M1: {A: left, 2 ft: {from: main @ 2 ft, length: 22 in}}\npractice: [feeders-short]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { feederTooLong.Check = checkFeederTooLong }

func checkFeederTooLong(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	unsaid, first := 0, -1
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		if !f.Length.Known() {
			if unsaid == 0 {
				first = i
			}
			unsaid++
			continue
		}
		if f.Length.Hi <= longFeeder+1e-6 {
			continue
		}
		place := c.FeederPlace(int32(i))
		length := rule.Length("", f.Length.Hi).Text
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      f.Pos,
			Place:    place,
			Message:  fmt.Sprintf("the feeder at %s is %s long", place.Text, length),
			Why:      "thin wire loses volts under a train, and a short through it may be too weak for the breaker",
			Numbers:  []finding.Number{{Name: "feeder", Text: length, SI: f.Length.Hi, Unit: "m", Limit: "at most " + rule.Length("", longFeeder).Text, Source: rule.CommonPractice}},
			Fix:      "bring the bus nearer, or make the long part a bus of thicker wire",
			Mends:    longFeederMends(c, int32(i)),
		})
	}
	if unsaid > 0 {
		what := fmt.Sprintf("whether %d feeders are at most %s long, the first at %s", unsaid, rule.Length("", longFeeder).Text, c.FeederPlace(int32(first)).Text)
		if unsaid == 1 {
			what = fmt.Sprintf("whether the feeder at %s is at most %s long", c.FeederPlace(int32(first)).Text, rule.Length("", longFeeder).Text)
		}
		c.LeaveOpen(what, "the layout does not say its `length`", c.L.Feeders[first].Pos)
	}
}
