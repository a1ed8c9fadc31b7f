package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// hangMends are one more feeder at a place of a track, or near it between two bounds: like the nearest one that suits the block there, and where none does,
// like the nearest of all.
func hangMends(c *rule.Case, track int32, at, lo, hi float64, most int) []finding.Mend {
	place, ok := c.FreePlace(track, at, lo, hi)
	spot := c.SpotNear(track, at)
	if !ok || spot < 0 {
		return nil
	}
	near := c.FeedersNear(spot)
	block := c.MeantAt(track, place)
	slices.SortStableFunc(near, func(x, y rule.NearFeeder) int {
		return rank(c, x.Feeder, block) - rank(c, y.Feeder, block)
	})
	var out []finding.Mend
	var like []string
	for _, n := range near {
		if class := feedClass(c, n.Feeder); !slices.Contains(like, class) && len(out) < most {
			like = append(like, class)
			changes, from := c.HangFeeder(n, track, place)
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("hang a feeder at %s from %s", c.TrackPlace(track, place).Text, from),
				Work:    finding.Work{Wires: 1},
				Changes: changes,
			})
		}
	}
	return out
}

// rank is lower for feeders that suit a block better.
func rank(c *rule.Case, feeder, block int32) int {
	switch {
	case c.Suits(feeder, block):
		return 0
	case c.Watched(feeder, block):
		return 1
	}
	return 2
}

// feedClass names what a feeder comes from: source and detectors.
func feedClass(c *rule.Case, feeder int32) string {
	f := &c.T.Feeds[feeder]
	return fmt.Sprint(f.Source(), f.Detector)
}

// stretch is part of a track.
type stretch struct {
	track  int32
	lo, hi float64
}

// stretchesOf are the tracks that a dead stretch lies on, those first where a person gets at the most of it.
func stretchesOf(c *rule.Case, r *districts.DeadRun) []stretch {
	var out []stretch
	for _, w := range r.Ways {
		way := &c.C.Ways[w]
		if c.L.Pieces[way.Piece].Kind != layout.TrackPiece {
			continue
		}
		track := c.L.Pieces[way.Piece].Index
		lo, hi := c.C.Spots[way.A].At, c.C.Spots[way.B].At
		lo, hi = min(lo, hi), max(lo, hi)
		if k := slices.IndexFunc(out, func(s stretch) bool { return s.track == track && lo <= s.hi+1e-9 && hi >= s.lo-1e-9 }); k >= 0 {
			out[k].lo, out[k].hi = min(out[k].lo, lo), max(out[k].hi, hi)
			continue
		}
		out = append(out, stretch{track, lo, hi})
	}
	slices.SortStableFunc(out, func(x, y stretch) int {
		hx, hy := c.L.Tracks[x.track].Hidden == layout.Yes, c.L.Tracks[y.track].Hidden == layout.Yes
		switch {
		case hx != hy && hy, hx == hy && x.hi-x.lo > y.hi-y.lo+1e-9:
			return -1
		case hx != hy || y.hi-y.lo > x.hi-x.lo+1e-9:
			return 1
		}
		return 0
	})
	return out
}

// firstOf is the first stretch of a list, if there is one.
func firstOf(ss []stretch) []stretch { return ss[:min(1, len(ss))] }

// deadMends feed a dead stretch: the broken feeder mended, one more feeder at its middle, or a bond over the expansion gap that parts it.
func deadMends(c *rule.Case, r *districts.DeadRun) []finding.Mend {
	var out []finding.Mend
	if f := brokenFeeder(c, r); f >= 0 {
		out = append(out, finding.Mend{
			Text:    "mend the broken feeder at " + c.FeederPlace(f).Text,
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{{Op: finding.OpSetFeeder, Ref: f, Keys: []finding.Key{{Name: "broken", Value: "no"}}}},
		})
	}
	for _, w := range r.Bounds {
		for _, g := range gapsAt(c, w) {
			if strayGap(c, g) >= 0 {
				out = append(out, closeGapMend(c, g))
			}
		}
	}
	out = append(out, oneRailFeeders(c, r)...)
	ss := stretchesOf(c, r)
	for i, s := range ss {
		out = append(out, hangMends(c, s.track, (s.lo+s.hi)/2, s.lo, s.hi, 2)...)
		if i == 1 {
			break
		}
	}
	for _, w := range r.Bounds {
		out = append(out, bondMends(c, w)...)
	}
	if r.Length < rule.Stub { // two gaps where one is enough
		for _, w := range r.Bounds {
			out = append(out, closeMends(c, w)...)
		}
	}
	return append(out, feedAll(c)...)
}

// mostFed is how many dead stretches are fed together.
const mostFed = 4

// feedAll feeds all dead stretches at once, as those need it that hang together by blades.
func feedAll(c *rule.Case) []finding.Mend {
	var m finding.Mend
	var texts []string
	for i := range c.T.DeadRuns {
		r := &c.T.DeadRuns[i]
		if r.State[layout.Left] != districts.Dead && r.State[layout.Right] != districts.Dead {
			continue
		}
		for _, s := range firstOf(stretchesOf(c, r)) {
			if out := hangMends(c, s.track, (s.lo+s.hi)/2, s.lo, s.hi, 1); len(out) > 0 {
				texts = append(texts, out[0].Text)
				m.Work.Wires++
				m.Changes = append(m.Changes, out[0].Changes...)
			}
		}
	}
	if len(texts) < 2 || len(texts) > mostFed {
		return nil
	}
	m.Text = strings.Join(texts, "; ")
	return []finding.Mend{m}
}

// oneRailFeeders hang the other wire too of feeders that feed one rail of a stretch.
func oneRailFeeders(c *rule.Case, r *districts.DeadRun) []finding.Mend {
	var out []finding.Mend
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i]
		spot := c.C.FeederSpot[i]
		if f.Rails == layout.BothRails || f.From[layout.A].Bus < 0 && f.From[layout.B].Bus < 0 {
			continue
		}
		if slices.ContainsFunc(r.Ways, func(w int32) bool { return c.C.Ways[w].A == spot || c.C.Ways[w].B == spot }) {
			out = append(out, finding.Mend{
				Text:    "hang the other wire of the feeder at " + c.FeederPlace(int32(i)).Text + " too",
				Work:    finding.Work{Wires: 1},
				Changes: []finding.Change{{Op: finding.OpSetFeeder, Ref: int32(i), Keys: []finding.Key{{Name: "rails", Value: "both"}}}},
			})
		}
	}
	return out
}

// bondReach is how far from a gap a bond over it is soldered on: 1 in either way.
const bondReach = 0.0254

// bondMends bond both rails over an expansion gap inside a track.
func bondMends(c *rule.Case, way int32) []finding.Mend {
	w := &c.C.Ways[way]
	piece := &c.L.Pieces[c.C.Spots[w.A].Piece]
	if piece.Kind != layout.TrackPiece || c.C.Spots[w.B].Piece != c.C.Spots[w.A].Piece || w.Kind == circuit.WayPit || w.Turned {
		return nil
	}
	for _, g := range w.Gaps {
		if g < 0 || c.L.Gaps[g].Kind != layout.Expansion {
			continue
		}
		at := c.L.Gaps[g].Place.At.Mid()
		lo, hi := at-bondReach, at+bondReach
		if lo <= 0 || hi >= c.L.Tracks[piece.Index].Length.Mid() {
			return nil
		}
		return []finding.Mend{{
			Text: fmt.Sprintf("bond both rails over the expansion gap at %s with 4 in (102 mm) of 18 AWG (0.823 mm²) wire each, slack enough for the gap to work", c.GapPlace(g).Text),
			Work: finding.Work{Wires: 1},
			Changes: []finding.Change{{Op: finding.OpAddItem, Section: "bonds", Value: fmt.Sprintf("{from: %s @ %s, to: %s @ %s, rails: both, wire: 18 AWG, length: 4 in}",
				piece.Name, c.L.Spell(lo), piece.Name, c.L.Spell(hi))}},
		}}
	}
	return nil
}

// sideMends hang a feeder on the side of track work or of a gap that a walk from a spot goes along, not passing some way: as far out as 12 in, or in the middle.
func sideMends(c *rule.Case, spot, not int32, metres float64) []finding.Mend {
	seen := map[int32]bool{}
	walked := 0.0
	for range c.C.Ways {
		next := int32(-1)
		for _, w := range c.T.Ways.Of(spot) {
			if way := &c.C.Ways[w]; w != not && !seen[w] && (way.Kind == circuit.WayTrack || way.Kind == circuit.WayJoint) {
				next = w
			}
		}
		if next < 0 || walked > metres {
			return nil
		}
		seen[next] = true
		way := &c.C.Ways[next]
		to := way.A + way.B - spot
		if way.Kind == circuit.WayTrack {
			track := c.L.Pieces[way.Piece].Index
			from, end := c.C.Spots[spot].At, c.C.Spots[to].At
			at := from + min(feederBeside, math.Abs(end-from)/2)
			if end < from {
				at = from - min(feederBeside, math.Abs(end-from)/2)
			}
			if out := hangMends(c, track, at, min(from, end), max(from, end), 2); len(out) > 0 {
				return out
			}
		}
		walked += way.Length
		spot = to
	}
	return nil
}

// spanMends hang a feeder in the middle of each part of a stretch, the longest alone first; every says how far one reaches in all.
func spanMends(c *rule.Case, s *railSpan, every float64) []finding.Mend {
	all := finding.Mend{}
	var texts []string
	var single []finding.Mend
	spans := slices.Clone(s.spans)
	slices.SortStableFunc(spans, func(x, y districts.Interval) int { return cmp.Compare(y.To-y.From, x.To-x.From) })
	for i, x := range spans {
		n := 1.0
		if every > 0 {
			n = math.Max(1, math.Ceil((x.To-x.From)/every-1e-9))
		}
		reach := (x.To - x.From) / n
		for k := range int(n) {
			at := apart(c, x.Track, x.From+reach*(float64(k)+0.5), reach)
			out := hangMends(c, x.Track, at, at-reach/2, at+reach/2, 2)
			if len(out) == 0 {
				continue
			}
			if i == 0 && n == 1 {
				single = out
			}
			all.Work.Wires++
			all.Changes = append(all.Changes, out[0].Changes...)
			texts = append(texts, out[0].Text)
		}
	}
	if len(all.Changes) > 1 {
		all.Text = strings.Join(texts, "; ")
		return append(single, all)
	}
	if len(single) == 0 && len(all.Changes) == 1 {
		all.Text = texts[0]
		return []finding.Mend{all}
	}
	return single
}

// apart is a place in the middle of a reach of track, or where a feeder stands near that, in the middle of one half.
func apart(c *rule.Case, track int32, middle, reach float64) float64 {
	for i := range c.L.Feeders {
		f := &c.L.Feeders[i].Place
		if f.Piece == c.L.Tracks[track].Piece && f.End < 0 && math.Abs(f.At.Mid()-middle) < reach/8 {
			return middle + reach/4
		}
	}
	return middle
}

// longFeederMends make most of a long feeder a bus of thicker wire, one for each leg where they come from two places, and hang the feeder from its end.
func longFeederMends(c *rule.Case, feeder int32) []finding.Mend {
	f := &c.L.Feeders[feeder]
	a, b := &f.From[layout.A], &f.From[layout.B]
	if a.Bus < 0 || b.Bus < 0 || f.Length.Hi <= shortFeeder+feederLeast || f.Place.Piece < 0 || c.L.Pieces[f.Place.Piece].Kind != layout.TrackPiece {
		return nil
	}
	length := c.L.Handy(f.Length.Hi - shortFeeder)
	m := finding.Mend{Work: finding.Work{Wires: 2}}
	keys := []finding.Key{{Name: "length", Value: c.L.Spell(shortFeeder)}}
	var taken []string
	run := func(tap *layout.Tap, legs, key, more string) bool {
		bus := &c.L.Buses[tap.Bus]
		if !bus.Wire.Known() {
			return false
		}
		name := freeName("to-"+c.L.Pieces[f.Place.Piece].Name+legs, func(name string) bool {
			return slices.Contains(taken, name) || slices.ContainsFunc(c.L.Buses, func(x layout.Bus) bool { return sameName(x.Name, name) })
		})
		taken = append(taken, name)
		m.Text += fmt.Sprintf("run bus %s, %s of %s, from bus %s @ %s to below %s; ",
			name, quantity.FormatLength(length), rule.WireText(bus.Wire), bus.Name, quantity.FormatLength(tap.At.Mid()), c.FeederPlace(feeder).Text)
		value := fmt.Sprintf("{from: %s, wire: %s%s, length: %s}", c.TapText(tap.Bus, tap.At.Mid()), bus.Wire, more, c.L.Spell(length))
		m.Changes = append(m.Changes, finding.Change{Op: finding.OpAdd, Section: "buses", Name: name, Value: value})
		keys = append(keys, finding.Key{Name: key, Value: name + " @ " + c.L.Spell(length)})
		return true
	}
	if a.Text == b.Text {
		if !run(a, "", "from", ", laid: twisted") {
			return nil
		}
	} else if !run(a, "-A", "A-from", ", legs: A") || !run(b, "-B", "B-from", ", legs: B") {
		return nil
	}
	m.Text += "hang the feeder from the end of that by " + quantity.FormatLength(shortFeeder) + " of wire"
	m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetFeeder, Ref: feeder, Keys: keys})
	return []finding.Mend{m}
}

// shortFeeder is how long a feeder is made that was too long: 8 in. Common practice, no source.
const shortFeeder = 0.2032

// sameName reports whether two names clash: they differ by case or by - and _ only.
func sameName(x, y string) bool {
	return strings.EqualFold(strings.ReplaceAll(x, "_", "-"), strings.ReplaceAll(y, "_", "-"))
}

// freeName is a name that is not taken, like one that is wanted.
func freeName(want string, taken func(name string) bool) string {
	want = strings.ReplaceAll(want, "/", "-")
	name := want
	for n := 2; taken(name); n++ {
		name = fmt.Sprintf("%s-%d", want, n)
	}
	return name
}

// thickFeederMends make a feeder of 22 AWG or thicker.
func thickFeederMends(c *rule.Case, feeder int32) []finding.Mend {
	f := &c.L.Feeders[feeder]
	var out []finding.Mend
	for _, to := range c.Thicker(f.Wire, true) {
		if to.Lo < quantity.AWGArea(22)*(1-1e-6) {
			continue
		}
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("make the feeder at %s of %s", c.FeederPlace(feeder).Text, rule.WireText(to)),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{{Op: finding.OpSetFeeder, Ref: feeder, Keys: []finding.Key{{Name: "wire", Value: to.String()}}}},
		})
	}
	return out
}

// pointMends hang a feeder near a point of track.
func pointMends(c *rule.Case, p *power.Point) []finding.Mend {
	if p.Way < 0 || c.L.Pieces[c.C.Ways[p.Way].Piece].Kind != layout.TrackPiece {
		return nil
	}
	way := &c.C.Ways[p.Way]
	a, b := c.C.Spots[way.A].At, c.C.Spots[way.B].At
	return hangMends(c, c.L.Pieces[way.Piece].Index, p.At, min(a, b), max(a, b), 2)
}
