package split

import "gapwise/netlist/layout"

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
