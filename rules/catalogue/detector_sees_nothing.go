package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var detectorSeesNothing = rule.Rule{
	ID:       seesNothing,
	Severity: finding.Caution,
	Title:    "no rail hangs behind a detector",
	Doc: rule.Doc{
		What:    "No feeder, bridge, frog or load takes its current through a detector; or its wire comes back to what feeds the detector, so that current goes round it. Where a block is meant to have the detector and its feeders go past it, `detector-bypassed` says so instead.",
		Why:     "The detector shows nothing, whatever runs.",
		Fix:     "Take the watched leg of the block's feeders from the detector's wire, or take the detector out.",
		Example: "detectors:\n  D3: {from: harbour @ 4 ft, leg: A}\nbuses:\n  D3-wire: {from: detector D3, wire: 16 AWG, length: 9 ft}   # no feeder hangs from it",
	},
	Sources: []string{"electrical necessity: a detector sees the current that goes through it"},
}

func init() { detectorSeesNothing.Check = checkDetectorSeesNothing }

func checkDetectorSeesNothing(c *rule.Case) {
	d := c.T.Detection()
	others := d.OtherDetectors()
	for i := range d.Reach {
		r := &d.Reach[i]
		named := slices.ContainsFunc(others, func(x districts.OtherDetector) bool {
			return (x.Meant == int32(i) || (x.Exchanged >= 0 && x.Found == int32(i))) && !c.DiffersFromMeant(x.Block)
		})
		empty := len(r.Feeders) == 0 && len(r.OtherLeg) == 0 && len(r.Detectors) == 0 && !r.Rail && !r.Load
		switch {
		case r.Around:
			c.Report(nothingSeen(c, int32(i), "the wire behind %s comes back to what feeds it, so current goes round it", "part its wire from the bus that feeds it"))
		case !empty || named || c.C.DetectorIn[i] < 0:
		case unknownTaps(c):
			c.LeaveOpen("whether any rail hangs behind "+c.DetectorName(int32(i)), "where a feeder or a bus hangs is unknown", c.L.Detectors[i].Pos)
		default:
			c.Report(nothingSeen(c, int32(i), "no rail takes its current through %s", "take the watched leg of its block's feeders from its wire, or take the detector out"))
		}
	}
}

func nothingSeen(c *rule.Case, detector int32, message, fix string) finding.Finding {
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      c.L.Detectors[detector].Pos,
		Place:    finding.Place{Text: c.DetectorName(detector)},
		Message:  fmt.Sprintf(message, c.DetectorName(detector)),
		Why:      "the detector shows nothing, whatever runs",
		Fix:      fix,
		Mends:    nothingMends(c, detector),
	}
}

// unknownTaps reports whether a feeder or a bus says that it is not known where it hangs.
func unknownTaps(c *rule.Case) bool {
	return slices.ContainsFunc(c.L.Feeders, func(f layout.Feeder) bool { return f.From[layout.A].Unknown || f.From[layout.B].Unknown }) ||
		slices.ContainsFunc(c.L.Buses, func(b layout.Bus) bool {
			return b.From.Kind == layout.FromUnknown || (b.From.Kind == layout.FromTap && b.From.Tap.Unknown)
		})
}
