package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var turnoutOutsideMainBlock = rule.Rule{
	ID:       "turnout-outside-main-block",
	Severity: finding.Caution,
	Practice: "turnout-in-main-block",
	Title:    "a turnout on the main does not belong to a main block",
	Doc: rule.Doc{
		What:    "A turnout whose points and one leg lie on main track belongs, as meant, to a block of another use. Interlockings count as main.",
		Why:     "A train on the main then passes through a block that the main's signals do not watch.",
		Fix:     "Let the main's block cover the turnout, and cut the gap on the leg that leaves the main.",
		Example: "blocks:\n  yard: {covers: [T6, Y1], use: yard}   # T6 lies on the main",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { turnoutOutsideMainBlock.Check = checkTurnoutOutsideMainBlock }

func checkTurnoutOutsideMainBlock(c *rule.Case) {
	for i := range c.L.Turnouts {
		t := &c.L.Turnouts[i]
		if c.T.EndsOnUse(t.Piece, layout.UseMain) < 2 {
			continue
		}
		for _, b := range c.T.Meant.Piece(t.Piece) {
			block := &c.L.Blocks[b]
			if block.Use == layout.UseMain || block.Use == layout.UseInterlocking || block.Use == layout.UseUnsaid {
				continue
			}
			c.Report(finding.Finding{
				Severity: c.PracticeSeverity(),
				Pos:      t.Pos,
				Place:    c.PiecePlace(t.Piece),
				Message:  fmt.Sprintf("%s lies on the main but belongs to %s (%s)", t.Name, c.BlockName(b), block.Use),
				Why:      "a train on the main passes through a block that the main's signals do not watch",
				Fix:      "let the main's block cover " + t.Name + ", and part the leg that leaves the main",
			})
		}
	}
}
