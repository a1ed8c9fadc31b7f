package catalogue

import (
	"fmt"
	"math"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reverserTripsLate = rule.Rule{
	ID:       "reverser-trips-late",
	Severity: finding.Caution,
	Title:    "a reverser acts no sooner than what feeds it trips",
	Doc: rule.Doc{
		What:    "An automatic reverser needs more current, or as much time, before it changes over than the breaker or booster above it needs to trip. Where it needs the same current but less time, that is a note: it acts first on a full short, but what else the breaker feeds leaves it no margin. It is a note, too, where other trains may draw so much from the breaker or booster above that what is left of its trip current is less than what the reverser acts at; of those that may run there at once (as district-overloaded counts them), the lightest is taken to be the one that crosses.",
		Why:     "The breaker above trips first, the train stops on the gap, and the reverser never changes over.",
		Fix:     "Set the reverser to act at a lower current and in a shorter time than what feeds it.",
		Example: "reversers:\n  loop: {from: main @ 14 ft, switching: automatic, trips-at: 6 A, trip-time: 10 ms}   # below a booster that trips at 5 A",
	},
	Sources: []string{"the ratings in the layout; that the reverser must act first is " + rule.CommonPractice},
}

func init() { reverserTripsLate.Check = checkReverserTripsLate }

func checkReverserTripsLate(c *rule.Case) {
	if len(c.L.Reversers) == 0 {
		return
	}
	g := running(c)
	for s := range c.C.Sources {
		src := &c.C.Sources[s]
		if src.Kind != circuit.ReverserSource || !automatic(c, src.Ref) {
			continue
		}
		own, _ := protectionOf(c, int32(s))
		for up := src.Parent; up >= 0; up = c.C.Sources[up].Parent {
			above, ok := protectionOf(c, up)
			if !ok || !compareTrips(c, int32(s), &own, &above) || nearItsLimit(c, g, up, &own, &above) {
				break
			}
		}
	}
}

// nearItsLimit reports one above a reverser that other trains may load so much that what is left
// of its trip current is less than what the reverser needs to act. One of the trains is taken to be
// the one that crosses, the lightest of them.
func nearItsLimit(c *rule.Case, g *districts.Gatherings, up int32, own, above *protection) bool {
	if !own.trips.Known() || !above.trips.Known() {
		return false
	}
	x := g.Of(up)
	if len(x.Trains) > 0 {
		last := len(x.Trains) - 1
		x.Amps -= c.L.Trains[x.Trains[last]].Current.Hi
		x.Trains = x.Trains[:last]
	}
	left := above.trips.Lo - x.Amps
	if x.Amps == 0 || !beyond(own.trips.Hi, left) {
		return false
	}
	load, rest := quantity.FormatCurrent(x.Amps), quantity.FormatCurrent(max(0, left))
	f := finding.Finding{
		Severity: finding.Note,
		Pos:      own.pos,
		Place:    finding.Place{Text: own.name},
		Message:  fmt.Sprintf("%s acts at %s, but other trains may draw %s behind %s, which leaves %s until it trips", own.name, own.trips, load, above.name, rest),
		Why:      "a weak short at the reverser's gaps then trips the one above before the reverser acts",
		Train:    drawersText(c, &x),
		Numbers:  []finding.Number{{Name: own.name + " acts at", Text: own.trips.String(), SI: own.trips.Hi, Unit: "A", Limit: "at most " + rest, Source: above.name + ", yours, less " + load}},
		Fix:      "give the reversing section more from above, or fewer other trains",
		Mends:    lowerTripMends(c, own.source, math.Nextafter(left, math.Inf(1))),
	}
	if heaviest := heaviestOn(c, g, own.source); left > 0 && heaviest < left {
		f.Fix = fmt.Sprintf("set %s to act at %s or less, but above the %s that a train there draws", own.name, rest, quantity.FormatCurrent(heaviest))
	}
	c.Report(f)
	return true
}

// heaviestOn is what the heaviest train on a source's track draws, with what stands there.
func heaviestOn(c *rule.Case, g *districts.Gatherings, s int32) float64 {
	x := g.Of(s)
	if x.Heaviest < 0 {
		return x.Standing
	}
	return x.Standing + c.L.Trains[x.Heaviest].Current.Hi
}

// compareTrips holds a reverser against one source above it; false ends the walk up.
func compareTrips(c *rule.Case, s int32, own, above *protection) bool {
	pos := c.C.Sources[s].Pos
	if !own.trips.Known() || !above.trips.Known() {
		c.LeaveOpen(fmt.Sprintf("whether %s acts before %s trips", own.name, above.name), "one of them does not say at what current", pos)
		return true
	}
	v := own.against(above)
	f := finding.Finding{
		Pos:     pos,
		Place:   finding.Place{Text: own.name},
		Numbers: v.numbers(own, above, "acts"),
		Mends:   lateMends(c, own, above),
	}
	var limits []string
	if v.late || v.equal {
		limits = append(limits, "below "+above.trips.String())
	}
	if v.slow {
		limits = append(limits, "in less than "+above.time.String())
	}
	f.Fix = fmt.Sprintf("set %s to act %s", own.name, strings.Join(limits, " and "))
	switch {
	case v.late:
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("%s acts at %s, but %s above it already trips at %s", own.name, own.trips, above.name, above.trips)
		f.Why = "the one above trips first, and the reverser never changes over"
	case v.slow:
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("%s takes %s to act, and %s above it trips after %s", own.name, own.time, above.name, above.time)
		f.Why = "the one above trips first or at the same moment, and the train stops on the gap"
	case v.equal && v.timed:
		f.Severity = finding.Note
		f.Message = fmt.Sprintf("%s acts at %s, the same current at which %s above it trips; it is the quicker of the two", own.name, own.trips, above.name)
		f.Why = "whatever else runs on " + above.name + " counts there and not in the reverser, so a weak short may trip it first"
	case v.equal:
		c.LeaveOpen(fmt.Sprintf("whether %s acts before %s trips", own.name, above.name), "both act at "+own.trips.String()+", and one of them does not say after what time", pos)
		return true
	default:
		return true
	}
	c.Report(f)
	return false
}

func automatic(c *rule.Case, reverser int32) bool {
	return switchingAutomatic(c.L.Reversers[reverser].Switching)
}
