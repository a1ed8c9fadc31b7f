package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var feederMissingAtExpansionGap = rule.Rule{
	ID:       "feeder-missing-at-expansion-gap",
	Severity: finding.Caution,
	Practice: "feeders-at-expansion-gaps",
	Title:    "one side of an expansion gap has no feeder",
	Doc: rule.Doc{
		What:    "Between an expansion gap that has no bond wire and the next gap, joint of that kind or end of the track, one side has no feeder. Where that side is dead altogether, rail-dead says so instead.",
		Why:     "A cut does not conduct, and a sliding joint stops conducting when it corrodes or moves.",
		Fix:     "Hang a feeder on that side, or bond the rails across the gap with a loop of flexible wire.",
		Example: "gaps:\n  M3: [{at: 5 ft 9 in, kind: expansion, joint: sliding}]\nfeeders:\n  M3: {A: left, 1 ft: main @ 1 ft}   # none beyond the gap",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { feederMissingAtExpansionGap.Check = checkFeederMissingAtExpansionGap }

func checkFeederMissingAtExpansionGap(c *rule.Case) {
	for i := range c.C.Ways {
		w := &c.C.Ways[i]
		if w.Kind != circuit.WayCut {
			continue
		}
		g := max(w.Gaps[0], w.Gaps[1])
		if g < 0 || c.L.Gaps[g].Kind != layout.Expansion || c.L.Gaps[g].Joint == layout.Bonded || bondedOver(c, g) {
			continue
		}
		for k, spot := range [2]int32{w.A, w.B} {
			side := c.T.SideBeyond(spot, int32(i))
			if side.Fed || side.Dead || side.Length == 0 {
				continue
			}
			where := [2]string{"before", "beyond"}[k]
			c.Report(finding.Finding{
				Severity: c.PracticeSeverity(),
				Pos:      c.L.Gaps[g].Pos,
				Place:    c.GapPlace(g),
				Message:  fmt.Sprintf("no feeder %s the expansion gap at %s: %s of track hangs on it", where, c.GapPlace(g).Text, rule.Length("", side.Length).Text),
				Why:      "the gap moves, and what it conducts today it may not conduct tomorrow",
				Numbers:  []finding.Number{rule.Length("track without a feeder", side.Length)},
				Fix:      "hang a feeder there, between the gap and " + untilText(c, &side) + ", or bond the rails across the gap",
				Mends:    append(sideMends(c, spot, int32(i), side.Length), bondMends(c, int32(i))...),
			})
		}
	}
}

// bondedOver reports whether a bond of both rails on the gap's own track passes it.
func bondedOver(c *rule.Case, gap int32) bool {
	at := c.L.Gaps[gap].Place
	return slices.ContainsFunc(c.L.Bonds, func(b layout.Bond) bool {
		if !b.Both || b.From.Piece != at.Piece || b.To.Piece != at.Piece || b.From.End >= 0 || b.To.End >= 0 {
			return false
		}
		from, to := b.From.At.Mid(), b.To.At.Mid()
		return min(from, to) < at.At.Mid() && at.At.Mid() < max(from, to)
	})
}
