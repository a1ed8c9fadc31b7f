package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var helixNotApart = rule.Rule{
	ID:       "helix-not-apart",
	Severity: finding.Caution,
	Practice: "helix-blocks-apart",
	Title:    "a track of a helix is not a block of its own",
	Doc: rule.Doc{
		What:    "Track whose use is helix lies in one block, as wired, with track of another use, or with another track of the helix.",
		Why:     "A helix is hidden and steep: when a train stalls there, owners want to know which track it is on and to switch it off without the decks.",
		Fix:     "Cut both rails of the helix track at both decks.",
		Example: "tracks:\n  HA: {from: T10 curved, to: T11 straight, length: 41 ft, use: helix}   # gapped at the bottom only",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { helixNotApart.Check = checkHelixNotApart }

func checkHelixNotApart(c *rule.Case) {
	for i := range c.L.Tracks {
		t := &c.L.Tracks[i]
		if t.Use != layout.UseHelix || c.TiedAt(int32(i)) {
			continue
		}
		zone := c.T.MainZone(int32(i))
		if zone < 0 {
			continue
		}
		other := c.T.OtherTracks(zone, int32(i), rule.Stub)
		if len(other) == 0 {
			continue
		}
		names := ""
		for k, o := range other {
			if k > 0 {
				names += ", "
			}
			names += c.L.Tracks[o].Name
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      t.Pos,
			Place:    finding.Place{Piece: t.Name, Text: t.Name},
			Message:  fmt.Sprintf("helix track %s is one block, as wired, with %s", t.Name, names),
			Why:      "a train stalled in the helix cannot be told from, or switched off without, the rest",
			Fix:      "cut both rails of " + t.Name + " at both decks",
		})
	}
}
