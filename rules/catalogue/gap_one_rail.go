package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapOneRail = rule.Rule{
	ID:       rule.GapOneRail,
	Severity: finding.Fault,
	Title:    "a gap is cut in one rail only",
	Doc: rule.Doc{
		What:    "An insulated gap parts one rail, and the other rail goes on. It is sound, and not reported, where that rail is a declared common, where the cut rail is the one that a detector watches (or whose leg passes a switch or another in-line part) and both sides hang from one source, and just beyond the frog of a turnout whose frog is joined to its legs. Where the whole rail ties two districts it is a fault (two boosters) or a caution.",
		Why:     "The rail that goes on keeps the two sides tied: a breaker or booster on one side is joined to the other.",
		Fix:     "Cut the other rail too, or, where both sides hang from one booster, declare the rail under `common-rail` if it is meant to go on.",
		Example: "gaps:\n  M1: [{at: 4 ft, rails: left}]",
	},
	Sources: []string{"NMRA module recommended practice MRP-1.3: crossovers between mains are gapped in both rails; elsewhere " + rule.CommonPractice},
}

func init() { gapOneRail.Check = checkGapOneRail }

func checkGapOneRail(c *rule.Case) {
	tied := map[int32]bool{}
	for i := range c.T.Ties {
		t := &c.T.Ties[i]
		if t.Cut >= 0 {
			tied[t.Cut] = true
		}
		if c.TieRule(t) != c.Rule.ID {
			continue
		}
		f := oneRail(c, t.Cut, oneBooster(c, t.Classes[:]))
		f.Severity = c.TieSeverity(t)
		f.Message += fmt.Sprintf(" and ties %s to %s", c.SourceName(t.Classes[0]), c.SourceName(t.Classes[1]))
		f.Why = tieWhy(c, t)
		f.Witness = c.TieWitness(t)
		f.Mends = tieMends(c, t)
		c.Report(f)
	}
	for i := range c.T.DetectorTies {
		if t := &c.T.DetectorTies[i]; t.Cut >= 0 {
			tied[t.Cut] = true // detector-on-wrong-leg speaks of it
		}
	}
	for i := range c.C.Ways {
		w := int32(i)
		if districts.HalfGap(&c.C.Ways[i]) && !tied[w] && !slices.Contains(c.T.Polarity.WrongRails, w) && !soundOneRail(c, w) {
			zones := c.T.Zones
			f := oneRail(c, w, oneBooster(c, slices.Concat(zones.List[zones.Of[c.C.Ways[i].A]].Sources, zones.List[zones.Of[c.C.Ways[i].B]].Sources)))
			f.Severity = finding.Caution
			f.Why = "the two sides stay tied by the rail that goes on, so the gap parts nothing that a breaker or booster could rely on"
			f.Mends = wholeGapMends(c, w)
			c.Report(f)
		}
	}
}

// oneBooster reports whether sources all hang from one booster: only then may a rail be
// common to what they feed.
func oneBooster(c *rule.Case, sources []int32) bool {
	return !slices.ContainsFunc(sources, func(s int32) bool {
		return s < 0 || c.C.Sources[s].Booster < 0 || c.C.Sources[s].Booster != c.C.Sources[sources[0]].Booster
	})
}

// oneRail tells of a gap in one rail; mayBeCommon says that the other may be declared one.
func oneRail(c *rule.Case, way int32, mayBeCommon bool) finding.Finding {
	w := &c.C.Ways[way]
	whole := layout.Left
	if w.Metal[layout.Left] == circuit.Open {
		whole = layout.Right
	}
	place := c.WayPlace(way)
	f := finding.Finding{
		Pos:     c.WayPos(way),
		Place:   place,
		Message: fmt.Sprintf("the gap at %s is cut in the %s rail only; the %s rail goes on", place.Text, c.RailWord(whole.Other()), c.RailWord(whole)),
		Fix:     fmt.Sprintf("cut the %s rail there too", c.RailWord(whole)),
	}
	if mayBeCommon {
		f.Fix += ", or declare it under `common-rail` if it is meant to go on"
	}
	if c.T.CommonDeclared(way) {
		f.Fix = fmt.Sprintf("cut the %s rail there too: a common rail does not pass a breaker or changeover that opens its leg", c.RailWord(whole))
	}
	return f
}

// soundOneRail reports whether a gap in one rail is what it should be.
func soundOneRail(c *rule.Case, way int32) bool {
	w := &c.C.Ways[way]
	cut := layout.Right
	if w.Metal[layout.Left] == circuit.Open {
		cut = layout.Left
	}
	if g := w.Gaps[cut]; g >= 0 && c.L.Gaps[g].Kind == layout.Expansion {
		return true
	}
	return c.T.DeclaredCommon(way) || detectionGap(c, w, cut) || beyondFrog(c, way)
}

// detectionGap reports whether the cut rail carries a leg that a detector watches, or in which
// alone an in-line part works, on one of the two sides.
func detectionGap(c *rule.Case, w *circuit.Way, cut layout.Rail) bool {
	a, ok := c.T.Polarity.ARail(w.A)
	if !ok {
		return false
	}
	leg := layout.A
	if cut != a {
		leg = layout.B
	}
	for _, s := range [2]int32{w.A, w.B} {
		for _, f := range c.T.Zones.List[c.T.Zones.Of[s]].Feeders {
			if c.T.Feeds[f].Detector[leg] >= 0 || c.T.InLineOf(f, leg) {
				return true
			}
		}
	}
	return false
}

// beyondFrog reports whether a way lies on a leg of a turnout whose frog is joined to its
// legs, before anything else stands there.
func beyondFrog(c *rule.Case, way int32) bool {
	seen := map[int32]bool{}
	queue := []int32{c.C.Ways[way].A, c.C.Ways[way].B}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		if seen[s] {
			continue
		}
		seen[s] = true
		spot := &c.C.Spots[s]
		p := &c.L.Pieces[spot.Piece]
		if p.Kind == layout.TurnoutPiece {
			w := c.L.Turnouts[p.Index].Wiring
			if spot.End != layout.TurnoutPoints && w.FrogMetal && !w.IsolatedHeel {
				return true
			}
			continue
		}
		for _, k := range c.T.Ways.Of(s) {
			if v := &c.C.Ways[k]; k != way && v.Kind != circuit.WayCut && v.Length < 0.3048 {
				queue = append(queue, v.A, v.B)
			}
		}
	}
	return false
}
