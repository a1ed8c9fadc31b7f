package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var plugFitsBothWays = rule.Rule{
	ID:       rule.PlugBothWays,
	Severity: finding.Fault,
	Title:    "a plug fits both ways round, and its track meets other track",
	Doc: rule.Doc{
		What:    "The track behind a plug with `legs: either` is joined by rail to track of another source, or meets it at a gap. A plug whose `legs` are unknown is listed as not checked.",
		Why:     "Plugged in the other way round, leg A meets leg B: through the rail at once, or through the first wheel on the gap.",
		Fix:     "Key the plug, or choose one that fits one way only, and type `legs: straight` (or `crossed`).",
		Example: "plugs:\n  west: {from: main @ 8 ft, legs: either}   # its module joins the main's rails",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit in one of the two ways round"},
}

func init() { plugFitsBothWays.Check = checkPlugFitsBothWays }

func checkPlugFitsBothWays(c *rule.Case) {
	found := map[int32]*finding.Finding{} // by source
	var order []int32
	tell := func(source int32, place finding.Place, how string, witness []finding.Step, fixed int32) {
		if f := found[source]; f != nil {
			f.Also = append(f.Also, place.Text)
			return
		}
		plug := &c.L.Plugs[c.C.Sources[source].Ref]
		order = append(order, source)
		found[source] = &finding.Finding{
			Severity: finding.Fault,
			Pos:      plug.Pos,
			Place:    finding.Place{Text: "plug " + plug.Name},
			Message:  fmt.Sprintf("plug %s fits both ways round, and the track behind it %s track of %s at %s", plug.Name, how, c.SourceName(fixed), place.Text),
			Why:      "plugged in the other way round, leg A meets leg B there",
			Witness:  witness,
			Fix:      "key the plug so that it fits one way only, and type `legs: straight` (or `crossed`)",
			Mends:    keyedMends(plug),
		}
	}
	for i := range c.T.Ties {
		t := &c.T.Ties[i]
		if c.TieRule(t) != c.Rule.ID {
			continue
		}
		plug, fixed := t.Classes[0], t.Classes[1]
		if c.C.Sources[plug].Kind != circuit.PlugSource {
			plug, fixed = fixed, plug
		}
		place := finding.Place{}
		if t.Feeder >= 0 {
			place = c.FeederPlace(t.Feeder)
		} else {
			place = c.WayPlace(t.Cut)
		}
		tell(plug, place, "is joined by rail to", c.TieWitness(t), fixed)
	}
	for _, m := range c.T.Meetings() {
		for side, s := range m.Sources {
			if c.C.Sources[s].Kind == circuit.PlugSource {
				tell(s, c.WayPlace(m.Way), "meets", c.BothSides(m.Way), m.Sources[1-side])
				break
			}
		}
	}
	for _, s := range order {
		if plug := &c.L.Plugs[c.C.Sources[s].Ref]; plug.Legs != layout.PlugEither {
			c.LeaveOpen("whether plug "+plug.Name+" is the right way round for the track it meets", "the layout says that its `legs` are unknown", plug.Pos)
			continue
		}
		c.Report(*found[s])
	}
}
