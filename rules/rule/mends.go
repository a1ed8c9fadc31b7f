package rule

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
)

// Changes to a layout, as fixes make them. They are data: what becomes of them is told only by a check of the layout with the
// changes made.

// SetKey gives one key of a named entry a value.
func SetKey(section, name, key, value string) finding.Change {
	return finding.Change{Op: finding.OpSet, Section: section, Name: name, Keys: []finding.Key{{Name: key, Value: value}}}
}

// Cut is a new insulated gap on a track; rails are BothRails, LeftRail or RightRail. It is filled as the other gaps are.
func (c *Case) Cut(track int32, at float64, rails layout.RailSet) finding.Change {
	return c.cutAt(c.L.Tracks[track].Name, c.L.Spell(at), rails)
}

// CutEnd is a new insulated gap at the end of a piece; rails may be InnerRail or OuterRail of a turnout's leg.
func (c *Case) CutEnd(p layout.PieceID, end int32, rails layout.RailSet) finding.Change {
	return c.cutAt(c.L.Pieces[p].Name, c.L.Pieces[p].Ends[end].Name, rails)
}

func (c *Case) cutAt(piece, where string, rails layout.RailSet) finding.Change {
	value := "{rails: " + layout.RailSetWords[rails] + ", kind: insulated"
	if fill := c.usualFill(); fill != "" {
		value += ", fill: " + fill
	}
	return finding.Change{Op: finding.OpPlace, Section: "gaps", Piece: piece, Where: where, Value: value + "}"}
}

// usualFill is what most insulated gaps are filled with, "" where none says.
func (c *Case) usualFill() string {
	count := map[string]int{}
	var words []string
	for i := range c.L.Gaps {
		g := &c.L.Gaps[i]
		if g.Kind != layout.Insulated || g.Fill == "" || g.Fill == "none" || g.Fill == "unknown" {
			continue
		}
		if count[g.Fill]++; count[g.Fill] == 1 {
			words = append(words, g.Fill)
		}
	}
	if len(words) == 0 {
		return ""
	}
	return slices.MaxFunc(words, func(x, y string) int { return cmp.Or(count[x]-count[y], -cmp.Compare(x, y)) })
}

// WholeGap cuts the rail too that a gap in one rail leaves whole.
func WholeGap(gap int32) finding.Change {
	return finding.Change{Op: finding.OpSetGap, Ref: gap, Keys: []finding.Key{{Name: "rails", Value: "both"}}}
}

// CloseGap joins the rails at a gap by metal again.
func CloseGap(gap int32) finding.Change { return finding.Change{Op: finding.OpCloseGap, Ref: gap} }

// MoveGap cuts a gap elsewhere on its track and joins the rails where it was.
func (c *Case) MoveGap(gap int32, at float64) finding.Change {
	return finding.Change{Op: finding.OpMoveGap, Ref: gap, Where: c.L.Spell(at)}
}

// SwapFeeder exchanges the two wires of a feeder at the rails.
func (c *Case) SwapFeeder(feeder int32) finding.Change {
	word := [2]string{"left", "right"}[c.L.Feeders[feeder].ARail.Other()]
	return finding.Change{Op: finding.OpSetFeeder, Ref: feeder, Keys: []finding.Key{{Name: "A", Value: word}}}
}

// Rehang hangs both wires of a feeder from a place of a bus.
func (c *Case) Rehang(feeder, bus int32, at float64) finding.Change {
	tap := c.TapText(bus, at)
	f := &c.L.Feeders[feeder]
	keys := []finding.Key{{Name: "from", Value: tap}}
	if f.From[layout.A].Text != f.From[layout.B].Text {
		keys = []finding.Key{{Name: "A-from", Value: tap}, {Name: "B-from", Value: tap}}
	}
	return finding.Change{Op: finding.OpSetFeeder, Ref: feeder, Keys: keys}
}

// RehangLeg hangs one wire of a feeder from a place of a bus.
func (c *Case) RehangLeg(feeder int32, leg layout.Leg, bus int32, at float64) finding.Change {
	return finding.Change{Op: finding.OpSetFeeder, Ref: feeder, Keys: []finding.Key{{Name: leg.String() + "-from", Value: c.TapText(bus, at)}}}
}

// TapText is a place on a bus as a file has it.
func (c *Case) TapText(bus int32, at float64) string {
	return c.L.Buses[bus].Name + " @ " + c.L.Spell(at)
}

// FeederLike is a new feeder at metres of a track that hangs from what another one hangs from: on the same track as much farther
// along the bus as it is along the track, as far as the bus goes. aRail is the rail of leg A, in the new track's own walk.
func (c *Case) FeederLike(like, track int32, at float64, aRail layout.Rail) finding.Change {
	f := &c.L.Feeders[like]
	along := 0.0
	if f.Place.Piece == c.L.Tracks[track].Piece && f.Place.End < 0 {
		along = at - f.Place.At.Mid()
	}
	tap := func(leg layout.Leg) string {
		t := &f.From[leg]
		if t.Bus < 0 {
			return "unknown"
		}
		reach := t.At.Mid() + along
		if b := &c.L.Buses[t.Bus]; b.Length.Known() {
			reach = min(b.Length.Mid(), reach)
		}
		return c.TapText(t.Bus, math.Max(0, c.L.Handy(reach)))
	}
	value := "{from: " + tap(layout.B)
	if a := tap(layout.A); a != tap(layout.B) {
		value = "{A-from: " + a + ", B-from: " + tap(layout.B)
	}
	value += ", A: " + [2]string{"left", "right"}[aRail]
	if f.Wire.Known() {
		value += ", wire: " + f.Wire.String()
	}
	if f.Length.Known() {
		value += ", length: " + c.L.Spell(f.Length.Mid())
	}
	return finding.Change{Op: finding.OpPlace, Section: "feeders", Piece: c.L.Tracks[track].Name, Where: c.L.Spell(at), Value: value + "}"}
}

// clear is how far a new feeder or gap stays from what stands on a track already, and from its ends: 1 in. Common practice, no source.
const clear = 0.0254

// FreePlace is the place of a track nearest to metres where nothing stands within an inch, on a measure that is handy, between
// two bounds; ok is false where there is none.
func (c *Case) FreePlace(track int32, at, lo, hi float64) (place float64, ok bool) {
	t := &c.L.Tracks[track]
	type span struct{ lo, hi float64 }
	var taken []span
	add := func(from, to float64) { taken = append(taken, span{from - clear, to + clear}) }
	on := func(p layout.Place) {
		if p.Piece == t.Piece && p.End < 0 {
			add(p.At.Lo, p.At.Hi)
		}
	}
	for i := range c.L.Gaps {
		on(c.L.Gaps[i].Place)
	}
	for i := range c.L.Feeders {
		on(c.L.Feeders[i].Place)
	}
	for i := range c.L.Joints {
		on(c.L.Joints[i].Place)
	}
	for i := range c.L.Bonds {
		on(c.L.Bonds[i].From)
		on(c.L.Bonds[i].To)
	}
	for i := range t.Stands {
		s := &t.Stands[i]
		add(s.At.Lo, s.At.Hi+s.Length.Hi)
	}
	lo, hi = max(lo, clear), min(hi, t.Length.Lo-clear)
	free := func(x float64) bool {
		return x >= lo && x <= hi && !slices.ContainsFunc(taken, func(s span) bool { return x > s.lo+1e-9 && x < s.hi-1e-9 })
	}
	try := []float64{at, lo, hi}
	for _, s := range taken {
		try = append(try, s.lo, s.hi)
	}
	best := math.Inf(1)
	for _, x := range try {
		for _, h := range []float64{c.L.Handy(x), c.L.Handy(x + 0.005), c.L.Handy(x - 0.005), x} {
			if d := math.Abs(h - at); d < best && free(h) {
				best, place, ok = d, h, true
			}
		}
	}
	return place, ok
}
