package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reversingSectionShort = rule.Rule{
	ID:       "reversing-section-short",
	Severity: finding.Fault,
	Title:    "a reversing section is shorter than the longest train",
	Doc: rule.Doc{
		What:    "Two gaps of a section behind a reverser, of which no state of it suits both, lie closer together than the longest train that may come there is long, on a route that valid settings allow. A section exactly as long as the train holds it. Every wheel of the train is taken to be metal unless the layout says plastic, when only its pick-up base counts; of a range of lengths the longer end counts, and a block's `trains` leave the others out.",
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
	if len(c.T.Reversing) == 0 {
		return
	}
	short, open, _ := straddles(c, func(s *districts.Straddle) bool { return s.Kind == districts.StraddleSection && !overPit(c, s) })
	known := trainsKnown(c)
	told := map[int32]bool{}
	for i := range c.T.Reversing {
		if r := &c.T.Reversing[i]; r.Ends[0] >= 0 && !known {
			told[r.Section] = true
			c.LeaveOpen("whether the section of "+c.SourceName(r.Source)+" holds the longest train", "no train of the layout has a length and metal wheels (or wheels of unknown kind)", c.C.Sources[r.Source].Pos)
		}
	}
	for _, s := range nearestBySection(c, short) {
		told[sectionWithin(c, s)] = true
		reportSectionShort(c, s)
	}
	for _, s := range nearestBySection(c, open) {
		if !told[sectionWithin(c, s)] {
			leaveStraddleOpen(c, s)
		}
	}
}

// trainsKnown reports whether a train tells how much a section has to hold: one with metal wheels and a length, or,
// where none has metal wheels, any.
func trainsKnown(c *rule.Case) bool {
	if _, _, ok := c.LongestMetalTrain(); ok {
		return true
	}
	for i := range c.L.Trains {
		if districts.IsTrainLength(c.L, int32(i)) {
			return false
		}
	}
	return len(c.L.Trains) > 0
}

// nearestBySection keeps the shortest straddle of each reversing section, in the order of the first of each.
func nearestBySection(c *rule.Case, list []districts.Straddle) []*districts.Straddle {
	var out []*districts.Straddle
	at := map[int32]int{}
	for i := range list {
		s := &list[i]
		section := sectionWithin(c, s)
		n, found := at[section]
		switch {
		case !found:
			at[section] = len(out)
			out = append(out, s)
		case s.Span < out[n].Span:
			out[n] = s
		}
	}
	return out
}

// sectionWithin is the reversing section that a straddle crosses, by its least spot.
func sectionWithin(c *rule.Case, s *districts.Straddle) int32 {
	for _, p := range s.Paces {
		for i := range c.T.Reversing {
			if r := &c.T.Reversing[i]; r.Source == s.Between[0] && c.T.Polarity.Sections.Of[p.To] == r.Section {
				return r.Section
			}
		}
	}
	return c.T.Polarity.Sections.Of[s.Paces[0].To]
}

func reportSectionShort(c *rule.Case, s *districts.Straddle) {
	f := straddleFinding(c, s)
	long := rule.Length("", s.Span).Text
	f.Message = fmt.Sprintf("the reversing section of %s is %s long between its nearest gaps, shorter than the longest train", c.SourceName(s.Between[0]), long)
	f.Why = "the train bridges both gaps at once, and no setting of the reverser suits both"
	f.Numbers[0].Name = "section"
	f.Fix = fmt.Sprintf("move one of these gaps outwards by at least %s, or run only trains shorter than %s there", rule.Length("", s.Reach-s.Span).Text, long)
	if !districts.IsTrainLength(c.L, s.Train) {
		f.Fix = fmt.Sprintf("move one of these gaps outwards by at least %s", rule.Length("", s.Reach-s.Span).Text)
	}
	for i := range c.T.Reversing {
		if r := c.T.Reversing[i]; r.Section == sectionWithin(c, s) {
			r.Ends = [2]int32{s.Places[0], s.Places[len(s.Places)-1]}
			f.Mends = longerSectionMends(c, &r, s.Reach-s.Span)
		}
	}
	c.Report(f)
}
