package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapPolarityMismatch = rule.Rule{
	ID:       rule.GapPolarity,
	Severity: finding.Fault,
	Title:    "wheels that bridge a gap join opposite legs",
	Doc: rule.Doc{
		What:    "On one side of a gap a rail carries leg A, on the other side the same rail carries leg B, and no reversing loop and no single crossed feeder explains it.",
		Why:     "Every metal wheel that crosses the gap shorts the booster.",
		Fix:     "Find which side is wired the other way round (more than one feeder, a whole bus, or two ends of a track exchanged) and swap it.",
		Example: "feeders:\n  M1: {A: left, 1 ft: main @ 1 ft, 3 ft: main @ 3 ft}\n  M2: {A: right, 1 ft: main @ 9 ft, 3 ft: main @ 11 ft}   # M1 and M2 meet at a gap",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit through the wheel"},
}

func init() { gapPolarityMismatch.Check = checkGapPolarityMismatch }

func checkGapPolarityMismatch(c *rule.Case) {
	var gaps []int32
	for _, w := range c.T.Polarity.WrongGaps {
		if id, _ := c.GapRule(w); id == c.Rule.ID {
			gaps = append(gaps, w)
		}
	}
	for _, m := range c.T.Mismatches(gaps) {
		w := m.Gaps[0]
		way := &c.C.Ways[w]
		place := c.WayPlace(w)
		a, okA := c.T.Polarity.ARail(way.A)
		message := "wheels that bridge " + place.Text + " join leg A to leg B"
		if okA {
			message = fmt.Sprintf("at %s the %s rail carries %s on one side of the gap and %s on the other", place.Text, c.RailWord(a), c.LegWord(layout.A), c.LegWord(layout.B))
		}
		f := finding.Finding{
			Severity:   finding.Fault,
			Pos:        c.WayPos(w),
			Place:      place,
			Message:    message,
			Why:        "every metal wheel that crosses the gap shorts the booster",
			Train:      "a metal wheel on the gap",
			Witness:    c.BothSides(w),
			Fix:        mismatchFix(c, m.Feeders) + acrossTest(c, w),
			Candidates: otherExplanations(c, func(e *districts.Explanation) bool { return slices.Contains(e.Gaps, w) }),
			Mends:      mismatchMends(c, w, m.Feeders),
		}
		for _, g := range m.Gaps[1:] {
			f.Also = append(f.Also, "the gap at "+c.WayPlace(g).Text)
		}
		c.Report(f)
	}
}

// mismatchFix says what to swap: the feeders of one side, or what else feeds it.
func mismatchFix(c *rule.Case, feeders []int32) string {
	if len(feeders) == 0 {
		return "swap the two wires of what feeds one side: a bond, a plug or a bus"
	}
	return "swap the two wires of every feeder on one side, or of their bus if nothing else hangs from it; they are at " + feedersText(c, feeders)
}

// feedersText lists feeders by their places, the first few of many.
func feedersText(c *rule.Case, feeders []int32) string {
	const few = 6
	var names []string
	for i, f := range feeders {
		if i == few {
			names = append(names, fmt.Sprintf("%d more", len(feeders)-few))
			break
		}
		names = append(names, c.Place(c.L.Feeders[f].Place).Text)
	}
	return strings.Join(names, ", ")
}
