package catalogue

import (
	"gapwise/districts"
	"gapwise/rules/rule"
)

// The rules between which a cause of bad detection is shared out.
const (
	bypassed    = "detector-bypassed"
	wrongLeg    = "detector-on-wrong-leg"
	sharedRail  = "rail-shared-by-detectors"
	otherThan   = "detector-differs-from-meant"
	seesNothing = "detector-sees-nothing"
)

// detectorTieRule says which rule a tie of what detectors see belongs to.
func detectorTieRule(c *rule.Case, d *districts.Detection, t *districts.Tie) string {
	switch {
	case t.Cut >= 0 && districts.HalfGap(&c.C.Ways[t.Cut]):
		return wrongLeg
	default:
		return detectorPairRule(d, t.Classes)
	}
}

// detectorPairRule tells two detectors side by side from one and what goes past it.
func detectorPairRule(d *districts.Detection, pair [2]int32) string {
	if pair[0] >= 0 && pair[1] >= 0 && !d.Behind(pair[0], pair[1]) && !d.Behind(pair[1], pair[0]) {
		return sharedRail
	}
	return bypassed
}

// otherDetectorRule says which rule a block belongs to whose feeders all miss its detector.
func otherDetectorRule(d *districts.Detection, x *districts.OtherDetector) string {
	reach := &d.Reach[x.Meant]
	switch {
	case reach.Around:
		return seesNothing
	case len(reach.Feeders) == 0 && len(reach.OtherLeg) > 0:
		return wrongLeg
	case x.Found >= 0:
		return otherThan
	default:
		return bypassed
	}
}

// bypassExplained reports whether another finding already names the gap that is missing.
func bypassExplained(c *rule.Case, t *districts.Tie) bool {
	for _, d := range c.T.Differences {
		if d.Missing && (d.Track < 0 || c.CutOn(t, d.Track)) {
			return true
		}
	}
	for i := range c.T.Ties {
		if o := &c.T.Ties[i]; o.Cut >= 0 && c.SameCut(o, t) {
			return true
		}
	}
	return false
}
