package split

import (
	"math"
	"slices"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
)

// bound is a stretch that a block covers, as it will be written.
type bound struct {
	block, track int32
	from, to     float64
	text         string // as typed, or of track work
	moved        bool
}

// moveBounds brings the bounds of blocks as meant to the cuts that are made for them: what lies between a bound and its cut, less
// than a stub, goes to the neighbour that the rail joins it to.
func (p *plan) moveBounds() {
	list := p.bounds()
	for i := range p.out.Cuts {
		c := &p.out.Cuts[i]
		for n := range list {
			b := &list[n]
			switch {
			case b.track != c.Track || b.to < b.from:
			case b.from < c.At && c.At-b.from <= stub+touching:
				list = p.give(list, n, b.from, c.At)
				list[n].from, list[n].moved = c.At, true
			case c.At < b.to && b.to-c.At <= stub+touching:
				list = p.give(list, n, c.At, b.to)
				list[n].to, list[n].moved = c.At, true
			}
		}
	}
	for b := range p.l.Blocks {
		var texts []string
		moved := false
		for n := range list {
			x := &list[n]
			if x.block != int32(b) {
				continue
			}
			text := x.text
			if x.moved {
				moved, text = true, p.stretchText(x.track, x.from, x.to)
			}
			texts = append(texts, text)
		}
		// In a file with a prefix names are written without it, and may stand for several places.
		if name := p.l.Blocks[b].Name; moved && !strings.Contains(name, "/") {
			p.w.Set("blocks", name, amend.Key{Name: "covers", Value: "[" + strings.Join(texts, ", ") + "]"})
		}
	}
}

// touching is how near two bounds have to be, in metres, to be one.
const touching = 1e-6

// bounds lists what blocks cover; what passes a ring's start is left as it is.
func (p *plan) bounds() []bound {
	var out []bound
	for b := range p.l.Blocks {
		for i := range p.l.Blocks[b].Covers {
			s := &p.l.Blocks[b].Covers[i]
			x := bound{block: int32(b), track: -1, text: s.Text}
			if s.Piece >= 0 && p.l.Pieces[s.Piece].Kind == layout.TrackPiece {
				x.track = p.l.Pieces[s.Piece].Index
				x.from, x.to = s.From.Mid(), s.To.Mid()
				if s.Whole {
					x.from, x.to = 0, p.l.Tracks[x.track].Length.Mid()
				}
			}
			out = append(out, x)
		}
	}
	return out
}

// give gives the sliver between a bound and its cut to the block beside it: one on the same track, or that of the track work
// there; to none where there is none.
func (p *plan) give(list []bound, n int, from, to float64) []bound {
	b := list[n]
	for k := range list {
		x := &list[k]
		switch {
		case x.track != b.track || x.block == b.block:
		case math.Abs(x.to-from) <= touching:
			x.to, x.moved = to, true
			return list
		case math.Abs(x.from-to) <= touching:
			x.from, x.moved = from, true
			return list
		}
	}
	for _, s := range p.g.stretches(b.track) {
		for end, at := range [2]float64{s.from, s.to} {
			if math.Abs(at-[2]float64{from, to}[end]) > touching || len(s.blocks[end]) == 0 || slices.Contains(s.blocks[end], b.block) {
				continue
			}
			return append(list, bound{block: s.blocks[end][0], track: b.track, from: from, to: to, moved: true})
		}
	}
	return list
}

func (p *plan) stretchText(track int32, from, to float64) string {
	tr := &p.l.Tracks[track]
	start, end := "0", "end"
	if from > 0 {
		start = p.l.Spell(from)
	}
	if to < tr.Length.Mid() {
		end = p.l.Spell(to)
	}
	return tr.Name + " @ " + start + " .. " + end
}
