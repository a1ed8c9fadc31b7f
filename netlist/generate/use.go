package generate

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// use makes what the owner means: blocks, districts, trains, and the rules of thumb that
// the plan keeps to.
func (a *assembly) use() {
	l, b, v := a.l, a.b, &a.values
	for i := range b.blocks {
		p := &b.blocks[i]
		out := layout.Block{Entry: entry(p.name), Use: p.use, Detector: p.detector, Covers: make([]layout.Stretch, 0, len(p.covers))}
		for _, s := range p.covers {
			out.Covers = append(out.Covers, a.stretch(s))
		}
		l.Blocks = append(l.Blocks, out)
	}
	for i := range b.districts {
		d := &b.districts[i]
		l.Districts = append(l.Districts, layout.District{Entry: entry(numbered("district-", i+1)), From: a.source(d.from), Blocks: d.blocks})
	}
	l.Trains = []layout.Train{
		{Entry: entry("ore"), Length: v.oreLength, Current: v.oreCurrent, AtOnce: 2, Wheels: layout.MetalWheels},
		{Entry: entry("local"), Length: v.localLength, Current: v.localCurrent, AtOnce: 1, Wheels: layout.MetalWheels},
	}
	l.Operations = layout.Operations{Said: true, AtOnce: 3, Pickup: v.pickup, Wheels: layout.MetalWheels}
	for _, name := range []string{"main-block-holds-train", "yard-cut-from-main", "feeders-at-turnouts", "feeders-at-expansion-gaps", "gaps-filled"} {
		l.Practices = append(l.Practices, layout.Practice{Name: name})
	}
}

func (a *assembly) stretch(s stretch) layout.Stretch {
	id := a.piece(s.piece)
	name := a.l.Pieces[id].Name
	out := layout.Stretch{Piece: id, Whole: s.whole, GapFromIndex: -1, GapToIndex: -1, RouteFrom: -1, RouteTo: -1, Text: name}
	switch {
	case s.whole && s.piece.turnout:
	case s.whole:
		out.From, out.To = quantity.Length{Value: quantity.Exact(0)}, a.l.Tracks[s.piece.index].Length
	case s.gaps:
		first := a.firstGap[s.piece.index]
		out.GapFrom, out.GapFromIndex, out.From = true, first, a.l.Gaps[first].Place.At
		out.GapTo, out.GapToIndex, out.To = true, first+1, a.l.Gaps[first+1].Place.At
		out.Text += " @ gap .. gap"
	default:
		out.From, out.To = a.length(s.from), a.length(s.to)
		out.Text += " @ " + out.From.Text + " .. " + out.To.Text
	}
	return out
}
