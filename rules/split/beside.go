package split

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// on is the name of the bus that a district uses instead of a bus, at a place of it; a bus is laid beside where the
// bus itself is another's.
func (p *plan) on(bus, district int32, at float64) string {
	keeps := p.owner[bus] // buses are the first things
	if len(keeps) == 0 || keeps[0] == district || district == raw || district == noOne {
		return p.l.Buses[bus].Name
	}
	key := line{bus, district}
	i, found := p.at[key]
	if !found {
		i = len(p.added)
		p.at[key] = i
		p.added = append(p.added, beside{line: key, name: p.newName(p.l.Buses[bus].Name + "-" + p.out.Districts[district].Device.Short)})
	}
	p.added[i].last = max(p.added[i].last, at)
	return p.added[i].name
}

// newName is a name that no bus has yet.
func (p *plan) newName(want string) string {
	want = strings.NewReplacer("/", "-").Replace(want)
	taken := func(name string) bool {
		return slices.ContainsFunc(p.l.Buses, func(b layout.Bus) bool { return b.Name == name }) ||
			slices.ContainsFunc(p.added, func(b beside) bool { return b.name == name })
	}
	name := want
	for n := 2; taken(name); n++ {
		name = fmt.Sprintf("%s-%d", want, n)
	}
	return name
}

// layBeside writes the buses that are laid beside others. What such a bus is laid beside may itself be another's, so the list
// grows while it is gone through.
func (p *plan) layBeside() {
	var from []string
	for n := 0; n < len(p.added); n++ {
		b := &p.l.Buses[p.added[n].bus]
		text, _ := p.upstream(b.From, p.added[n].district, "bus "+b.Name)
		from = append(from, text)
	}
	const least = 0.1524
	for n := range p.added {
		a := &p.added[n]
		b := &p.l.Buses[a.bus]
		last := max(a.last, least)
		length := p.l.Spell(last)
		value := fmt.Sprintf("{like: %s, from: %s, length: %s}", b.Name, from[n], length)
		if len(b.Under) > 0 || len(b.Beside) > 0 || b.Returns.Bus >= 0 {
			value = "{from: " + from[n] + p.busKeys(b) + ", length: " + length + "}"
		}
		p.w.Add("buses", a.name, value)
		p.out.Buses = append(p.out.Buses, Bus{Name: a.name, From: from[n], Wire: wireText(b.Wire), Metres: last, New: true, District: p.districtName(a.district)})
	}
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

// tapText is a tap as a file has it.
func (p *plan) tapText(name string, at quantity.Length) string { return name + " @ " + p.measure(at) }

// measure writes a length as its owner typed it, else so that it reads the same.
func (p *plan) measure(v quantity.Length) string {
	if again, bad := quantity.ParsePosition(v.Text, noPos); v.Text != "" && bad == nil && again.Lo == v.Lo && again.Hi == v.Hi {
		return v.Text
	}
	return p.l.Spell(v.Mid())
}
