package catalogue

import (
	"fmt"
	"strings"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var loopUngapped = rule.Rule{
	ID:       rule.LoopUngapped,
	Severity: finding.Fault,
	Title:    "a reversing loop has no gap at all",
	Doc: rule.Doc{
		What:    "Track returns to where it began with its rails changed over (a balloon loop, a wye, a cut-off across an oval), and no gap parts it.",
		Why:     "The left rail is the right rail: the booster is shorted by the rail alone.",
		Fix:     "Cut both rails at both ends of a stretch that is longer than the longest train, and feed that stretch through a reverser.",
		Example: "tracks:\n  BL: {from: T4 straight, to: T4 curved, length: 13 ft}   # with no gaps",
	},
	Sources:      []string{"topology: a loop of track in which left becomes right (a closed walk that turns the rails over)"},
	CannotAccept: true,
}

func init() { loopUngapped.Check = checkLoopUngapped }

func checkLoopUngapped(c *rule.Case) {
	for i := range c.T.Ties {
		t := &c.T.Ties[i]
		if t.Cut < 0 || c.TieRule(t) != c.Rule.ID || c.CutsWith(t)[0] != t {
			continue
		}
		place, _ := c.CutPlace(t)
		var cuts []string
		for _, o := range c.CutsWith(t) {
			_, where := c.CutPlace(o)
			cuts = append(cuts, where)
		}
		c.Report(finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(t.Cut),
			Place:    place,
			Message:  fmt.Sprintf("the reversing section of %s is not cut off: nothing parts it from %s %s", c.SourceName(freeFirst(c, t.Classes)), c.SourceName(freeLast(c, t.Classes)), strings.Join(cuts, ", nor ")),
			Why:      "in at least one position of the reverser, the rail joins leg A to leg B",
			Witness:  c.TieWitness(t),
			Fix:      "cut both rails " + strings.Join(cuts, ", and ") + ", with more than the longest train between them" + apartTest(c, [2]int32{freeFirst(c, t.Classes), freeLast(c, t.Classes)}),
			Mends:    tiedSectionMends(c, c.CutsWith(t)),
		})
	}
	for _, w := range c.T.Polarity.WrongRails {
		id, ring := c.RailRule(w)
		if id != c.Rule.ID {
			continue
		}
		track := longestTrack(c, ring)
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.L.Tracks[track].Pos,
			Place:    finding.Place{Piece: c.L.Tracks[track].Name, Text: c.L.Tracks[track].Name},
			Message:  fmt.Sprintf("the reversing loop through %s has no gap: going round it once, the left rail becomes the right rail", ringText(c, ring)),
			Why:      "the booster is shorted by the rail itself",
			Numbers:  loopNumbers(c, ring),
			Witness:  ringWitness(c, ring),
			Fix:      "cut both rails at both ends of a stretch of this loop that is longer than the longest train, and feed the stretch through a reverser" + shortTest,
		}
		f.Mends, f.Candidates = sectionMends(c, ring)
		c.Report(f)
	}
}

// ringText names a loop by its tracks.
func ringText(c *rule.Case, r *districts.Ring) string {
	var names []string
	for _, t := range c.T.Tracks(r) {
		names = append(names, c.L.Tracks[t].Name)
	}
	return strings.Join(names, ", ")
}

// longestTrack is the longest track of a ring, the first of equals.
func longestTrack(c *rule.Case, r *districts.Ring) int32 {
	best := int32(0)
	for i, t := range c.T.Tracks(r) {
		if i == 0 || c.L.Tracks[t].Length.Mid() > c.L.Tracks[best].Length.Mid() {
			best = t
		}
	}
	return best
}

// loopNumbers are a loop's length and the longest train.
func loopNumbers(c *rule.Case, r *districts.Ring) []finding.Number {
	total := 0.0
	for _, w := range r.Ways {
		total += c.C.Ways[w].Length
	}
	numbers := []finding.Number{rule.Length("length of the loop", total)}
	if name, m, ok := c.LongestTrain(); ok {
		numbers = append(numbers, rule.Length("longest train ("+name+")", m))
	}
	return numbers
}

// ringWitness walks a loop piece by piece.
func ringWitness(c *rule.Case, r *districts.Ring) []finding.Step {
	var out []finding.Step
	last := ""
	for _, k := range r.Ways {
		w := &c.C.Ways[k]
		name := c.L.Pieces[w.Piece].Name
		text := name
		for _, g := range w.Gaps {
			if g >= 0 {
				text = "gap at " + c.GapPlace(g).Text
			}
		}
		if text != last {
			out = append(out, finding.Step{Text: text, Pos: c.L.Pieces[w.Piece].Pos})
		}
		last = text
	}
	return out
}
