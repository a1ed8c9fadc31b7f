package catalogue

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var breakerTripsAtInrush = rule.Rule{
	ID:       "breaker-trips-at-inrush",
	Severity: finding.Caution,
	Title:    "what hangs behind a breaker or booster draws so much at a restart that it trips again",
	Doc: rule.Doc{
		What:    "After a trip everything behind a breaker or booster draws its `inrush` at the same moment: all the trains that can be there, moving or not, and the standing loads. That is more than it trips at. A train or load without `inrush` counts with its ordinary current, so the figure is then a least one. How long an inrush lasts the layout cannot say: it is taken to last longer than the trip time. Without any `inrush` this is listed as not checked, if the layout has breakers.",
		Why:     "It trips again at every retry, long after the short is cleared, until trains are lifted off.",
		Fix:     "Part the district, let it trip at a higher current if its wire and what stands above it allow, or use a breaker that waits out the inrush.",
		Example: "breakers:\n  yard: {from: harbour @ 7 ft, trips-at: 3 A, trip-time: 10 ms}\ntrains:\n  coach: {length: 6 ft, current: 0.8 A, inrush: 4 A}",
	},
	Sources: []string{"the currents in the layout; that the inrush of all comes at once and outlasts the trip time is " + rule.CommonPractice},
}

func init() { breakerTripsAtInrush.Check = checkBreakerTripsAtInrush }

// restarting finds what trains and loads draw when power returns.
func restarting(c *rule.Case) *districts.Gatherings {
	return c.T.Gatherings(districts.Draws{
		Train: func(t *layout.Train) quantity.Current { return atFirst(t.Inrush, t.Current) },
		Load:  func(x *layout.Load) quantity.Current { return atFirst(x.Inrush, x.Draws) },
	})
}

// atFirst is the inrush, or the ordinary current where that is more or alone known.
func atFirst(inrush, ordinary quantity.Current) quantity.Current {
	if !inrush.Known() || (ordinary.Known() && ordinary.Hi > inrush.Hi) {
		return ordinary
	}
	return inrush
}

func checkBreakerTripsAtInrush(c *rule.Case) {
	missing, some := withoutInrush(c)
	if !some {
		if len(c.L.Breakers) > 0 {
			c.LeaveOpen("whether a breaker trips again when power returns", "no train or load gives its `inrush`", c.L.Breakers[0].Pos)
		}
		return
	}
	g := restarting(c)
	for s := range c.C.Sources {
		if kind := c.C.Sources[s].Kind; kind != circuit.BreakerSource && kind != circuit.BoosterSource {
			continue
		}
		own, _ := protectionOf(c, int32(s))
		x := g.Of(int32(s))
		switch {
		case x.Amps == 0 || forProgramming(c, int32(s)):
		case !own.trips.Known():
			c.LeaveOpen("whether "+own.name+" trips again when power returns", "the layout does not say at what current it trips", own.pos)
		case beyond(x.Amps, own.trips.Lo):
			inrush(c, int32(s), &own, &x)
		default:
			if names := missingHere(c, &x, missing); names != "" {
				c.LeaveOpen("whether "+own.name+" trips again when power returns", names+" gives no `inrush`", own.pos)
			}
		}
	}
}

// withoutInrush tells which trains give no inrush, and whether anything gives one.
func withoutInrush(c *rule.Case) (missing []bool, some bool) {
	missing = make([]bool, len(c.L.Trains))
	for i := range c.L.Trains {
		missing[i] = !c.L.Trains[i].Inrush.Known()
		some = some || !missing[i]
	}
	for i := range c.L.Loads {
		some = some || c.L.Loads[i].Inrush.Known()
	}
	return missing, some
}

// missingHere names the trains that may come and give no inrush.
func missingHere(c *rule.Case, x *districts.Gathering, missing []bool) string {
	var trains []int32
	for _, t := range x.Come {
		if missing[t] {
			trains = append(trains, t)
		}
	}
	return namesOf(c, trains, 0)
}

// inrush reports one that trips again.
func inrush(c *rule.Case, s int32, own *protection, x *districts.Gathering) {
	sum := quantity.FormatCurrent(x.Amps)
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      own.pos,
		Place:    finding.Place{Text: own.name},
		Message:  fmt.Sprintf("when power returns, %s may be drawn behind %s in the first moments, and it trips at %s", sum, own.name, own.trips),
		Why:      "it trips again at every retry, with no short left anywhere",
		Train:    drawersText(c, x),
		Assumed:  "that the inrush lasts until it trips, which the layout does not say how long that takes",
		Numbers: []finding.Number{
			{Name: "drawn at first", Text: sum, SI: x.Amps, Unit: "A", Limit: "at most " + own.trips.String(), Source: own.name + ", yours"},
			{Name: "beyond it by", Text: quantity.FormatCurrent(x.Amps - own.trips.Lo), SI: x.Amps - own.trips.Lo, Unit: "A"},
		},
	}
	if own.time.Known() {
		f.Assumed = "that the inrush lasts longer than the " + own.time.String() + " after which it trips"
	}
	parts := math.Ceil(x.Amps/own.trips.Lo - 1e-9)
	f.Fix = fmt.Sprintf("part what hangs from it into %g, each with a breaker of its own that closes after the last", parts)
	want := stepUp(x.Amps)
	if above, ok := leastAbove(c, hangsFrom(c, s)); ok && want < above.trips.Lo {
		f.Fix = fmt.Sprintf("set %s to trip at %s, below %s's %s, if its wire carries that; or %s", own.name, quantity.FormatCurrent(want), above.name, above.trips, f.Fix)
	}
	f.Mends = raiseTripMends(c, s, x.Amps)
	c.Report(f)
}
