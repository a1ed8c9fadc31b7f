package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var sidingsNotInsulated = rule.Rule{
	ID:       "sidings-not-insulated",
	Severity: finding.Caution,
	Practice: "yard-cut-from-main",
	Title:    "yard or industry track is not cut off from the main",
	Doc: rule.Doc{
		What:    "Track whose use is yard or industry is joined, from end to end, without an insulated gap to track whose use is main. A track that a gap cuts somewhere is cut off. Reported where the main is detected, or where the owner lists the practice; elsewhere it is nobody's concern.",
		Why:     "Cars standing in the yard hold the main-line block occupied, and a short in the yard stops the main.",
		Fix:     "Cut both rails where the yard leaves the main, and feed it by itself.",
		Example: "tracks:\n  Y1: {from: T6 curved, to: end, length: 5 ft, use: yard}   # T6 on the main, no gap",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { sidingsNotInsulated.Check = checkSidingsNotInsulated }

func checkSidingsNotInsulated(c *rule.Case) {
	for z := range c.T.Zones.List {
		zone := &c.T.Zones.List[z]
		main, yard := c.T.UseLength(int32(z), layout.UseMain), c.T.WholeLength(int32(z), layout.UseYard, layout.UseIndustry)
		if main < rule.Stub || yard < rule.Stub || (len(zone.Detectors) == 0 && !c.Listed(c.Rule.Practice)) {
			continue
		}
		track := c.T.NearestToMain(int32(z), layout.UseYard, layout.UseIndustry)
		if track < 0 || c.TiedAt(track) || c.DiffersOn(int32(z)) {
			continue
		}
		t := &c.L.Tracks[track]
		seen := ""
		if len(zone.Detectors) > 0 {
			seen = ", which " + c.DetectorName(zone.Detectors[0]) + " watches"
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      t.Pos,
			Place:    finding.Place{Piece: t.Name, Text: t.Name},
			Message:  fmt.Sprintf("%s (%s) is joined to the main without an insulated gap%s", t.Name, t.Use, seen),
			Why:      "cars left there hold the main-line block occupied, and a short there stops the main",
			Numbers:  []finding.Number{rule.Length("yard and industry track in the main's block", yard)},
			Fix:      "cut both rails where it leaves the main, and feed it by itself",
			Mends:    insulateMends(c, track),
		})
	}
}
