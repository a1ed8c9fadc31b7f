package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reversingGapWeaklyFed = rule.Rule{
	ID:       "reversing-gap-weakly-fed",
	Severity: finding.Caution,
	Title:    "the fixed side of a reversing section's gap is fed by a thin path only",
	Doc: rule.Doc{
		What:    "Outside a gap of a section behind a reverser, no feeder stands between the gap and the next track work, gap or end of track, and what feeds the rail there comes through points, or through a joint that is not soldered. Rail that soldered joints and the whole metal of track work join to a feeder is sound. Where a joint of unknown kind decides, it is listed as not checked.",
		Why:     "The reverser changes over when the first wheel on the gap makes a short with the fixed side. Through points or a loose joiner that short may be too weak, so the train stops or the points burn.",
		Fix:     "Hang a feeder on the fixed side, close to the gap.",
		Example: "gaps:\n  BL: [8 in, 12 ft 10 in]   # BL runs from T4 straight to T4 curved; no feeder in its first 8 in\nturnouts:\n  T4: {hand: left, wiring: power-routing-gapped}",
	},
	Sources: []string{"electrical necessity: the reverser acts on the current of that short; how thin is too thin is " + rule.CommonPractice},
}

func init() { reversingGapWeaklyFed.Check = checkReversingGapWeaklyFed }

func checkReversingGapWeaklyFed(c *rule.Case) {
	var lines *districts.RailLines
	for i := range c.T.Reversing {
		r := &c.T.Reversing[i]
		for _, x := range r.Exits {
			spot, ok := fixedSide(c, r, x)
			if !ok {
				continue
			}
			side := c.T.SideBeyond(spot, x)
			if side.Fed || side.Dead {
				continue
			}
			if lines == nil {
				lines = c.T.RailLines()
			}
			weaklyFed(c, r, x, c.T.WholeSpot(spot), &side, lines)
		}
	}
}

// fixedSide is the spot of a section's exit that lies outside it, on track that a fixed
// phase feeds.
func fixedSide(c *rule.Case, r *districts.ReversingSection, exit int32) (int32, bool) {
	w := &c.C.Ways[exit]
	if w.Kind != circuit.WayCut || c.T.Cut[exit] {
		return -1, false
	}
	p := c.T.Polarity
	for _, s := range [2]int32{w.A, w.B} {
		section := p.Sections.Of[s]
		if root := p.Root[section]; section != r.Section && root >= 0 && !c.Free(root) {
			return s, true
		}
	}
	return -1, false
}

func weaklyFed(c *rule.Case, r *districts.ReversingSection, exit, spot int32, side *districts.Side, lines *districts.RailLines) {
	inSetting := func(r layout.Rail) bool { return c.T.Fed[c.C.Spots[spot].Node[r]] == districts.InSetting }
	left, right := lines.Feeder(spot, layout.Left), lines.Feeder(spot, layout.Right)
	worst := layout.Left
	if right < left || (right == left && inSetting(layout.Right)) {
		worst = layout.Right
	}
	through := "a rail joint that is not soldered"
	if inSetting(worst) {
		through = "points"
	}
	place := c.WayPlace(exit)
	switch min(left, right) {
	case districts.HasSurely:
		return
	case districts.MayHave:
		c.LeaveOpen("whether the fixed side of the gap at "+place.Text+" is fed well enough for "+c.SourceName(r.Source)+" to act", c.DoubtAt(c.C.Spots[spot].Node[:]...).Open(), c.WayPos(exit))
		return
	}
	c.Report(finding.Finding{
		Severity: finding.Caution,
		Pos:      c.WayPos(exit),
		Place:    place,
		Message:  fmt.Sprintf("outside the gap at %s of the section of %s no feeder stands before %s: the rail there is fed through %s", place.Text, c.SourceName(r.Source), untilText(c, side), through),
		Why:      "the reverser acts on the short that the first wheel on this gap makes, and through a thin path that short may be too weak",
		Train:    "a metal wheel on the gap",
		Witness:  c.WitnessTo(spot, worst),
		Fix:      weakFix(c, spot),
		Mends:    weakGapMends(c, exit, spot),
	})
}

// weakFix says how the fixed side is fed better. Where blades bring a rail its leg, a feeder would
// be right in one setting only, unless the rail is cut first.
func weakFix(c *rule.Case, spot int32) string {
	for r := range layout.Rail(2) {
		_, path, _ := c.T.PathTo(c.C.Spots[spot].Node[r])
		for _, s := range path {
			k := &c.C.Conductors[s.Conductor]
			if k.Device >= 0 && k.Kind == circuit.PiecePart {
				return fmt.Sprintf("cut the inner rail just beyond the frog of %s, then hang a feeder between that cut and this gap; without the cut the feeder would short when %s is thrown", c.L.Pieces[k.Ref].Name, c.L.Pieces[k.Ref].Name)
			}
		}
	}
	return "hang a feeder on that side, close to the gap, or solder the joints between the gap and the nearest feeder"
}
