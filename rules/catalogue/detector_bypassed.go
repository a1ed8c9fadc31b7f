package catalogue

import (
	"fmt"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorBypassed = rule.Rule{
	ID:       bypassed,
	Severity: finding.Caution,
	Title:    "current reaches a detected block past its detector",
	Doc: rule.Doc{
		What:    "The rail that a detector watches is also fed by a path around the detector: a feeder that takes that leg straight from the bus, or rail or a bond that joins the block to track that no detector watches; or no feeder of the block passes the detector it is meant to have.",
		Why:     "Part or all of a train's current does not pass the detector, so it may not see the train.",
		Fix:     "Take that leg of the feeder from the detector's own wire, or cut the rail between the two blocks.",
		Example: "feeders:\n  M1:\n    A: right\n    2 ft: {from: harbour @ 2 ft, A-from: D1-wire @ 1 ft}\n    5 ft: harbour @ 5 ft   # leg A past the detector",
	},
	Sources: []string{"electrical necessity: current divides over parallel paths"},
}

func init() { detectorBypassed.Check = checkDetectorBypassed }

func checkDetectorBypassed(c *rule.Case) {
	d := c.T.Detection()
	for i := range c.T.DetectorTies {
		if t := &c.T.DetectorTies[i]; detectorTieRule(c, d, t) == c.Rule.ID {
			reportDetectorTie(c, t, pastDetector)
		}
	}
	for i := range c.T.PastDetector {
		if t := &c.T.PastDetector[i]; detectorPairRule(d, t.Classes) == c.Rule.ID {
			c.Report(bypassBond(c, t, pastDetector))
		}
	}
	for _, x := range d.OtherDetectors() {
		if otherDetectorRule(d, &x) == c.Rule.ID && !c.DiffersFromMeant(x.Block) {
			c.Report(notSeen(c, &x))
		}
	}
}

// reportDetectorTie tells of a feeder or of rail that joins what a detector sees to what it does not,
// and why that matters.
func reportDetectorTie(c *rule.Case, t *districts.Tie, why string) {
	if t.Feeder >= 0 {
		if !c.StrayFeeder(t.Feeder) {
			c.Report(bypassFeeder(c, t, max(t.Classes[0], t.Classes[1]), why))
		}
		return
	}
	if !bypassExplained(c, t) {
		c.Report(detectorCut(c, t, why))
	}
}

// detectorCut tells of a gap that is missing where a detector's block ends.
func detectorCut(c *rule.Case, t *districts.Tie, why string) finding.Finding {
	place, where := c.CutPlace(t)
	detector, other := max(t.Classes[0], t.Classes[1]), min(t.Classes[0], t.Classes[1])
	watches, _ := c.T.Watches()
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      c.WayPos(t.Cut),
		Place:    place,
		Settings: bypassSettings(c, watches, detector, other),
		Message:  fmt.Sprintf("rail joins what %s sees to what %s sees %s", c.DetectorName(detector), c.DetectorName(other), where),
		Why:      why,
		Witness:  c.TieWitness(t),
		Fix:      "cut the rail that the detector watches " + where + ", or feed both sides through one detector",
		Mends:    tieCutMends(c, t),
	}
}

// pastDetector is why a path around a detector matters.
const pastDetector = "part of a train's current goes past the detector, so it may not see the train"

func bypassBond(c *rule.Case, t *districts.BondTie, why string) finding.Finding {
	bond := &c.L.Bonds[t.Bond]
	place := c.Place(bond.From)
	place.Text = "the bond from " + place.Text + " to " + c.Place(bond.To).Text
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      bond.Pos,
		Place:    place,
		Message:  fmt.Sprintf("%s joins what %s sees to what %s sees", place.Text, c.DetectorName(max(t.Classes[0], t.Classes[1])), c.DetectorName(min(t.Classes[0], t.Classes[1]))),
		Why:      why,
		Witness:  bondWitness(c, t),
		Fix:      "take this bond off",
		Mends:    bypassBondMends(c, t),
	}
}

// notSeen tells of a block whose feeders all go past the detector it is meant to have.
func notSeen(c *rule.Case, x *districts.OtherDetector) finding.Finding {
	leg := c.L.Detectors[x.Meant].Leg
	block := &c.L.Blocks[x.Block]
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      block.Pos,
		Place:    finding.Place{Text: c.BlockName(x.Block)},
		Message:  fmt.Sprintf("%s is meant to have %s, and no feeder of it takes %s through that: they pass %s", c.BlockName(x.Block), c.DetectorName(x.Meant), c.LegWord(leg), c.DetectorName(x.Found)),
		Why:      "the detector sees no train there",
		Witness:  c.WitnessTo(c.C.FeederSpot[x.Feeders[0]], c.LegRail(x.Feeders[0], leg)),
		Fix:      fmt.Sprintf("take %s of its feeders from the wire of %s (`%s-from:`)", c.LegWord(leg), c.DetectorName(x.Meant), leg),
		Mends:    watchMends(c, x.Feeders, x.Meant),
	}
}

func bypassFeeder(c *rule.Case, t *districts.Tie, detector int32, why string) finding.Finding {
	feeder := &c.L.Feeders[t.Feeder]
	own, around := t.Classes[0], t.Classes[1]
	leg := c.L.Detectors[detector].Leg
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      feeder.Pos,
		Place:    c.FeederPlace(t.Feeder),
		Why:      why,
		Witness:  c.WitnessTo(c.C.FeederSpot[t.Feeder], c.LegRail(t.Feeder, leg)),
		Mends:    bypassMends(c, t, leg),
	}
	if own < 0 {
		f.Message = fmt.Sprintf("the feeder at %s takes %s straight from %s, past %s that watches this block", c.Place(feeder.Place).Text, c.LegWord(leg), c.FeederLegTo(t.Feeder, leg), c.DetectorName(around))
		f.Fix = fmt.Sprintf("take %s of this feeder from the wire of %s (`%s-from:`)", c.LegWord(leg), c.DetectorName(around), leg)
	} else {
		f.Message = fmt.Sprintf("the feeder at %s takes %s through %s, but the rails around it belong to %s", c.Place(feeder.Place).Text, c.LegWord(leg), c.DetectorName(own), c.DetectorName(around))
		f.Fix = fmt.Sprintf("take %s of this feeder from where the feeders around it take it", c.LegWord(leg))
	}
	return f
}
