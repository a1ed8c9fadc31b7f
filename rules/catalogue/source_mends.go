package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// bondOffMends take a bond off that joins what should be apart.
func bondOffMends(c *rule.Case, bond int32) []finding.Mend {
	b := &c.L.Bonds[bond]
	return []finding.Mend{{
		Text:    fmt.Sprintf("take the bond from %s to %s off", c.Place(b.From).Text, c.Place(b.To).Text),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{{Op: finding.OpRemoveItem, Section: "bonds", Ref: bond}},
	}}
}

// openBusMends end a bus open that comes back to a bus.
func openBusMends(c *rule.Case, bus int32) []finding.Mend {
	b := &c.L.Buses[bus]
	if b.Returns.Bus < 0 {
		return nil
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("take the far end of bus %s off bus %s, and leave it open", b.Name, c.L.Buses[b.Returns.Bus].Name),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{{Op: finding.OpUnset, Section: "buses", Name: b.Name, Keys: []finding.Key{{Name: "to"}}}},
	}}
}

// phaseMends turn a booster's signal, or the two wires of each of its feeders.
func phaseMends(c *rule.Case, booster int32) []finding.Mend {
	out := signalMends(c, booster)
	for i := range c.T.Polarity.Others {
		if o := &c.T.Polarity.Others[i]; len(o.Signals) == 1 && len(o.Feeders)+len(o.Gaps)+len(o.Plugs)+len(o.Rails) == 0 && o.Signals[0] != booster {
			out = append(out, signalMends(c, o.Signals[0])...)
		}
	}
	return append(out, otherMends(c)...)
}

// signalMends swap the signal wires of a booster.
func signalMends(c *rule.Case, booster int32) []finding.Mend {
	b := &c.L.Boosters[booster]
	word := map[layout.SignalWiring]string{layout.SignalStraight: "crossed", layout.SignalCrossed: "straight"}[b.SignalWired]
	if word == "" {
		return nil
	}
	return []finding.Mend{{
		Text:    "swap the two signal wires of booster " + b.Name + ", and leave its output as it is",
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{rule.SetKey("boosters", b.Name, "signal-wired", word)},
	}}
}

// commonMends join the commons of boosters with a wire, of the gauge that others have.
func commonMends(c *rule.Case, boosters []int32) []finding.Mend {
	names := make([]string, len(boosters))
	for i, b := range boosters {
		names[i] = c.L.Boosters[b].Name
	}
	wire := "14 AWG"
	for i := range c.L.Commons {
		if w := c.L.Commons[i].Wire; w.Known() {
			wire = w.String()
		}
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("join the commons of boosters %s with a wire of %s, at the terminals that their makers name", strings.Join(names, ", "), wire),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{{Op: finding.OpAddItem, Section: "commons", Value: "{joins: [" + strings.Join(names, ", ") + "], wire: " + wire + "}"}},
	}}
}

// commonOffMends take a common wire off.
func commonOffMends(c *rule.Case, common *layout.Common) []finding.Mend {
	for i := range c.L.Commons {
		if &c.L.Commons[i] == common {
			return []finding.Mend{{
				Text:    "take this common wire off",
				Work:    finding.Work{Wires: 1},
				Changes: []finding.Change{{Op: finding.OpRemoveItem, Section: "commons", Ref: int32(i)}},
			}}
		}
	}
	return nil
}

// voltsMends set a booster to the volts of another.
func voltsMends(c *rule.Case, booster int32, others []int32) []finding.Mend {
	var out []finding.Mend
	for _, pair := range [2]bool{true, false} {
		for _, o := range others {
			set, like := booster, o
			if !pair {
				set, like = o, booster
			}
			v := c.L.Boosters[like].Volts
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("set booster %s to %s, as booster %s", c.L.Boosters[set].Name, v, c.L.Boosters[like].Name),
				Work:    finding.Work{Settings: 1},
				Changes: []finding.Change{rule.SetKey("boosters", c.L.Boosters[set].Name, "volts", v.Text)},
			})
		}
	}
	return out
}

// bothLegsMends let breakers and reversers open both legs.
func bothLegsMends(c *rule.Case, sources ...int32) []finding.Mend {
	var ms []finding.Mend
	for _, s := range sources {
		change, ok := setSource(c, s, "opens", "both")
		if !ok {
			return nil
		}
		ms = append(ms, finding.Mend{Text: "put one in place of " + c.SourceName(s) + " that opens both legs", Work: finding.Work{Devices: 1}, Changes: []finding.Change{change}})
	}
	if len(ms) < 2 {
		return ms
	}
	return append(slices.Clone(ms), together(ms...))
}

// changeoverMends put a changeover in place of one, of which keys are otherwise.
func changeoverMends(x *layout.Changeover, text string, keys ...finding.Key) []finding.Mend {
	return []finding.Mend{{
		Text:    fmt.Sprintf("put a changeover in place of %s that %s", x.Name, text),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSet, Section: "changeovers", Name: x.Name, Keys: keys}},
	}}
}

// oneGapMends cut both rails at one of two places in which one rail each is cut, and close the other.
func oneGapMends(c *rule.Case, gaps [2]int32) []finding.Mend {
	var out []finding.Mend
	for i, stays := range gaps {
		goes := gaps[1-i]
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("cut the other rail at %s too, opposite the first cut, and close the cut at %s with a piece of rail soldered in", c.GapPlace(stays).Text, c.GapPlace(goes).Text),
			Work:    finding.Work{Cuts: 2},
			Changes: []finding.Change{rule.WholeGap(stays), rule.CloseGap(goes)},
		})
	}
	return out
}

// longerSectionMends move an end gap of a reversing section outwards by what it lacks and some more, each end in turn, or both, each by half of it.
func longerSectionMends(c *rule.Case, r *districts.ReversingSection, lacks float64) []finding.Mend {
	metres := lacks + trainSpare
	var out []finding.Mend
	for _, way := range r.Ends {
		out = append(out, outwardMends(c, way, r.Section, metres)...)
	}
	for _, x := range first(outwardMends(c, r.Ends[0], r.Section, metres/2)) {
		for _, y := range first(outwardMends(c, r.Ends[1], r.Section, metres/2)) {
			out = append(out, together(x, y))
		}
	}
	return out
}

// chainMends move the gap at either end of sections one behind the other outwards.
func chainMends(c *rule.Case, s *districts.Straddle) []finding.Mend {
	var out []finding.Mend
	for _, way := range [2]int32{s.Places[0], s.Places[len(s.Places)-1]} {
		w := &c.C.Ways[way]
		for i := range c.T.Reversing {
			r := &c.T.Reversing[i]
			if inside := [2]bool{c.T.Polarity.Sections.Of[w.A] == r.Section, c.T.Polarity.Sections.Of[w.B] == r.Section}; inside[0] != inside[1] && slices.Contains(s.Between, r.Source) {
				out = append(out, outwardMends(c, way, r.Section, s.Reach-s.Span+trainSpare)...)
			}
		}
	}
	return out
}

// outwardMends move a gap away from a section.
func outwardMends(c *rule.Case, way, section int32, metres float64) []finding.Mend {
	w := &c.C.Ways[way]
	inside := w.A
	if c.T.Polarity.Sections.Of[inside] != section {
		inside = w.B
	}
	for _, g := range gapsAt(c, way) {
		gap := &c.L.Gaps[g]
		if gap.Place.End >= 0 || c.L.Pieces[gap.Place.Piece].Kind != layout.TrackPiece || c.C.Spots[inside].Piece != gap.Place.Piece {
			continue
		}
		spots := c.C.TrackSpots[c.L.Pieces[gap.Place.Piece].Index]
		if slices.Index(spots, inside) > slices.Index(spots, w.A+w.B-inside) {
			at := gap.Place.At.Mid() - metres
			return shiftOut(c, g, at, at-besideWork, at)
		}
		at := gap.Place.At.Mid() + metres
		return shiftOut(c, g, at, at, at+besideWork)
	}
	return nil
}

// shiftOut moves an end gap of a reversing section along its track, and hangs the feeders that it passes like the next one inside, with their wires the
// way round that the section needs; once as it is, and once with a feeder beyond the new gap in place of those.
func shiftOut(c *rule.Case, gap int32, at, lo, hi float64) []finding.Mend {
	g := &c.L.Gaps[gap]
	track, was := c.L.Pieces[g.Place.Piece].Index, g.Place.At.Mid()
	to, ok := c.FreePlace(track, at, lo, hi)
	if !ok {
		return nil
	}
	m := finding.Mend{
		Text:    fmt.Sprintf("cut both rails at %s, and close the gap at %s with a piece of rail soldered in", c.TrackPlace(track, to).Text, c.GapPlace(gap).Text),
		Work:    finding.Work{Cuts: 4},
		Changes: []finding.Change{c.MoveGap(gap, to)},
	}
	inside, passed := int32(-1), []int32{}
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		if f.Place.Piece != g.Place.Piece || f.Place.End >= 0 || !f.Place.At.Known() || c.T.Feeds[i].Source() < 0 {
			continue
		}
		x := f.Place.At.Mid()
		switch {
		case (x-was)*(x-to) < 0:
			passed = append(passed, int32(i))
		case (x-was)*(was-to) > 0 && (inside < 0 || math.Abs(x-was) < math.Abs(c.L.Feeders[inside].Place.At.Mid()-was)):
			inside = int32(i)
		}
	}
	if inside < 0 {
		return []finding.Mend{m}
	}
	for _, f := range passed {
		change, words := c.RehangLike(f, inside, layout.A, layout.B)
		if len(change.Keys) == 0 {
			continue
		}
		if own := c.L.Feeders[f].ARail; own != c.L.Feeders[inside].ARail {
			change.Keys = append(change.Keys, c.SwapFeeder(f).Keys...)
			words += ", with its two wires swapped"
		}
		m.Text += fmt.Sprintf("; hang the feeder at %s %s", c.FeederPlace(f).Text, words)
		m.Work.Wires++
		m.Changes = append(m.Changes, change)
	}
	out := []finding.Mend{m}
	if len(passed) == 0 {
		return out
	}
	end := c.L.Tracks[track].Length.Mid()
	if to < was {
		end = 0
	}
	if beyond, free := c.FreePlace(track, (to+end)/2, min(to, end), max(to, end)); free {
		like := passed[0]
		out = append(out, finding.Mend{
			Text:    m.Text + fmt.Sprintf("; hang a feeder at %s, as the one at %s was", c.TrackPlace(track, beyond).Text, c.FeederPlace(like).Text),
			Work:    finding.Work{Cuts: m.Work.Cuts, Wires: m.Work.Wires + 1},
			Changes: append(slices.Clone(m.Changes), c.FeederLike(like, track, beyond, c.L.Feeders[like].ARail)),
		})
	}
	return out
}

// splitMends turn the split of a turntable's ring to where it serves all tracks, and swap the wires to the bridge.
func splitMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	piece := &c.L.Pieces[p]
	section, rail := "turntables", layout.Left
	switch piece.Kind {
	case layout.TurntablePiece:
		rail = c.L.Turntables[piece.Index].ARail
	case layout.TransferTablePiece:
		section, rail = "transfer-tables", c.L.TransferTables[piece.Index].ARail
	default:
		return nil
	}
	out := []finding.Mend{{
		Text:    "swap the two wires to the bridge of " + piece.Name,
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{rule.SetKey(section, piece.Name, "A", [2]string{"left", "right"}[rail.Other()])},
	}}
	if piece.Kind != layout.TurntablePiece || !c.L.Turntables[piece.Index].SplitRing {
		return out
	}
	var angles []float64
	for _, x := range c.L.Turntables[piece.Index].TrackAngle {
		if x.Known() {
			angles = append(angles, x.Mid())
		}
	}
	for _, at := range widestGaps(angles) {
		text := strconv.FormatFloat(at, 'f', -1, 64) + " deg"
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("turn the split of the ring of %s to %s, where no track lies", piece.Name, text),
			Work:    finding.Work{Settings: 1},
			Changes: []finding.Change{rule.SetKey(section, piece.Name, "split-at", text)},
		})
	}
	return out
}

// widestGaps are the middles of the widest arcs of half a circle in which, and opposite which, no track lies, in degrees.
func widestGaps(angles []float64) []float64 {
	const half, most = 180, 4
	var folded []float64
	for _, a := range angles {
		folded = append(folded, a-half*float64(int(a/half)))
	}
	slices.Sort(folded)
	type arc struct{ at, wide float64 }
	var arcs []arc
	for i, a := range folded {
		next := folded[(i+1)%len(folded)]
		if i+1 == len(folded) {
			next += half
		}
		if next > a {
			arcs = append(arcs, arc{(a + next) / 2, next - a})
		}
	}
	slices.SortStableFunc(arcs, func(x, y arc) int { return cmp.Compare(y.wide, x.wide) })
	var out []float64
	for _, a := range arcs[:min(most, len(arcs))] {
		at := a.at
		if at >= half {
			at -= half
		}
		out = append(out, at, at+half)
	}
	return out
}

// keyedMends let a plug fit one way only.
func keyedMends(p *layout.Plug) []finding.Mend {
	var out []finding.Mend
	for _, legs := range [2]string{"straight", "crossed"} {
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("key plug %s so that it fits one way only, legs %s", p.Name, legs),
			Work:    finding.Work{Devices: 1},
			Changes: []finding.Change{rule.SetKey("plugs", p.Name, "legs", legs)},
		})
	}
	return out
}
