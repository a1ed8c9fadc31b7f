package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorBypassedWhenSet = rule.Rule{
	ID:       "detector-bypassed-when-set",
	Severity: finding.Caution,
	Title:    "blades or contacts lead current past a block's detector",
	Doc: rule.Doc{
		What:    "A stretch of a block takes the watched leg through its detector, and with some turnout, switch or changeover set so also past it: by contacts that feed a frog and the rail beyond it straight from the bus, say. Where feeders, rail or bonds do so in every setting, `detector-bypassed` says so instead.",
		Why:     "In that setting a part of a train's current goes past the detector, so it may not see the train.",
		Fix:     "Feed the contacts from the detector's wire, or insulate the rail beyond the frog.",
		Example: "turnouts:\n  T1: {hand: left, frog-from: harbour @ 9 ft, frog-gets: {straight: B, curved: open}}   # harbour, and not the wire of the detector that watches leg B here",
	},
	Sources: []string{"electrical necessity: current divides over parallel paths"},
}

func init() { detectorBypassedWhenSet.Check = checkDetectorBypassedWhenSet }

func checkDetectorBypassedWhenSet(c *rule.Case) {
	list, _ := c.T.Unwatched() // rail-unwatched says where the search gave up
	for _, u := range unwatchedTogether(list, true) {
		detector, leg := c.DetectorName(u[0].Detector), c.LegWord(c.L.Detectors[u[0].Detector].Leg)
		f := unwatchedFinding(c, u)
		f.Message = fmt.Sprintf("%s gets %s through %s, and%s also %s", f.Place.Text, leg, detector, whenSet(f.Settings), throughText(c, u[0].Through))
		f.Why = pastDetector
		if u[0].Through[0] >= 0 {
			f.Why = dividedCurrent
		}
		f.Fix = fmt.Sprintf("feed what joins it there from the wire of %s, or insulate the rail between", detector)
		c.Report(f)
	}
}
