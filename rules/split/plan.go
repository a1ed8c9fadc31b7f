package split

import (
	"context"
	"fmt"
	"slices"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
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
	owner    [][]int32 // by thing: the districts that need it, the one that keeps it first
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

func (p *plan) refuse(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !slices.Contains(p.out.Refused, text) {
		p.out.Refused = append(p.out.Refused, text)
	}
}
