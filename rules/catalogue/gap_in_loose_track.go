package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapInLooseTrack = rule.Rule{
	ID:       "gap-in-loose-track",
	Severity: finding.Caution,
	Practice: "gaps-where-track-is-firm",
	Title:    "an insulated gap is cut where nothing holds the track",
	Doc: rule.Doc{
		What:    "An insulated gap lies inside a lift-out piece of track, where the rails can move. Where else track is held firmly the layout cannot say, and the rule lists that as not checked for owners who hold to it.",
		Why:     "Loose rail ends shift sideways and along, so the gap closes or the wheels pick it.",
		Fix:     "Cut the gap where the rails are spiked, soldered to a printed board or glued down on both sides.",
		Example: "tracks:\n  gate: {from: M1 end, to: M2 start, length: 2 ft, lift-out: yes}\ngaps:\n  gate: [1 ft]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { gapInLooseTrack.Check = checkGapInLooseTrack }

func checkGapInLooseTrack(c *rule.Case) {
	for i := range c.L.Gaps {
		g := &c.L.Gaps[i]
		if g.Kind != layout.Insulated || g.Place.Piece < 0 || g.Place.End >= 0 {
			continue
		}
		p := &c.L.Pieces[g.Place.Piece]
		if p.Kind != layout.TrackPiece || c.L.Tracks[p.Index].LiftOut != layout.Yes {
			continue
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      g.Pos,
			Place:    c.GapPlace(int32(i)),
			Message:  fmt.Sprintf("the gap at %s lies inside a lift-out piece", c.GapPlace(int32(i)).Text),
			Why:      "rail that is lifted in and out moves, and the gap with it",
			Fix:      "cut the gap at the ends of the lift-out piece, where its rails are held",
			Mends:    firmMends(c, int32(i)),
		})
	}
	if c.Listed(c.Rule.Practice) && len(c.L.Gaps) > 0 {
		c.LeaveOpen("whether every gap is cut where the track is held firmly", "a layout file does not say where track is spiked or glued; look at each gap", practicePos(c))
	}
}

// practicePos is where the owner lists the rule's practice.
func practicePos(c *rule.Case) (pos source.Pos) {
	for _, p := range c.L.Practices {
		if p.Name == c.Rule.Practice {
			return p.Pos
		}
	}
	return pos
}
