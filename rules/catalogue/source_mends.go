package catalogue

import (
	"cmp"
	"fmt"
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
	b := &c.L.Boosters[booster]
	var out []finding.Mend
	word := ""
	switch b.SignalWired {
	case layout.SignalStraight:
		word = "crossed"
	case layout.SignalCrossed:
		word = "straight"
	}
	if word != "" {
		out = append(out, finding.Mend{
			Text:    "swap the two signal wires of booster " + b.Name + ", and leave its output as it is",
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{rule.SetKey("boosters", b.Name, "signal-wired", word)},
		})
	}
	return append(out, otherMends(c)...)
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

// longerSectionMends move an end gap of a reversing section outwards by what it lacks and some more, each end in turn.
func longerSectionMends(c *rule.Case, r *districts.ReversingSection, lacks float64) []finding.Mend {
	var out []finding.Mend
	for _, way := range r.Ends {
		w := &c.C.Ways[way]
		for _, g := range gapsAt(c, way) {
			gap := &c.L.Gaps[g]
			if gap.Place.End >= 0 || c.L.Pieces[gap.Place.Piece].Kind != layout.TrackPiece {
				continue
			}
			away := lacks + trainSpare
			inside := w.A
			if c.T.Polarity.Sections.Of[w.A] != r.Section {
				inside = w.B
			}
			if c.C.Spots[inside].Piece == gap.Place.Piece && slices.Index(c.C.TrackSpots[c.L.Pieces[gap.Place.Piece].Index], inside) > slices.Index(c.C.TrackSpots[c.L.Pieces[gap.Place.Piece].Index], w.A+w.B-inside) {
				away = -away
			}
			at := gap.Place.At.Mid() + away
			lo, hi := at-trainSpare/2, at+besideWork
			if away < 0 {
				lo, hi = at-besideWork, at+trainSpare/2
			}
			out = append(out, shiftMends(c, g, at, lo, hi)...)
			break
		}
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
