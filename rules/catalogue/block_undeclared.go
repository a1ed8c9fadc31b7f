package catalogue

import (
	"fmt"
	"strings"

	"gapwise/districts"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var blockUndeclared = rule.Rule{
	ID:       "block-undeclared",
	Severity: finding.Caution,
	Practice: "blocks-declared",
	Title:    "gaps close in a stretch of track that no block covers",
	Doc: rule.Doc{
		What:    "Insulated gaps make a block of a stretch of track, and `blocks` does not name it. Less than 6 in does not count. Silent where there are no `blocks`; where they cover half of the track or less, only under the practice.",
		Why:     "What is not written down is not compared with the wiring: nobody is told when a gap or a feeder of that stretch is in the wrong place.",
		Fix:     "Write the block down, or bond the gaps if it is none.",
		Example: "gaps:\n  M1: [4 ft, 9 ft]\nblocks:\n  west: {covers: M1 @ 0 .. 4 ft}\n  east: {covers: M1 @ 9 ft .. end}",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { blockUndeclared.Check = checkBlockUndeclared }

func checkBlockUndeclared(c *rule.Case) {
	if len(c.L.Blocks) == 0 || (!c.Listed(c.Rule.Practice) && c.T.DeclaredShare() <= 0.5+1e-9) {
		return
	}
	for _, u := range c.T.Undeclared() {
		c.Report(undeclared(c, &u))
	}
}

func undeclared(c *rule.Case, u *districts.Undeclared) finding.Finding {
	first := &c.C.Ways[c.T.Zones.List[u.Zone].Ways[0]]
	f := finding.Finding{
		Severity: c.PracticeSeverity(),
		Pos:      first.Pos,
		Place:    c.PiecePlace(first.Piece),
		Why:      "what is not written down is not compared with the wiring",
		Numbers:  []finding.Number{rule.Length("track closed in", u.Length)},
	}
	covers := f.Place.Text
	if len(u.On) > 0 {
		longest := u.On[0]
		for _, s := range u.On {
			if s.To-s.From > longest.To-longest.From {
				longest = s
			}
		}
		track := &c.L.Tracks[longest.Track]
		f.Pos = track.Pos
		f.Place = c.TrackPlace(longest.Track, longest.From)
		f.Place.Text = c.IntervalText(longest)
		covers = fmt.Sprintf("%s @ %s .. %s", track.Name, quantity.FormatPlace(longest.From), quantity.FormatPlace(longest.To))
		for _, s := range u.On {
			if s != longest {
				f.Also = append(f.Also, c.IntervalText(s))
			}
		}
	}
	f.Message = fmt.Sprintf("%s lies between insulated gaps, and no block covers it", f.Place.Text)
	if len(u.Beside) > 0 {
		names := make([]string, len(u.Beside))
		for i, b := range u.Beside {
			names[i] = c.BlockName(b)
		}
		f.Message += "; beside it: " + strings.Join(names, ", ")
	}
	f.Fix = fmt.Sprintf("write it down under `blocks` (as in `covers: %s`), or bond the rails across its gaps if it is none", covers)
	f.Mends = declareMends(c, u)
	return f
}
