package generate

import "gapwise/netlist/layout"

// branch puts a turnout on the route, some feet on from start and facing either way, and
// lays what leaves by its curved leg. It feeds the rail up to the turnout and gives the
// place beyond it.
func (r route) branch(n, start int, s supply, lay func(from ref, a layout.Rail)) int {
	b := r.b
	t := b.turnout(numbered("TB", n))
	place := start + b.between(36, 72)
	first, second, a := int32(points), int32(straight), layout.Left
	if b.oneIn(2) {
		first, second, a = straight, points, layout.Right
	}
	r.stand(t, first, second, place)
	r.feedAlong(start, place, s)
	lay(at(t, curved), a)
	return place + bodyLength
}

// spur is an industry track. Its first inches, up to the gap, are fed with the block
// that it branches off.
func (b *builder) spur(n int, from ref, a layout.Rail, outer, fed supply, outerBlock, district int32) {
	block := b.block(numbered("I", n), layout.UseIndustry, district)
	r := b.track(numbered("I", n), b.between(36, 84), layout.UseIndustry, from, nowhere, a)
	length := r.track().length
	start := r.westStub(outer, outerBlock)
	r.in(block, start, length)
	r.feedAlong(start, length, fed)
}

// yard is a ladder of stub tracks, cut off from the siding and often behind a breaker of
// its own.
func (b *builder) yard(n int, from ref, a layout.Rail, outer, fed supply, outerBlock, district int32) {
	if b.oneIn(2) {
		breaker, own := b.breaker()
		district = own
		fed = plain(b.bus(numbered("yard", n), origin{kind: layout.FromBreaker, index: breaker}, layout.LegsBoth, "14 AWG", -1))
	}
	block := b.block(numbered("Y", n), layout.UseYard, district)
	if b.oneIn(3) {
		fed = b.detect(fed.bus, block)
	}
	ladder := b.between(2, 5)
	for k := 1; k <= ladder; k++ {
		t := b.turnout(numbered(numbered("LD", n)+"-", k))
		lead := b.track(numbered(numbered("YL", n)+"-", k), b.between(8, 12), layout.UseYard, from, at(t, points), a)
		start, length := 0, lead.track().length
		if k == 1 {
			lead.track().length += 12
			length += 12
			start = lead.westStub(outer, outerBlock)
		}
		lead.in(block, start, length)
		lead.feedAlong(start, length, fed)
		b.coverTurnout(block, t)
		b.stub(numbered(numbered("Y", n)+"-", k), at(t, straight), a, fed, block)
		from = at(t, curved)
	}
	b.stub(numbered(numbered("Y", n)+"-", ladder+1), from, a, fed, block)
}

// stub is one track of a yard.
func (b *builder) stub(name string, from ref, a layout.Rail, fed supply, block int32) {
	r := b.track(name, b.between(42, 96), layout.UseYard, from, nowhere, a)
	r.in(block, 0, r.track().length)
	r.feedAlong(0, r.track().length, fed)
}

// loop is a lead to a turnout and a balloon from one of its legs to the other. Between
// its gaps, which are farther apart than the longest train is long, a reverser feeds it.
func (b *builder) loop(n int, from ref, a layout.Rail, outer, fed supply, outerBlock, district int32) {
	staging := b.block(numbered("ST", n), layout.UseStaging, district)
	t := b.turnout(numbered("TL", n))
	lead := b.track(numbered("L", n), b.between(36, 60), layout.UseStaging, from, at(t, points), a)
	start := lead.westStub(outer, outerBlock)
	lead.in(staging, start, lead.track().length)
	lead.feedAlong(start, lead.track().length, fed)
	b.coverTurnout(staging, t)

	b.reversers = append(b.reversers, b.tapOf(fed.bus, busStep))
	b.conductors += 4
	reverser := origin{kind: layout.FromReverser, index: int32(len(b.reversers) - 1)}
	bus := b.bus(numbered("loop", n), reverser, layout.LegsBoth, "14 AWG", -1)
	block := b.block(numbered("R", n), layout.UseStaging, b.district(reverser))

	r := b.track(numbered("R", n), b.between(162, 198), layout.UseStaging, at(t, straight), at(t, curved), a)
	start = r.westStub(fed, staging)
	r.turnOver() // it comes back to the turnout facing the other way
	end := r.eastStub(fed, staging)
	if b.oneIn(2) {
		r.turnOver() // a reverser does not mind
	}
	r.betweenGaps(block)
	r.feedAlong(start, end, plain(bus))
}

// turnOver moves leg A to the other rail for the feeders still to come.
func (r route) turnOver() {
	t := r.track()
	t.aRail = t.aRail.Other()
}
