package generate

import (
	"strconv"

	"gapwise/netlist/layout"
)

// cutBack is how far from a turnout its gaps are cut; a feeder stands at stubFeeder.
const (
	cutBack    = 8
	stubFeeder = 3
)

// numbered is a name with a number.
func numbered(word string, n int) string { return word + strconv.Itoa(n) }

// town adds one town to the east end of the line: open line, then a passing siding
// between two turnouts, with what branches off.
//
//	     open line      west          main             east
//	════╪════════════╪══╤══╪═══════════════════════╪══╤══╪═ next
//	                    ╰──╪════╤════ siding ══════╪──╯
//	                            ╰─╪═ yard ladder
func (b *builder) town() {
	b.towns++
	n := b.towns
	breaker := b.townBreaker()
	bus := b.bus(numbered("town", n), origin{kind: layout.FromBreaker, index: breaker.index}, layout.LegsBoth, "12 AWG", -1)
	fed := plain(bus)

	west, east := b.turnout(numbered("TW", n)), b.turnout(numbered("TE", n))
	westBlock := b.block(numbered("W", n), layout.UseInterlocking, breaker.district)
	b.coverTurnout(westBlock, west)
	b.openLine(n, at(west, points), fed, westBlock, breaker.district)

	eastBlock := b.block(numbered("E", n), layout.UseInterlocking, breaker.district)
	b.coverTurnout(eastBlock, east)
	b.mainTrack(n, at(west, straight), at(east, straight), fed, [2]int32{westBlock, eastBlock}, breaker.district)
	if b.oneIn(3) {
		b.plainSiding(n, at(west, curved), at(east, curved), fed, [2]int32{westBlock, eastBlock}, breaker.district)
	} else {
		b.yardSiding(n, at(west, curved), at(east, curved), fed, [2]int32{westBlock, eastBlock}, breaker.district)
	}
	b.line.end, b.line.last, b.line.block = at(east, points), fed, eastBlock
}

// lineEnd closes the line with a short length of bare rail.
func (b *builder) lineEnd() {
	r := b.track("end-of-line", b.between(24, 48), layout.UseMain, b.line.end, nowhere, layout.Left)
	length := r.track().length
	r.feed(stubFeeder, b.line.last)
	r.in(b.line.block, 0, length)
}

// westStub is the first few inches of a track that leaves a turnout: fed on the
// turnout's side of a gap and part of its block. It gives the place of the gap.
func (r route) westStub(s supply, block int32) int {
	r.feed(stubFeeder, s)
	r.gap(cutBack)
	r.in(block, 0, cutBack)
	return cutBack
}

// eastStub is the same at the far end.
func (r route) eastStub(s supply, block int32) int {
	length := r.track().length
	r.gap(length - cutBack)
	r.feed(length-stubFeeder, s)
	r.in(block, length-cutBack, length)
	return length - cutBack
}

// openLine lays the line from the last town to this one: one block of the main, fed from
// this town. It may be two tracks, and a spur or a reversing loop may branch off.
func (b *builder) openLine(n int, to ref, fed supply, westBlock, district int32) {
	block := b.block(numbered("O", n), layout.UseMain, district)
	from := b.line.end
	inBlock := fed
	if !b.oneIn(4) {
		inBlock = b.detect(fed.bus, block)
	}
	if b.oneIn(3) {
		from = b.halfLine(n, from, inBlock, block)
	}
	r := b.track(numbered("O", n), b.between(204, 312), layout.UseMain, from, to, layout.Left)
	r.track().straight = b.oneIn(2)
	start := 0
	if from.turnout {
		start = r.westStub(b.line.last, b.line.block)
	}
	end := r.eastStub(fed, westBlock)
	r.in(block, start, end)
	switch {
	case n%3 == 1:
		start = r.branch(n, start, inBlock, func(from ref, a layout.Rail) { b.loop(n, from, a, inBlock, fed, block, district) })
	case b.oneIn(2):
		start = r.branch(n, start, inBlock, func(from ref, a layout.Rail) { b.spur(n, from, a, inBlock, fed, block, district) })
	}
	r.mainRail(start, end, inBlock)
}

// halfLine lays a first track of the open line, which meets the next one end to end.
func (b *builder) halfLine(n int, from ref, fed supply, block int32) ref {
	r := b.track(numbered("P", n), b.between(96, 144), layout.UseMain, from, nowhere, layout.Left)
	start := 0
	if from.turnout {
		start = r.westStub(b.line.last, b.line.block)
	}
	r.in(block, start, r.track().length)
	r.feedAlong(start, r.track().length, fed)
	return r.end()
}

// mainTrack is the main of a town, between its turnouts: a block long enough for a train.
func (b *builder) mainTrack(n int, from, to ref, fed supply, stubs [2]int32, district int32) {
	block := b.block(numbered("M", n), layout.UseMain, district)
	r := b.track(numbered("M", n), b.between(168, 252), layout.UseMain, from, to, layout.Left)
	r.track().straight = b.oneIn(2)
	start, end := r.westStub(fed, stubs[0]), r.eastStub(fed, stubs[1])
	r.in(block, start, end)
	r.mainRail(start, end, b.detect(fed.bus, block))
}

// mainRail feeds a free length of main and puts in what it needs to be able to move.
func (r route) mainRail(from, to int, s supply) {
	b, t := r.b, r.track()
	middle := t.length / 2
	switch {
	case t.straight && t.length >= 192 && middle > from+36 && middle < to-36:
		r.cut(middle, layout.CutThrough+layout.ExpansionJoint(b.rand.IntN(3)))
		r.feedAlong(from, middle, s)
		r.feedAlong(middle, to, s)
	default:
		t.straight = false
		r.feedAlong(from, to, s)
	}
	r.jointBetween(from, to)
}

// jointBetween puts a rail joint midway between the two feeders farthest apart, so that
// rail is fed on both sides of it.
func (r route) jointBetween(from, to int) {
	t := r.track()
	places := t.feedersIn(min(r.own(from), r.own(to)), max(r.own(from), r.own(to)))
	best, widest := 0, 0
	for i := 1; i < len(places); i++ {
		if wide := places[i] - places[i-1]; wide > widest && !t.cutIn(places[i-1], places[i]) {
			best, widest = (places[i]+places[i-1])/2, wide
		}
	}
	kind := layout.Soldered
	if r.b.oneIn(3) {
		kind = layout.Plain
	}
	r.rails(best, kind)
}

// plainSiding is a siding without a yard.
func (b *builder) plainSiding(n int, from, to ref, fed supply, stubs [2]int32, district int32) {
	block := b.block(numbered("S", n), layout.UseSiding, district)
	r := b.track(numbered("S", n), b.between(156, 216), layout.UseSiding, from, to, layout.Left)
	start, end := r.westStub(fed, stubs[0]), r.eastStub(fed, stubs[1])
	r.in(block, start, end)
	if b.oneIn(2) {
		fed = b.detect(fed.bus, block)
	}
	r.feedAlong(start, end, fed)
}

// yardSiding is a siding whose turnout leads into a yard, facing either way.
func (b *builder) yardSiding(n int, from, to ref, fed supply, stubs [2]int32, district int32) {
	block := b.block(numbered("S", n), layout.UseSiding, district)
	yard := b.turnout(numbered("TY", n))
	near, far, a := int32(points), int32(straight), layout.Left
	if b.oneIn(2) {
		near, far, a = straight, points, layout.Right
	}
	inBlock := fed
	if b.oneIn(2) {
		inBlock = b.detect(fed.bus, block)
	}
	r := b.track(numbered("S", n)+"-west", b.between(72, 120), layout.UseSiding, from, at(yard, near), layout.Left)
	start := r.westStub(fed, stubs[0])
	r.in(block, start, r.track().length)
	r.feedAlong(start, r.track().length, inBlock)
	b.coverTurnout(block, yard)
	r = b.track(numbered("S", n)+"-east", b.between(72, 120), layout.UseSiding, at(yard, far), to, layout.Left)
	end := r.eastStub(fed, stubs[1])
	r.in(block, 0, end)
	r.feedAlong(0, end, inBlock)
	b.yard(n, at(yard, curved), a, inBlock, fed, block, district)
}
