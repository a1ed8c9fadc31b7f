package catalogue

import (
	"fmt"
	"math"

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
	Sources: []string{"the rail's alloy (data sheets UNS C77000, C26000; steel from memory) and APA's figures for plywood; the season is " + rule.CommonPractice},
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
	runs := c.T.RailLines().Runs(straight, false)
	for i := range c.L.Gaps {
		g := &c.L.Gaps[i]
		if g.Fill != "none" && (g.Fill != "" || g.Kind == layout.Insulated) || g.Joint == layout.Sliding || g.Place.Piece < 0 {
			continue
		}
		p := &c.L.Pieces[g.Place.Piece]
		if p.Kind != layout.TrackPiece || !straight(p.Index) {
			continue
		}
		at := g.Place.At
		if g.Place.End >= 0 || !at.Known() {
			continue
		}
		if !g.Width.Known() {
			c.LeaveOpen("whether the gap at "+c.GapPlace(int32(i)).Text+" closes over a season", "the layout does not say its `width`", g.Pos)
			continue
		}
		run := 0.0 // half of what ends here from either side; each rail is a run, and both ends meet at a gap
		for r := range layout.Rail(2) {
			sum := 0.0
			for _, parts := range runs {
				if len(parts) > 0 && parts[0].Rail == r {
					sum += runAt(parts, p.Index, at.Mid()) / 2
				}
			}
			run = math.Max(run, sum)
		}
		mayClose(c, int32(i), run, kelvins)
	}
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

func mayClose(c *rule.Case, gap int32, run, kelvins float64) {
	g := &c.L.Gaps[gap]
	metal := c.L.Tracks[c.L.Pieces[g.Place.Piece].Index].Rail.Metal
	alpha := expands(metal)
	least, most := closes(run, alpha[0], kelvins, -seasonTenths), closes(run, alpha[1], kelvins, -seasonTenths)
	place := c.GapPlace(gap)
	switch {
	case most <= g.Width.Lo:
		return
	case least <= g.Width.Hi:
		c.LeaveOpen("whether the gap at "+place.Text+" closes over a season", "its width or the rail's metal leave it open", g.Pos)
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
		Fix: fmt.Sprintf("cut the gap %s wide or more in the middle of the season, or divide the run by one more expansion gap", by),
	}
	c.Report(f)
}

func kelvinText(k float64) string { return fmt.Sprintf("%.0f °F (%.0f K)", k*1.8, k) }
