package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var cabMeetsDCC = rule.Rule{
	ID:       "cab-meets-dcc",
	Severity: finding.Caution,
	Title:    "track of a plain DC cab meets track of a booster",
	Doc: rule.Doc{
		What:    "Track that a DC cab (or a supply) feeds meets track that a booster feeds at a gap, a common rail or the edge of a pit, always or in some position of a changeover. It is sound where both sides follow one changeover, or changeovers that one piece throws together, so that they are never on different kinds; and where what lies between the two is on `nothing` in that position.",
		Why:     "A train over the gap joins the two. The booster drives its full voltage into the cab, and the plain DC into the booster; engines run off or stand and hum.",
		Fix:     "Throw both sides with one changeover, or put a section between them that the same throw leaves without any source, longer than the longest train.",
		Example: "changeovers:\n  north: {positions: {dcc: main @ 11 ft, analog: cab north}, opens: both}   # and its track meets the main at a gap",
	},
	Sources: []string{"electrical necessity: the train joins two unlike sources"},
}

func init() { cabMeetsDCC.Check = checkCabMeetsDCC }

func checkCabMeetsDCC(c *rule.Case) {
	for _, e := range encounters(c) {
		cab, booster := e.Heads[0], e.Heads[1]
		if c.C.Sources[cab].Kind == circuit.BoosterSource {
			cab, booster = booster, cab
		}
		if c.C.Sources[cab].Kind == circuit.BoosterSource || c.C.Sources[booster].Kind != circuit.BoosterSource {
			continue
		}
		place := c.WayPlace(e.Ways[0])
		f := finding.Finding{
			Severity: finding.Caution,
			Pos:      c.WayPos(e.Ways[0]),
			Place:    place,
			Message:  fmt.Sprintf("track of %s meets track of %s at %s", c.SourceName(cab), c.SourceName(booster), place.Text),
			Why:      "a train over the gap joins plain DC to the booster's output, and each drives current into the other",
			Settings: c.Settings(e.Settings),
			Train:    "a train on the gap",
			Fix:      "throw both sides with one changeover, or put a section between them that the same throw connects to `nothing`, longer than the longest train",
		}
		meetAt(c, &f, e.Ways, 1)
		c.Report(f)
	}
}
