package catalogue

import (
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var districtOverloaded = rule.Rule{
	ID:       "district-overloaded",
	Severity: finding.Caution,
	Title:    "the trains that may run at once draw more than what feeds them gives",
	Doc: rule.Doc{
		What:    "The trains that may move at once on the track of a booster, breaker, supply or automatic reverser, and what stands there and `draws` all the time, take more than it trips at, or than it is rated for. Trains are chosen for the worst: as many as `at-once` lets move (of each train, and in all under `operations`), in blocks that take them (`trains`), one moving in each block as meant, where every track is in a block. They must have room by their lengths, but for one more at each way in, whose engine is on the track and whose cars are still outside. On a reversing section one train is reckoned with. The higher ends of ranges count for currents, the lower for lengths and limits. The track of a booster for programming, and cabs, are left out.",
		Why:     "It trips in the middle of an operating session with nothing wrong anywhere.",
		Fix:     "Let it trip at a higher current if its wire, and what stands above it, allow; else keep a train away, or give part of the track a booster of its own.",
		Example: "breakers:\n  yard: {from: harbour @ 7 ft, trips-at: 3 A}\ntrains:\n  ore: {length: 3 ft, current: 1.8 A, at-once: 2}   # both may be in the yard: 3.6 A",
	},
	Sources: []string{"the currents and ratings in the layout; that one train moves in each block, and one on a reversing section, is " + rule.CommonPractice},
}

func init() { districtOverloaded.Check = checkDistrictOverloaded }

// tripsAt is the verb of what trips.
const tripsAt = "trips at"

// overload is one source held against what may be drawn behind it.
type overload struct {
	name   string
	pos    source.Pos
	load   float64
	draws  districts.Gathering
	single bool // a reversing section, which one train crosses
}

func checkDistrictOverloaded(c *rule.Case) {
	g := running(c)
	over := make([]bool, len(c.L.Boosters))
	silent := silence{c: c}
	for s := range c.C.Sources {
		src := &c.C.Sources[s]
		if forProgramming(c, int32(s)) {
			continue
		}
		x := overload{name: src.Name, pos: src.Pos}
		var rating quantity.Current
		switch src.Kind {
		case circuit.BoosterSource:
			rating = c.L.Boosters[src.Ref].Rating
		case circuit.BreakerSource:
		case circuit.ReverserSource:
			x.single = true
			if !automatic(c, src.Ref) {
				continue
			}
		default:
			continue
		}
		x.draws = g.Of(int32(s))
		x.load = x.draws.Amps
		if x.single {
			x.load, x.draws.Trains = x.draws.Standing, nil
			if t := x.draws.Heaviest; t >= 0 {
				x.load += c.L.Trains[t].Current.Hi
				x.draws.Trains = []int32{t}
			}
			x.draws.Amps = x.load
		}
		trips, _ := protectionOf(c, int32(s))
		switch {
		case trips.trips.Known() && beyond(x.load, trips.trips.Lo):
			x.report(c, trips.trips, tripsAt, x.tripHigher(c, int32(s)), append(raiseTripMends(c, int32(s), x.load), ratedMends(c, int32(s), x.load)...))
		case rating.Known() && beyond(x.load, rating.Lo):
			x.report(c, rating, "is rated", "", ratedMends(c, int32(s), x.load))
		default:
			silent.about(&x, trips.trips.Known() || rating.Known())
			continue
		}
		if src.Kind == circuit.BoosterSource {
			over[src.Ref] = true
		}
	}
	for i := range c.L.Supplies {
		overloadedSupply(c, g, int32(i), over, &silent)
	}
	silent.leaveOpen()
}

// overloadedSupply holds a supply against all that its boosters and its own wires feed. One of whose
// boosters is overloaded is not told of too.
func overloadedSupply(c *rule.Case, g *districts.Gatherings, i int32, over []bool, silent *silence) {
	var fed []int32
	for s := range c.C.Sources {
		switch src := &c.C.Sources[s]; src.Kind {
		case circuit.BoosterSource:
			if c.L.Boosters[src.Ref].Supply != i {
				continue
			}
			if over[src.Ref] {
				return
			}
			fed = append(fed, int32(s))
		case circuit.SupplySource:
			if src.Ref == i {
				fed = append(fed, int32(s))
			}
		}
	}
	supply := &c.L.Supplies[i]
	x := overload{name: "supply " + supply.Name, pos: supply.Pos, draws: g.Of(fed...)}
	x.load = x.draws.Amps
	if supply.Rating.Known() && beyond(x.load, supply.Rating.Lo) {
		x.report(c, supply.Rating, "is rated", "use a supply of "+quantity.FormatCurrent(stepUp(x.load))+" or more, within its limited-power class", supplyMends(c, i, x.load))
		return
	}
	silent.about(&x, supply.Rating.Known())
}

// tripHigher is the setting that would do, "" where what stands above trips no later.
func (x *overload) tripHigher(c *rule.Case, s int32) string {
	kind := c.C.Sources[s].Kind
	if kind != circuit.BreakerSource && kind != circuit.ReverserSource {
		return ""
	}
	want := stepUp(x.load)
	if above, ok := leastAbove(c, hangsFrom(c, s)); ok && want < above.trips.Lo {
		return fmt.Sprintf("set %s to trip at %s, below %s's %s, if its wire carries that", x.name, quantity.FormatCurrent(want), above.name, above.trips)
	}
	return ""
}

func (x *overload) report(c *rule.Case, limit quantity.Current, verb, fix string, mends []finding.Mend) {
	load := quantity.FormatCurrent(x.load)
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      x.pos,
		Place:    finding.Place{Text: x.name},
		Message:  fmt.Sprintf("up to %s may be drawn at once behind %s, which %s %s", load, x.name, verb, limit),
		Why:      "it runs beyond its rating, and may get hot or shut down",
		Train:    drawersText(c, &x.draws),
		Mends:    mends,
		Numbers: []finding.Number{
			{Name: "drawn at once", Text: load, SI: x.load, Unit: "A", Limit: "at most " + limit.String(), Source: x.name + ", yours"},
			{Name: "beyond it by", Text: quantity.FormatCurrent(x.load - limit.Lo), SI: x.load - limit.Lo, Unit: "A"},
		},
	}
	if verb == tripsAt {
		f.Why = "it trips in the middle of operations, with nothing wrong anywhere"
	}
	switch {
	case x.single:
		f.Assumed = "that one train at a time is on a reversing section"
	case !x.draws.Room.Open && len(x.draws.Room.Blocks) > 0:
		f.Assumed = "that one train moves in each block"
	}
	var ways []string
	if fix != "" {
		ways = append(ways, fix)
	}
	away, ok := keepAway(c, &x.draws, limit.Lo)
	if ok {
		ways = append(ways, "keep "+away+" away while the rest draws (`trains` of the blocks, or `at-once`, says so)")
	}
	ways = append(ways, "give part of it a source of its own")
	f.Fix = strings.Join(ways[:min(2, len(ways))], "; or ")
	c.Report(f)
}

// silence gathers what could not be held against anything.
type silence struct {
	c       *rule.Case
	trains  []int32
	loads   []int32
	limits  []string
	first   source.Pos
	someone bool
}

// about takes note of a source within its limits as far as the layout says.
func (q *silence) about(x *overload, limited bool) {
	used := x.draws.Room.Metres > 0 || x.load > 0
	if !used {
		return
	}
	if !q.someone {
		q.first, q.someone = x.pos, true
	}
	q.trains = union(q.trains, x.draws.Unknown)
	q.loads = union(q.loads, x.draws.Loads)
	if !limited && x.load > 0 {
		q.limits = append(q.limits, x.name)
	}
}

// leaveOpen says what is open, a line for each reason.
func (q *silence) leaveOpen() {
	if !q.someone {
		return
	}
	const what = "whether what runs at once is too much for its breaker, booster or supply"
	switch {
	case len(q.c.L.Trains) == 0:
		q.c.LeaveOpen(what, "the layout has no trains", q.first)
	case len(q.trains) > 0:
		q.c.LeaveOpen(what, namesOf(q.c, q.trains, 0)+" gives no `current`", q.c.L.Trains[q.trains[0]].Pos)
	}
	if drawing := q.silentLoads(); len(drawing) > 0 {
		q.c.LeaveOpen("what standing loads take of it", namesOf(q.c, nil, len(drawing))+" gives no `draws`", q.c.L.Loads[drawing[0]].Pos)
	}
	if len(q.limits) > 0 {
		q.c.LeaveOpen("whether "+listText(q.limits)+" is overloaded", "the layout does not say its rating or at what current it trips", q.first)
	}
}

// silentLoads are the loads without a current, bumpers and resistances aside.
func (q *silence) silentLoads() []int32 {
	var out []int32
	for _, i := range q.loads {
		if x := &q.c.L.Loads[i]; x.Kind != bumperKind && !x.Resistance.Said() && !x.Capacitance.Said() {
			out = append(out, i)
		}
	}
	return out
}

// union adds to a list what it lacks of another.
func union(list, more []int32) []int32 {
	seen := map[int32]bool{}
	for _, x := range list {
		seen[x] = true
	}
	for _, x := range more {
		if !seen[x] {
			seen[x] = true
			list = append(list, x)
		}
	}
	return list
}
