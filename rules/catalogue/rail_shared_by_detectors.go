package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railSharedByDetectors = rule.Rule{
	ID:       sharedRail,
	Severity: finding.Caution,
	Title:    "two detectors feed one stretch of track",
	Doc: rule.Doc{
		What:    "What one detector sees is joined to what another sees, and neither hangs behind the other: a feeder that comes from the neighbour's detector, or rail or a bond that joins the two blocks.",
		Why:     "A train's current divides between the two: both blocks show it, or, where the share is too small, neither does.",
		Fix:     "Take all feeders of a block from one detector, and cut the watched rail where two blocks meet.",
		Example: "feeders:\n  M1:\n    A: right\n    2 ft: {from: harbour @ 2 ft, A-from: D1-wire @ 1 ft}\n    5 ft: {from: harbour @ 5 ft, A-from: D2-wire @ 1 ft}   # one block, two detectors",
	},
	Sources: []string{"electrical necessity: current divides over parallel paths"},
}

// dividedCurrent is why track that two detectors feed matters.
const dividedCurrent = "a train's current divides between the two detectors, so both blocks show it, or neither does"

func init() { railSharedByDetectors.Check = checkRailSharedByDetectors }

func checkRailSharedByDetectors(c *rule.Case) {
	d := c.T.Detection()
	for i := range c.T.DetectorTies {
		if t := &c.T.DetectorTies[i]; detectorTieRule(c, d, t) == c.Rule.ID {
			reportDetectorTie(c, t, dividedCurrent)
		}
	}
	for i := range c.T.PastDetector {
		if t := &c.T.PastDetector[i]; detectorPairRule(d, t.Classes) == c.Rule.ID {
			c.Report(bypassBond(c, t, dividedCurrent))
		}
	}
}
