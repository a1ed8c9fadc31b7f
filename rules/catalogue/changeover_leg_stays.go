package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var changeoverLegStays = rule.Rule{
	ID:       "changeover-leg-stays",
	Severity: finding.Caution,
	Title:    "a changeover that opens one leg leaves the other where it serves nothing",
	Doc: rule.Doc{
		What:    "A changeover that opens one leg leaves the other on its first position. Where another position crosses the legs of the same source, both legs it gives out are then one and the same; where the first position is `nothing`, the leg that stays is never fed.",
		Why:     "The track behind it has no power in that position, and where it meets other track one of its rails carries the wrong leg.",
		Fix:     "Use a changeover that opens both legs.",
		Example: "changeovers:\n  loop: {positions: {out: main @ 8 ft, back: {from: main @ 8 ft, legs: crossed}}, opens: A}",
	},
	Sources: []string{"topology: one leg of a pair cannot be exchanged without the other"},
}

func init() { changeoverLegStays.Check = checkChangeoverLegStays }

func checkChangeoverLegStays(c *rule.Case) {
	for i := range c.L.Changeovers {
		x := &c.L.Changeovers[i]
		if !single(x.Opens) || len(x.Positions) == 0 {
			continue
		}
		stays := otherLeg(x.Opens)
		f := finding.Finding{
			Severity: finding.Caution,
			Pos:      x.Pos,
			Place:    finding.Place{Text: "changeover " + x.Name},
			Fix:      "use a changeover that opens both legs, and type `opens: both`",
			Mends:    changeoverMends(x, "opens both legs", finding.Key{Name: "opens", Value: "both"}),
		}
		pairs, _ := throws(c, x)
		crossed := slices.IndexFunc(pairs, func(t throwOver) bool { return t.crossed && t.positions[0] == 0 })
		switch {
		case x.Positions[0].From.Kind == layout.FromNothing:
			f.Message = fmt.Sprintf("changeover %s leaves %s on its first position, %s, which is `nothing`: that leg is never fed", x.Name, c.LegWord(stays), x.Positions[0].Name)
			f.Why = "what hangs from it has one leg at most, in every position"
		case crossed >= 0:
			position := x.Positions[pairs[crossed].positions[1]].Name
			f.Message = fmt.Sprintf("changeover %s opens %s only, so in position %s, which crosses the legs, both its legs are one and the same", x.Name, c.LegWord(stays.Other()), position)
			f.Why = "the track behind it has no power in that position, and one of its rails carries the wrong leg"
			f.Settings = []string{"changeover " + x.Name + " " + position}
		default:
			continue
		}
		c.Report(f)
	}
}
