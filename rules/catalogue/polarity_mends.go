package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// meterAfterSwap is how a meter shows that feeders stand right: common practice, no source.
const meterAfterSwap = ". Then, with everything off, a meter on ohms from rail to rail must not read near 0"

// swapMends exchange the two wires of some feeders, all of them together.
func swapMends(c *rule.Case, feeders []int32, text string) []finding.Mend {
	if len(feeders) == 0 {
		return nil
	}
	m := finding.Mend{Text: text, Work: finding.Work{Wires: len(feeders)}}
	for _, f := range feeders {
		m.Changes = append(m.Changes, c.SwapFeeder(f))
	}
	return []finding.Mend{m}
}

// crossedFeederMends swap a feeder; what would account for the same contradictions otherwise comes after it.
func crossedFeederMends(c *rule.Case, f int32) []finding.Mend {
	feeder := &c.L.Feeders[f]
	out := swapMends(c, []int32{f}, fmt.Sprintf("swap the two wires of the feeder at %s at the rails, so that %s comes to the %s rail%s",
		c.Place(feeder.Place).Text, c.LegWord(layout.A), c.RailWord(feeder.ARail.Other()), meterAfterSwap))
	return append(out, otherMends(c)...)
}

// otherMends are the other explanations of crossed wires, as changes: those that feeders and plugs make up.
func otherMends(c *rule.Case) []finding.Mend {
	var out []finding.Mend
	p := c.T.Polarity
	for i := range p.Others {
		o := &p.Others[i]
		if len(o.Feeders)+len(o.Plugs) == 0 || len(o.Gaps)+len(o.Signals) > 0 {
			continue
		}
		m := finding.Mend{Work: finding.Work{Wires: len(o.Feeders) + len(o.Plugs)}}
		var words []string
		for _, f := range o.Feeders {
			words = append(words, "the feeder at "+c.Place(c.L.Feeders[f].Place).Text)
			m.Changes = append(m.Changes, c.SwapFeeder(f))
		}
		for _, plug := range o.Plugs {
			words = append(words, "plug "+c.L.Plugs[plug].Name)
			m.Changes = append(m.Changes, turnPlug(c, plug))
		}
		m.Text = "swap the two wires of " + strings.Join(words, " and of ") + meterAfterSwap
		out = append(out, m)
	}
	return out
}

// turnPlug makes the legs of a plug straight that are crossed, and the other way round.
func turnPlug(c *rule.Case, plug int32) finding.Change {
	p := &c.L.Plugs[plug]
	legs := "crossed"
	if p.Legs == layout.PlugCrossed {
		legs = "straight"
	}
	return rule.SetKey("plugs", p.Name, "legs", legs)
}

// mismatchMends swap what feeds one side of a gap over which wheels join opposite legs; the side with fewer feeders first.
func mismatchMends(c *rule.Case, way int32, feeders []int32) []finding.Mend {
	w := &c.C.Ways[way]
	sides := [2][]int32{feedersOfSection(c, w.A), feedersOfSection(c, w.B)}
	if len(sides[1]) < len(sides[0]) {
		sides[0], sides[1] = sides[1], sides[0]
	}
	var out []finding.Mend
	seen := [][]int32{}
	for _, side := range append([][]int32{feeders}, sides[:]...) {
		if len(side) == 0 || slices.ContainsFunc(seen, func(s []int32) bool { return slices.Equal(s, side) }) {
			continue
		}
		seen = append(seen, side)
		out = append(out, swapMends(c, side, fmt.Sprintf("swap the two wires of each feeder on one side, at %s%s", feedersText(c, side), meterAfterSwap))...)
	}
	return append(out, otherMends(c)...)
}

// feedersOfSection lists the feeders of the metal that a spot is on.
func feedersOfSection(c *rule.Case, spot int32) []int32 {
	section := c.T.Polarity.Sections.Of[spot]
	var out []int32
	for i := range c.T.Feeds {
		if s := c.T.Feeds[i].Spot; s >= 0 && c.T.Polarity.Sections.Of[s] == section {
			out = append(out, int32(i))
		}
	}
	return out
}

// wholeGapMends cut at a way the rail that a gap in one rail leaves whole.
func wholeGapMends(c *rule.Case, way int32) []finding.Mend {
	w := &c.C.Ways[way]
	for _, g := range w.Gaps {
		if g < 0 {
			continue
		}
		whole := layout.Left
		if w.Metal[layout.Left] == circuit.Open {
			whole = layout.Right
		}
		return []finding.Mend{{
			Text: fmt.Sprintf("cut the %s rail at %s too, opposite the cut in the %s rail, and fill the cut",
				c.RailWord(whole), c.GapPlace(g).Text, c.RailWord(whole.Other())),
			Work:    finding.Work{Cuts: 1},
			Changes: []finding.Change{rule.WholeGap(g)},
		}}
	}
	return nil
}

// strayFeederMends hang a feeder like the nearest one of the source that feeds the rails around it, or from a bus of that source.
func strayFeederMends(c *rule.Case, feeder, source int32) []finding.Mend {
	var out []finding.Mend
	add := func(change finding.Change, words string) {
		m := finding.Mend{
			Text:    fmt.Sprintf("hang the feeder at %s %s instead", c.Place(c.L.Feeders[feeder].Place).Text, words),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{change},
		}
		if len(change.Keys) > 0 && !slices.ContainsFunc(out, func(x finding.Mend) bool { return x.Text == m.Text }) {
			out = append(out, m)
		}
	}
	if spot := c.T.Feeds[feeder].Spot; spot >= 0 {
		for _, n := range c.FeedersNear(spot) {
			if n.Feeder != feeder && c.T.Feeds[n.Feeder].Source() == source && len(out) < 2 {
				add(c.RehangLike(feeder, n.Feeder, layout.A, layout.B))
			}
		}
	}
	for _, bus := range c.BusesFrom(source, -1) {
		add(c.RehangFrom(feeder, bus, layout.A, layout.B))
	}
	return out
}

// tieMends part two sources that metal ties: by a cut where blocks are meant to meet, by cuts on the track between the feeders of both, or
// by hanging the feeder that stands alone from the bus of the others.
func tieMends(c *rule.Case, t *districts.Tie) []finding.Mend {
	if t.Feeder >= 0 {
		return strayFeederMends(c, t.Feeder, t.Classes[1])
	}
	var out []finding.Mend
	if districts.HalfGap(&c.C.Ways[t.Cut]) {
		out = wholeGapMends(c, t.Cut)
	}
	if track, at, lo, hi, ok := c.CutSpan(t); ok {
		for _, want := range [3]float64{at, hi - (hi-lo)/8, lo + (hi-lo)/8} {
			for _, m := range cutMends(c, track, want, lo, hi) {
				if m.Text += apartTest(c, t.Classes); !slices.ContainsFunc(out, func(x finding.Mend) bool { return x.Text == m.Text }) {
					out = append(out, m)
				}
			}
		}
	}
	for side, near := range t.Near {
		if near >= 0 && c.OnlyFeeder(near) {
			out = append(out, strayFeederMends(c, near, t.Classes[1-side])...)
		}
	}
	return out
}

// frogCutMends part the metal frog of a turnout from the rails beyond: the inner rail of both legs, of the one leg, or of the other, is cut just
// beyond the frog, and fed from what lies beyond.
func frogCutMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece || len(piece.Ends) < 3 {
		return nil
	}
	var out []finding.Mend
	for _, ends := range [][]int32{{1}, {2}, {1, 2}} {
		m := finding.Mend{}
		var names []string
		for _, e := range ends {
			k := slices.IndexFunc(c.L.Gaps, func(g layout.Gap) bool { return g.Place.Piece == p && g.Place.End == e })
			switch {
			case k < 0:
				m.Changes = append(m.Changes, c.CutEnd(p, e, layout.InnerRail))
			case c.L.Gaps[k].Rails == outerRail(c, p, e):
				m.Changes = append(m.Changes, rule.WholeGap(int32(k)))
			default:
				continue
			}
			names = append(names, piece.Ends[e].Name)
			m.Work.Cuts++
		}
		if len(names) != len(ends) {
			continue
		}
		legs := "the " + names[0] + " leg"
		if len(names) > 1 {
			legs = "both legs"
		}
		m.Text = fmt.Sprintf("cut the inner rail of %s of %s just beyond its frog, on the side away from the points (the inner rail is the one that comes out of the frog), and fill the cut; what lies beyond has feeders of its own. "+
			"Before: with everything off and all trains off the track, a meter on ohms from rail to rail beyond %s reads near 0. After: it must not, whichever way %s is thrown", legs, piece.Name, piece.Name, piece.Name)
		out = append(out, m)
	}
	return out
}

// outerRail is the rail of a turnout's leg that does not come out of its frog.
func outerRail(c *rule.Case, p layout.PieceID, end int32) layout.RailSet {
	piece := &c.L.Pieces[p]
	if end == c.L.Turnouts[piece.Index].Hand.LegLeft() {
		return layout.LeftRail
	}
	return layout.RightRail
}
