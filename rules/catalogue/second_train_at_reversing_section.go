package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var secondTrainAtReversingSection = rule.Rule{
	ID:       "second-train-at-reversing-section",
	Severity: finding.Note,
	Title:    "a second train may enter a reversing section while the first leaves it",
	Doc: rule.Doc{
		What:    "The layout says that two trains or more run at once (`operations: at-once`), and a reversing section has two exits that ask for different states of its reverser, both of which a train can stand on in one valid setting. It is silent where the settings rule that out, as at a balloon's own turnout, where `serves: one-at-a-time` says that one train at a time crosses, where one block reaches from the one exit to the other (a block holds one train: common practice), and where only one train comes to the exits' blocks.",
		Why:     "While both exits are bridged no state of the reverser suits both, and a reverser that switches by itself changes over until something trips.",
		Fix:     "Let one train at a time into the section, by rule or by signal.",
		Example: "operations: {at-once: 2}   # and a section on a line between two others, which turns it",
	},
	Sources: []string{"electrical necessity: one source has one state at a time"},
}

func init() { secondTrainAtReversingSection.Check = checkSecondTrain }

func checkSecondTrain(c *rule.Case) {
	if c.L.Operations.AtOnce < 2 {
		return
	}
	for _, s := range c.T.SecondTrains() {
		if src := &c.C.Sources[s.Source]; src.Kind == circuit.ReverserSource && c.L.Reversers[src.Ref].OneAtATime {
			continue
		}
		if s.OneBlock || c.T.TrainsIn(s.Exits[0]) < 2 || c.T.TrainsIn(s.Exits[1]) < 2 {
			continue
		}
		x, y := straddlePlace(c, s.Exits[0]), straddlePlace(c, s.Exits[1])
		c.Report(finding.Finding{
			Severity: finding.Note,
			Pos:      c.WayPos(s.Exits[0]),
			Place:    x,
			Message:  fmt.Sprintf("one train over the gap at %s and another over the gap at %s ask for different states of %s", x.Text, y.Text, c.SourceName(s.Source)),
			Why:      "while wheels stand on both gaps no state suits both",
			Settings: c.Settings(s.Settings),
			Train:    fmt.Sprintf("one train with its head just past %s, another with its head just past %s", x.Text, y.Text),
			Witness:  []finding.Step{{Text: "gap at " + x.Text, Pos: c.WayPos(s.Exits[0])}, {Text: "gap at " + y.Text, Pos: c.WayPos(s.Exits[1])}},
			Fix:      "let one train at a time into the section, and say `serves: one-at-a-time` when that is the rule",
		})
	}
}
