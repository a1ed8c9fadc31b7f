package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railUnwatched = rule.Rule{
	ID:       "rail-unwatched",
	Severity: finding.Caution,
	Title:    "the detector of a block does not see a part of it",
	Doc: rule.Doc{
		What:    "A stretch of a block that has a detector takes the watched leg past it, from the bus or through another detector, while the rest of the block takes it through the detector: the watched rail is cut inside the block, or blades or contacts feed the stretch in some setting. A stretch of 6 in or less does not count.",
		Why:     "The block shows clear while a train stands there, or another block shows it.",
		Fix:     "Take the watched leg of that stretch from the detector's wire, or let the block end where the rail is cut.",
		Example: "gaps:\n  M1: [6 ft, {at: 12 ft, rails: left}, 18 ft]   # leg A is on the left rail\nfeeders:\n  M1:\n    A: left\n    8 ft: {from: harbour @ 8 ft, A-from: D1-wire @ 1 ft}\n    16 ft: harbour @ 16 ft   # beyond the cut, past D1\nblocks:\n  B1: {covers: M1 @ 6 ft .. 18 ft, detector: D1}",
	},
	Sources: []string{"electrical necessity: a detector sees the current that goes through it", "how short a stretch does not count: " + rule.CommonPractice},
}

func init() { railUnwatched.Check = checkRailUnwatched }

func checkRailUnwatched(c *rule.Case) {
	list, open := c.T.Unwatched()
	giveUpWatching(c, open)
	for _, u := range unwatchedTogether(list, false) {
		detector, leg := c.DetectorName(u[0].Detector), c.LegWord(c.L.Detectors[u[0].Detector].Leg)
		f := unwatchedFinding(c, u)
		f.Message = fmt.Sprintf("%s lies in %s, and %s does not see it%s: its %s rail gets %s %s",
			f.Place.Text, c.BlockName(u[0].Block), detector, whenSet(f.Settings), c.RailWord(u[0].Rail), leg, throughText(c, u[0].Through))
		f.Why = "the block shows clear while a train stands there"
		if u[0].Through[0] >= 0 {
			f.Why = "a train there shows in another block than it is in"
		}
		f.Fix = fmt.Sprintf("take %s of this stretch from the wire of %s, or let the block end where the rail is cut", leg, detector)
		c.Report(f)
	}
}

// unwatchedTogether groups stretches of which a detector sees a part of the current, or none, by their cause, in the order of the first of each: those of
// one block with the same settings and the same way of current, and those whose current divides between the same detectors.
func unwatchedTogether(list []districts.Unwatched, part bool) [][]*districts.Unwatched {
	var out [][]*districts.Unwatched
	for i := range list {
		u := &list[i]
		if u.Part != part {
			continue
		}
		at := slices.IndexFunc(out, func(g []*districts.Unwatched) bool {
			divided := part && u.Through[0] >= 0 && slices.Equal(detectorsOver(g[0]), detectorsOver(u))
			return slices.Equal(g[0].Settings, u.Settings) && (divided || g[0].Block == u.Block && slices.Equal(g[0].Through, u.Through))
		})
		if at < 0 {
			out = append(out, []*districts.Unwatched{u})
		} else {
			out[at] = append(out[at], u)
		}
	}
	return out
}

// detectorsOver are the detectors that the current of a stretch comes through, its block's own among them, rising; -1 for none.
func detectorsOver(u *districts.Unwatched) []int32 {
	out := append(slices.Clone(u.Through), u.Detector)
	slices.Sort(out)
	return slices.Compact(out)
}

// unwatchedFinding is what the rules about stretches that a detector does not see alone have in common.
func unwatchedFinding(c *rule.Case, list []*districts.Unwatched) finding.Finding {
	first := list[0]
	track := c.L.Pieces[first.Piece].Index
	place := c.TrackPlace(track, first.From)
	place.Text = c.Between(track, first.From, first.To)
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      c.L.Blocks[first.Block].Pos,
		Place:    place,
		Settings: c.Settings(first.Settings),
		Witness:  c.WitnessTo(first.Spot, first.Rail),
		Train:    "a train on " + place.Text,
	}
	length := 0.0
	for _, u := range list {
		length += u.Length()
		if u != first {
			f.Also = append(f.Also, c.Between(c.L.Pieces[u.Piece].Index, u.From, u.To))
		}
	}
	f.Numbers = []finding.Number{rule.Length("track of which this is so", length)}
	return f
}

// throughText says by which detectors a leg comes: "past every detector", "through detector east".
func throughText(c *rule.Case, through []int32) string {
	var words []string
	for _, d := range through {
		if d < 0 {
			words = append(words, "past every detector")
		} else {
			words = append(words, "through "+c.DetectorName(d))
		}
	}
	return strings.Join(words, " and ")
}

// whenSet says with which settings something is so; nothing for always.
func whenSet(settings []string) string {
	if len(settings) == 0 {
		return ""
	}
	return " with " + strings.Join(settings, ", ")
}

// giveUpWatching says that a bound stopped the search for what settings add.
func giveUpWatching(c *rule.Case, open []int32) {
	if len(open) == 0 {
		return
	}
	names := make([]string, len(open))
	for i, d := range open {
		names[i] = c.C.Devices[d].Name
	}
	c.GiveUp("whether detectors see their blocks when these are set: "+strings.Join(names, ", "), "the search over their settings reached its bound on work", c.C.Devices[open[0]].Pos)
}
