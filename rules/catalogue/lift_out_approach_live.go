package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// stopsWithin is how far a train rolls on, in metres (2 ft), when its track goes dead.
// Common practice, no source.
const stopsWithin = 0.6096

var liftOutApproachLive = rule.Rule{
	ID:         "lift-out-approach-live",
	Severity:   finding.Caution,
	Practice:   "lift-out-approaches-dead",
	OnlyListed: true,
	Title:      "track beside a lift-out stays live when the piece is out",
	Doc: rule.Doc{
		What:    "For owners who list the practice. With a lift-out piece taken out, and with it the plugs and in-line switches behind which its feeders hang, some track within 2 ft (610 mm) of the opening stays live.",
		Why:     "An engine then runs over the edge.",
		Fix:     "Cut both rails 2 ft before the opening on either side, and feed what lies between from behind the lift-out's plug or switch.",
		Example: "tracks:\n  gate: {from: M1 end, to: M2 start, length: 2 ft, lift-out: yes}\nfeeders:\n  M1: {A: left, 9 ft: main @ 9 ft}   # nothing cuts M1 off from its end\npractice: [lift-out-approaches-dead]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { liftOutApproachLive.Check = checkLiftOutApproachLive }

func checkLiftOutApproachLive(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	for _, a := range c.T.LiveApproaches(stopsWithin) {
		t := &c.L.Tracks[a.Track]
		place := c.SpotPlace(a.Spot)
		where := "from the opening on"
		if a.Metres > 0 {
			where = "from " + rule.Length("", a.Metres).Text + " before the opening on"
		}
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      t.Pos,
			Place:    place,
			Message:  fmt.Sprintf("with %s lifted out, the track that meets it at %s stays live %s", t.Name, place.Text, where),
			Why:      "an engine runs over the edge",
			Numbers:  []finding.Number{{Name: "dead track before the opening", Text: rule.Length("", a.Metres).Text, SI: a.Metres, Unit: "m", Limit: "at least " + rule.Length("", stopsWithin).Text, Source: rule.CommonPractice}},
			Fix:      fmt.Sprintf("cut both rails %s before the opening, and feed what lies between from behind the plug or switch of %s", rule.Length("", stopsWithin).Text, t.Name),
			Mends:    approachMends(c, &a),
		})
	}
}
