package split

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// write puts cuts, devices and districts as meant into the changes of text.
func (p *plan) write() {
	p.writeCuts(p.w)
	p.addDevices()
	p.moveBounds()
	if len(p.l.Blocks) > 0 {
		p.writeDistricts()
	}
}

func (p *plan) writeCuts(w *amend.Writer) {
	for i := range p.out.Cuts {
		c := &p.out.Cuts[i]
		value := ""
		if c.Rails != layout.BothRails {
			value = "{rails: " + layout.RailSetWords[c.Rails] + ", kind: insulated}"
		}
		w.AddPlaced("gaps", p.l.Tracks[c.Track].Name, c.Where, value)
	}
}

// addDevices writes boosters with their supplies, or breakers.
func (p *plan) addDevices() {
	for i := range p.out.Districts {
		d := &p.out.Districts[i].Device
		switch {
		case !d.New():
		case d.Like < 0:
			p.refuse("the layout has no booster that %s could be like, or hang from", d.Name)
		case d.Kind == Boosters:
			p.addBooster(d)
		default:
			p.addBreaker(d)
		}
	}
}

func (p *plan) addBooster(d *Device) {
	like := &p.l.Boosters[d.Like]
	value := "{like: " + like.Name
	supply := ""
	if like.Supply >= 0 {
		name := p.l.Supplies[like.Supply].Name
		more, gives := "", ""
		if r := p.l.Supplies[like.Supply].Rating; r.Known() && r.Lo < d.Amps {
			gives = quantity.FormatCurrent(math.Ceil(d.Amps))
			more, gives = ", rating: "+gives, ", but for "+gives
		}
		p.add("supplies", d.Short, "{like: "+name+more+"}", "")
		value += ", supply: " + d.Short
		supply = ", with a supply of its own like " + name + gives
	}
	if amps := ratingOf(like.Rating, like.TripsAt); amps != d.Amps {
		value += fmt.Sprintf(", rating: %s, trips-at: %s", quantity.FormatCurrent(d.Amps), quantity.FormatCurrent(d.Amps))
	}
	p.add("boosters", d.Short, value+"}", fmt.Sprintf("%s, like booster %s, rated for %s%s", d.Name, like.Name, quantity.FormatCurrent(d.Amps), supply))
	if like.Common != layout.CommonRequired {
		return
	}
	value = fmt.Sprintf("{joins: [%s, %s]", like.Name, d.Short)
	for i := range p.l.Commons {
		if w := p.l.Commons[i].Wire; w.Known() {
			value += ", wire: " + w.String()
			break
		}
	}
	p.w.AddList("commons", value+"}")
	p.out.Devices = append(p.out.Devices, fmt.Sprintf("a wire from the common of booster %s to that of booster %s, as its maker asks", like.Name, d.Short))
}

func (p *plan) addBreaker(d *Device) {
	booster := p.l.Boosters[d.Like].Name
	amps := quantity.FormatCurrent(d.Amps)
	value := fmt.Sprintf("{from: booster %s, trips-at: %s}", booster, amps)
	text := fmt.Sprintf("%s, behind booster %s, set to trip at %s", d.Name, booster, amps)
	if n := len(p.l.Breakers); n > 0 {
		like := p.l.Breakers[0].Name
		value = fmt.Sprintf("{like: %s, from: booster %s, trips-at: %s}", like, booster, amps)
		text += ", like breaker " + like
	}
	p.add("breakers", d.Short, value, text)
}

func (p *plan) add(section, name, value, text string) {
	p.w.Add(section, name, value)
	if text != "" {
		p.out.Devices = append(p.out.Devices, text)
	}
}

// writeDistricts writes the districts as they are meant now. Those of reversers, changeovers, and breakers that stay whole keep their
// entries.
func (p *plan) writeDistricts() {
	held := map[string]bool{} // blocks of entries that stay
	reused := map[string]bool{}
	for i := range p.out.Districts {
		reused[p.out.Districts[i].Name] = true
	}
	for i := range p.l.Districts {
		d := &p.l.Districts[i]
		switch {
		case p.keepsEntry(d):
			for _, b := range d.Blocks {
				held[p.l.Blocks[b].Name] = true
			}
		case !reused[d.Name]:
			p.w.Remove("districts", d.Name)
		}
	}
	for _, r := range p.behindReversers(held) {
		name := p.l.Reversers[r.reverser].Name
		for reused[name] || slices.ContainsFunc(p.l.Districts, func(d layout.District) bool { return d.Name == name }) {
			name += "-section"
		}
		p.w.Add("districts", name, fmt.Sprintf("{from: reverser %s, blocks: [%s]}", p.l.Reversers[r.reverser].Name, strings.Join(r.blocks, ", ")))
	}
	for i := range p.out.Districts {
		d := &p.out.Districts[i]
		list := slices.DeleteFunc(slices.Clone(d.Blocks), func(name string) bool { return held[name] })
		was := slices.IndexFunc(p.l.Districts, func(x layout.District) bool { return x.Name == d.Name })
		value := "[" + strings.Join(list, ", ") + "]"
		switch {
		case was >= 0 && len(list) == 0:
			p.w.Remove("districts", d.Name)
		case was >= 0 && !p.sameBlocks(&p.l.Districts[was], list):
			p.w.Set("districts", d.Name, amend.Key{Name: "blocks", Value: value})
		case was < 0 && len(list) > 0:
			p.w.Add("districts", d.Name, fmt.Sprintf("{from: %s, blocks: %s}", d.Device.Name, value))
		}
	}
}

func (p *plan) sameBlocks(d *layout.District, names []string) bool {
	if len(d.Blocks) != len(names) {
		return false
	}
	for _, b := range d.Blocks {
		if !slices.Contains(names, p.l.Blocks[b].Name) {
			return false
		}
	}
	return true
}

// reversed are the blocks that hang from a reverser: a district of their own, as the language has it.
type reversed struct {
	reverser int32
	blocks   []string
}

// behindReversers lists them, those apart that an entry has already, and adds them to held.
func (p *plan) behindReversers(held map[string]bool) []reversed {
	var out []reversed
	for i := range p.g.spans {
		s := &p.g.spans[i]
		source := p.g.sides.Source[p.g.sides.Of[p.g.c.Ways[s.way].A]]
		if source < 0 || p.g.c.Sources[source].Kind != circuit.ReverserSource {
			continue
		}
		r := p.g.c.Sources[source].Ref
		for _, b := range p.g.claims.of(s.track, s.from, s.to) {
			name := p.l.Blocks[b].Name
			if held[name] {
				continue
			}
			held[name] = true
			at := slices.IndexFunc(out, func(x reversed) bool { return x.reverser == r })
			if at < 0 {
				at = len(out)
				out = append(out, reversed{reverser: r})
			}
			out[at].blocks = append(out[at].blocks, name)
		}
	}
	return out
}

// keepsEntry reports whether a district as meant is not one of those that are divided, or a part of one that stays whole.
func (p *plan) keepsEntry(d *layout.District) bool {
	s, _ := p.g.c.SourceAbove(d.From)
	if s < 0 {
		return false
	}
	src := &p.g.c.Sources[s]
	switch src.Kind {
	case circuit.ReverserSource, circuit.ChangeoverSource, circuit.PlugSource:
		return true
	case circuit.BreakerSource:
		i := p.thing(layout.FromBreaker, src.Ref)
		return p.out.With != Breakers && (len(p.owner[i]) == 0 || len(p.owner[i]) == 1 && p.owner[i][0] >= 0)
	default:
		return !p.g.drives(s)
	}
}

// busesAlong tells, where no wire is there yet, what bus each district needs: from the place of power along the track to its nearest
// end, and along its own track.
func (p *plan) busesAlong() {
	for i := range p.out.Districts {
		d := &p.out.Districts[i]
		near := p.x.nodes[d.atoms[0]].Near
		for _, n := range d.atoms {
			near = min(near, p.x.nodes[n].Near)
		}
		p.out.Buses = append(p.out.Buses, Bus{Name: d.Device.Short, From: d.Device.Name, Wire: "see gapwise gauge", Metres: float64(near)/1000 + d.Metres, New: true, District: d.Name})
		if d.Device.New() {
			p.out.Devices = append(p.out.Devices, fmt.Sprintf("%s, for %s", d.Device.Name, quantity.FormatCurrent(d.Device.Amps)))
		}
	}
}
