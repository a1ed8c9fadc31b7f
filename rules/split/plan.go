package split

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// raw stands for what has to hang before any district's device, and noOne for what nothing divided hangs from.
const (
	noOne = int32(-1)
	raw   = int32(-2)
)

// line is a bus for one district: the bus itself, or one laid beside it.
type line struct{ bus, district int32 }

// beside is a bus to be laid beside another.
type beside struct {
	line
	name string
	last float64 // the farthest tap, metres
}

// plan is how buses, devices and feeders come to hang.
type plan struct {
	x   *instance
	g   *ground
	l   *layout.Layout
	out *Answer
	// district of each atom, into Answer.Districts
	district []int32
	owner    [][]int32 // by kind of thing and index: the district that keeps it, raw or noOne
	things   []thing
	added    []beside
	at       map[line]int // into added
	extra    []extraFeeder
	uncut    *groups // points on one metal as it is
	w        *amend.Writer
}

// thing is a bus or a device that hangs from something.
type thing struct {
	kind  layout.SourceKind // FromTap for a bus
	index int32
	name  string
	sect  string
	from  layout.Source
}

func newPlan(ctx context.Context, x *instance, out *Answer, part []int32) (*plan, error) {
	g := x.atoms.g
	p := &plan{x: x, g: g, l: g.l, out: out, district: make([]int32, len(part)), at: map[line]int{}}
	for d := range out.Districts {
		for _, n := range out.Districts[d].atoms {
			p.district[n] = int32(d)
		}
	}
	p.uncut = g.metal(func(int32) bool { return false })
	p.listThings()
	if len(p.l.Feeders) == 0 {
		p.busesAlong()
		p.refuse("the layout has no feeders, so nothing tells which rail has leg A; type the feeders of one district, then split again")
		return p, nil
	}
	if err := p.orphans(ctx); err != nil {
		return nil, err
	}
	p.findOwners()
	p.hang()
	p.write()
	return p, nil
}

// listThings lists buses and devices, buses first.
func (p *plan) listThings() {
	l := p.l
	add := func(kind layout.SourceKind, sect string, n int, of func(int) (string, layout.Source)) {
		for i := range n {
			name, from := of(i)
			p.things = append(p.things, thing{kind, int32(i), name, sect, from})
		}
	}
	add(layout.FromTap, "buses", len(l.Buses), func(i int) (string, layout.Source) { return l.Buses[i].Name, l.Buses[i].From })
	add(layout.FromBreaker, "breakers", len(l.Breakers), func(i int) (string, layout.Source) { return l.Breakers[i].Name, l.Breakers[i].From })
	add(layout.FromReverser, "reversers", len(l.Reversers), func(i int) (string, layout.Source) { return l.Reversers[i].Name, l.Reversers[i].From })
	add(layout.FromDetector, "detectors", len(l.Detectors), func(i int) (string, layout.Source) { return l.Detectors[i].Name, l.Detectors[i].From })
	add(layout.FromInLine, "in-line", len(l.InLines), func(i int) (string, layout.Source) { return l.InLines[i].Name, l.InLines[i].From })
	add(layout.FromPlug, "plugs", len(l.Plugs), func(i int) (string, layout.Source) { return l.Plugs[i].Name, l.Plugs[i].From })
}

// taps lists what hangs from buses for a piece of track: feeders, frogs, bridges; with the district it belongs to.
func (p *plan) taps(each func(tap layout.Tap, district int32)) {
	for f := range p.l.Feeders {
		d := p.districtOfPoint(p.g.c.FeederSpot[f])
		for _, tap := range p.l.Feeders[f].From {
			each(tap, d)
		}
	}
	for i := range p.extra {
		each(p.extra[i].tap, p.extra[i].district)
	}
	for i := range p.l.Turnouts {
		t := &p.l.Turnouts[i]
		each(t.FrogTap, p.districtOfPoint(p.g.c.EndSpot[t.Piece][0]))
	}
}

// districtOfPoint is the district that a point of track is in; raw for track that is not divided.
func (p *plan) districtOfPoint(point int32) int32 {
	if point < 0 || p.x.atoms.of[point] < 0 {
		return raw
	}
	return p.district[p.x.atoms.of[point]]
}

// findOwners settles which district keeps each bus and device: the one that most of what hangs from it is for.
func (p *plan) findOwners() {
	direct := map[int32]map[int32]int{} // by bus and district
	put := func(bus, d int32) {
		if direct[bus] == nil {
			direct[bus] = map[int32]int{}
		}
		direct[bus][d]++
	}
	p.taps(func(tap layout.Tap, d int32) {
		if tap.Bus >= 0 {
			put(tap.Bus, d)
		}
	})
	for _, b := range p.bridges() {
		if b.from.Kind == layout.FromTap && b.from.Tap.Bus >= 0 {
			put(b.from.Tap.Bus, b.district)
		}
	}
	for i := range p.l.Changeovers {
		d := p.districtBehind(layout.FromChangeover, int32(i))
		for _, pos := range p.l.Changeovers[i].Positions {
			if pos.From.Kind == layout.FromTap && pos.From.Tap.Bus >= 0 {
				put(pos.From.Tap.Bus, d)
			}
		}
	}
	needs := make([]map[int32]int, len(p.things))
	var need func(i, depth int) map[int32]int
	need = func(i, depth int) map[int32]int {
		if needs[i] != nil || depth > len(p.things) {
			return needs[i]
		}
		t := &p.things[i]
		n := map[int32]int{}
		needs[i] = n
		if t.kind == layout.FromTap {
			for d, count := range direct[t.index] {
				n[d] += count
			}
		}
		for k := range p.things {
			if p.hangsOn(&p.things[k], t) {
				for d, count := range need(k, depth+1) {
					n[d] += count
				}
			}
		}
		switch {
		case p.headOf(t) != noOne: // it stands before a district, and behind none
			needs[i] = map[int32]int{raw: 1}
		case p.stepsAside(t.kind):
			needs[i] = map[int32]int{}
		}
		return needs[i]
	}
	p.owner = make([][]int32, len(p.things))
	for i := range p.things {
		p.owner[i] = keepers(need(i, 0), func(d int32) bool { return d >= 0 && p.topIs(&p.things[i], d) })
	}
}

// keepers are the districts that need a thing, the one that keeps it first.
func keepers(need map[int32]int, top func(d int32) bool) []int32 {
	var out []int32
	for d := range need {
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b int32) int {
		switch {
		case a == raw || b == raw:
			return int(a - b)
		case need[a] != need[b]:
			return need[b] - need[a]
		case top(a) != top(b):
			if top(a) {
				return -1
			}
			return 1
		}
		return int(a - b)
	})
	return out
}

// hangsOn reports whether one thing hangs directly from another.
func (p *plan) hangsOn(k, t *thing) bool {
	if t.kind == layout.FromTap {
		return k.from.Kind == layout.FromTap && k.from.Tap.Bus == t.index
	}
	return k.from.Kind == t.kind && k.from.Index == t.index
}

// headOf is the district that a thing is the device of, noOne for most.
func (p *plan) headOf(t *thing) int32 {
	if t.kind != layout.FromBreaker || p.out.With != Breakers {
		return noOne
	}
	for d := range p.out.Districts {
		if v := &p.out.Districts[d].Device; !v.New() && v.Index == t.index {
			return int32(d)
		}
	}
	return noOne
}

// stepsAside reports whether a device makes way for those of the districts: a breaker that heads none, where breakers do.
func (p *plan) stepsAside(kind layout.SourceKind) bool {
	return kind == layout.FromBreaker && p.out.With == Breakers
}

// topIs reports whether a thing hangs from the device of a district already.
func (p *plan) topIs(t *thing, d int32) bool {
	from := t.from
	v := &p.out.Districts[d].Device
	for range p.things {
		switch from.Kind {
		case layout.FromTap:
			if from.Tap.Bus < 0 {
				return false
			}
			from = p.l.Buses[from.Tap.Bus].From
			continue
		case layout.FromBooster:
			return v.Kind == Boosters && v.Index == from.Index
		case layout.FromBreaker:
			if v.Kind == Breakers && v.Index == from.Index {
				return true
			}
		}
		up, ok := hangsFrom(p.l, from)
		if !ok {
			return false
		}
		from = up
	}
	return false
}

// districtBehind is the district of the track behind a device, noOne where there is none.
func (p *plan) districtBehind(kind layout.SourceKind, index int32) int32 {
	for f := range p.l.Feeders {
		for _, tap := range p.l.Feeders[f].From {
			if tap.Bus < 0 {
				continue
			}
			from := layout.Source{Kind: layout.FromTap, Tap: tap}
			for range p.things {
				if from.Kind == kind && from.Index == index {
					return p.districtOfPoint(p.g.c.FeederSpot[f])
				}
				if from.Kind == layout.FromTap && from.Tap.Bus >= 0 {
					from = p.l.Buses[from.Tap.Bus].From
					continue
				}
				up, ok := hangsFrom(p.l, from)
				if !ok {
					break
				}
				from = up
			}
		}
	}
	return noOne
}

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

// tapText is a tap as a file has it.
func (p *plan) tapText(name string, at quantity.Length) string { return name + " @ " + p.measure(at) }

// measure writes a length as its owner typed it, else so that it reads the same.
func (p *plan) measure(v quantity.Length) string {
	if again, bad := quantity.ParsePosition(v.Text, noPos); v.Text != "" && bad == nil && again.Lo == v.Lo && again.Hi == v.Hi {
		return v.Text
	}
	return spell(v.Mid(), isMetric(p.l))
}

func (p *plan) refuse(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !slices.Contains(p.out.Refused, text) {
		p.out.Refused = append(p.out.Refused, text)
	}
}
