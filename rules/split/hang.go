package split

import (
	"fmt"
	"slices"

	"gapwise/netlist/amend"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules"
	"gapwise/rules/rule"
)

// hang settles what everything hangs from, as changes to the layout's text and as work to do.
func (p *plan) hang() {
	p.w = amend.New(p.l, rules.ReaderOptions())
	p.moveFeeders()
	p.addFeeders()
	p.moveFrogs()
	p.moveBridges()
	for i := range p.things {
		p.moveThing(i)
	}
	p.holdChangeovers()
	for n := 0; n < len(p.added); n++ { // the list grows: what a bus is laid beside may itself be another's
		p.layBeside(n)
	}
	p.holdReturns()
}

// upstream is what a thing that hangs from a source hangs from when it is a district's.
func (p *plan) upstream(from layout.Source, d int32, what string) (text string, changed bool) {
	for range len(p.things) + 1 {
		switch from.Kind {
		case layout.FromTap:
			if from.Tap.Bus < 0 {
				p.refuse("%s hangs from an unknown place", what)
				return "unknown", false
			}
			name := p.on(from.Tap.Bus, d, from.Tap.At.Mid())
			return p.tapText(name, from.Tap.At), name != p.l.Buses[from.Tap.Bus].Name
		case layout.FromBooster:
			return p.head(d, "booster "+p.l.Boosters[from.Index].Name)
		case layout.FromBreaker:
			own := "breaker " + p.l.Breakers[from.Index].Name
			i := p.thing(layout.FromBreaker, from.Index)
			if p.stepsAside(from.Kind) {
				return p.head(d, own)
			}
			if k := p.owner[i]; len(k) == 0 || d == raw || k[0] == d {
				return own, false
			}
			from = p.l.Breakers[from.Index].From // past it: it stays with another district
			continue
		case layout.FromReverser, layout.FromDetector, layout.FromInLine, layout.FromPlug:
			t := &p.things[p.thing(from.Kind, from.Index)]
			if k := p.owner[p.thing(from.Kind, from.Index)]; len(k) > 1 && d >= 0 {
				p.refuse("%s feeds track of more than one district", sourceText(t))
			}
			return sourceText(t), false
		default:
			return from.Text, false
		}
	}
	return from.Text, false
}

// head is the device of a district in place of what a thing hangs from now.
func (p *plan) head(d int32, now string) (text string, changed bool) {
	if d < 0 {
		return now, false
	}
	name := p.out.Districts[d].Device.Name
	return name, name != now
}

// thing finds a bus or device in the list.
func (p *plan) thing(kind layout.SourceKind, index int32) int {
	return slices.IndexFunc(p.things, func(t thing) bool { return t.kind == kind && t.index == index })
}

func sourceText(t *thing) string {
	word := map[layout.SourceKind]string{
		layout.FromTap: "bus", layout.FromBreaker: "breaker", layout.FromReverser: "reverser",
		layout.FromDetector: "detector", layout.FromInLine: "in-line", layout.FromPlug: "plug",
	}[t.kind]
	return word + " " + t.name
}

// moveThing re-hangs a bus or device that its district is to feed from elsewhere.
func (p *plan) moveThing(i int) {
	t := &p.things[i]
	k := p.owner[i]
	if len(k) == 0 && p.stepsAside(t.kind) {
		p.setAside(t)
	}
	if len(k) == 0 {
		return
	}
	if len(k) > 1 && t.kind != layout.FromTap && t.kind != layout.FromBreaker {
		p.refuse("%s feeds track of more than one district", sourceText(t))
		return
	}
	text, changed := p.upstream(t.from, k[0], sourceText(t))
	if !changed {
		return
	}
	p.w.Set(t.sect, t.name, amend.Key{Name: "from", Value: text})
	if t.kind == layout.FromTap {
		b := &p.l.Buses[t.index]
		p.out.Buses = append(p.out.Buses, Bus{Name: t.name, From: text, Was: p.sourceNow(t.from), Wire: wireText(b.Wire), Metres: b.Length.Mid(), District: p.districtName(k[0])})
		return
	}
	p.out.Moves = append(p.out.Moves, Move{sourceText(t), p.sourceNow(t.from), text, p.districtName(k[0])})
}

// setAside hangs a breaker that has nothing behind it any more from its booster, so that it stands before no district.
func (p *plan) setAside(t *thing) {
	for s := range p.g.c.Sources {
		src := &p.g.c.Sources[s]
		b := p.g.boosterOf(int32(s))
		if src.Kind != circuit.BreakerSource || src.Ref != t.index || b < 0 || t.from.Kind == layout.FromBooster {
			continue
		}
		to := "booster " + p.l.Boosters[b].Name
		p.w.Set(t.sect, t.name, amend.Key{Name: "from", Value: to})
		p.out.Moves = append(p.out.Moves, Move{sourceText(t), p.sourceNow(t.from), to + ", or take it out: nothing hangs from it any more", ""})
	}
}

func (p *plan) districtName(d int32) string {
	if d < 0 {
		return ""
	}
	return p.out.Districts[d].Name
}

// sourceNow is what something hangs from as it is.
func (p *plan) sourceNow(s layout.Source) string {
	switch s.Kind {
	case layout.FromTap:
		if s.Tap.Bus >= 0 {
			return p.tapText(p.l.Buses[s.Tap.Bus].Name, s.Tap.At)
		}
		return "unknown"
	case layout.FromBooster:
		return "booster " + p.l.Boosters[s.Index].Name
	default:
		if i := p.thing(s.Kind, s.Index); i >= 0 {
			return sourceText(&p.things[i])
		}
		return s.Text
	}
}

func wireText(w quantity.Wire) string {
	if !w.Known() {
		return "wire not said"
	}
	return rule.WireText(w)
}

// moveFeeders hangs each feeder from its district's bus.
func (p *plan) moveFeeders() {
	for f := range p.l.Feeders {
		x := &p.l.Feeders[f]
		d := p.districtOfPoint(p.g.c.FeederSpot[f])
		if d < 0 {
			continue
		}
		var texts [2]string
		var moved [2]bool
		for leg, tap := range x.From {
			if tap.Bus < 0 {
				if tap.Unknown {
					p.refuse("feeder %s hangs from an unknown place", x.Place.Text)
				}
				continue
			}
			name := p.on(tap.Bus, d, tap.At.Mid())
			texts[leg] = p.tapText(name, tap.At)
			moved[leg] = name != p.l.Buses[tap.Bus].Name
		}
		if !moved[0] && !moved[1] {
			continue
		}
		p.moveFeeder(int32(f), texts, moved, d)
	}
}

// moveFeeder hangs one feeder, or one leg of it, from other taps.
func (p *plan) moveFeeder(f int32, texts [2]string, moved [2]bool, d int32) {
	x := &p.l.Feeders[f]
	a, b := x.From[layout.A], x.From[layout.B]
	if a.Bus == b.Bus && a.At.Mid() == b.At.Mid() {
		p.w.SetFeeder(f, amend.Key{Name: "from", Value: texts[0]})
		p.out.Moves = append(p.out.Moves, Move{"feeder " + x.Place.Text, p.tapText(p.l.Buses[a.Bus].Name, a.At), texts[0], p.districtName(d)})
		return
	}
	var keys []amend.Key
	for leg, key := range [2]string{"A-from", "from"} {
		tap := x.From[leg]
		if tap.Bus < 0 {
			continue
		}
		keys = append(keys, amend.Key{Name: key, Value: texts[leg]})
		if moved[leg] {
			p.out.Moves = append(p.out.Moves, Move{"leg " + layout.Leg(leg).String() + " of feeder " + x.Place.Text, p.tapText(p.l.Buses[tap.Bus].Name, tap.At), texts[leg], p.districtName(d)})
		}
	}
	if len(keys) == 1 { // of one leg only
		keys[0].Name = "from"
	}
	p.w.SetFeeder(f, keys...)
}

// moveFrogs hangs frogs that are fed from a bus.
func (p *plan) moveFrogs() {
	for i := range p.l.Turnouts {
		t := &p.l.Turnouts[i]
		d := p.districtOfPoint(p.g.c.EndSpot[t.Piece][0])
		if t.FrogTap.Bus < 0 || d < 0 {
			continue
		}
		name := p.on(t.FrogTap.Bus, d, t.FrogTap.At.Mid())
		if now := p.l.Buses[t.FrogTap.Bus].Name; name != now {
			p.w.Set("turnouts", t.Name, amend.Key{Name: "frog-from", Value: p.tapText(name, t.FrogTap.At)})
			p.out.Moves = append(p.out.Moves, Move{"the frog of " + t.Name, p.tapText(now, t.FrogTap.At), p.tapText(name, t.FrogTap.At), p.districtName(d)})
		}
	}
}

// moveBridges hangs the bridges of turntables and transfer tables.
func (p *plan) moveBridges() {
	for _, b := range p.bridges() {
		if b.district < 0 {
			continue
		}
		text, changed := p.upstream(b.from, b.district, "the bridge of "+b.name)
		if changed {
			p.w.Set(b.section, b.name, amend.Key{Name: "from", Value: text})
			p.out.Moves = append(p.out.Moves, Move{"the bridge of " + b.name, p.sourceNow(b.from), text, p.districtName(b.district)})
		}
	}
}

// holdChangeovers refuses what would need a changeover's positions to be wired anew.
func (p *plan) holdChangeovers() {
	for i := range p.l.Changeovers {
		c := &p.l.Changeovers[i]
		d := p.districtBehind(layout.FromChangeover, int32(i))
		for _, pos := range c.Positions {
			if pos.From.Kind != layout.FromTap && pos.From.Kind != layout.FromBooster && pos.From.Kind != layout.FromBreaker || d < 0 {
				continue
			}
			if pos.From.Kind == layout.FromBooster && !p.divides(pos.From.Index) {
				continue
			}
			if text, changed := p.upstream(pos.From, d, "changeover "+c.Name); changed {
				p.refuse("changeover %s in its position %s has to hang from %s; type that yourself", c.Name, pos.Name, text)
			}
		}
	}
}

// divides reports whether the track of a booster is divided.
func (p *plan) divides(booster int32) bool {
	for s := range p.g.c.Sources {
		if p.g.drives(int32(s)) && p.g.c.Sources[s].Ref == booster {
			return true
		}
	}
	return false
}

// layBeside lays a bus beside another.
func (p *plan) layBeside(n int) {
	a := p.added[n]
	b := &p.l.Buses[a.bus]
	from, _ := p.upstream(b.From, a.district, "bus "+b.Name)
	const least = 0.1524
	last := max(p.added[n].last, least)
	length := spell(last, isMetric(p.l))
	value := fmt.Sprintf("{like: %s, from: %s, length: %s}", b.Name, from, length)
	if len(b.Under) > 0 || len(b.Beside) > 0 || b.Returns.Bus >= 0 {
		value = "{from: " + from + p.busKeys(b) + ", length: " + length + "}"
	}
	p.w.Add("buses", a.name, value)
	p.out.Buses = append(p.out.Buses, Bus{Name: a.name, From: from, Wire: wireText(b.Wire), Metres: last, New: true, District: p.districtName(a.district)})
}

// busKeys writes what a bus laid beside another has in common with it.
func (p *plan) busKeys(b *layout.Bus) string {
	text := ""
	if b.Wire.Known() {
		text += ", wire: " + b.Wire.String()
	}
	switch b.Legs {
	case layout.LegsA:
		text += ", legs: A"
	case layout.LegsB:
		text += ", legs: B"
	}
	switch b.Laid.Kind {
	case layout.LaidTwisted:
		text += ", laid: twisted"
	case layout.LaidApart:
		text += ", laid: " + p.measure(b.Laid.Spacing) + " apart"
	}
	return text
}

// holdReturns refuses a bus that comes back to one which is another district's.
func (p *plan) holdReturns() {
	for i := range p.l.Buses {
		b := &p.l.Buses[i]
		if b.Returns.Bus < 0 || b.Returns.Bus == int32(i) {
			continue
		}
		x, y := p.owner[i], p.owner[b.Returns.Bus]
		if len(x) != len(y) || len(x) > 0 && x[0] != y[0] {
			p.refuse("bus %s comes back to bus %s, which would be another district's", b.Name, p.l.Buses[b.Returns.Bus].Name)
		}
	}
}
