package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// gapMend gives keys of a gap their values.
func gapMend(text string, work finding.Work, gap int32, keys ...finding.Key) finding.Mend {
	return finding.Mend{Text: text, Work: work, Changes: []finding.Change{{Op: finding.OpSetGap, Ref: gap, Keys: keys}}}
}

// fillMends fill a gap with styrene.
func fillMends(c *rule.Case, gap int32) []finding.Mend {
	text := fmt.Sprintf("glue 0.040 in (1 mm) styrene into the gap at %s and file it to the rail", c.GapPlace(gap).Text)
	return []finding.Mend{gapMend(text, finding.Work{Settings: 1}, gap, finding.Key{Name: "fill", Value: "styrene"})}
}

// widenMends make a gap as wide as what moves asks for, or fill an insulated one so that it cannot close.
func widenMends(c *rule.Case, gap int32, moves float64) []finding.Mend {
	var out []finding.Mend
	if c.L.Gaps[gap].Kind == layout.Insulated {
		out = fillMends(c, gap)
	}
	const step = 0.0001
	width := math.Ceil(moves/step+1) * step
	text := fmt.Sprintf("cut the gap at %s %s wide in the middle of the season", c.GapPlace(gap).Text, quantity.FormatLength(width))
	return append(out, gapMend(text, finding.Work{Cuts: 2}, gap, finding.Key{Name: "width", Value: fmt.Sprintf("%.1f mm", width*1000)}))
}

// firmMends move a gap in a lift-out to the joint at the nearer end of it, where the rails are held, or to the other.
func firmMends(c *rule.Case, gap int32) []finding.Mend {
	g := &c.L.Gaps[gap]
	track := c.L.Pieces[g.Place.Piece].Index
	length := c.L.Tracks[track].Length.Mid()
	ends := [2]string{"start", "end"}
	if g.Place.At.Mid() > length/2 {
		ends = [2]string{"end", "start"}
	}
	var out []finding.Mend
	for _, end := range ends {
		out = append(out, finding.Mend{
			Text: fmt.Sprintf("close the gap at %s with a piece of rail soldered in, and part the rails at the %s of %s instead, where they are held",
				c.GapPlace(gap).Text, end, c.L.Tracks[track].Name),
			Work:    finding.Work{Cuts: 2},
			Changes: []finding.Change{{Op: finding.OpMoveGap, Ref: gap, Where: end}},
		})
	}
	return append(out, finding.Mend{
		Text:    fmt.Sprintf("close the gap at %s with a piece of rail soldered in", c.GapPlace(gap).Text),
		Work:    finding.Work{Cuts: 1},
		Changes: []finding.Change{rule.CloseGap(gap)},
	})
}

// foulingMends move the gaps on a turnout's leg so that they are as far out as asked, away from it or nearer to it.
func foulingMends(c *rule.Case, g *districts.LegGap, end int32, from, to float64) []finding.Mend {
	if end < 0 || c.L.Pieces[c.C.Spots[g.Near].Piece].Kind != layout.TrackPiece {
		return nil
	}
	var out []finding.Mend
	for _, gap := range gapsAt(c, g.Way) {
		place := &c.L.Gaps[gap].Place
		if place.End >= 0 {
			continue
		}
		// the ruler rises away from the turnout where the near side of the gap is the lower one
		at := place.At.Mid()
		w := &c.C.Ways[g.Way]
		sign := 1.0
		if far := w.A + w.B - g.Near; c.C.Spots[far].At < c.C.Spots[g.Near].At || c.C.Spots[far].At == c.C.Spots[g.Near].At && far == w.A {
			sign = -1
		}
		lo, hi := at+sign*(from-g.Metres), at+sign*(to-g.Metres)
		middle := (lo + hi) / 2
		out = append(out, shiftMends(c, gap, middle, min(lo, hi), max(lo, hi))...)
	}
	return out
}

// mostCuts is how many expansion gaps one mend cuts.
const mostCuts = 8

// expandMends cut as many expansion gaps as a run needs, evenly: with a bond across each, which needs no feeder, or, where one is enough, open with a
// feeder on either side.
func expandMends(c *rule.Case, s *railSpan, moves float64) []finding.Mend {
	n := int(math.Ceil(moves/jointPlay-1e-9)) - 1
	if n < 1 || n > mostCuts || s.length() <= 0 {
		return nil
	}
	var bonded finding.Mend
	var texts []string
	var out []finding.Mend
	for k := range n {
		track, at := s.reading(s.length() * float64(k+1) / float64(n+1))
		reach := s.length() / float64(n+1) / 50
		place, ok := c.FreePlace(track, at, at-reach, at+reach)
		if !ok {
			return nil
		}
		bonded.Changes = append(bonded.Changes, expansionCut(c, track, place, "bonded"))
		bonded.Work.Cuts += 2
		bonded.Work.Wires += 2
		texts = append(texts, c.TrackPlace(track, place).Text)
		if n == 1 {
			m := finding.Mend{Text: "cut an expansion gap into both rails at " + texts[0], Work: finding.Work{Cuts: 2}, Changes: []finding.Change{expansionCut(c, track, place, "cut")}}
			out = withFeeders(c, &m, track, place)
		}
	}
	bonded.Text = fmt.Sprintf("cut expansion gaps into both rails at %s, with a loop of flexible wire soldered across each", listText(texts))
	return append([]finding.Mend{bonded}, out...)
}

// expansionCut is a new expansion gap in both rails.
func expansionCut(c *rule.Case, track int32, at float64, joint string) finding.Change {
	value := "{rails: both, kind: expansion, joint: " + joint + ", fill: none}"
	return finding.Change{Op: finding.OpPlace, Section: "gaps", Piece: c.L.Tracks[track].Name, Where: c.L.Spell(at), Value: value}
}

// reading is the place so many metres along a stretch.
func (s *railSpan) reading(metres float64) (track int32, at float64) {
	for _, x := range s.spans {
		if length := x.To - x.From; metres > length {
			metres -= length
			continue
		}
		return x.Track, x.From + metres
	}
	last := s.spans[len(s.spans)-1]
	return last.Track, last.To
}

// centreMends move an expansion gap to the middle of its straight, as near to where it is as counts for the middle, or right there.
func centreMends(c *rule.Case, gap int32, run *districts.Line) []finding.Mend {
	var out []finding.Mend
	for _, r := range run.Tracks {
		length := c.L.Tracks[r.Track].Length.Mid()
		if c.L.Gaps[gap].Place.Piece != c.L.Tracks[r.Track].Piece {
			continue
		}
		a, b := r.At(c.L, 0), r.At(c.L, length)
		if a == b {
			continue
		}
		// the reading of this track at a distance along the straight
		reading := func(along float64) float64 { return (along - a) / (b - a) * length }
		for _, x := range [2]float64{run.Length / 2, run.Length * 0.3} {
			if c.L.Gaps[gap].Place.At.Known() && r.At(c.L, c.L.Gaps[gap].Place.At.Mid()) > run.Length/2 {
				x = run.Length - x
			}
			at := reading(x)
			for _, m := range shiftMends(c, gap, at, at-feederBeside, at+feederBeside) {
				out = append(out, m)
				out = append(out, withFeeders(c, &m, r.Track, at)...)
			}
		}
	}
	return out
}

// withFeeders is a mend with one more feeder on either side of a gap that it makes near a place of a track.
func withFeeders(c *rule.Case, m *finding.Mend, track int32, at float64) []finding.Mend {
	var out []finding.Mend
	for _, x := range [2]float64{at + feederBeside, at - feederBeside} {
		for _, hang := range hangMends(c, track, x, x-feederBeside/2, x+feederBeside/2, 1) {
			out = append(out, finding.Mend{
				Text:    m.Text + ", and " + hang.Text,
				Work:    finding.Work{Cuts: m.Work.Cuts, Wires: m.Work.Wires + 1},
				Changes: append(slices.Clone(m.Changes), hang.Changes...),
			})
		}
	}
	return out
}

// besideMends cut an insulated gap beside an expansion gap that parts districts, and bond that.
func besideMends(c *rule.Case, gap int32) []finding.Mend {
	g := &c.L.Gaps[gap]
	if g.Place.Piece < 0 || g.Place.End >= 0 || c.L.Pieces[g.Place.Piece].Kind != layout.TrackPiece {
		return nil
	}
	track := c.L.Pieces[g.Place.Piece].Index
	at := g.Place.At.Mid()
	var out []finding.Mend
	for _, x := range [2]float64{at + besideGap, at - besideGap} {
		place, ok := c.FreePlace(track, x, min(x, at)+feederLeast, max(x, at)+besideGap)
		if x < at {
			place, ok = c.FreePlace(track, x, x-besideGap, at-feederLeast)
		}
		if !ok {
			continue
		}
		out = append(out, finding.Mend{
			Text: fmt.Sprintf("cut both rails at %s, fill the cut, and bond the rails across the expansion gap at %s with flexible wire",
				c.TrackPlace(track, place).Text, c.GapPlace(gap).Text),
			Work: finding.Work{Cuts: 2, Wires: 2},
			Changes: []finding.Change{
				c.Cut(track, place, layout.BothRails),
				{Op: finding.OpSetGap, Ref: gap, Keys: []finding.Key{{Name: "joint", Value: "bonded"}}},
			},
		})
	}
	return out
}

// besideGap is how far from an expansion gap the insulated gap is cut that takes its place as a parting: 3 in. Common practice, no source.
const besideGap = 0.0762

// bumperMends put a bumper that does not conduct in place of one that does, or cut the rails before it.
func bumperMends(c *rule.Case, load int32) []finding.Mend {
	p := &c.L.Loads[load].Place
	out := []finding.Mend{{
		Text:    fmt.Sprintf("use a bumper at %s that does not conduct, and measure it: no less than 1 MΩ", c.Place(*p).Text),
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSetItem, Section: "loads", Ref: load, Keys: []finding.Key{{Name: "resistance", Value: "1 MΩ"}}}},
	}}
	if c.L.Pieces[p.Piece].Kind != layout.TrackPiece {
		return out
	}
	track := c.L.Pieces[p.Piece].Index
	length := c.L.Tracks[track].Length.Mid()
	at := p.At.Mid()
	switch p.End {
	case 0:
		at = 0
	case 1:
		at = length
	}
	place, lo, hi := at-besideGap, at-rule.Stub, at-feederLeast
	if at < length/2 {
		place, lo, hi = at+besideGap, at+feederLeast, at+rule.Stub
	}
	if free, ok := c.FreePlace(track, place, lo, hi); ok {
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("cut both rails at %s, before the bumper", c.TrackPlace(track, free).Text),
			Work:    finding.Work{Cuts: 2},
			Changes: []finding.Change{c.Cut(track, free, layout.BothRails)},
		})
	}
	return out
}

// helixMends cut both rails of a helix track near both its ends, where no gap is yet, and feed it.
func helixMends(c *rule.Case, track int32) []finding.Mend {
	length := c.L.Tracks[track].Length.Mid()
	var m finding.Mend
	var texts []string
	for _, at := range [2]float64{feederBeside / 2, length - feederBeside/2} {
		near := slices.ContainsFunc(c.L.Gaps, func(g layout.Gap) bool {
			return g.Kind == layout.Insulated && g.Place.Piece == c.L.Tracks[track].Piece && (g.Place.End < 0 && math.Abs(g.Place.At.Mid()-at) < 2*feederBeside)
		})
		if near {
			continue
		}
		if place, ok := c.FreePlace(track, at, 0, length); ok {
			m.Work.Cuts += 2
			m.Changes = append(m.Changes, c.Cut(track, place, layout.BothRails))
			texts = append(texts, c.TrackPlace(track, place).Text)
		}
	}
	if len(m.Changes) == 0 {
		return nil
	}
	m.Text = "cut both rails at " + strings.Join(texts, " and at ")
	out := []finding.Mend{m}
	return append(out, fedToo(c, &m, []stretch{{track, 0, length}, {track, 0, feederBeside / 2}, {track, length - feederBeside/2, length}})...)
}

// fedToo is a mend with a feeder in the middle of the first stretch, and with one in each of all.
func fedToo(c *rule.Case, m *finding.Mend, ss []stretch) []finding.Mend {
	var out []finding.Mend
	all := *m
	all.Changes = slices.Clone(m.Changes)
	for i, s := range ss {
		hang := hangMends(c, s.track, (s.lo+s.hi)/2, s.lo, s.hi, 1)
		if len(hang) == 0 {
			continue
		}
		all.Text += ", and " + hang[0].Text
		all.Work.Wires++
		all.Changes = append(slices.Clone(all.Changes), hang[0].Changes...)
		if i == 0 || i == len(ss)-1 {
			out = append(out, all)
		}
	}
	return out
}

// insulateMends cut both rails of a yard track near where it leaves the main, at one end or at the other; inside a block as meant only where that ends.
func insulateMends(c *rule.Case, track int32) []finding.Mend {
	length := c.L.Tracks[track].Length.Mid()
	var out []finding.Mend
	for _, at := range [2]float64{besideGap, length - besideGap} {
		if at > 0 && at < length && c.MeantAt(track, at) < 0 {
			out = append(out, cutMends(c, track, at, at-besideGap, at+2*besideGap)...)
		}
	}
	for b := range c.L.Blocks {
		for _, s := range c.L.Blocks[b].Covers {
			if s.Piece != c.L.Tracks[track].Piece || s.Whole {
				continue
			}
			for _, at := range [2]float64{s.From.Mid(), s.To.Mid()} {
				if at > 0 && at < length {
					out = append(out, cutMends(c, track, at, at-feederLeast, at+feederLeast)...)
				}
			}
		}
	}
	return out
}

// declareMends write down a stretch that gaps close in as a block, with its track work.
func declareMends(c *rule.Case, u *districts.Undeclared) []finding.Mend {
	if len(u.On) == 0 {
		return nil
	}
	var covers []string
	for _, x := range u.On {
		covers = append(covers, fmt.Sprintf("%s @ %s .. %s", c.L.Tracks[x.Track].Name, c.L.Spell(x.From), c.L.Spell(x.To)))
	}
	for _, w := range c.T.Zones.List[u.Zone].Ways {
		way := &c.C.Ways[w]
		if way.Kind != circuit.WayThrough || len(c.T.Meant.Piece(way.Piece)) > 0 {
			continue
		}
		piece := &c.L.Pieces[way.Piece]
		text := piece.Name
		if a, b := c.C.Spots[way.A].End, c.C.Spots[way.B].End; piece.Kind == layout.CrossingPiece && a >= 0 && b >= 0 {
			text += " " + piece.Ends[a].Name + "-" + piece.Ends[b].Name
		}
		if !slices.Contains(covers, text) {
			covers = append(covers, text)
		}
	}
	name := freeName(c.L.Tracks[u.On[0].Track].Name+"-block", func(name string) bool {
		return slices.ContainsFunc(c.L.Blocks, func(b layout.Block) bool { return sameName(b.Name, name) })
	})
	return []finding.Mend{{
		Text:    fmt.Sprintf("write it down as a block: %s, covers %s", name, strings.Join(covers, ", ")),
		Work:    finding.Work{Settings: 1},
		Changes: []finding.Change{{Op: finding.OpAdd, Section: "blocks", Name: name, Value: "{covers: [" + strings.Join(covers, ", ") + "]}"}},
	}}
}

// longerMends move a gap at an end of a block outwards, so that the block holds a train.
func longerMends(c *rule.Case, zone int32, lacks float64) []finding.Mend {
	var out []finding.Mend
	for _, w := range c.T.Zones.List[zone].Bounds {
		way := &c.C.Ways[w]
		for _, gap := range gapsAt(c, w) {
			if c.L.Gaps[gap].Place.End >= 0 {
				continue
			}
			at := c.L.Gaps[gap].Place.At.Mid()
			to := at + lacks
			if c.T.Zones.Of[way.A] != zone {
				to = at - lacks
			}
			out = append(out, shiftMends(c, gap, to, min(to, to+2*(to-at)), max(to, to+2*(to-at)))...)
		}
	}
	return out
}

// approachMends let track beside a lift-out go dead with it: both rails are cut far enough before the opening, and what lies between hangs from where the
// lift-out's own feeders do.
func approachMends(c *rule.Case, a *districts.LiftOutApproach) []finding.Mend {
	spot := &c.C.Spots[a.Spot]
	if c.L.Pieces[spot.Piece].Kind != layout.TrackPiece {
		return nil
	}
	track, piece := c.L.Pieces[spot.Piece].Index, c.L.Tracks[a.Track].Piece
	like := slices.DeleteFunc(c.FeedersNear(a.Spot), func(n rule.NearFeeder) bool { return c.L.Feeders[n.Feeder].Place.Piece != piece })
	if len(like) == 0 {
		return nil
	}
	sign := 1.0
	if spot.At > c.L.Tracks[track].Length.Mid()/2 {
		sign = -1
	}
	at := spot.At + sign*stopsWithin
	lo, hi := min(at, at+sign*feederBeside), max(at, at+sign*feederBeside)
	within := func(p *layout.Place) bool {
		return p.Piece == spot.Piece && p.End < 0 && sign*(p.At.Mid()-spot.At) < stopsWithin
	}
	cut := finding.Mend{Work: finding.Work{Cuts: 2}}
	for i := range c.L.Gaps {
		if g := &c.L.Gaps[i]; g.Kind == layout.Insulated && g.Rails == layout.BothRails && within(&g.Place) {
			if ms := shiftMends(c, int32(i), at, lo, hi); len(ms) > 0 {
				cut = ms[len(ms)-1]
			}
		}
	}
	if len(cut.Changes) == 0 {
		place, ok := c.FreePlace(track, at, lo, hi)
		if !ok {
			return nil
		}
		cut.Text = "cut both rails at " + c.TrackPlace(track, place).Text
		cut.Changes = []finding.Change{c.Cut(track, place, layout.BothRails)}
	}
	var rehang []int32
	fed := false
	for i := range c.L.Feeders {
		if f := &c.L.Feeders[i]; within(&f.Place) {
			fed = true
			if feedClass(c, int32(i)) != feedClass(c, like[0].Feeder) || f.From[layout.B].Bus != c.L.Feeders[like[0].Feeder].From[layout.B].Bus {
				rehang = append(rehang, int32(i))
			}
		}
	}
	if len(rehang) > 0 {
		cut = together(cut, rehangMend(c, rehang, func(f int32) (finding.Change, string) { return c.RehangLike(f, like[0].Feeder, layout.A, layout.B) }))
	}
	if !fed {
		middle := spot.At + sign*stopsWithin/2
		place, ok := c.FreePlace(track, middle, min(spot.At, at), max(spot.At, at))
		if !ok {
			return nil
		}
		changes, from := c.HangFeeder(like[0], track, place)
		cut = together(cut, finding.Mend{Text: fmt.Sprintf("hang a feeder at %s from %s", c.TrackPlace(track, place).Text, from), Work: finding.Work{Wires: 1}, Changes: changes})
	}
	return []finding.Mend{cut}
}
