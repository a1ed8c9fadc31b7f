package proof

import (
	"strconv"
	"strings"

	"gapwise/netlist/layout"
)

func (w *flat) powerSections() {
	l := w.l
	var supplies, boosters, commons, cabs, breakers, reversers, detectors []string
	for i := range l.Supplies {
		s := &l.Supplies[i]
		var k keys
		k.add("volts", s.Volts.Text)
		k.add("rating", s.Rating.Text)
		k.add("tolerance", s.Tolerance.Text)
		k.add("listed", yesNo(s.Listed))
		supplies = append(supplies, name(s.Name)+": "+k.String())
	}
	for i := range l.Boosters {
		boosters = append(boosters, w.booster(&l.Boosters[i]))
	}
	for i := range l.Commons {
		c := &l.Commons[i]
		var names []string
		for _, b := range c.Joins {
			names = append(names, name(l.Boosters[b].Name))
		}
		var k keys
		k.add("joins", listed(names))
		k.add("wire", c.Wire.Text)
		k.add("length", c.Length.Text)
		commons = append(commons, "- "+k.String())
	}
	for i := range l.Cabs {
		c := &l.Cabs[i]
		var k keys
		k.add("volts", c.Volts.Text)
		k.add("rating", c.Rating.Text)
		cabs = append(cabs, name(c.Name)+": "+k.String())
	}
	for i := range l.Breakers {
		b := &l.Breakers[i]
		var k keys
		k.add("from", w.source(b.From))
		k.add("trips-at", b.TripsAt.Text)
		k.add("trip-time", b.TripTime.Text)
		k.add("resistance", b.Resistance.Text)
		k.add("opens", layout.OpensWords[b.Opens])
		breakers = append(breakers, name(b.Name)+": "+k.String())
	}
	for i := range l.Reversers {
		r := &l.Reversers[i]
		var k keys
		k.add("from", w.source(r.From))
		k.add("switching", [...]string{"", "automatic", "by-hand", "unknown"}[r.Switching])
		k.add("trips-at", r.TripsAt.Text)
		k.add("trip-time", r.TripTime.Text)
		k.add("resistance", r.Resistance.Text)
		k.add("opens", layout.OpensWords[r.Opens])
		if r.OneAtATime {
			k.add("serves", "one-at-a-time")
		}
		reversers = append(reversers, name(r.Name)+": "+k.String())
	}
	for i := range l.Detectors {
		d := &l.Detectors[i]
		var k keys
		k.add("from", w.source(d.From))
		k.add("leg", d.Leg.String())
		k.add("senses", d.Senses)
		k.add("drop", d.Drop.Text)
		k.add("sees", d.Sees.Text)
		detectors = append(detectors, name(d.Name)+": "+k.String())
	}
	w.section("supplies", supplies)
	w.section("boosters", boosters)
	w.section("commons", commons)
	w.section("cabs", cabs)
	w.section("breakers", breakers)
	w.section("reversers", reversers)
	w.section("detectors", detectors)
	w.moreDevices()
	w.section("buses", w.buses())
	w.loads()
}

func (w *flat) booster(b *layout.Booster) string {
	var k keys
	if b.Supply >= 0 {
		k.add("supply", name(w.l.Supplies[b.Supply].Name))
	}
	k.add("volts", b.Volts.Text)
	k.add("inside", b.Inside.Text)
	k.add("rating", b.Rating.Text)
	k.add("trips-at", b.TripsAt.Text)
	k.add("trip-time", b.TripTime.Text)
	k.add("retry", b.Retry.Text)
	k.add("signal", name(b.Signal))
	k.add("signal-wired", [...]string{"", "straight", "crossed", "unknown"}[b.SignalWired])
	k.add("isolated", yesNo(b.Isolated))
	k.add("common", [...]string{"", "required", "forbidden", "unknown"}[b.Common])
	if b.Automatic {
		k.add("switching", "automatic")
	}
	k.add("use", b.Use.String())
	return name(b.Name) + ": " + k.String()
}

func (w *flat) moreDevices() {
	l := w.l
	var inLines, changeovers, plugs []string
	for i := range l.InLines {
		x := &l.InLines[i]
		var k keys
		k.add("from", w.source(x.From))
		k.add("kind", layout.InLineKindWords[x.Kind])
		k.add("leg", layout.OpensWords[x.Legs])
		k.add("rating", x.Rating.Text)
		k.add("holds", x.Holds.Text)
		k.add("trips-at", x.TripsAt.Text)
		k.add("limits-to", x.LimitsTo.Text)
		k.add("resistance", x.Resistance.Text)
		inLines = append(inLines, name(x.Name)+": "+k.String())
	}
	for i := range l.Changeovers {
		x := &l.Changeovers[i]
		var k, positions keys
		for _, p := range x.Positions {
			if p.Crossed {
				positions.add(p.Name, "{from: "+w.source(p.From)+", legs: crossed}")
			} else {
				positions.add(p.Name, w.source(p.From))
			}
		}
		k.add("positions", positions.String())
		k.add("opens", layout.OpensWords[x.Opens])
		k.add("throw", throwText(x.Throw))
		if x.ThrowsWith >= 0 {
			k.add("throws-with", w.piece(x.ThrowsWith))
		}
		changeovers = append(changeovers, name(x.Name)+": "+k.String())
	}
	for i := range l.Plugs {
		x := &l.Plugs[i]
		var k keys
		k.add("from", w.source(x.From))
		k.add("legs", [...]string{"", "straight", "crossed", "either", "unknown"}[x.Legs])
		k.add("resistance", x.Resistance.Text)
		k.add("rating", x.Rating.Text)
		plugs = append(plugs, name(x.Name)+": "+k.String())
	}
	w.section("in-line", inLines)
	w.section("changeovers", changeovers)
	w.section("plugs", plugs)
}

func (w *flat) buses() []string {
	var out []string
	for i := range w.l.Buses {
		b := &w.l.Buses[i]
		var k keys
		k.add("from", w.source(b.From))
		if b.Legs != layout.LegsBoth {
			k.add("legs", [...]string{"both", "A", "B"}[b.Legs])
		}
		k.add("wire", b.Wire.Text)
		k.add("length", b.Length.Text)
		k.add("laid", laidText(b.Laid))
		var beside []string
		for _, x := range b.Beside {
			beside = append(beside, name(w.l.Buses[x.Bus].Name)+": "+x.Spacing.Text)
		}
		if len(beside) > 0 {
			k.add("beside", "{"+strings.Join(beside, ", ")+"}")
		}
		k.add("to", w.tap(b.Returns))
		k.add("use", [...]string{"", "accessories", "lighting"}[b.Use])
		out = append(out, name(b.Name)+": "+k.String())
	}
	return out
}

func laidText(l layout.Laid) string {
	switch l.Kind {
	case layout.LaidTwisted:
		return "twisted"
	case layout.LaidApart:
		return l.Spacing.Text + " apart"
	case layout.LaidUnknown:
		return "unknown"
	default:
		return ""
	}
}

// loads writes terminators and loads.
func (w *flat) loads() {
	at := func(onRail bool, p layout.Place, t layout.Tap) string {
		if onRail {
			return w.place(p)
		}
		return w.tap(t)
	}
	var terminators, loads []string
	for i := range w.l.Terminators {
		x := &w.l.Terminators[i]
		var k keys
		k.add("at", at(x.OnRail, x.Place, x.Tap))
		k.add("resistance", x.Resistance.Text)
		k.add("capacitance", x.Capacitance.Text)
		terminators = append(terminators, "- "+k.String())
	}
	for i := range w.l.Loads {
		x := &w.l.Loads[i]
		var k keys
		k.add("at", at(x.OnRail, x.Place, x.Tap))
		k.add("resistance", x.Resistance.Text)
		k.add("capacitance", x.Capacitance.Text)
		k.add("draws", x.Draws.Text)
		k.add("inrush", x.Inrush.Text)
		k.add("kind", x.Kind)
		loads = append(loads, "- "+k.String())
	}
	w.section("terminators", terminators)
	w.section("loads", loads)
}

// stock writes the sizes at hand, each with its price where it has one.
func (w *flat) stock() {
	if len(w.l.Stock.Bus)+len(w.l.Stock.Feeder) == 0 {
		return
	}
	var k keys
	for _, s := range []struct {
		key   string
		wires []layout.StockWire
	}{{"bus", w.l.Stock.Bus}, {"feeder", w.l.Stock.Feeder}} {
		var sizes []string
		for i := range s.wires {
			wire := &s.wires[i]
			if !wire.Per.Said() {
				sizes = append(sizes, wire.Wire.Text)
				continue
			}
			price := strconv.FormatFloat(wire.Price, 'f', -1, 64)
			sizes = append(sizes, keys{"wire: " + wire.Wire.Text, "price: " + price, "per: " + wire.Per.Text}.String())
		}
		if len(sizes) > 0 {
			k.add(s.key, listed(sizes))
		}
	}
	w.line("\nstock: " + k.String())
}

// wheelsWords are the words for layout.Wheels, by value.
var wheelsWords = [...]string{"", "metal", "plastic", "unknown"}

func (w *flat) useSections() {
	l := w.l
	var blocks, districts, trains, practice []string
	for i := range l.Blocks {
		b := &l.Blocks[i]
		if len(b.Covers) == 0 {
			continue // left out
		}
		var k keys
		k.add("covers", w.stretches(b.Covers))
		k.add("use", b.Use.String())
		if b.Detector >= 0 {
			k.add("detector", name(l.Detectors[b.Detector].Name))
		}
		var only []string
		for _, t := range b.Trains {
			only = append(only, name(l.Trains[t].Name))
		}
		if len(only) > 0 {
			k.add("trains", listed(only))
		}
		blocks = append(blocks, name(b.Name)+": "+k.String())
	}
	for i := range l.Districts {
		d := &l.Districts[i]
		var names []string
		for _, b := range d.Blocks {
			if len(l.Blocks[b].Covers) > 0 {
				names = append(names, name(l.Blocks[b].Name))
			}
		}
		if len(names) == 0 {
			continue
		}
		var k keys
		k.add("from", w.source(d.From))
		k.add("blocks", listed(names))
		districts = append(districts, name(d.Name)+": "+k.String())
	}
	for i := range l.Trains {
		t := &l.Trains[i]
		var k keys
		k.add("length", t.Length.Text)
		k.add("current", t.Current.Text)
		k.add("inrush", t.Inrush.Text)
		k.add("at-once", number(t.AtOnce))
		k.add("wheels", wheelsWords[t.Wheels])
		k.add("resistor-cars", number(t.ResistorCars))
		k.add("resistor", t.Resistor.Text)
		trains = append(trains, name(t.Name)+": "+k.String())
	}
	for _, p := range l.Practices {
		practice = append(practice, "- "+p.Name)
	}
	w.section("blocks", blocks)
	w.section("districts", districts)
	w.section("trains", trains)
	if l.Operations.Said {
		var k keys
		k.add("at-once", number(l.Operations.AtOnce))
		k.add("pickup", l.Operations.Pickup.Text)
		k.add("wheels", wheelsWords[l.Operations.Wheels])
		w.line("\noperations: " + k.String())
	}
	var limits []string
	for i := range l.Limits {
		limits = append(limits, l.Limits[i].Name+": "+l.Limits[i].Value.Text)
	}
	w.section("limits", limits)
	w.stock()
	w.section("practice", practice)
	var accepts []string
	for i := range l.Accepts {
		a := &l.Accepts[i]
		var k keys
		k.add("finding", a.Finding)
		k.add("at", name(a.At))
		k.add("because", quoted(a.Because))
		accepts = append(accepts, "- "+k.String())
	}
	w.section("accept", accepts)
}
