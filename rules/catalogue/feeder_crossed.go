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

var feederCrossed = rule.Rule{
	ID:       "feeder-crossed",
	Severity: finding.Fault,
	Title:    "a feeder is connected the wrong way round",
	Doc: rule.Doc{
		What:    "A feeder puts leg A on the rail that its neighbours, along the rails and across the gaps, put leg B on. The one feeder is named whose two wires would have to be swapped, not each short that it makes.",
		Why:     "It shorts the booster through the rail to the next feeder, or makes wheels short where they cross the gap to the next block.",
		Fix:     "Swap the two wires of that feeder at the rail, or at the bus.",
		Example: "feeders:\n  M1: {2 ft: {from: main @ 2 ft, A: left}, 5 ft: {from: main @ 5 ft, A: right}}",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit", "which of several feeders is named, by the least that would have to change: " + rule.CommonPractice},
}

func init() { feederCrossed.Check = checkFeederCrossed }

func checkFeederCrossed(c *rule.Case) {
	p := c.T.Polarity
	for _, f := range p.WrongFeeders {
		feeder := &c.L.Feeders[f]
		place := c.FeederPlace(f)
		shouldBe := feeder.ARail.Other()
		from, _, path := c.T.PathThrough(f)
		x := finding.Finding{
			Severity: finding.Fault,
			Pos:      feeder.Pos,
			Place:    place,
			Message: fmt.Sprintf("the feeder at %s is crossed: it puts %s on the %s rail, where the feeders around it put it on the %s rail",
				c.Place(feeder.Place).Text, c.LegWord(layout.A), c.RailWord(feeder.ARail), c.RailWord(shouldBe)),
			Why:        "it shorts the booster through the rail, or through the first wheel on the gap",
			Fix:        fmt.Sprintf("swap the two wires of this feeder at the rail (so that `A: %s` is true)", [2]string{"left", "right"}[shouldBe]),
			Candidates: otherExplanations(c, p),
		}
		if path != nil {
			x.Witness = c.WitnessFrom(from, path)
		} else {
			x.Witness = c.WitnessTo(c.C.FeederSpot[f], feeder.ARail)
		}
		c.Report(x)
	}
	if !p.Exact {
		c.LeaveOpen("whether fewer changes would explain the crossed feeders and gaps", "the search for the least explanation reached its bound on work; the one given is right but may not be the least", feederPos(c, p.WrongFeeders))
	}
}

// otherExplanations lists, as text, the other ways to account for the same contradictions.
func otherExplanations(c *rule.Case, p *districts.Polarity) []string {
	var out []string
	for i := range p.Others {
		var parts []string
		for _, f := range p.Others[i].Feeders {
			if !slices.Contains(p.WrongFeeders, f) {
				parts = append(parts, "the feeder at "+c.Place(c.L.Feeders[f].Place).Text+" is the crossed one")
			}
		}
		for _, g := range p.Others[i].Gaps {
			if !slices.Contains(p.WrongGaps, g) {
				parts = append(parts, "the two sides of "+c.WayPlace(g).Text+" are fed the opposite way round")
			}
		}
		for _, b := range p.Others[i].Signals {
			if !slices.Contains(p.WrongSignals, b) {
				parts = append(parts, "booster "+c.L.Boosters[b].Name+" is out of phase")
			}
		}
		if text := strings.Join(parts, ", and "); text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}
