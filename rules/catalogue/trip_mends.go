package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"gapwise/netlist/circuit"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// setSource gives a key of a booster, breaker or reverser a value; ok is false for any other source.
func setSource(c *rule.Case, s int32, key, value string) (change finding.Change, ok bool) {
	switch src := &c.C.Sources[s]; src.Kind {
	case circuit.BoosterSource:
		return rule.SetKey("boosters", c.L.Boosters[src.Ref].Name, key, value), true
	case circuit.BreakerSource:
		return rule.SetKey("breakers", c.L.Breakers[src.Ref].Name, key, value), true
	case circuit.ReverserSource:
		return rule.SetKey("reversers", c.L.Reversers[src.Ref].Name, key, value), true
	}
	return change, false
}

// amperes is a current as a file has it.
func amperes(amps float64) string { return strconv.FormatFloat(amps, 'f', -1, 64) + " A" }

// tripMend sets a source to trip at a current.
func tripMend(c *rule.Case, s int32, amps float64) []finding.Mend {
	change, ok := setSource(c, s, "trips-at", amperes(amps))
	if !ok {
		return nil
	}
	verb := "trip"
	if c.C.Sources[s].Kind == circuit.ReverserSource {
		verb = "act"
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("set %s to %s at %s", c.C.Sources[s].Name, verb, quantity.FormatCurrent(amps)),
		Work:    finding.Work{Settings: 1},
		Changes: []finding.Change{change},
	}}
}

// lowerTripMends set a source to trip below a current, but above what trains there may draw: the highest step of a setting first, and then lower ones.
func lowerTripMends(c *rule.Case, s int32, below float64) []finding.Mend {
	load := 0.0
	if g := running(c); c.C.Sources[s].Kind == circuit.ReverserSource {
		load = heaviestOn(c, g, s)
	} else {
		load = g.Of(s).Amps
	}
	var out []finding.Mend
	last := math.Inf(1)
	for _, amps := range [...]float64{stepDown(below), wellBelow(below), stepDown(below / 2), stepUp(load + 0.01), math.Round((load+below)*10) / 20} {
		if amps < below && amps > load && amps < last {
			last = amps
			out = append(out, tripMend(c, s, amps)...)
		}
	}
	return out
}

// stepDown is the last step of a setting below a current.
func stepDown(amps float64) float64 {
	step := 0.5
	if amps <= 1 {
		step = 0.05
	}
	v := math.Ceil(amps/step-1e-9)*step - step
	return math.Round(v*100) / 100
}

// quicker is a time with clearance below another, in milliseconds.
func quicker(seconds float64) float64 {
	ms := math.Floor(seconds * 1000 / 2)
	if ms < 1 {
		return seconds / 2
	}
	return ms / 1000
}

// milliseconds is a time as a file has it.
func milliseconds(seconds float64) string {
	return strconv.FormatFloat(math.Round(seconds*1e6)/1000, 'f', -1, 64) + " ms"
}

// lateMends set a reverser to act at less current and sooner than what is above it.
func lateMends(c *rule.Case, own, above *protection) []finding.Mend {
	if !own.trips.Known() || !above.trips.Known() {
		return nil
	}
	v := own.against(above)
	var sooner []finding.Change
	text := ""
	if v.slow {
		t := quicker(above.time.Lo)
		if change, ok := setSource(c, own.source, "trip-time", milliseconds(t)); ok {
			sooner = append(sooner, change)
			text = "in " + quantity.FormatTime(t)
		}
	}
	below := above.trips.Lo
	if !v.late && !v.equal && len(sooner) > 0 {
		return []finding.Mend{{Text: fmt.Sprintf("set %s to act %s", own.name, text), Work: finding.Work{Settings: 1}, Changes: sooner}}
	}
	out := lowerTripMends(c, own.source, below)
	for i := range out {
		if len(sooner) > 0 {
			out[i].Text += " and " + text
			out[i].Changes = append(out[i].Changes, sooner...)
			out[i].Work.Settings++
		}
	}
	return out
}

// raiseTripMends set one to trip above what may be drawn behind it: a booster up to what it is rated for, and above a breaker or reverser its booster too
// where that has to and may.
func raiseTripMends(c *rule.Case, s int32, load float64) []finding.Mend {
	src := &c.C.Sources[s]
	want := stepUp(load)
	if src.Kind == circuit.BoosterSource {
		if b := &c.L.Boosters[src.Ref]; b.Rating.Known() && want > b.Rating.Lo {
			return nil
		}
		return tripMend(c, s, want)
	}
	out := tripMend(c, s, want)
	above, ok := leastAbove(c, hangsFrom(c, s))
	if !ok || want < above.trips.Lo {
		return out
	}
	if above.source < 0 || c.C.Sources[above.source].Kind != circuit.BoosterSource {
		return nil
	}
	for _, more := range raiseTripMends(c, above.source, want+0.1) {
		out = append(out, together(out[0], more))
	}
	return out[1:]
}

// inClass reports whether a source of so many amperes at some volts keeps to what the standard allows a model railroad.
func inClass(amps float64, volts quantity.Voltage) bool {
	return !beyond(amps, nemAmps) && volts.Known() && !beyond(amps*volts.Hi, nemWatts)
}

// supplyMends use a supply that gives more, where that keeps within limited power.
func supplyMends(c *rule.Case, supply int32, load float64) []finding.Mend {
	amps := stepUp(load)
	if !inClass(amps, c.L.Supplies[supply].Volts) {
		return nil
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("use a listed supply of %s or more as supply %s, within its limited-power class", quantity.FormatCurrent(amps), c.L.Supplies[supply].Name),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{rule.SetKey("supplies", c.L.Supplies[supply].Name, "rating", amperes(amps))},
	}}
}

// ratedMends use a booster of more current, with a supply that gives it, where that keeps within limited power.
func ratedMends(c *rule.Case, s int32, load float64) []finding.Mend {
	src := &c.C.Sources[s]
	if src.Kind != circuit.BoosterSource {
		return nil
	}
	b := &c.L.Boosters[src.Ref]
	amps := stepUp(load)
	if !inClass(amps, b.Volts) {
		return nil
	}
	keys := []finding.Key{{Name: "rating", Value: amperes(amps)}}
	if b.TripsAt.Known() && b.TripsAt.Hi < amps {
		keys = append(keys, finding.Key{Name: "trips-at", Value: amperes(amps)})
	}
	m := finding.Mend{
		Text:    fmt.Sprintf("use a booster of %s as booster %s", quantity.FormatCurrent(amps), b.Name),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSet, Section: "boosters", Name: b.Name, Keys: keys}},
	}
	if b.Supply < 0 || !c.L.Supplies[b.Supply].Rating.Known() || c.L.Supplies[b.Supply].Rating.Lo >= amps {
		return []finding.Mend{m}
	}
	var out []finding.Mend
	for _, supply := range supplyMends(c, b.Supply, amps) {
		out = append(out, together(m, supply))
	}
	return out
}

// earlierMends set a breaker to trip at less current and sooner than what is above it, or use another fuse or ptc.
func earlierMends(c *rule.Case, own, above *protection, inLine int32) []finding.Mend {
	amps := min(wellBelow(above.trips.Lo), own.trips.Lo)
	if own.melts {
		x := &c.L.InLines[inLine]
		keys := []finding.Key{{Name: "trips-at", Value: amperes(amps)}}
		if x.Rating.Known() && (x.Rating.Hi > amps || !x.TripsAt.Known()) {
			rated := stepDown(amps)
			if !x.TripsAt.Known() {
				rated, keys = amps, nil
			}
			keys = append(keys, finding.Key{Name: "rating", Value: amperes(rated)})
		}
		return []finding.Mend{{
			Text:    fmt.Sprintf("use one for %s that acts at %s", own.name, quantity.FormatCurrent(amps)),
			Work:    finding.Work{Devices: 1},
			Changes: []finding.Change{{Op: finding.OpSet, Section: "in-line", Name: x.Name, Keys: keys}},
		}}
	}
	v := own.against(above)
	var out []finding.Mend
	tries := tripMend(c, own.source, amps)
	if !v.late && !v.equal {
		tries = []finding.Mend{{Text: "set " + own.name + " to trip"}}
	} else {
		tries = append(tries, lowerTripMends(c, own.source, above.trips.Lo)...)
	}
	for _, m := range tries {
		if v.slow {
			t := soon(above.time.Lo)
			change, _ := setSource(c, own.source, "trip-time", milliseconds(t))
			m.Text += " within " + quantity.FormatTime(t)
			m.Work.Settings++
			m.Changes = append(m.Changes, change)
		}
		out = append(out, m)
	}
	return out
}

// supplyNeedMends set a booster to trip at no more than its supply gives, or use a supply that gives more.
func supplyNeedMends(c *rule.Case, supply, booster int32, need float64) []finding.Mend {
	s, b := &c.L.Supplies[supply], &c.L.Boosters[booster]
	var out []finding.Mend
	if most := s.Rating.Lo; b.TripsAt.Known() {
		for _, amps := range [2]float64{most, stepDown(most)} {
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("set booster %s to trip at %s", b.Name, quantity.FormatCurrent(amps)),
				Work:    finding.Work{Settings: 1},
				Changes: []finding.Change{rule.SetKey("boosters", b.Name, "trips-at", amperes(amps))},
			})
		}
	}
	return append(out, supplyMends(c, supply, need)...)
}

// supplyVoltsMends set a booster to volts that its supply has with headroom, or use a supply of more.
func supplyVoltsMends(c *rule.Case, supply, booster int32, low float64) []finding.Mend {
	s, b := &c.L.Supplies[supply], &c.L.Boosters[booster]
	var out []finding.Mend
	if volts := math.Floor((low-headroom)*2) / 2; volts >= leastTrackVolts {
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("set booster %s to %s", b.Name, quantity.FormatVoltage(volts)),
			Work:    finding.Work{Settings: 1},
			Changes: []finding.Change{rule.SetKey("boosters", b.Name, "volts", voltsText(volts))},
		})
	}
	volts := math.Ceil((b.Volts.Hi + headroom) * s.Volts.Hi / low)
	return append(out, finding.Mend{
		Text:    fmt.Sprintf("use a listed supply of %s as supply %s", quantity.FormatVoltage(volts), s.Name),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{rule.SetKey("supplies", s.Name, "volts", voltsText(volts))},
	})
}

// voltsText is a voltage as a file has it.
func voltsText(volts float64) string { return strconv.FormatFloat(volts, 'f', -1, 64) + " V" }

// ownSupplyMends give every booster but the first a supply of its own, like the one they share.
func ownSupplyMends(c *rule.Case, supply int32) []finding.Mend {
	s := &c.L.Supplies[supply]
	m := finding.Mend{}
	var names []string
	taken := func(name string) bool {
		return slices.Contains(names, name) || slices.ContainsFunc(c.L.Supplies, func(x layout.Supply) bool { return sameName(x.Name, name) })
	}
	own := false
	var boosters []string
	for i := range c.L.Boosters {
		b := &c.L.Boosters[i]
		if b.Supply != supply {
			continue
		}
		if !own {
			own = true
			continue
		}
		name := freeName(s.Name+"-"+b.Name, taken)
		names, boosters = append(names, name), append(boosters, b.Name)
		m.Work.Devices++
		m.Changes = append(m.Changes,
			finding.Change{Op: finding.OpAdd, Section: "supplies", Name: name, Value: "{like: " + s.Name + "}"},
			rule.SetKey("boosters", b.Name, "supply", name))
	}
	if len(m.Changes) == 0 {
		return nil
	}
	m.Text = fmt.Sprintf("give %s a listed supply of its own, like supply %s", "booster "+listText(boosters), s.Name)
	return []finding.Mend{m}
}

// trackVoltsMends set a booster to the usual volts of its scale, or to others that the standard allows.
func trackVoltsMends(c *rule.Case, booster int32) []finding.Mend {
	b := &c.L.Boosters[booster]
	volts := []float64{usualVolts(c.L.Scale), 15, 18, 12}
	if volts[0] == 0 {
		volts = volts[1:]
	}
	var out []finding.Mend
	for i, v := range volts {
		if slices.Contains(volts[:i], v) {
			continue
		}
		set := finding.Mend{
			Text:    fmt.Sprintf("set booster %s to %s", b.Name, quantity.FormatVoltage(v)),
			Work:    finding.Work{Settings: 1},
			Changes: []finding.Change{rule.SetKey("boosters", b.Name, "volts", voltsText(v))},
		}
		out = append(out, set)
		if b.Supply < 0 || !c.L.Supplies[b.Supply].Volts.Known() {
			continue
		}
		s := &c.L.Supplies[b.Supply]
		share := 1.0
		if s.Tolerance.Known() && s.Tolerance.Hi < 100 {
			share -= s.Tolerance.Hi / 100
		}
		if s.Volts.Lo*share < v+headroom {
			needs := math.Ceil((v + headroom) / share)
			out = append(out, together(set, finding.Mend{
				Text:    fmt.Sprintf("use a listed supply of %s as supply %s", quantity.FormatVoltage(needs), s.Name),
				Work:    finding.Work{Devices: 1},
				Changes: []finding.Change{rule.SetKey("supplies", s.Name, "volts", voltsText(needs))},
			}))
		}
	}
	return out
}

// networkMends put a terminating network across the far end of a bus.
func networkMends(c *rule.Case, bus int32, t dcc.Snubber, watts string) []finding.Mend {
	b := &c.L.Buses[bus]
	ohms, farads := quantity.FormatResistance(t.Ohms), quantity.FormatCapacitance(t.Farads)
	return []finding.Mend{{
		Text:    fmt.Sprintf("put %s and %s in series across the far end of bus %s; the resistor makes %s: keep it clear of wood and foam", ohms, farads, b.Name, watts),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{{Op: finding.OpAddItem, Section: "terminators", Value: fmt.Sprintf("{at: %s @ end, resistance: %s, capacitance: %s}", b.Name, ohms, farads)}},
	}}
}

// coolerMends make a network turn less into heat: fewer farads.
func coolerMends(c *rule.Case, terminator int32, volts float64) []finding.Mend {
	t := &c.L.Terminators[terminator]
	for f := t.Capacitance.Hi / 2; f > t.Capacitance.Hi/100; f /= 2 {
		f = roundDown(f)
		if dcc.Rating(dcc.Snubber{Ohms: t.Resistance.Lo, Farads: f}.Watts(volts, dcc.OneHalf)) > smallRating {
			continue
		}
		text := quantity.FormatCapacitance(f)
		return []finding.Mend{{
			Text:    fmt.Sprintf("take a capacitor of %s for the network at %s", text, t.Tap.Text),
			Work:    finding.Work{Devices: 1},
			Changes: []finding.Change{{Op: finding.OpSetItem, Section: "terminators", Ref: terminator, Keys: []finding.Key{{Name: "capacitance", Value: text}}}},
		}}
	}
	return nil
}

// boosterClassMends use a booster within a limited-power class.
func boosterClassMends(c *rule.Case, booster int32, most float64) []finding.Mend {
	b := &c.L.Boosters[booster]
	amps := math.Floor(most*2+1e-9) / 2
	if amps <= 0 {
		return nil
	}
	keys := []finding.Key{{Name: "rating", Value: amperes(amps)}}
	if b.TripsAt.Known() && b.TripsAt.Hi > amps {
		keys = append(keys, finding.Key{Name: "trips-at", Value: amperes(amps)})
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("use a booster of %s as booster %s", quantity.FormatCurrent(amps), b.Name),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSet, Section: "boosters", Name: b.Name, Keys: keys}},
	}}
}

// classMends use a supply within a limited-power class, with its boosters set to what it gives.
func classMends(c *rule.Case, supply int32, most float64) []finding.Mend {
	s := &c.L.Supplies[supply]
	amps := math.Floor(most*2+1e-9) / 2
	if amps <= 0 {
		return nil
	}
	m := finding.Mend{
		Text:    fmt.Sprintf("use a listed supply of %s as supply %s", quantity.FormatCurrent(amps), s.Name),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{rule.SetKey("supplies", s.Name, "rating", amperes(amps))},
	}
	for i := range c.L.Boosters {
		b := &c.L.Boosters[i]
		if b.Supply != supply {
			continue
		}
		if b.TripsAt.Known() && b.TripsAt.Hi > amps {
			m.Text += fmt.Sprintf(", and set booster %s to trip at %s", b.Name, quantity.FormatCurrent(amps))
			m.Work.Settings++
			m.Changes = append(m.Changes, rule.SetKey("boosters", b.Name, "trips-at", amperes(amps)))
		}
	}
	return []finding.Mend{m}
}
