package catalogue

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var breakerNotBeforeBooster = rule.Rule{
	ID:       "breaker-not-before-booster",
	Severity: finding.Caution,
	Title:    "a breaker, fuse or ptc does not act before what stands above it",
	Doc: rule.Doc{
		What:    "A breaker needs more current than the booster, breaker, fuse or ptc above it, or as much time. Where it needs the same current but less time, that is a note. A fuse (by `trips-at`, else its rating) or ptc is held against the currents above it only, and must lie below them: it takes seconds in any case, so on a dead short an electronic breaker above it is always first, and that is no finding. Of ranges the careful ends count. A reverser above changes over and cuts nothing off; it is passed by.",
		Why:     "A short in one district then stops every train on the booster, and the breaker that was to part them does nothing.",
		Fix:     "Set the breaker to trip at a lower current and in a shorter time than what feeds it.",
		Example: "breakers:\n  yard: {from: harbour @ 7 ft, trips-at: 6 A, trip-time: 10 ms}   # below a booster that trips at 5 A",
	},
	Sources: []string{"the ratings in the layout; that the breaker must act first, and keep to three quarters of what stands above it, is " + rule.CommonPractice},
}

func init() { breakerNotBeforeBooster.Check = checkBreakerNotBeforeBooster }

func checkBreakerNotBeforeBooster(c *rule.Case) {
	for s := range c.C.Sources {
		if c.C.Sources[s].Kind == circuit.BreakerSource {
			own, _ := protectionOf(c, int32(s))
			beforeAll(c, &own, -1, hangsFrom(c, int32(s)))
		}
	}
	for i := range c.L.InLines {
		if own, ok := inLineProtection(c, int32(i)); ok {
			beforeAll(c, &own, int32(i), c.L.InLines[i].From)
		}
	}
}

// beforeAll holds one against each above it, up to the first at fault.
func beforeAll(c *rule.Case, own *protection, inLine int32, from layout.Source) {
	for _, g := range c.T.GuardsAbove(from) {
		if above, ok := cutsOff(c, g); ok && !actsBefore(c, own, &above, inLine) {
			return
		}
	}
}

// actsBefore reports what does not act before one above it.
func actsBefore(c *rule.Case, own, above *protection, inLine int32) bool {
	open := func(why string) {
		c.LeaveOpen(fmt.Sprintf("whether %s acts before %s trips", own.name, above.name), why, own.pos)
	}
	if !own.trips.Known() || !above.trips.Known() {
		open("one of them does not say at what current")
		return true
	}
	v := own.against(above)
	f := finding.Finding{Severity: finding.Caution, Pos: own.pos, Place: finding.Place{Text: own.name}, Numbers: v.numbers(own, above, "trips")}
	switch {
	case v.late, v.equal && own.melts:
		f.Message = fmt.Sprintf("%s trips at %s, and %s above it already at %s", own.name, own.trips, above.name, above.trips)
		f.Why = "the one above trips first, and everything it feeds stops for a short in one district"
	case v.slow:
		f.Message = fmt.Sprintf("%s takes %s to trip, and %s above it trips after %s", own.name, own.time, above.name, above.time)
		f.Why = "on a dead short the one above trips first or at the same moment, and everything it feeds stops"
	case above.melts:
		return true
	case v.equal && v.timed:
		f.Severity = finding.Note
		f.Message = fmt.Sprintf("%s trips at %s, the same current as %s above it; it is the quicker of the two", own.name, own.trips, above.name)
		f.Why = "whatever else runs on " + above.name + " counts there and not in " + own.name + ", so a weak short may trip it first"
	case !own.melts && !v.timed:
		open("one of them does not say after what time")
		return true
	default:
		return true
	}
	f.Fix = earlier(own, above)
	f.Mends = earlierMends(c, own, above, inLine)
	c.Report(f)
	return false
}

// earlier is the setting that makes one act before another, with some clearance.
func earlier(own, above *protection) string {
	text := "set " + own.name + " to trip"
	if own.melts {
		text = "use one for " + own.name + " that acts"
	}
	text += " at " + quantity.FormatCurrent(min(wellBelow(above.trips.Lo), own.trips.Lo)) + " or less"
	if !own.melts && above.time.Known() {
		text += ", within " + quantity.FormatTime(soon(above.time.Lo))
	}
	return text
}

// soon is a time with clearance before another, in whole milliseconds where it has any.
func soon(seconds float64) float64 {
	if ms := math.Floor(clearance*seconds*1000 + 1e-9); ms >= 1 {
		return ms / 1000
	}
	return clearance * seconds
}
