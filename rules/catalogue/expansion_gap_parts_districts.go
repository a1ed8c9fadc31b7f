package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var expansionGapPartsDistricts = rule.Rule{
	ID:       "expansion-gap-parts-districts",
	Severity: finding.Caution,
	Title:    "an expansion gap is all that parts two districts",
	Doc: rule.Doc{
		What:    "On one side of a cut expansion gap the rails hang from one source, on the other side from another, and no insulated gap parts them.",
		Why:     "An expansion gap is cut to close: in a warm, dry season it ties the two districts, or shorts a reversing section.",
		Fix:     "Cut an insulated gap beside it and fill it, and bond the rails across the expansion gap.",
		Example: "gaps:\n  M1: [{at: 12 ft, kind: expansion, joint: cut}]\nfeeders:\n  M1: {A: left, 6 ft: west @ 6 ft, 18 ft: east @ 6 ft}   # from two breakers",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { expansionGapPartsDistricts.Check = checkExpansionGapPartsDistricts }

func checkExpansionGapPartsDistricts(c *rule.Case) {
	sides := c.T.Sides()
	for i := range c.C.Ways {
		w := &c.C.Ways[i]
		if w.Kind != circuit.WayCut || w.Metal[0] != circuit.Open || w.Metal[1] != circuit.Open {
			continue
		}
		g := w.Gaps[0]
		if g < 0 || w.Gaps[1] < 0 || c.L.Gaps[g].Kind != layout.Expansion {
			if g = w.Gaps[1]; g < 0 || c.L.Gaps[g].Kind != layout.Expansion {
				continue
			}
		}
		x, y := sides.Source[sides.Of[w.A]], sides.Source[sides.Of[w.B]]
		if x < 0 || y < 0 || x == y || c.DiffersOn(c.T.Zones.Of[w.A]) {
			continue
		}
		place := c.GapPlace(g)
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      c.L.Gaps[g].Pos,
			Place:    place,
			Message:  fmt.Sprintf("the expansion gap at %s is all that parts %s from %s", place.Text, c.SourceName(x), c.SourceName(y)),
			Why:      "it is cut to close: in a warm, dry season it ties the two",
			Witness:  c.BothSides(int32(i)),
			Fix:      "cut an insulated gap beside it and fill it, and bond the rails across the expansion gap",
			Mends:    besideMends(c, g),
		})
	}
}
