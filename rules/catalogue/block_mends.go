package catalogue

import (
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// cutMends cut both rails of a track at a place, or as near to it as there is room between two bounds; alone, and with a feeder on either side
// for what the gap leaves dead.
func cutMends(c *rule.Case, track int32, at, least, most float64) []finding.Mend {
	place, ok := c.FreePlace(track, at, least, most)
	if !ok {
		return nil
	}
	cut := finding.Mend{
		Text:    fmt.Sprintf("cut both rails at %s", c.TrackPlace(track, place).Text),
		Work:    finding.Work{Cuts: 2},
		Changes: []finding.Change{c.Cut(track, place, layout.BothRails)},
	}
	out := []finding.Mend{cut}
	length := c.L.Tracks[track].Length.Mid()
	for _, side := range [2][2]float64{{place, length}, {0, place}} {
		lo, hi := side[0], side[1]
		near := place + feederBeside
		if lo == 0 {
			near = place - feederBeside
		}
		for _, hang := range hangMends(c, track, near, lo+feederLeast, hi-feederLeast, 1) {
			out = append(out, finding.Mend{
				Text:    cut.Text + ", and " + hang.Text,
				Work:    finding.Work{Cuts: 2, Wires: 1},
				Changes: append(slices.Clone(cut.Changes), hang.Changes...),
			})
		}
	}
	return out
}

// feederBeside is how far from a new gap the feeder is hung that comes with it, feederLeast how near it may: 12 in, 1 in. Common practice, no source.
const (
	feederBeside = 0.3048
	feederLeast  = 0.0254
)

// differMends move a gap to where two blocks are meant to part, cut one there, or close one that parts nothing that is meant.
func differMends(c *rule.Case, d *districts.Difference) []finding.Mend {
	switch {
	case d.Missing && d.Gap >= 0:
		return append(moveMends(c, d), cutAndClose(c, d)...)
	case d.Missing && d.Track >= 0:
		var out []finding.Mend
		for g := range c.L.Gaps {
			if x := &c.L.Gaps[g]; x.Kind == layout.Expansion && x.Place.Piece == c.L.Tracks[d.Track].Piece && x.Place.End < 0 && math.Abs(x.Place.At.Mid()-d.At) < rule.Stub {
				out = append(out, besideMends(c, int32(g))...)
			}
		}
		cuts := cutMends(c, d.Track, d.At, d.At-rule.Stub, d.At+rule.Stub)
		for g := range c.L.Gaps {
			if b := strayGap(c, int32(g)); b >= 0 && (b == d.Blocks[0] || b == d.Blocks[1]) {
				for _, cut := range first(cuts) {
					out = append(out, together(cut, closeGapMend(c, int32(g))))
				}
			}
		}
		out = append(out, cuts...)
		return append(out, boundMends(c, d)...)
	case d.Missing:
		return nil
	default:
		out := closeMends(c, d.Gap)
		if source := c.T.Meant.SourceOf[d.Blocks[0]]; source >= 0 && len(out) > 0 {
			if strays := strayFeeders(c, d.Blocks[0], source); len(strays) > 0 {
				for _, m := range append(suitMends(c, strays, d.Blocks[0]), sourceMends(c, strays, source)...) {
					out = append(out, together(out[0], m))
				}
			}
		}
		return out
	}
}

// mostBounds is how many gaps one mend cuts.
const mostBounds = 4

// boundMends cut all gaps at once that are missing where a block is meant to end, as a section of a loop needs it, and hang what feeds it from the source that
// it is meant to have.
func boundMends(c *rule.Case, d *districts.Difference) []finding.Mend {
	var ms []finding.Mend
	for i := range c.T.Differences {
		o := &c.T.Differences[i]
		if !o.Missing || o.Gap >= 0 || o.Track < 0 || !slices.ContainsFunc(o.Blocks[:], func(b int32) bool { return b == d.Blocks[0] || b == d.Blocks[1] }) {
			continue
		}
		ms = append(ms, first(cutMends(c, o.Track, o.At, o.At-rule.Stub, o.At+rule.Stub))...)
	}
	if len(ms) == 0 || len(ms) > mostBounds {
		return nil
	}
	all := together(ms...)
	var out []finding.Mend
	if len(ms) > 1 {
		out = append(out, all)
	}
	for _, b := range d.Blocks {
		source := c.T.Meant.SourceOf[b]
		if source < 0 {
			continue
		}
		if strays := strayFeeders(c, b, source); len(strays) > 0 {
			for _, m := range append(suitMends(c, strays, b), sourceMends(c, strays, source)...) {
				out = append(out, together(all, m))
			}
		}
	}
	return out
}

// suitMends hang feeders from what a feeder of their block as meant hangs from that suits it.
func suitMends(c *rule.Case, feeders []int32, block int32) []finding.Mend {
	like := int32(-1)
	for i := range c.L.Feeders {
		p := &c.L.Feeders[i].Place
		if like < 0 && p.Piece >= 0 && c.L.Pieces[p.Piece].Kind == layout.TrackPiece && p.End < 0 && !slices.Contains(feeders, int32(i)) &&
			c.T.Feeds[i].Source() >= 0 && c.Suits(int32(i), block) && c.MeantAt(c.L.Pieces[p.Piece].Index, p.At.Mid()) == block {
			like = int32(i)
		}
	}
	if like < 0 {
		return nil
	}
	return []finding.Mend{rehangMend(c, feeders, func(f int32) (finding.Change, string) { return c.RehangLike(f, like, layout.A, layout.B) })}
}

// strayFeeders are the feeders in a block as meant that come from another source than it is meant to have.
func strayFeeders(c *rule.Case, block, source int32) []int32 {
	var out []int32
	for i := range c.L.Feeders {
		p := &c.L.Feeders[i].Place
		if p.Piece >= 0 && c.L.Pieces[p.Piece].Kind == layout.TrackPiece && p.End < 0 && c.T.Feeds[i].Source() >= 0 && c.T.Feeds[i].Source() != source &&
			c.MeantAt(c.L.Pieces[p.Piece].Index, p.At.Mid()) == block {
			out = append(out, int32(i))
		}
	}
	return out
}

// gapsAt are the gaps of a way, each once.
func gapsAt(c *rule.Case, way int32) []int32 {
	var out []int32
	for _, g := range c.C.Ways[way].Gaps {
		if g >= 0 && !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// moveMends move a gap in both rails to where two blocks are meant to part.
func moveMends(c *rule.Case, d *districts.Difference) []finding.Mend {
	gaps := gapsAt(c, d.Gap)
	if len(gaps) != 1 || c.L.Gaps[gaps[0]].Rails != layout.BothRails || c.L.Gaps[gaps[0]].Place.Piece != c.L.Tracks[d.Track].Piece {
		return nil
	}
	return shiftMends(c, gaps[0], d.At, d.At-rule.Stub/2, d.At+rule.Stub/2)
}

// shiftMends move a gap along its track to a place between two bounds, with the feeders that it passes hung like those that they come to, and as they are.
func shiftMends(c *rule.Case, gap int32, at, lo, hi float64) []finding.Mend {
	g := &c.L.Gaps[gap]
	if g.Place.Piece < 0 || g.Place.End >= 0 || c.L.Pieces[g.Place.Piece].Kind != layout.TrackPiece {
		return nil
	}
	track := c.L.Pieces[g.Place.Piece].Index
	to, ok := c.FreePlace(track, at, lo, hi)
	if !ok {
		return nil
	}
	rails, n := "both rails", 2
	if g.Rails == layout.LeftRail || g.Rails == layout.RightRail {
		rails, n = "the "+layout.RailSetWords[g.Rails]+" rail", 1
	}
	m := finding.Mend{
		Text:    fmt.Sprintf("cut %s at %s, and close the gap at %s with a piece of rail soldered in", rails, c.TrackPlace(track, to).Text, c.GapPlace(gap).Text),
		Work:    finding.Work{Cuts: 2 * n},
		Changes: []finding.Change{c.MoveGap(gap, to)},
	}
	passed := passedFeeders(c, track, g.Place.At.Mid(), to)
	if len(passed.Changes) == 0 {
		return []finding.Mend{m}
	}
	return []finding.Mend{together(m, passed), m}
}

// passedFeeders hang the feeders between a gap and where it goes like the nearest one beyond where it was.
func passedFeeders(c *rule.Case, track int32, was, to float64) finding.Mend {
	var passed []int32
	model, away := int32(-1), math.Inf(1)
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		if f.Place.Piece != c.L.Tracks[track].Piece || f.Place.End >= 0 {
			continue
		}
		at := f.Place.At.Mid()
		switch beyond := (at - was) * (was - to); {
		case beyond < 0 && (at-to)*(was-to) > 0:
			passed = append(passed, int32(i))
		case beyond > 0 && math.Abs(at-was) < away && c.T.Feeds[i].Source() >= 0:
			model, away = int32(i), math.Abs(at-was)
		}
	}
	if model < 0 {
		return finding.Mend{}
	}
	passed = slices.DeleteFunc(passed, func(f int32) bool { return feedClass(c, f) == feedClass(c, model) })
	return rehangMend(c, passed, func(f int32) (finding.Change, string) { return c.RehangLike(f, model, layout.A, layout.B) })
}

// cutAndClose cuts both rails anew and closes a gap elsewhere.
func cutAndClose(c *rule.Case, d *districts.Difference) []finding.Mend {
	cuts, closing := cutMends(c, d.Track, d.At, d.At-rule.Stub/2, d.At+rule.Stub/2), closeMends(c, d.Gap)
	if len(closing) == 0 {
		return nil
	}
	for i := range cuts {
		cuts[i].Text += ", and " + closing[0].Text
		cuts[i].Work.Cuts += closing[0].Work.Cuts
		cuts[i].Changes = append(slices.Clone(cuts[i].Changes), closing[0].Changes...)
	}
	return cuts
}

// strayGap is the block that a gap in both rails of a track cuts in two where nothing is meant to part, -1 for any other gap.
func strayGap(c *rule.Case, gap int32) int32 {
	g := &c.L.Gaps[gap]
	if g.Kind != layout.Insulated || g.Rails != layout.BothRails || g.Place.Piece < 0 || g.Place.End >= 0 || c.L.Pieces[g.Place.Piece].Kind != layout.TrackPiece {
		return -1
	}
	track, at := c.L.Pieces[g.Place.Piece].Index, g.Place.At.Mid()
	before, beyond := c.MeantAt(track, at-atBound), c.MeantAt(track, at+atBound)
	if before != beyond {
		return -1
	}
	return before
}

// atBound is how far from a bound as meant a gap counts as being there: 1 in. Common practice, no source.
const atBound = 0.0254

// closeGapMend closes a gap.
func closeGapMend(c *rule.Case, gap int32) finding.Mend {
	return finding.Mend{
		Text:    fmt.Sprintf("close the gap at %s with a piece of rail soldered in", c.GapPlace(gap).Text),
		Work:    finding.Work{Cuts: 1},
		Changes: []finding.Change{rule.CloseGap(gap)},
	}
}

// closeMends close the gaps of a way.
func closeMends(c *rule.Case, way int32) []finding.Mend {
	gaps := gapsAt(c, way)
	if len(gaps) == 0 || c.C.Ways[way].Kind != circuit.WayCut {
		return nil
	}
	m := finding.Mend{Text: fmt.Sprintf("close the gap at %s with a piece of rail soldered in", c.WayPlace(way).Text)}
	for _, g := range gaps {
		m.Work.Cuts++
		m.Changes = append(m.Changes, rule.CloseGap(g))
	}
	return []finding.Mend{m}
}

// sourceMends hang feeders from the buses of a source, or hang their own bus from it where that has none.
func sourceMends(c *rule.Case, feeders []int32, source int32) []finding.Mend {
	var out []finding.Mend
	for _, bus := range c.BusesFrom(source, -1) {
		out = append(out, rehangMend(c, feeders, func(f int32) (finding.Change, string) { return c.RehangFrom(f, bus, layout.A, layout.B) }))
	}
	if len(out) == 0 {
		return busMends(c, feeders, source)
	}
	return append(out[:min(len(out), mostBuses)], busMends(c, feeders, source)...)
}

// mostBuses is how many buses of a source are tried.
const mostBuses = 3

// busMends hang the buses of some feeders from a source, or those that these hang from.
func busMends(c *rule.Case, feeders []int32, source int32) []finding.Mend {
	kind, ok := sourceKind(c, source)
	if !ok {
		return nil
	}
	var own, top []int32
	for _, f := range feeders {
		for _, t := range c.L.Feeders[f].From {
			if t.Bus < 0 {
				return nil
			}
			if c.L.Buses[t.Bus].Legs == layout.LegsBoth {
				own = append(own, t.Bus)
			}
			if bus := topBus(c, t.Bus); c.L.Buses[bus].Legs == layout.LegsBoth {
				top = append(top, bus)
			}
		}
	}
	var out []finding.Mend
	for _, buses := range [2][]int32{own, top} {
		slices.Sort(buses)
		if buses = slices.Compact(buses); len(buses) == 0 {
			continue
		}
		m := finding.Mend{Work: finding.Work{Wires: len(buses)}}
		names := make([]string, len(buses))
		for i, b := range buses {
			names[i] = "bus " + c.L.Buses[b].Name
			m.Changes = append(m.Changes, rule.SetKey("buses", c.L.Buses[b].Name, "from", kind))
		}
		m.Text = fmt.Sprintf("hang %s from %s", listText(names), c.SourceName(source))
		if len(out) == 0 || out[0].Text != m.Text {
			out = append(out, m)
		}
	}
	return out
}

// topBus is the bus that one hangs from by other buses and detectors alone, and that hangs from something else itself.
func topBus(c *rule.Case, bus int32) int32 {
	from := c.L.Buses[bus].From
	for range len(c.L.Buses) + len(c.L.Detectors) {
		switch {
		case from.Kind == layout.FromTap && from.Tap.Bus >= 0:
			bus = from.Tap.Bus
			from = c.L.Buses[bus].From
		case from.Kind == layout.FromDetector:
			from = c.L.Detectors[from.Index].From
		default:
			return bus
		}
	}
	return bus
}

// sourceKind is a source as a file has it where something hangs from it: "breaker yard".
func sourceKind(c *rule.Case, s int32) (text string, ok bool) {
	switch src := &c.C.Sources[s]; src.Kind {
	case circuit.BoosterSource:
		return "booster " + c.L.Boosters[src.Ref].Name, true
	case circuit.BreakerSource:
		return "breaker " + c.L.Breakers[src.Ref].Name, true
	case circuit.ReverserSource:
		return "reverser " + c.L.Reversers[src.Ref].Name, true
	}
	return "", false
}
