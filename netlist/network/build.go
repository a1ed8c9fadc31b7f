package network

import (
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Setting puts a piece of track work in a position.
type Setting struct {
	Device   int32
	Position int16
}

// Builder makes the networks of one circuit. It may serve several goroutines.
type Builder struct {
	c        *circuit.Circuit
	elements *Elements
	without  []bool // by conductor: not followed, because something is wrong there
	start    []int32
	list     []int32
	wayOf    []int32 // by conductor: the length of track whose rail it is, -1
	cuts     []int32 // the ways that are gaps, rising
}

// NewBuilder makes ready. without are conductors that are not followed, by id; nil follows all.
func NewBuilder(c *circuit.Circuit, without []bool) *Builder {
	b := &Builder{c: c, elements: NewElements(c), without: without}
	b.start = make([]int32, c.Nodes+1)
	for i := range c.Conductors {
		b.start[c.Conductors[i].A+1]++
		b.start[c.Conductors[i].B+1]++
	}
	for n := range c.Nodes {
		b.start[n+1] += b.start[n]
	}
	b.list = make([]int32, 2*len(c.Conductors))
	at := slices.Clone(b.start)
	b.wayOf = make([]int32, len(c.Conductors))
	for i := range c.Conductors {
		k := &c.Conductors[i]
		b.list[at[k.A]] = int32(i)
		at[k.A]++
		b.list[at[k.B]] = int32(i)
		at[k.B]++
		b.wayOf[i] = -1
	}
	for w := range c.Ways {
		if c.Ways[w].Kind == circuit.WayCut {
			b.cuts = append(b.cuts, int32(w))
		}
		if c.Ways[w].Kind != circuit.WayTrack {
			continue
		}
		for _, k := range c.Ways[w].Rails {
			if k >= 0 {
				b.wayOf[k] = int32(w)
			}
		}
	}
	return b
}

// Resized is a builder of the same circuit with other wires: c differs in the wire of buses, feeders
// and bonds, and in how buses are laid. What follows from topology alone is shared.
func (b *Builder) Resized(c *circuit.Circuit) *Builder {
	out := *b
	elements := *b.elements
	out.c, elements.c = c, c
	out.elements = &elements
	return &out
}

// Resized is the same district with the wires that e knows: its nodes, guards and pairs are shared, the
// conductors of wire have other values.
func (d *District) Resized(e *Elements) *District {
	out := *d
	for leg, net := range d.Legs {
		own := *net
		own.Edges = slices.Clone(net.Edges)
		for i := range own.Edges {
			switch e.c.Conductors[own.Edges[i].Conductor].Kind {
			case circuit.BusSpan, circuit.FeederWire, circuit.BondWire:
				own.Edges[i].take(e.Of(own.Edges[i].Conductor), d.Corner)
			}
		}
		out.Legs[leg] = &own
	}
	return &out
}

// take gives an edge the values of an element at a corner.
func (k *Edge) take(x Element, corner Corner) {
	k.Ohms, k.Henries, k.Assumed = x.Ohms.Hi, x.Henries.Hi, x.Assumed
	if corner == Strong {
		k.Ohms, k.Henries = x.Ohms.Lo, x.Henries.Lo
	}
}

// Elements are the electrical values that the builder uses.
func (b *Builder) Elements() *Elements { return b.elements }

// Circuit is what the networks are made of.
func (b *Builder) Circuit() *circuit.Circuit { return b.c }

// Scratch is room that one goroutine's builds reuse.
type Scratch struct {
	node [2][]int32 // by leg, by circuit node: its node in the net, or unseen
	edge []int32    // by conductor: its edge in leg B's net, or unseen
}

const unseen = -2

// NewScratch makes room for builds of one goroutine at a time.
func (b *Builder) NewScratch() *Scratch {
	s := &Scratch{edge: make([]int32, len(b.c.Conductors))}
	for leg := range s.node {
		s.node[leg] = make([]int32, b.c.Nodes)
		for i := range s.node[leg] {
			s.node[leg][i] = unseen
		}
	}
	for i := range s.edge {
		s.edge[i] = unseen
	}
	return s
}

// Build makes the networks of one source at a corner. What holds in every position counts,
// reversers, changeovers, plugs and switches stand in their first, and of track work
// what the settings name. The error is ctx's only.
func (b *Builder) Build(ctx context.Context, s *Scratch, source int32, corner Corner, settings []Setting) (*District, error) {
	d := &District{Source: source, Corner: corner, Meet: -1}
	d.Guards = []Guard{headGuard(b.c, source)}
	var reached [2][]int32 // circuit nodes, in order of the walk
	defer func() {
		for leg := range reached {
			for _, n := range reached[leg] {
				s.node[leg][n] = unseen
			}
		}
		if d.Legs[1] != nil {
			for i := range d.Legs[1].Edges {
				s.edge[d.Legs[1].Edges[i].Conductor] = unseen
			}
		}
	}()
	guards := map[guardKey]int32{}
	for leg := range layout.Leg(2) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		w := walker{b: b, d: d, guards: guards, corner: corner, settings: settings, leg: leg, local: s.node[leg], net: &Net{Terminal: b.c.Sources[source].Out[leg]}}
		w.walk()
		w.lay()
		d.Legs[leg], reached[leg] = w.net, w.queue
	}
	for _, n := range reached[1] {
		if s.node[0][n] != unseen {
			return &District{Source: source, Corner: corner, Meet: n, Guards: d.Guards[:1], Legs: [2]*Net{nil, nil}}, nil
		}
	}
	for i := range d.Legs[1].Edges {
		s.edge[d.Legs[1].Edges[i].Conductor] = int32(i)
	}
	b.pairRails(s, d)
	b.pairTaps(s, d)
	b.pairGaps(s, d)
	return d, nil
}

// follows reports whether a conductor counts at a corner in a setting.
func (b *Builder) follows(id int32, corner Corner, settings []Setting) bool {
	k := &b.c.Conductors[id]
	if b.without != nil && b.without[id] || corner == Weak && !k.Sure {
		return false
	}
	if k.Device < 0 {
		return true
	}
	switch b.c.Devices[k.Device].Kind {
	case circuit.PieceDevice:
		return slices.Contains(settings, Setting{k.Device, k.Position})
	case circuit.FrogDevice:
		return false
	default:
		return k.Position == 0
	}
}
