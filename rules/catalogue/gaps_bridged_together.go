package catalogue

import (
	"fmt"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapsBridgedTogether = rule.Rule{
	ID:       "gaps-bridged-together",
	Severity: finding.Fault,
	Title:    "a train that bridges several gaps at once joins opposite legs",
	Doc: rule.Doc{
		What:    "Opposite legs of one phase lie beyond two gaps that a train bridges at once, each of them sound by itself: what lies between is rail that no leg reaches in that setting, or that carries a phase which is tied to neither. Every route that valid settings allow is walked. A train joins what lies less than its length apart, from its first wheel to its last; one that rolls on plastic wheels only what lies less than the pick-up base apart. Any train may also be shorter. Over the bridge of a turntable or transfer table it is a note.",
		Why:     "Each wheel on a gap looks harmless, yet the rail between conducts from the one to the other, and the booster is shorted while the train stands there.",
		Fix:     "Feed the rail between through a reverser, with its gaps farther apart than the longest train; where the line closes no reversing loop, swap the wires of one side instead.",
		Example: "gaps:\n  M1: [4 ft, 4 ft 6 in]   # no feeder between; leg A is on the left before and on the right beyond",
	},
	Sources: []string{"electrical necessity: a short circuit through several wheels; phases that must agree form a signed graph, which is balanced when some state of each suits all (Harary 1953)"},
}

func init() { gapsBridgedTogether.Check = checkGapsBridgedTogether }

func checkGapsBridgedTogether(c *rule.Case) {
	list, open, stopped := straddles(c, func(s *districts.Straddle) bool {
		switch s.Kind {
		case districts.StraddleGap:
			return false
		case districts.StraddleSection, districts.StraddleChain:
			return overPit(c, s)
		default:
			return true
		}
	})
	for i := range list {
		reportBridged(c, &list[i])
	}
	for i := range open {
		leaveStraddleOpen(c, &open[i])
	}
	for _, w := range stopped {
		c.GiveUp("every place of a train about "+straddleWord(c, w), "there are too many routes within a train's length", c.WayPos(w))
	}
}

func reportBridged(c *rule.Case, s *districts.Straddle) {
	f := straddleFinding(c, s)
	first, last := s.Places[0], s.Places[len(s.Places)-1]
	f.Message = fmt.Sprintf("a train over %s and %s joins %s to %s", straddleWord(c, first), straddleWord(c, last), c.Terminal(s.Legs[0]), c.Terminal(s.Legs[1]))
	switch {
	case overPit(c, s):
		f.Severity = finding.Note
		f.Why = "no state of the bridge suits the tracks at both of its ends"
		f.Fix = "run nothing across the bridge that is longer than it, from the first wheel to the last"
	case s.Kind == districts.StraddleDead:
		f.Why = "the rail between the two is fed by nothing and conducts from the one to the other"
		f.Fix = "feed the rail between through a reverser, with its gaps farther apart than the longest train; where the line closes no reversing loop, swap the wires of one side instead"
	default:
		f.Why = "the rail between suits either side, but not both at once"
		f.Fix = "move the gaps farther apart than the train is long, or swap the wires of one side"
	}
	c.Report(f)
}
