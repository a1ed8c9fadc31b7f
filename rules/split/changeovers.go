package split

import (
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
)

// moveChangeovers hangs those positions of a changeover that lead to track which is divided from the bus or device of the
// district behind it.
func (p *plan) moveChangeovers() {
	for i := range p.l.Changeovers {
		c := &p.l.Changeovers[i]
		d := p.districtBehind(layout.FromChangeover, int32(i))
		if d < 0 {
			continue
		}
		var texts []string
		moved := false
		for _, pos := range c.Positions {
			text, changed := pos.From.Text, false
			if p.dividedSource(pos.From) {
				text, changed = p.upstream(pos.From, d, "changeover "+c.Name)
			}
			if changed {
				moved = true
				p.out.Moves = append(p.out.Moves, Move{"position " + pos.Name + " of changeover " + c.Name, p.sourceNow(pos.From), text, p.districtName(d)})
			}
			if pos.Crossed {
				text = "{from: " + text + ", legs: crossed}"
			}
			texts = append(texts, pos.Name+": "+text)
		}
		if moved {
			p.w.Set("changeovers", c.Name, amend.Key{Name: "positions", Value: "{" + strings.Join(texts, ", ") + "}"})
		}
	}
}

// dividedSource reports whether what hangs from a source is among what is divided.
func (p *plan) dividedSource(s layout.Source) bool {
	above, _ := p.g.c.SourceAbove(s)
	return above >= 0 && p.g.headed(above)
}
