package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railDead = rule.Rule{
	ID:       "rail-dead",
	Severity: finding.Caution,
	Title:    "a stretch of track has no feeder in any setting",
	Doc: rule.Doc{
		What:    "Neither rail of a stretch is reached by a feeder through any rail, joint, bond or setting of track work. A sliding joint counts as open here, and so does a joint of unknown kind; where only such joints stand between, the stretch is listed as not checked instead.",
		Why:     "Trains stop there.",
		Fix:     "Hang a feeder on the stretch, or bond it to its neighbour.",
		Example: "gaps:\n  M3: [{at: 5 ft 9 in, kind: expansion, joint: cut}, 11 ft 3 in]   # and no feeder between",
	},
	Sources: []string{"electrical necessity: no source, no current"},
}

func init() { railDead.Check = checkRailDead }

func checkRailDead(c *rule.Case) {
	if len(c.T.FedOpen) > 0 {
		first := &c.C.Devices[c.T.FedOpen[0]]
		c.GiveUp("whether what lies behind "+first.Name+" and its neighbours is fed in settings that can hold at once", "the search over their settings reached its bound on work", first.Pos)
	}
	for i := range c.T.DeadRuns {
		r := &c.T.DeadRuns[i]
		if r.State[0] != districts.Dead || r.State[1] != districts.Dead {
			if r.State[0] != districts.Dead && r.State[1] != districts.Dead {
				leaveFeeding(c, r)
			}
			continue
		}
		if open, pos := unknownFeed(c, r); open != "" {
			c.LeaveOpen("whether "+runText(c, r)+" is fed", open, pos)
			continue
		}
		pos, place := runPlace(c, r)
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      pos,
			Place:    place,
			Message:  fmt.Sprintf("no feeder reaches %s: both rails are dead", runText(c, r)),
			Why:      "trains stop there",
			Numbers:  []finding.Number{rule.Length("dead track", r.Length)},
			Witness:  boundSteps(c, r),
			Fix:      deadFix(c, r),
			Mends:    deadMends(c, r),
		})
	}
}

// runNodes are the rails of a stretch.
func runNodes(c *rule.Case, r *districts.DeadRun) []int32 {
	var out []int32
	for _, w := range r.Ways {
		for _, s := range [2]int32{c.C.Ways[w].A, c.C.Ways[w].B} {
			out = append(out, c.C.Spots[s].Node[layout.Left], c.C.Spots[s].Node[layout.Right])
		}
	}
	return out
}

// leaveFeeding lists a stretch that hangs on what the file leaves in doubt.
func leaveFeeding(c *rule.Case, r *districts.DeadRun) {
	for _, w := range r.Bounds {
		for _, g := range c.C.Ways[w].Gaps {
			if g >= 0 && c.L.Gaps[g].Joint == layout.Sliding {
				return // feeder-missing-at-expansion-gap speaks of it
			}
		}
	}
	pos, _ := runPlace(c, r)
	c.LeaveOpen("whether "+runText(c, r)+" is fed", c.DoubtAt(runNodes(c, r)...).Open(), pos)
}

// runPlace is where a dead stretch is told: at the expansion gap that parts it if there is one,
// else at the gap, else at its longest track.
func runPlace(c *rule.Case, r *districts.DeadRun) (source.Pos, finding.Place) {
	best := int32(-1)
	for _, w := range r.Bounds {
		for _, g := range c.C.Ways[w].Gaps {
			if g < 0 {
				continue
			}
			if c.L.Gaps[g].Kind == layout.Expansion {
				return c.L.Gaps[g].Pos, c.GapPlace(g)
			}
			if best < 0 {
				best = g
			}
		}
	}
	if best >= 0 {
		return c.L.Gaps[best].Pos, c.GapPlace(best)
	}
	w := &c.C.Ways[r.Ways[0]]
	return w.Pos, c.SpotPlace(w.A)
}

// runText names a stretch: the tracks it lies on, with readings where it is part of one.
func runText(c *rule.Case, r *districts.DeadRun) string {
	text := ""
	for i := 0; i < len(r.Ways); {
		w := &c.C.Ways[r.Ways[i]]
		track := c.L.Pieces[w.Piece].Index
		lo, hi := c.C.Spots[w.A].At, c.C.Spots[w.B].At
		j := i + 1
		for j < len(r.Ways) && c.C.Ways[r.Ways[j]].Piece == w.Piece && c.C.Spots[c.C.Ways[r.Ways[j]].A].At <= hi+1e-9 {
			hi = max(hi, c.C.Spots[c.C.Ways[r.Ways[j]].B].At)
			j++
		}
		if text != "" {
			text += ", "
		}
		text += c.Between(track, lo, hi)
		i = j
	}
	return text
}

// unknownFeed reports whether a feeder on the stretch hangs from an unknown place.
func unknownFeed(c *rule.Case, r *districts.DeadRun) (string, source.Pos) {
	on := map[int32]bool{}
	for _, w := range r.Ways {
		on[c.C.Ways[w].A], on[c.C.Ways[w].B] = true, true
	}
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		if on[c.C.FeederSpot[i]] && (f.From[0].Unknown || f.From[1].Unknown) {
			return "the feeder at " + c.Place(f.Place).Text + " hangs from an unknown place", f.Pos
		}
		if on[c.C.FeederSpot[i]] && f.Broken != layout.Yes && c.T.Feeds[i].Source() < 0 {
			return "what feeds the feeder at " + c.Place(f.Place).Text + " hangs from an unknown place", f.Pos
		}
	}
	return "", source.Pos{}
}

// brokenFeeder is a feeder on a stretch that the layout calls broken, -1 for none.
func brokenFeeder(c *rule.Case, r *districts.DeadRun) int32 {
	for i := range c.L.Feeders {
		if c.L.Feeders[i].Broken != layout.Yes {
			continue
		}
		for _, w := range r.Ways {
			if s := c.C.FeederSpot[i]; s == c.C.Ways[w].A || s == c.C.Ways[w].B {
				return int32(i)
			}
		}
	}
	return -1
}

// boundSteps lists the gaps that close a stretch in.
func boundSteps(c *rule.Case, r *districts.DeadRun) []finding.Step {
	var out []finding.Step
	for _, w := range r.Bounds {
		out = append(out, finding.Step{Text: "parted by the gap at " + c.WayPlace(w).Text, Pos: c.WayPos(w)})
	}
	return out
}

// deadFix is a feeder, or, on a section of a reversing loop that gaps cut off, one that
// comes through a reverser.
func deadFix(c *rule.Case, r *districts.DeadRun) string {
	if ring := c.T.OddRing(r.Ways[0]); ring != nil && len(ring.Gaps) > 1 {
		return "feed it through a reverser: it is a section of a reversing loop, and fixed feeders would short the first wheel on one of its gaps"
	}
	if f := brokenFeeder(c, r); f >= 0 {
		return "mend the broken feeder at " + c.Place(c.L.Feeders[f].Place).Text
	}
	return "hang a feeder there" + bondHint(c, r) + liveTest
}

// bondHint offers a bond wire over an expansion gap that parts the stretch.
func bondHint(c *rule.Case, r *districts.DeadRun) string {
	for _, w := range r.Bounds {
		way := &c.C.Ways[w]
		for _, g := range way.Gaps {
			if g >= 0 && c.L.Gaps[g].Kind == layout.Expansion && way.Kind == circuit.WayCut {
				return ", or bond both rails across the expansion gap at " + c.GapPlace(g).Text
			}
		}
	}
	return ""
}
