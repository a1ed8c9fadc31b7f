package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// watchMends take one leg of feeders through a detector: from the bus of its own where a feeder of the same block hangs, or from any of its buses.
func watchMends(c *rule.Case, feeders []int32, detector int32) []finding.Mend {
	leg := c.L.Detectors[detector].Leg
	var out []finding.Mend
	for _, bus := range c.BusesFrom(-1, detector) {
		if !c.L.Buses[bus].Legs.Carries(leg) {
			continue
		}
		out = append(out, rehangMend(c, feeders, func(f int32) (finding.Change, string) { return c.RehangFrom(f, bus, leg) }))
	}
	return append(out, ownWireMends(c, feeders, detector)...)
}

// ownWireMends hang the wire from which some feeders, and no others, take a leg from a detector.
func ownWireMends(c *rule.Case, feeders []int32, detector int32) []finding.Mend {
	leg := c.L.Detectors[detector].Leg
	bus := int32(-1)
	for i := range c.L.Feeders {
		own, tap := slices.Contains(feeders, int32(i)), c.L.Feeders[i].From
		switch {
		case own && (tap[leg].Bus < 0 || bus >= 0 && tap[leg].Bus != bus):
			return nil
		case own:
			bus = tap[leg].Bus
		}
	}
	if bus < 0 || !c.L.Buses[bus].Legs.Carries(leg) || c.DetectorAbove(c.L.Buses[bus].From) == detector {
		return nil
	}
	for i := range c.L.Feeders {
		tap := &c.L.Feeders[i].From
		if tap[leg].Bus == bus && !slices.Contains(feeders, int32(i)) || tap[leg.Other()].Bus == bus {
			return nil
		}
	}
	name := c.L.Buses[bus].Name
	return []finding.Mend{{
		Text:    fmt.Sprintf("hang bus %s, the wire of these feeders, from %s", name, c.DetectorName(detector)),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{rule.SetKey("buses", name, "from", "detector "+c.L.Detectors[detector].Name)},
	}}
}

// rehangMend hangs feeders elsewhere, each as it is told.
func rehangMend(c *rule.Case, feeders []int32, to func(f int32) (finding.Change, string)) finding.Mend {
	m := finding.Mend{Work: finding.Work{Wires: len(feeders)}}
	var texts []string
	for _, f := range feeders {
		if change, words := to(f); len(change.Keys) > 0 {
			m.Changes = append(m.Changes, change)
			texts = append(texts, "hang the feeder at "+c.FeederPlace(f).Text+" "+words)
		}
	}
	m.Text = strings.Join(texts, "; ")
	return m
}

// feederList names feeders: "the feeder at M1 @ 1 ft (305 mm)", "the feeders at ..., ...".
func feederList(c *rule.Case, feeders []int32) string {
	words := make([]string, len(feeders))
	for i, f := range feeders {
		words[i] = c.FeederPlace(f).Text
	}
	if len(words) == 1 {
		return "the feeder at " + words[0]
	}
	return "the feeders at " + listText(words)
}

// likeNeighbours takes legs of a feeder from where the nearest feeders that differ in that take them.
func likeNeighbours(c *rule.Case, feeder int32, legs []layout.Leg, suits func(f int32) bool) []finding.Mend {
	for _, n := range c.FeedersNear(c.C.FeederSpot[feeder]) {
		if n.Feeder == feeder || !suits(n.Feeder) {
			continue
		}
		m := rehangMend(c, []int32{feeder}, func(f int32) (finding.Change, string) { return c.RehangLike(f, n.Feeder, legs...) })
		if len(m.Changes) > 0 {
			return []finding.Mend{m}
		}
	}
	return nil
}

// bypassMends take the leg of a stray feeder through the detector that the rails around it belong to, or past one.
func bypassMends(c *rule.Case, t *districts.Tie, leg layout.Leg) []finding.Mend {
	around := t.Classes[1]
	out := likeNeighbours(c, t.Feeder, []layout.Leg{leg}, func(f int32) bool { return c.T.Feeds[f].Detector[leg] == around })
	if around >= 0 {
		out = append(out, watchMends(c, []int32{t.Feeder}, around)...)
	}
	return out
}

// tieCutMends cut both rails where a tie of districts or detectors is meant to part, and feed what that leaves dead.
func tieCutMends(c *rule.Case, t *districts.Tie) []finding.Mend {
	track, at, lo, hi, ok := c.CutSpan(t)
	if !ok {
		return nil
	}
	return cutMends(c, track, at, lo, hi)
}

// bypassBondMends take off the wire of a bond that joins what a detector watches, where the bond has another.
func bypassBondMends(c *rule.Case, t *districts.BondTie) []finding.Mend {
	bond := &c.L.Bonds[t.Bond]
	detector := max(t.Classes[0], t.Classes[1])
	if !bond.Both || detector < 0 {
		return nil
	}
	var out []finding.Mend
	for _, rail := range [2]string{"left", "right"} {
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("take off the wire of the bond from %s to %s that is not at the %s rail", c.Place(bond.From).Text, c.Place(bond.To).Text, rail),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{{Op: finding.OpSetItem, Section: "bonds", Ref: t.Bond, Keys: []finding.Key{{Name: "rails", Value: "[" + rail + ", " + rail + "]"}}}},
		})
	}
	return out
}

// wrongRailMends cut the rail too, or instead, that the watched leg goes on by.
func wrongRailMends(c *rule.Case, way int32, whole layout.Rail) []finding.Mend {
	var out []finding.Mend
	for _, g := range gapsAt(c, way) {
		if c.L.Gaps[g].Kind == layout.Insulated {
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("cut the %s rail too at the gap at %s", c.RailWord(whole), c.GapPlace(g).Text),
				Work:    finding.Work{Cuts: 1},
				Changes: []finding.Change{rule.WholeGap(g)},
			})
		}
	}
	return out
}

// takeLegMends take the leg that a detector watches from its wire, and the other from where that one came.
func takeLegMends(c *rule.Case, detector int32, feeders []int32) []finding.Mend {
	x := &c.L.Detectors[detector]
	m := finding.Mend{
		Text: fmt.Sprintf("take %s of %s from the wire of %s, and %s from where it takes %s now",
			c.LegWord(x.Leg), feederList(c, feeders), c.DetectorName(detector), c.LegWord(x.Leg.Other()), c.LegWord(x.Leg)),
		Work: finding.Work{Wires: 2 * len(feeders)},
	}
	for _, f := range feeders {
		taps := &c.L.Feeders[f].From
		if taps[layout.A].Bus < 0 || taps[layout.B].Bus < 0 {
			return nil
		}
		m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetFeeder, Ref: f, Keys: []finding.Key{
			{Name: "A-from", Value: c.TapText(taps[layout.B].Bus, taps[layout.B].At.Mid())}, {Name: "B-from", Value: c.TapText(taps[layout.A].Bus, taps[layout.A].At.Mid())},
		}})
	}
	for b := range c.L.Buses {
		if bus := &c.L.Buses[b]; bus.From.Kind == layout.FromDetector && bus.From.Index == detector && bus.Legs != layout.LegsBoth && !bus.Legs.Carries(x.Leg) {
			m.Changes = append(m.Changes, rule.SetKey("buses", bus.Name, "legs", x.Leg.String()))
		}
	}
	return []finding.Mend{m}
}

// otherLegMends put a detector into the other leg.
func otherLegMends(c *rule.Case, detectors ...int32) []finding.Mend {
	m := finding.Mend{Work: finding.Work{Wires: 2 * len(detectors)}}
	names := make([]string, len(detectors))
	for i, d := range detectors {
		x := &c.L.Detectors[d]
		names[i] = c.DetectorName(d)
		m.Changes = append(m.Changes, rule.SetKey("detectors", x.Name, "leg", x.Leg.Other().String()))
		for b := range c.L.Buses {
			if bus := &c.L.Buses[b]; bus.From.Kind == layout.FromDetector && bus.From.Index == d && bus.Legs != layout.LegsBoth && bus.Legs.Carries(x.Leg) {
				m.Changes = append(m.Changes, rule.SetKey("buses", bus.Name, "legs", x.Leg.Other().String()))
			}
		}
	}
	m.Text = fmt.Sprintf("put %s into %s", listText(names), c.LegWord(c.L.Detectors[detectors[0]].Leg.Other()))
	return []finding.Mend{m}
}

// exchangeMends exchange the wires of two detectors at the detectors.
func exchangeMends(c *rule.Case, one, other int32) []finding.Mend {
	m := finding.Mend{
		Text: fmt.Sprintf("exchange the wires of %s and %s at the detectors", c.DetectorName(one), c.DetectorName(other)),
		Work: finding.Work{Wires: 2},
	}
	for b := range c.L.Buses {
		bus := &c.L.Buses[b]
		if bus.From.Kind != layout.FromDetector {
			continue
		}
		to := one
		switch bus.From.Index {
		case one:
			to = other
		case other:
		default:
			continue
		}
		m.Changes = append(m.Changes, rule.SetKey("buses", bus.Name, "from", "detector "+c.L.Detectors[to].Name))
	}
	if len(m.Changes) == 0 {
		return nil
	}
	return []finding.Mend{m}
}

// aheadMends hang the second detector of a series, the breaker behind a detector, or the feeders of a block that is not its own, from ahead of a detector.
func aheadMends(c *rule.Case, d *districts.Detection, detector int32, more []int32) []finding.Mend {
	x := &c.L.Detectors[detector]
	from := x.From
	if from.Kind != layout.FromTap || from.Tap.Bus < 0 {
		return nil
	}
	tap := c.TapText(from.Tap.Bus, from.Tap.At.Mid())
	series := finding.Mend{Text: fmt.Sprintf("hang from bus %s, ahead of %s,", tap, c.DetectorName(detector))}
	apart := " "
	behind := func(s layout.Source) bool { return c.DetectorAbove(s) == detector }
	hang := func(section, kind, name string, s layout.Source) {
		if behind(s) {
			series.Text += apart + kind + " " + name
			apart = ", "
			series.Work.Wires++
			series.Changes = append(series.Changes, rule.SetKey(section, name, "from", tap))
		}
	}
	for _, inner := range d.Reach[detector].Detectors {
		hang("detectors", "detector", c.L.Detectors[inner].Name, c.L.Detectors[inner].From)
	}
	for i := range c.L.Breakers {
		hang("breakers", "breaker", c.L.Breakers[i].Name, c.L.Breakers[i].From)
	}
	for i := range c.L.Reversers {
		hang("reversers", "reverser", c.L.Reversers[i].Name, c.L.Reversers[i].From)
	}
	var out []finding.Mend
	if len(series.Changes) > 0 {
		out = append(out, series)
	}
	var feeders []int32
	for _, b := range more {
		zone := c.T.ZoneOf(b)
		if zone < 0 {
			continue
		}
		for _, f := range c.T.Zones.List[zone].Feeders {
			if c.T.Feeds[f].Detector[x.Leg] == detector {
				feeders = append(feeders, f)
			}
		}
	}
	if len(feeders) > 0 {
		out = append(out, rehangMend(c, feeders, func(f int32) (finding.Change, string) { return c.RehangFrom(f, from.Tap.Bus, x.Leg) }))
	}
	return out
}

// nothingMends let a detector see something: its wire is parted where it comes back, or a bus of its leg alone, which no detector watches, hangs from it.
func nothingMends(c *rule.Case, detector int32) []finding.Mend {
	leg := c.L.Detectors[detector].Leg
	var out []finding.Mend
	for b := range c.L.Buses {
		bus := &c.L.Buses[b]
		switch {
		case c.DetectorAbove(bus.From) == detector:
			if bus.Returns.Bus >= 0 {
				out = append(out, finding.Mend{
					Text:    fmt.Sprintf("part the far end of bus %s from %s", bus.Name, bus.Returns.Text),
					Work:    finding.Work{Wires: 1},
					Changes: []finding.Change{rule.SetKey("buses", bus.Name, "to", "open")},
				})
			}
		case bus.Legs != layout.LegsBoth && bus.Legs.Carries(leg) && c.DetectorAbove(bus.From) < 0:
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("hang bus %s, which carries %s alone, from %s", bus.Name, c.LegWord(leg), c.DetectorName(detector)),
				Work:    finding.Work{Wires: 1},
				Changes: []finding.Change{rule.SetKey("buses", bus.Name, "from", "detector "+c.L.Detectors[detector].Name)},
			})
		}
	}
	return out
}

// quietMends hang networks and loads of a detector's track before it, or set it less sensitive.
func quietMends(c *rule.Case, s *power.Sensed) []finding.Mend {
	d := &c.L.Detectors[s.Detector]
	var out []finding.Mend
	if d.From.Kind == layout.FromTap && d.From.Tap.Bus >= 0 {
		tap := c.TapText(d.From.Tap.Bus, d.From.Tap.At.Mid())
		var m finding.Mend
		for i := range c.L.Terminators {
			if t := &c.L.Terminators[i]; watches(c, s.Detector, t.OnRail, t.Place, t.Tap) {
				m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetItem, Section: "terminators", Ref: int32(i), Keys: []finding.Key{{Name: "at", Value: tap}}})
			}
		}
		for i := range c.L.Loads {
			if x := &c.L.Loads[i]; x.Kind != bumperKind && watches(c, s.Detector, x.OnRail, x.Place, x.Tap) {
				m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetItem, Section: "loads", Ref: int32(i), Keys: []finding.Key{{Name: "at", Value: tap}}})
			}
		}
		if len(m.Changes) > 0 {
			m.Text = fmt.Sprintf("hang the networks and loads of its block from bus %s, before detector %s", tap, d.Name)
			m.Work.Wires = len(m.Changes)
			out = append(out, m)
		}
	}
	for _, share := range [...]float64{0.9, 0.7, 0.5} {
		ohms := roundDown(share * s.Volts.Lo / s.Amps().Hi)
		if ohms > 0 && ohms < d.Sees.Lo {
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("set detector %s less sensitive, so that it sees %s", d.Name, quantity.FormatResistance(ohms)),
				Work:    finding.Work{Settings: 1},
				Changes: []finding.Change{rule.SetKey("detectors", d.Name, "sees", ohmsText(ohms))},
			})
		}
	}
	return out
}

// watches reports whether something at a place of rail or of a bus is behind a detector.
func watches(c *rule.Case, detector int32, onRail bool, place layout.Place, tap layout.Tap) bool {
	if !onRail {
		return tap.Bus >= 0 && c.DetectorAbove(c.L.Buses[tap.Bus].From) == detector
	}
	if place.Piece < 0 {
		return false
	}
	at, ok := c.T.At(place)
	if !ok || at.Spot < 0 {
		return false
	}
	zone := c.T.Zones.Of[at.Spot]
	return zone >= 0 && slices.Contains(c.T.Zones.List[zone].Detectors, detector)
}

// roundDown is a value to one figure and a half: 1, 1.5, 2 and so on of its power of ten.
func roundDown(v float64) float64 {
	if v <= 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))) / 2
	return math.Floor(v/step+1e-9) * step
}

// ohmsText is a resistance as a file has it.
func ohmsText(ohms float64) string { return strconv.FormatFloat(ohms, 'f', -1, 64) + " Ω" }

// sensitiveMends set a detector to see an axle's resistor.
func sensitiveMends(c *rule.Case, detector int32, ohms float64) []finding.Mend {
	d := &c.L.Detectors[detector]
	return []finding.Mend{{
		Text:    fmt.Sprintf("set detector %s to see %s", d.Name, quantity.FormatResistance(ohms)),
		Work:    finding.Work{Settings: 1},
		Changes: []finding.Change{rule.SetKey("detectors", d.Name, "sees", ohmsText(ohms))},
	}}
}

// evenMends use a detector that drops less.
func evenMends(c *rule.Case, detectors []int32, most float64) []finding.Mend {
	m := finding.Mend{Work: finding.Work{Devices: len(detectors)}}
	volts := math.Floor(most/float64(len(detectors))*10) / 10
	if volts <= 0 {
		return nil
	}
	names := make([]string, len(detectors))
	for i, d := range detectors {
		names[i] = c.L.Detectors[d].Name
		m.Changes = append(m.Changes, rule.SetKey("detectors", names[i], "drop", strconv.FormatFloat(volts, 'f', -1, 64)+" V"))
	}
	m.Text = fmt.Sprintf("use a detector for %s that drops %s or less", listText(names), quantity.FormatVoltage(volts))
	return []finding.Mend{m}
}

// moveLegMends put detectors into the other leg, with the feeders behind them: each takes that leg from the detector's wire, and the other from the bus.
func moveLegMends(c *rule.Case, d *districts.Detection, detectors []int32) []finding.Mend {
	out := otherLegMends(c, detectors...)
	for i := range out {
		for _, x := range detectors {
			for _, f := range d.Reach[x].Feeders {
				taps := &c.L.Feeders[f].From
				if taps[layout.A].Bus < 0 || taps[layout.B].Bus < 0 {
					return nil
				}
				out[i].Work.Wires++
				out[i].Changes = append(out[i].Changes, finding.Change{Op: finding.OpSetFeeder, Ref: f, Keys: []finding.Key{
					{Name: "A-from", Value: c.TapText(taps[layout.B].Bus, taps[layout.B].At.Mid())}, {Name: "B-from", Value: c.TapText(taps[layout.A].Bus, taps[layout.A].At.Mid())},
				}})
			}
		}
		out[i].Text += ", and exchange at the bus where the feeders behind take their legs"
	}
	return out
}

// pairOf are those of two detectors that there are.
func pairOf(classes [2]int32) []int32 {
	return slices.DeleteFunc(classes[:], func(d int32) bool { return d < 0 })
}
