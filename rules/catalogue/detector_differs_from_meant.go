package catalogue

import (
	"fmt"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorDiffersFromMeant = rule.Rule{
	ID:       otherThan,
	Severity: finding.Caution,
	Title:    "a block's feeders pass another detector than the block is meant to have",
	Doc: rule.Doc{
		What:    "All feeders of a block take the watched leg through one detector, and `blocks` names another. Where two blocks have each other's detector, their wires are exchanged, and one finding says so.",
		Why:     "A train shows in another block than it is in, and signals and turnouts are thrown by it.",
		Fix:     "Exchange the wires at the detectors, or write the block down with the detector it has.",
		Example: "feeders:\n  M1:\n    A: right\n    2 ft: {from: harbour @ 2 ft, A-from: D2-wire @ 1 ft}\nblocks:\n  B1: {covers: M1, detector: D1}",
	},
	Sources: []string{"yours: `blocks`"},
}

func init() { detectorDiffersFromMeant.Check = checkDetectorDiffersFromMeant }

func checkDetectorDiffersFromMeant(c *rule.Case) {
	d := c.T.Detection()
	for _, x := range d.OtherDetectors() {
		if otherDetectorRule(d, &x) == c.Rule.ID && !c.DiffersFromMeant(x.Block) {
			c.Report(otherDetector(c, &x))
		}
	}
}

func otherDetector(c *rule.Case, x *districts.OtherDetector) finding.Finding {
	leg := c.L.Detectors[x.Meant].Leg
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      c.L.Blocks[x.Block].Pos,
		Place:    finding.Place{Text: c.BlockName(x.Block)},
		Message:  fmt.Sprintf("%s is meant to have %s, and its feeders pass %s (%s)", c.BlockName(x.Block), c.DetectorName(x.Meant), c.DetectorName(x.Found), feedersText(c, x.Feeders)),
		Why:      "a train in this block shows in another",
		Witness:  c.WitnessTo(c.C.FeederSpot[x.Feeders[0]], c.LegRail(x.Feeders[0], leg)),
		Fix:      fmt.Sprintf("take %s of its feeders from the wire of %s (`%s-from:`), or write the block down with %s", c.LegWord(leg), c.DetectorName(x.Meant), leg, c.DetectorName(x.Found)),
		Mends:    watchMends(c, x.Feeders, x.Meant),
	}
	if x.Exchanged >= 0 {
		f.Mends = append(exchangeMends(c, x.Meant, x.Found), f.Mends...)
		f.Message = fmt.Sprintf("%s and %s have each other's detector: the feeders of the one pass %s, and %s is meant", c.BlockName(x.Block), c.BlockName(x.Exchanged), c.DetectorName(x.Found), c.DetectorName(x.Meant))
		f.Also = []string{c.BlockName(x.Exchanged)}
		f.Fix = fmt.Sprintf("exchange the wires of %s and %s at the detectors", c.DetectorName(x.Meant), c.DetectorName(x.Found))
	}
	return f
}
