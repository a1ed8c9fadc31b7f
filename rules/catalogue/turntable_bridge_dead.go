package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var turntableBridgeDead = rule.Rule{
	ID:       "turntable-bridge-dead",
	Severity: finding.Caution,
	Title:    "a bridge has no power where it meets a track",
	Doc: rule.Doc{
		What:    "A track of a turntable lies inside the dead arc of its split ring. The arc is taken to lie evenly about `split-at` and about the place half a turn on.",
		Why:     "An engine stops on the bridge at that track, and nothing but a push brings it off.",
		Fix:     "Turn the split of the ring to where no track is, or move the track.",
		Example: "turntables:\n  TT: {bridge: 10 in, tracks: {lead: 90 deg, r1: 270 deg}, feed: split-ring, from: main @ 4 ft, A: left, split-at: 90 deg, dead-arc: 10 deg}",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { turntableBridgeDead.Check = checkTurntableBridgeDead }

func checkTurntableBridgeDead(c *rule.Case) {
	tracks := map[layout.PieceID][]string{}
	var pieces []layout.PieceID
	for _, e := range c.T.PitEdges() {
		if !e.Dead {
			continue
		}
		if tracks[e.Piece] == nil {
			pieces = append(pieces, e.Piece)
		}
		if name := c.L.Pieces[e.Piece].Ends[e.End].Name; !slices.Contains(tracks[e.Piece], name) {
			tracks[e.Piece] = append(tracks[e.Piece], name)
		}
	}
	slices.Sort(pieces)
	for _, p := range pieces {
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      c.L.Pieces[p].Pos,
			Place:    c.PiecePlace(p),
			Message:  fmt.Sprintf("the bridge of %s has no power at %s", c.L.Pieces[p].Name, strings.Join(tracks[p], ", ")),
			Why:      "an engine stops on the bridge there",
			Fix:      "turn the split of the ring to where no track lies",
			Mends:    splitMends(c, p),
		})
	}
}
