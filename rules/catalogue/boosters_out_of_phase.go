package catalogue

import (
	"fmt"
	"slices"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var boostersOutOfPhase = rule.Rule{
	ID:       "boosters-out-of-phase",
	Severity: finding.Fault,
	Title:    "a booster's signal is wired the other way round than its neighbours'",
	Doc: rule.Doc{
		What:    "The districts of one booster disagree with their neighbours across every gap, so that swapping its two signal wires (or its two output wires) puts all of them right at once.",
		Why:     "Each wheel that crosses from its districts to another's joins leg A to leg B, with twice the voltage between two boosters.",
		Fix:     "Swap the two signal wires at that booster, or its two output wires, not both.",
		Example: "boosters:\n  back: {supply: back, volts: 15 V, signal: command, signal-wired: crossed}",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit through the wheel"},
}

func init() { boostersOutOfPhase.Check = checkBoostersOutOfPhase }

func checkBoostersOutOfPhase(c *rule.Case) {
	for _, b := range c.T.Polarity.WrongSignals {
		booster := &c.L.Boosters[b]
		f := finding.Finding{
			Severity:   finding.Fault,
			Pos:        booster.Pos,
			Place:      finding.Place{Text: "booster " + booster.Name},
			Message:    fmt.Sprintf("booster %s is out of phase: wherever its districts meet another booster's, leg A lies against leg B", booster.Name),
			Why:        "every wheel that crosses such a gap shorts both boosters, with twice the track voltage between them",
			Train:      "a metal wheel on a gap between two boosters",
			Fix:        "swap the two signal wires of this booster, or its two output wires, not both",
			Candidates: otherExplanations(c, func(e *districts.Explanation) bool { return slices.Contains(e.Signals, b) }),
			Mends:      phaseMends(c, b),
		}
		for i := range c.C.Ways {
			if w := &c.C.Ways[i]; c.T.MeetsBoosters(w, b) {
				f.Also = append(f.Also, "the gap at "+c.WayPlace(int32(i)).Text)
				if f.Witness == nil {
					f.Witness = c.BothSides(int32(i))
					f.Fix += acrossTest(c, int32(i))
				}
			}
		}
		c.Report(f)
	}
	if len(c.L.Boosters) < 2 {
		return
	}
	for i := range c.L.Boosters {
		b := &c.L.Boosters[i]
		if b.Signal == "" || !c.T.SignalKnown(int32(i)) {
			c.LeaveOpen("whether booster "+b.Name+" is in phase with the others", "the layout does not say how its signal is wired (`signal`, `signal-wired`)", b.Pos)
		}
	}
}
