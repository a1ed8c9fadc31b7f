package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reversingSectionsTouch = rule.Rule{
	ID:       "reversing-sections-touch",
	Severity: finding.Fault,
	Title:    "two reversing sections that switch by themselves share a gap, or are together too short",
	Doc: rule.Doc{
		What:    "A gap has a reversing section on either side, and both change over by themselves. It is sound where one of the two is thrown by hand, where both hang from one reverser, and where one reverser hangs from the other (whatever the outer one does, the two sections keep to each other). Or sections of two reversers or more lie one behind the other, however they are switched, and are together shorter than the longest train, with track beyond both ends that no states of them suit at once.",
		Why:     "A train on the gap shorts them when they do not agree. Both see the short and both change over, so they disagree again: each chases the other until something trips.",
		Fix:     "Put a section without a reverser between them, longer than the longest train, or feed both from one reverser.",
		Example: "reversers:\n  east: {from: main @ 3 ft, switching: automatic}\n  west: {from: main @ 9 ft, switching: automatic}   # and their sections meet at a gap",
	},
	Sources: []string{"electrical necessity: two phases that each turn over on the same short have no settled state"},
}

func init() { reversingSectionsTouch.Check = checkReversingSectionsTouch }

func checkReversingSectionsTouch(c *rule.Case) {
	for _, p := range touchingSections(c) {
		x, y := p.sources[0], p.sources[1]
		switch {
		case byHand(c, x) || byHand(c, y):
			continue
		case switchingUnknown(c, x) || switchingUnknown(c, y):
			c.LeaveOpen(fmt.Sprintf("whether %s and %s chase each other", c.SourceName(x), c.SourceName(y)), "their sections share a gap, and the layout says `switching: unknown`", c.WayPos(p.gaps[0]))
			continue
		}
		place := c.WayPlace(p.gaps[0])
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(p.gaps[0]),
			Place:    place,
			Message:  fmt.Sprintf("the section of %s and the section of %s share the gap at %s, and both switch by themselves", c.SourceName(x), c.SourceName(y), place.Text),
			Why:      "a train on the gap makes each change over because of the other, again and again, until something trips",
			Train:    "a train on the gap",
			Fix:      "put a section without a reverser between the two, longer than the longest train, or feed both from one reverser",
			Mends:    byHandMends(c, x, y),
		}
		meetAt(c, &f, p.gaps, 1)
		c.Report(f)
	}
	if len(c.T.Reversing) > 1 {
		chainedSections(c)
	}
}

// chainedSections reports sections one behind the other that a train covers whole, of which no states suit
// the track beyond both ends.
func chainedSections(c *rule.Case) {
	list, open, _ := straddles(c, func(s *districts.Straddle) bool { return s.Kind == districts.StraddleChain && !overPit(c, s) })
	for i := range list {
		s := &list[i]
		f := straddleFinding(c, s)
		f.Message = fmt.Sprintf("%s, and from the first gap to the last it is %s, shorter than the longest train", chainText(c, s), rule.Length("", s.Span).Text)
		f.Why = "a train over all of these gaps joins what lies between to the track beyond both ends, and no states of the reversers suit both"
		f.Fix = fmt.Sprintf("move the gap at either end outwards by at least %s, or run only shorter trains there", rule.Length("", s.Reach-s.Span).Text)
		f.Mends = chainMends(c, s)
		c.Report(f)
	}
	for i := range open {
		leaveStraddleOpen(c, &open[i])
	}
}

// chainText says which sections lie one behind the other.
func chainText(c *rule.Case, s *districts.Straddle) string {
	outer := s.Legs[0].Source
	if c.Free(outer) && outer == s.Legs[1].Source {
		return "two sections of " + c.SourceName(outer) + " lie one behind the other with other track between"
	}
	var names []string
	for _, b := range s.Between {
		names = append(names, c.SourceName(b))
	}
	return "the sections of " + strings.Join(names, " and ") + " lie one behind the other"
}

// touching is two sources whose reversing sections share gaps.
type touching struct {
	sources [2]int32
	gaps    []int32
}

// touchingSections lists them in the order of their first gap.
func touchingSections(c *rule.Case) []touching {
	sections := map[int32][]int32{} // sources by gap
	var gaps []int32
	for i := range c.T.Reversing {
		r := &c.T.Reversing[i]
		for _, w := range r.Exits {
			if c.T.Cut[w] || districts.HalfGap(&c.C.Ways[w]) {
				continue
			}
			gaps = append(gaps, w)
			if !slices.Contains(sections[w], r.Source) {
				sections[w] = append(sections[w], r.Source)
			}
		}
	}
	for _, e := range c.T.PitEdges() {
		if e.Root >= 0 && c.Free(e.Root) && len(sections[e.Way]) == 1 && sections[e.Way][0] != e.Root {
			sections[e.Way] = append(sections[e.Way], e.Root)
		}
	}
	slices.Sort(gaps)
	var out []touching
	for _, w := range slices.Compact(gaps) {
		s := sections[w]
		if len(s) != 2 || behind(c, s[0], s[1]) || behind(c, s[1], s[0]) {
			continue
		}
		slices.Sort(s)
		pair := [2]int32{s[0], s[1]}
		n := slices.IndexFunc(out, func(t touching) bool { return t.sources == pair })
		if n < 0 {
			n = len(out)
			out = append(out, touching{sources: pair})
		}
		out[n].gaps = append(out[n].gaps, w)
	}
	return out
}

// behind reports whether a source hangs from another.
func behind(c *rule.Case, s, above int32) bool {
	for range c.C.Sources {
		if s = c.C.Sources[s].Parent; s < 0 || s == above {
			break
		}
	}
	return s == above
}

// byHand reports whether a free source changes over only when somebody throws it.
func byHand(c *rule.Case, s int32) bool {
	src := &c.C.Sources[s]
	return src.Kind == circuit.ChangeoverSource || (src.Kind == circuit.ReverserSource && c.L.Reversers[src.Ref].Switching == layout.ByHand)
}

func switchingUnknown(c *rule.Case, s int32) bool {
	src := &c.C.Sources[s]
	return src.Kind == circuit.ReverserSource && c.L.Reversers[src.Ref].Switching == layout.SwitchingUnknown
}
