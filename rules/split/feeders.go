package split

import (
	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
)

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
