package catalogue

import (
	"fmt"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reverserMissing = rule.Rule{
	ID:       rule.ReverserMissing,
	Severity: finding.Fault,
	Title:    "a reversing loop is gapped but no reverser feeds a section of it",
	Doc: rule.Doc{
		What:    "Track returns to where it began with its rails changed over. It is cut by gaps, but every section between them is fed in a fixed sense, so somewhere a gap has leg A on one side and leg B on the other.",
		Why:     "Every train that crosses that gap joins leg A to leg B with its first metal wheel.",
		Fix:     "Feed one section between two gaps, longer than the longest train, through a reverser.",
		Example: "tracks:\n  HA: {from: T10 curved, to: T11 straight, length: 41 ft}\n  HB: {from: T12 curved, to: T11 curved, length: 43 ft}   # two lines that join at both ends, all fed in a fixed sense",
	},
	CannotAccept: true,
	Sources:      []string{"topology: a loop of track in which left becomes right"},
}

func init() { reverserMissing.Check = checkReverserMissing }

func checkReverserMissing(c *rule.Case) {
	for _, w := range c.T.Polarity.WrongGaps {
		id, ring := c.GapRule(w)
		if id != c.Rule.ID {
			continue
		}
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(w),
			Place:    c.WayPlace(w),
			Message:  fmt.Sprintf("the line through %s turns its rails over on the way round, and no reverser feeds any section of it: wheels on %s join leg A to leg B", ringText(c, ring), c.WayPlace(w).Text),
			Why:      "every train that crosses this gap shorts the booster",
			Train:    "a metal wheel on the gap",
			Numbers:  loopNumbers(c, ring),
			Witness:  c.BothSides(w),
		}
		f.Fix, f.Candidates = sectionsFor(c, ring, w)
		f.Candidates = append(f.Candidates, "no train turns round here, and the file is wrong: a `via` or the ends of a track are mistyped; walk it with `gapwise trace --route`")
		c.Report(f)
	}
}

// sectionsFor proposes which section of a loop to feed through a reverser: one that
// touches the gap and holds the longest train, with no branch out of it, the shortest first.
func sectionsFor(c *rule.Case, ring *districts.Ring, gap int32) (fix string, others []string) {
	train, longest, known := c.LongestTrain()
	best := -1
	stretches := c.T.Stretches(ring)
	for i := range stretches {
		s := &stretches[i]
		if (s.From != gap && s.To != gap) || (known && s.Length < longest) {
			continue
		}
		if best < 0 || branches(c, s) < branches(c, &stretches[best]) || (branches(c, s) == branches(c, &stretches[best]) && s.Length < stretches[best].Length) {
			best = i
		}
	}
	if best < 0 {
		fix = "feed a section of this loop between two gaps through a reverser"
		if known {
			fix += fmt.Sprintf("; none that touches this gap holds the longest train (%s, %s), so move a gap first", train, rule.Length("", longest).Text)
		}
		return fix, nil
	}
	for i := range stretches {
		s := &stretches[i]
		text := fmt.Sprintf("%s to %s, %s", c.WayPlace(s.From).Text, c.WayPlace(s.To).Text, rule.Length("", s.Length).Text)
		if i == best {
			fix = "feed the section from " + text + ", through a reverser instead of its present feed"
			continue
		}
		if known && s.Length < longest {
			continue
		}
		others = append(others, "or through a reverser: "+text)
	}
	return fix, others
}

// branches counts the ways that lead out of a stretch other than along it.
func branches(c *rule.Case, s *districts.Stretch) int {
	n := 0
	for _, k := range s.Ways {
		for _, spot := range [2]int32{c.C.Ways[k].A, c.C.Ways[k].B} {
			n += max(0, len(c.T.Ways.Of(spot))-2)
		}
	}
	return n
}
