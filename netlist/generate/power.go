package generate

import "gapwise/netlist/layout"

// origin is what a device, bus or district hangs from.
type origin struct {
	kind  layout.SourceKind
	index int32 // of its kind
	tap   tap   // of FromTap
}

// tap is a place on a bus of the plan; bus -1 is none.
type tap struct {
	bus int32
	at  int
}

// bus of the plan. Its length is settled when its last tap is known.
type bus struct {
	name   string
	from   origin
	legs   layout.Legs
	wire   string
	at     int   // of the last tap
	beside int32 // the bus it lies beside, -1 none
}

// busTail is how far a bus runs past its last tap.
const busTail = 6

func (b *builder) bus(name string, from origin, legs layout.Legs, wire string, beside int32) int32 {
	b.buses = append(b.buses, bus{name: name, from: from, legs: legs, wire: wire, beside: beside})
	b.conductors += 2 * legCount(legs) // where it hangs, and its last span
	return int32(len(b.buses) - 1)
}

func legCount(legs layout.Legs) int {
	if legs == layout.LegsBoth {
		return 2
	}
	return 1
}

// tap is the next place on a bus, some way on from the last one, or the last one again.
func (b *builder) tap(bus int32, most int) tap {
	p := &b.buses[bus]
	if !b.oneIn(5) {
		p.at += b.between(4, most)
		b.conductors += legCount(p.legs)
	}
	return tap{bus, p.at}
}

func (b *builder) tapOf(bus int32, most int) origin {
	return origin{kind: layout.FromTap, tap: b.tap(bus, most)}
}

// boosterInUse is the booster that the next breakers hang from, by its bus.
type boosterInUse struct {
	bus  int32
	left int // how many more breakers it may feed
}

// breakerInUse is the breaker that the next towns hang from.
type breakerInUse struct {
	index, district int32
	left            int // how many more towns it may feed
}

// breaker hangs a breaker on the booster in use, or on a new one when that is full.
func (b *builder) breaker() (index, district int32) {
	g := &b.line.booster
	if g.left == 0 {
		n := b.boosters
		b.boosters++
		*g = boosterInUse{b.bus(numbered("main", n+1), origin{kind: layout.FromBooster, index: int32(n)}, layout.LegsBoth, "12 AWG", -1), b.between(3, 4)}
	}
	g.left--
	b.breakers = append(b.breakers, b.tapOf(g.bus, 36))
	b.conductors += 2
	index = int32(len(b.breakers) - 1)
	return index, b.district(origin{kind: layout.FromBreaker, index: index})
}

// townBreaker is the breaker for the next town.
func (b *builder) townBreaker() breakerInUse {
	g := &b.line.breaker
	if g.left == 0 {
		index, district := b.breaker()
		*g = breakerInUse{index, district, b.between(1, 2)}
	}
	g.left--
	return *g
}

// detector of the plan.
type detector struct {
	from origin
	leg  layout.Leg
}

// supply is what feeds the rails of one block: a bus, and the wire of one leg that comes
// through the block's detector.
type supply struct {
	bus      int32
	detected int32 // the wire behind the detector, -1 none
	leg      layout.Leg
}

func plain(bus int32) supply { return supply{bus: bus, detected: -1} }

// detect puts a detector in one leg of a bus and gives the block's supply behind it.
func (b *builder) detect(bus int32, block int32) supply {
	leg := layout.Leg(b.rand.IntN(2))
	n := int32(len(b.detectors))
	b.detectors = append(b.detectors, detector{b.tapOf(bus, 12), leg})
	b.conductors += 2
	b.blocks[block].detector = n
	legs := layout.LegsA
	if leg == layout.B {
		legs = layout.LegsB
	}
	wire := b.bus(numbered("D", int(n)+1)+"-wire", origin{kind: layout.FromDetector, index: n}, legs, "16 AWG", bus)
	return supply{bus, wire, leg}
}
