package split

import (
	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
)

// bridge is a turntable's or transfer table's bridge, with what it hangs from.
type bridge struct {
	section, name string
	from          layout.Source
	district      int32
}

func (p *plan) bridges() []bridge {
	var out []bridge
	for i := range p.l.Turntables {
		t := &p.l.Turntables[i]
		out = append(out, bridge{"turntables", t.Name, t.From, p.districtOfPoint(p.g.c.EndSpot[t.Piece][0])})
	}
	for i := range p.l.TransferTables {
		t := &p.l.TransferTables[i]
		out = append(out, bridge{"transfer-tables", t.Name, t.From, p.districtOfPoint(p.g.c.EndSpot[t.Piece][0])})
	}
	return out
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
