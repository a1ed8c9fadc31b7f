package catalogue

import (
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var reverserTripsLate = rule.Rule{
	ID:       "reverser-trips-late",
	Severity: finding.Caution,
	Title:    "a reverser acts no sooner than what feeds it trips",
	Doc: rule.Doc{
		What:    "An automatic reverser needs more current, or as much time, before it changes over than the breaker or booster above it needs to trip. Where it needs the same current but less time, that is a note: it acts first on a full short, but what else the breaker feeds leaves it no margin.",
		Why:     "The breaker above trips first, the train stops on the gap, and the reverser never changes over.",
		Fix:     "Set the reverser to act at a lower current and in a shorter time than what feeds it.",
		Example: "reversers:\n  loop: {from: main @ 14 ft, switching: automatic, trips-at: 6 A, trip-time: 10 ms}   # below a booster that trips at 5 A",
	},
	Sources: []string{"the ratings in the layout; that the reverser must act first is " + rule.CommonPractice},
}

func init() { reverserTripsLate.Check = checkReverserTripsLate }

// protection is what trips of a source.
type protection struct {
	name  string
	trips quantity.Current
	time  quantity.Time
}

func protectionOf(c *rule.Case, s int32) (protection, bool) {
	src := &c.C.Sources[s]
	switch src.Kind {
	case circuit.BoosterSource:
		b := &c.L.Boosters[src.Ref]
		return protection{src.Name, b.TripsAt, b.TripTime}, true
	case circuit.BreakerSource:
		b := &c.L.Breakers[src.Ref]
		return protection{src.Name, b.TripsAt, b.TripTime}, true
	case circuit.ReverserSource:
		b := &c.L.Reversers[src.Ref]
		return protection{src.Name, b.TripsAt, b.TripTime}, true
	default:
		return protection{}, false
	}
}

func checkReverserTripsLate(c *rule.Case) {
	for s := range c.C.Sources {
		src := &c.C.Sources[s]
		if src.Kind != circuit.ReverserSource || !automatic(c, src.Ref) {
			continue
		}
		own, _ := protectionOf(c, int32(s))
		for up := src.Parent; up >= 0; up = c.C.Sources[up].Parent {
			above, ok := protectionOf(c, up)
			if !ok || !compareTrips(c, int32(s), own, above) {
				break
			}
		}
	}
}

// compareTrips holds a reverser against one source above it; false ends the walk up.
func compareTrips(c *rule.Case, s int32, own, above protection) bool {
	pos := c.C.Sources[s].Pos
	if !own.trips.Known() || !above.trips.Known() {
		c.LeaveOpen(fmt.Sprintf("whether %s acts before %s trips", own.name, above.name), "one of them does not say at what current", pos)
		return true
	}
	late := own.trips.Hi > above.trips.Lo
	equal := !late && own.trips.Hi == above.trips.Lo
	slow := own.time.Known() && above.time.Known() && own.time.Hi >= above.time.Lo
	f := finding.Finding{
		Pos:   pos,
		Place: finding.Place{Text: own.name},
	}
	var limits []string
	if late || equal {
		f.Numbers = append(f.Numbers, finding.Number{Name: own.name + " acts at", Text: own.trips.String(), SI: own.trips.Hi, Unit: "A", Limit: "below " + above.trips.String(), Source: above.name + ", yours"})
		limits = append(limits, "below "+above.trips.String())
	}
	if slow {
		f.Numbers = append(f.Numbers, finding.Number{Name: own.name + " acts after", Text: own.time.String(), SI: own.time.Hi, Unit: "s", Limit: "below " + above.time.String(), Source: above.name + ", yours"})
		limits = append(limits, "in less than "+above.time.String())
	}
	f.Fix = fmt.Sprintf("set %s to act %s", own.name, strings.Join(limits, " and "))
	switch {
	case late:
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("%s acts at %s, but %s above it already trips at %s", own.name, own.trips, above.name, above.trips)
		f.Why = "the one above trips first, and the reverser never changes over"
	case slow:
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("%s takes %s to act, and %s above it trips after %s", own.name, own.time, above.name, above.time)
		f.Why = "the one above trips first or at the same moment, and the train stops on the gap"
	case equal && own.time.Known() && above.time.Known():
		f.Severity = finding.Note
		f.Message = fmt.Sprintf("%s acts at %s, the same current at which %s above it trips; it is the quicker of the two", own.name, own.trips, above.name)
		f.Why = "whatever else runs on " + above.name + " counts there and not in the reverser, so a weak short may trip it first"
	case equal:
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
