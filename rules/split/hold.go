package split

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
