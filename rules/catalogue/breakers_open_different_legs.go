package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var breakersOpenDifferentLegs = rule.Rule{
	ID:       "breakers-open-different-legs",
	Severity: finding.Caution,
	Title:    "two breakers of one booster open different legs, and their track meets",
	Doc: rule.Doc{
		What:    "Track of two breakers or reversers of one booster meets at a gap; one opens leg A only, the other leg B only. On the one side the rail of leg B then hangs straight from the booster, on the other side the rail of leg A. These are the two rails that lie crosswise over the gap: left before it and right behind it, or the other way round.",
		Why:     "Metal that lies from the one to the other, such as a derailed truck or a tool laid across the gap, shorts the booster and meets neither breaker. The whole booster trips instead, if it does.",
		Fix:     "Have both open the same leg, or both legs.",
		Example: "breakers:\n  coal: {from: main @ 1 ft, trips-at: 3 A, opens: A}\n  ice:  {from: main @ 2 ft, trips-at: 3 A, opens: B}   # and their track meets at a gap",
	},
	Sources: []string{"topology: the path from leg to leg passes neither breaker"},
}

func init() { breakersOpenDifferentLegs.Check = checkBreakersOpenDifferentLegs }

func checkBreakersOpenDifferentLegs(c *rule.Case) {
	var past *districts.PastBreakers
	for _, e := range encounters(c) {
		x, okX := opens(c, e.Sources[0])
		y, okY := opens(c, e.Sources[1])
		if !okX || !okY || e.Heads[0] != e.Heads[1] || len(e.Settings) > 0 || c.C.Sources[e.Heads[0]].Kind != circuit.BoosterSource {
			continue
		}
		switch {
		case single(x) && single(y):
			if past == nil {
				past = c.T.PastBreakers()
			}
			bareBridge(c, past, e.Sources, e.Heads[0], e.Ways)
		case single(x) && !said(y):
			leaveOpens(c, e.Sources[0], e.Sources[1], x)
		case single(y) && !said(x):
			leaveOpens(c, e.Sources[1], e.Sources[0], y)
		}
	}
}

// opens says which legs a breaker or reverser opens; ok is false for what is neither.
func opens(c *rule.Case, s int32) (o layout.Opens, ok bool) {
	switch src := &c.C.Sources[s]; src.Kind {
	case circuit.BreakerSource:
		return c.L.Breakers[src.Ref].Opens, true
	case circuit.ReverserSource:
		return c.L.Reversers[src.Ref].Opens, true
	default:
		return layout.OpensUnsaid, false
	}
}

func single(o layout.Opens) bool { return o == layout.OpensA || o == layout.OpensB }

func said(o layout.Opens) bool { return single(o) || o == layout.OpensBoth }

// legOpened names the leg of one that opens a single leg.
func legOpened(c *rule.Case, o layout.Opens) string {
	if o == layout.OpensA {
		return c.LegWord(layout.A)
	}
	return c.LegWord(layout.B)
}

func leaveOpens(c *rule.Case, one, other int32, o layout.Opens) {
	c.LeaveOpen(
		fmt.Sprintf("whether a bridge between the track of %s and of %s meets one of them", c.SourceName(one), c.SourceName(other)),
		fmt.Sprintf("%s opens %s only, and the layout does not say which legs %s opens", c.SourceName(one), legOpened(c, o), c.SourceName(other)), c.C.Sources[other].Pos)
}

// bareBridge reports the first of some ways at which a bridge passes both breakers by.
func bareBridge(c *rule.Case, past *districts.PastBreakers, sources [2]int32, booster int32, ways []int32) {
	for i, w := range ways {
		b, found := past.Bridge(w, booster)
		if !found {
			continue
		}
		way, place := &c.C.Ways[w], c.WayPlace(w)
		one, other := sources[0], sources[1]
		x, _ := opens(c, one)
		y, _ := opens(c, other)
		f := finding.Finding{
			Severity: finding.Caution,
			Pos:      c.C.Sources[other].Pos,
			Place:    finding.Place{Text: c.SourceName(other)},
			Message:  fmt.Sprintf("%s opens %s only and %s opens %s only, and their track meets at %s: metal from the %s rail before that gap to the %s rail behind it meets neither", c.SourceName(one), legOpened(c, x), c.SourceName(other), legOpened(c, y), place.Text, c.RailWord(b.Rails[0]), c.RailWord(b.Rails[1])),
			Why:      "such a short is left to the booster: both breakers stay closed, and what they were to protect has no protection",
			Train:    "a derailed truck, or a tool, across the gap",
			Fix:      fmt.Sprintf("have %s and %s open the same leg, or both legs", c.SourceName(one), c.SourceName(other)),
			Mends:    bothLegsMends(c, one, other),
		}
		if b.Crossed {
			f.Assumed = "the reverser stands crossed"
		}
		f.Witness = c.Witness(c.SourceName(booster)+", "+c.LegWord(b.Legs[0]), c.C.Sources[booster].Pos, b.Paths[0])
		f.Witness = append(f.Witness, finding.Step{Text: fmt.Sprintf("metal across the gap at %s, from the %s rail to the %s rail", place.Text, c.RailWord(b.Rails[0]), c.RailWord(b.Rails[1])), Pos: way.Pos})
		f.Witness = append(f.Witness, c.Witness("and the other end of it hangs from "+c.SourceName(booster)+", "+c.LegWord(b.Legs[1]), c.C.Sources[booster].Pos, b.Paths[1])...)
		meetAt(c, &f, ways, i+1)
		c.Report(f)
		return
	}
}
