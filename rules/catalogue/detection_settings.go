package catalogue

import (
	"slices"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// bypassSettings are the fewest settings in which current that a detector is to see goes past it, through another detector or none (-1); none where
// it does in every setting.
func bypassSettings(c *rule.Case, watches []districts.Watch, detector, other int32) []string {
	if detector < 0 {
		return nil
	}
	var out []string
	for i := range watches {
		w := &watches[i]
		own := slices.IndexFunc(w.Always, func(s districts.Seen) bool { return s.Detector == detector })
		if own < 0 || w.Way >= 0 {
			continue
		}
		if w.Always[own].Part {
			return nil
		}
		for _, n := range w.When {
			if n.Detector == other && n.Leg == c.L.Detectors[detector].Leg && (out == nil || len(n.Settings) < len(out)) {
				out = c.Settings(n.Settings)
			}
		}
	}
	return out
}
