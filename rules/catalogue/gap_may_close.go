package catalogue

import (
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapMayClose = rule.Rule{
	ID:         "gap-may-close",
	Severity:   finding.Caution,
	Practice:   "gaps-stay-open",
	OnlyListed: true,
	Title:      "a gap is narrower than what a season moves its rails",
	Doc: rule.Doc{
		What:    "For owners who list the practice. A gap of known width on a straight track (`straight: yes`), with nothing in it: the soldered rail on either side moves against the benchwork, half of each run's length towards the gap, when it gets warmer and drier. The season is `limits: temperature` from its low to its high end, else 20 °F (11 K), and 40 % relative humidity, on plywood. Humidity moves such a layout more than heat does: the numbers give the ratio. Solid wood across its grain moves twenty times as much.",
		Why:     "A closed insulated gap joins what it should part, and a closed expansion gap lets the rail buckle.",
		Fix:     "Cut the gap wider, fill an insulated gap so that it cannot close, or divide the run by one more expansion gap.",
		Example: "gaps:\n  M3: [{at: 5 ft 9 in, kind: expansion, joint: cut, width: 0.8 mm, fill: none}]   # in 11 ft of soldered straight\npractice: [gaps-stay-open]",
	},
	Sources: []string{rule.CommonPractice, "the rail's alloy (data sheets UNS C77000, C26000; steel from memory) and APA's figures for plywood; the season is " + rule.CommonPractice},
}

func init() { gapMayClose.Check = checkGapMayClose }

func checkGapMayClose(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	kelvins := seasonK
	if x, ok := limitOf(c, "temperature"); ok && x.Unit == layout.UnitCelsius {
		kelvins = x.Value.Hi - x.Value.Lo
	}
	straight := func(track int32) bool { return c.L.Tracks[track].Straight == layout.Yes }
	lines := c.T.RailLines()
	sure, all := lines.Runs(straight, false), lines.Runs(straight, true)
	var unsaid []int
	for i := range c.L.Gaps {
		g := &c.L.Gaps[i]
		if g.Fill != "none" && (g.Fill != "" || g.Kind == layout.Insulated) || g.Joint == layout.Sliding {
			continue
		}
		sides := gapSides(c, g.Place)
		tracks := slices.DeleteFunc(slices.Clone(sides), func(s gapSide) bool { return !straight(s.track) })
		switch {
		case len(tracks) > 0 && !g.Width.Known():
			c.LeaveOpen("whether the gap at "+c.GapPlace(int32(i)).Text+" closes over a season", "the layout does not say its `width`", g.Pos)
		case len(tracks) > 0:
			mayClose(c, int32(i), tracks[0].track, conductor.Range{Lo: runsInto(sure, tracks), Hi: runsInto(all, tracks)}, kelvins)
		case slices.ContainsFunc(sides, func(s gapSide) bool { return c.L.Tracks[s.track].Straight != layout.No }):
			unsaid = append(unsaid, i)
		}
	}
	if len(unsaid) > 0 {
		what := "whether the gap at " + c.GapPlace(int32(unsaid[0])).Text + " closes over a season"
		if len(unsaid) > 1 {
			what = fmt.Sprintf("whether %d gaps close over a season, the first at %s", len(unsaid), c.GapPlace(int32(unsaid[0])).Text)
		}
		c.LeaveOpen(what, "the layout does not say whether the track is `straight`", c.L.Gaps[unsaid[0]].Pos)
	}
}

// gapSide is where rail ends at a gap: a track and the reading of its ruler.
type gapSide struct {
	track int32
	at    float64
}

// gapSides lists the tracks that a gap is in, or between.
func gapSides(c *rule.Case, p layout.Place) []gapSide {
	var out []gapSide
	end := func(piece layout.PieceID, end int32) {
		if piece < 0 || c.L.Pieces[piece].Kind != layout.TrackPiece {
			return
		}
		s := gapSide{track: c.L.Pieces[piece].Index}
		if length := c.L.Tracks[s.track].Length; end == 1 && length.Known() {
			s.at = length.Mid()
		}
		out = append(out, s)
	}
	switch {
	case p.Piece < 0:
	case p.End >= 0:
		end(p.Piece, p.End)
		joint := c.L.Pieces[p.Piece].Ends[p.End].Joint
		end(joint.Piece, joint.End)
	case c.L.Pieces[p.Piece].Kind == layout.TrackPiece && p.At.Known():
		out = append(out, gapSide{c.L.Pieces[p.Piece].Index, p.At.Mid()})
	}
	return out
}

// runsInto is how much rail moves into a gap: half of every run that ends there, of the rail that
// has more.
func runsInto(runs [][]districts.RailPart, sides []gapSide) float64 {
	var rail [2]float64
	for _, parts := range runs {
		for _, s := range sides {
			if own := runAt(parts, s.track, s.at); own > 0 {
				rail[parts[0].Rail] += own / 2
				break
			}
		}
	}
	return max(rail[layout.Left], rail[layout.Right])
}

// runAt is the length of a run, if it ends at a reading of a track.
func runAt(parts []districts.RailPart, track int32, at float64) float64 {
	touches, total := false, 0.0
	for _, p := range parts {
		total += p.To - p.From
		touches = touches || p.Track == track && (math.Abs(p.From-at) < 1e-6 || math.Abs(p.To-at) < 1e-6)
	}
	if !touches {
		return 0
	}
	return total
}

func mayClose(c *rule.Case, gap, track int32, runs conductor.Range, kelvins float64) {
	g, run := &c.L.Gaps[gap], runs.Lo
	alpha := expands(c.L.Tracks[track].Rail.Metal)
	least, most := closes(run, alpha[0], kelvins, -seasonTenths), closes(runs.Hi, alpha[1], kelvins, -seasonTenths)
	place := c.GapPlace(gap)
	switch {
	case most <= g.Width.Lo:
		return
	case least <= g.Width.Hi:
		c.LeaveOpen("whether the gap at "+place.Text+" closes over a season", "its width, the rail's metal or the kind of its joints leave it open", g.Pos)
		return
	}
	by := quantity.FormatLength(least)
	heat, wet := closes(run, alpha[0], kelvins, 0), closes(run, 0, 0, -seasonTenths)
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      g.Pos,
		Place:    place,
		Message:  fmt.Sprintf("the gap at %s is %s wide, and the %s of soldered rail beside it close it by %s when it gets %s warmer and 40 %% drier", place.Text, g.Width.Both(), quantity.FormatLength(run), by, kelvinText(kelvins)),
		Why:      "a closed insulated gap joins what it should part, and a closed expansion gap lets the rail buckle",
		Numbers: []finding.Number{
			{Name: "width of the gap", Text: g.Width.Both(), SI: g.Width.Hi, Unit: "m", Limit: "more than " + by, Source: assumedSwingSource},
			{Name: "of the movement, humidity against heat", Text: fmt.Sprintf("%.1f to 1", wet/heat), SI: wet / heat},
		},
		Fix:   fmt.Sprintf("cut the gap %s wide or more in the middle of the season, or divide the run by one more expansion gap", by),
		Mends: widenMends(c, gap, most),
	}
	c.Report(f)
}

func kelvinText(k float64) string { return fmt.Sprintf("%.0f °F (%.0f K)", k*1.8, k) }
