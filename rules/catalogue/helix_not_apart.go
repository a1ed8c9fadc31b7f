package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
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
	for _, run := range districts.Lines(c.L, func(t *layout.Track) bool { return t.Use == layout.UseHelix }) {
		helixRun(c, &run)
	}
}

// helixRun tells of one helix, which may be typed as several tracks end to end.
func helixRun(c *rule.Case, run *districts.Line) {
	own := func(track int32) bool {
		return slices.ContainsFunc(run.Tracks, func(t districts.LineTrack) bool { return t.Track == track })
	}
	if slices.ContainsFunc(run.Tracks, func(t districts.LineTrack) bool { return c.TiedAt(t.Track) }) {
		return // told as the missing gap it is
	}
	for _, r := range run.Tracks {
		t := &c.L.Tracks[r.Track]
		zone := c.T.MainZone(r.Track)
		if zone < 0 {
			continue
		}
		var names []string
		for _, o := range c.T.OtherTracks(zone, r.Track, rule.Stub) {
			if !own(o) {
				names = append(names, c.L.Tracks[o].Name)
			}
		}
		if len(names) == 0 {
			continue
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      t.Pos,
			Place:    finding.Place{Piece: t.Name, Text: t.Name},
			Message:  fmt.Sprintf("helix track %s is one block, as wired, with %s", t.Name, strings.Join(names, ", ")),
			Why:      "a train stalled in the helix cannot be told from, or switched off without, the rest",
			Fix:      "cut both rails of " + t.Name + " at both decks",
			Mends:    helixMends(c, r.Track),
		})
		return
	}
}
