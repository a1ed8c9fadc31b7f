package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reversingSectionShort = rule.Rule{
	ID:       "reversing-section-short",
	Severity: finding.Fault,
	Title:    "a reversing section is shorter than the longest train",
	Doc: rule.Doc{
		What:    "The nearest two gaps of a section behind a reverser lie closer together than the longest train is long. Every wheel of the train is taken to be metal unless the layout says plastic; of a range of lengths the longer end counts.",
		Why:     "A train then bridges both gaps at once, and there is no setting of the reverser that suits both.",
		Fix:     "Move one gap outwards until the section holds the longest train, or run shorter trains there.",
		Example: "gaps:\n  BL: [2 ft, 8 ft]   # a section of 6 ft for a train of 10 ft",
	},
	Sources: []string{"geometry: a train that bridges both gaps at once joins both ends of the section"},
}

func init() { reversingSectionShort.Check = checkReversingSectionShort }

// sharedReversers lists reversers that serve several sections without saying that one
// train at a time crosses them: two trains may then need opposite settings.
func sharedReversers(c *rule.Case) {
	count := map[int32]int{}
	for i := range c.T.Reversing {
		s := c.T.Reversing[i].Source
		if src := &c.C.Sources[s]; src.Kind != circuit.ReverserSource || c.L.Reversers[src.Ref].OneAtATime {
			continue
		}
		if count[s]++; count[s] == 2 {
			c.LeaveOpen("whether two trains ever cross sections of "+c.SourceName(s)+" at once", "it serves several sections, and the layout does not say `serves: one-at-a-time`", c.C.Sources[s].Pos)
		}
	}
}

func checkReversingSectionShort(c *rule.Case) {
	sharedReversers(c)
	for i := range c.T.Reversing {
		r := &c.T.Reversing[i]
		if r.Ends[0] < 0 {
			continue
		}
		name, longest, ok := c.LongestMetalTrain()
		if !ok {
			c.LeaveOpen("whether the section of "+c.SourceName(r.Source)+" holds the longest train", "no train of the layout has a length and metal wheels (or wheels of unknown kind)", c.C.Sources[r.Source].Pos)
			continue
		}
		if r.Through >= longest {
			continue
		}
		c.Report(finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(r.Ends[0]),
			Place:    c.WayPlace(r.Ends[0]),
			Message:  fmt.Sprintf("the reversing section of %s is %s long between its nearest gaps, shorter than the longest train", c.SourceName(r.Source), rule.Length("", r.Through).Text),
			Why:      "the train bridges both gaps at once, and no setting of the reverser suits both",
			Train:    "train " + name + " over both gaps, metal wheels throughout assumed",
			Numbers: []finding.Number{
				{Name: "section", Text: rule.Length("", r.Through).Text, SI: r.Through, Unit: "m", Limit: "at least " + rule.Length("", longest).Text, Source: "the longest train (" + name + "), yours"},
			},
			Witness: []finding.Step{
				{Text: "gap at " + c.WayPlace(r.Ends[0]).Text, Pos: c.WayPos(r.Ends[0])},
				{Text: "gap at " + c.WayPlace(r.Ends[1]).Text, Pos: c.WayPos(r.Ends[1])},
			},
			Fix: fmt.Sprintf("move one of these gaps outwards by at least %s, or run only trains shorter than %s there", rule.Length("", longest-r.Through).Text, rule.Length("", r.Through).Text),
		})
	}
}
