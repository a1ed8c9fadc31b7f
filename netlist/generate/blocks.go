package generate

import "gapwise/netlist/layout"

// block of the plan.
type block struct {
	name     string
	use      layout.Use
	detector int32 // -1 none
	covers   []stretch
}

// stretch of a track between two places of its own walk, or a whole piece.
type stretch struct {
	piece    ref // its end counts for nothing
	whole    bool
	from, to int
	gaps     bool // from one gap to the other, whatever their places
}

// district of the plan.
type district struct {
	from   origin
	blocks []int32
}

// block adds a block to a district.
func (b *builder) block(name string, use layout.Use, district int32) int32 {
	n := int32(len(b.blocks))
	b.blocks = append(b.blocks, block{name: name, use: use, detector: -1})
	d := &b.districts[district]
	d.blocks = append(d.blocks, n)
	return n
}

func (b *builder) district(from origin) int32 {
	b.districts = append(b.districts, district{from: from})
	return int32(len(b.districts) - 1)
}

func (b *builder) cover(block int32, s stretch) {
	p := &b.blocks[block]
	p.covers = append(p.covers, s)
}

// coverTurnout puts a turnout that stands on no track in a block.
func (b *builder) coverTurnout(block, turnout int32) {
	b.cover(block, stretch{piece: at(turnout, 0), whole: true})
}

// in puts a part of the route in a block.
func (r route) in(block int32, from, to int) {
	s := stretch{piece: ref{index: r.id}, from: r.own(from), to: r.own(to)}
	if s.from > s.to {
		s.from, s.to = s.to, s.from
	}
	s.whole = s.from == 0 && s.to == r.track().length
	r.b.cover(block, s)
}

// betweenGaps puts the rail between the only two gaps of the route in a block.
func (r route) betweenGaps(block int32) {
	r.b.cover(block, stretch{piece: ref{index: r.id}, gaps: true})
}
