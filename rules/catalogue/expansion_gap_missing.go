package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// What moves rail against the benchwork under it. Rail by heat: data sheets of the alloys
// (nickel silver C77000, 20 to 300 C; brass C26000, 20 to 200 C); steel from memory. Plywood by
// heat and by humidity: APA, Dimensional Stability and Flatness.
const (
	nickelSilverPerK   = 16.7e-6
	brassPerK          = 19.9e-6
	steelLeastPerK     = 11e-6
	steelMostPerK      = 12e-6
	plywoodPerK        = 6.1e-6
	plywoodPerTenth    = 0.0002 // a tenth of the way from dry to saturated air
	seasonK            = 20 / 1.8
	seasonTenths       = 4.0
	jointPlay          = 0.0015875 // what the two ends of a run take up together: 1/32 in each. Common practice, no source
	seasonText         = "20 °F (11 K) warmer and 40 % relative humidity drier than when it was laid, on plywood"
	nickelSilver       = "nickel silver"
	assumedSwingSource = "the rail's alloy and APA's figures for plywood; the season is " + rule.CommonPractice
)

var expansionGapMissing = rule.Rule{
	ID:         "expansion-gap-missing",
	Severity:   finding.Caution,
	Practice:   "expansion-gap-in-long-soldered-run",
	OnlyListed: true,
	Title:      "a long soldered straight has nowhere to move",
	Doc: rule.Doc{
		What:    "For owners who list the practice. On a straight track (`straight: yes`) rail runs without a gap or a joint that is not soldered so far that between it and the benchwork a season makes a bigger difference than its two ends take up: 1/16 in (1.6 mm), half of it at each end. The season is taken to be 20 °F (11 K) warmer and 40 % relative humidity drier than when the rail was laid, on plywood; for nickel silver that allows 5 ft 8 in (1.73 m). Track work ends a run. Curves give way sideways; a track that does not say whether it is straight is listed as not checked.",
		Why:     "The rail has to go somewhere: it buckles, or tears its ties loose.",
		Fix:     "Leave a joint unsoldered, or cut an expansion gap near the middle of the run.",
		Example: "defaults:\n  joint: {kind: soldered}\ntracks:\n  M3: {from: T3 straight, to: T8 points, length: 11 ft, straight: yes}\npractice: [expansion-gap-in-long-soldered-run]",
	},
	Sources: []string{rule.CommonPractice, assumedSwingSource},
}

func init() { expansionGapMissing.Check = checkExpansionGapMissing }

// movesPerMetre is how much a run shrinks in its benchwork, or the benchwork under it,
// over the season, for the least and the most that its metal may be.
func movesPerMetre(metal string) (least, most float64) {
	alpha := expands(metal)
	return closes(1, alpha[0], seasonK, -seasonTenths), closes(1, alpha[1], seasonK, -seasonTenths)
}

// expands is how much rail grows for each kelvin, for the least and the most that its metal may be.
func expands(metal string) [2]float64 {
	switch metal {
	case nickelSilver:
		return [2]float64{nickelSilverPerK, nickelSilverPerK}
	case "brass":
		return [2]float64{brassPerK, brassPerK}
	case "steel":
		return [2]float64{steelLeastPerK, steelMostPerK}
	default:
		return [2]float64{steelLeastPerK, brassPerK}
	}
}

// closes is how much a gap in a run of rail on plywood closes when it gets warmer by
// kelvins and moister by tenths of relative humidity, in the unit of the run's length.
func closes(run, railPerK, kelvins, tenths float64) float64 {
	return run * ((railPerK-plywoodPerK)*kelvins - plywoodPerTenth*tenths)
}

func checkExpansionGapMissing(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	lines := c.T.RailLines()
	straight := func(track int32) bool { return c.L.Tracks[track].Straight == layout.Yes }
	sure := longRuns(c, lines, straight, false)
	for i := range sure {
		reportRun(c, &sure[i])
	}
	for _, s := range longRuns(c, lines, straight, true) {
		if !slices.ContainsFunc(sure, func(o railSpan) bool { return overlap(&o, &s) }) {
			c.LeaveOpen("whether "+s.text(c)+" needs an expansion gap", "the layout does not say what kind its joints are, or what metal its rail is", s.track(c).Pos)
		}
	}
	unsaid := longRuns(c, lines, func(track int32) bool {
		y := c.L.Tracks[track].Straight
		return y != layout.Yes && y != layout.No
	}, false)
	switch len(unsaid) {
	case 0:
	case 1:
		c.LeaveOpen("whether "+unsaid[0].text(c)+" needs an expansion gap", "it is soldered, and the layout does not say whether it is straight", unsaid[0].track(c).Pos)
	default:
		c.LeaveOpen(fmt.Sprintf("whether %d long soldered runs need an expansion gap, the first %s", len(unsaid), unsaid[0].text(c)), "their tracks do not say whether they are straight", unsaid[0].track(c).Pos)
	}
}

// longRuns lists the runs of rail on some tracks that move by more than their ends take
// up; where doubt is set, with joints of unknown kind taken as soldered and metal of unknown
// kind as what moves most.
func longRuns(c *rule.Case, lines *districts.RailLines, on func(track int32) bool, doubt bool) []railSpan {
	var out []railSpan
	for _, run := range lines.Runs(on, doubt) {
		if runMoves(c, run, doubt) > jointPlay {
			out = addSpan(out, spanOf(c, run))
		}
	}
	return out
}

// runMoves is how far a run moves, in metres: at least, or with doubt at most.
func runMoves(c *rule.Case, run []districts.RailPart, doubt bool) float64 {
	total := 0.0
	for _, p := range run {
		least, most := movesPerMetre(c.L.Tracks[p.Track].Rail.Metal)
		if doubt {
			least = most
		}
		total += (p.To - p.From) * least
	}
	return total
}

// overlap reports whether two stretches share track.
func overlap(x, y *railSpan) bool {
	return slices.ContainsFunc(x.spans, func(a districts.Interval) bool {
		return slices.ContainsFunc(y.spans, func(b districts.Interval) bool {
			return a.Track == b.Track && a.From < b.To && b.From < a.To
		})
	})
}

func reportRun(c *rule.Case, s *railSpan) {
	run := s.length()
	moves := 0.0
	for _, x := range s.spans {
		_, most := movesPerMetre(c.L.Tracks[x.Track].Rail.Metal)
		moves += (x.To - x.From) * most
	}
	middle := c.TrackPlace(s.spans[0].Track, (s.spans[0].From+s.spans[0].To)/2)
	c.Report(finding.Finding{
		Severity: finding.Caution,
		Pos:      s.track(c).Pos,
		Place:    c.TrackPlace(s.spans[0].Track, s.spans[0].From),
		Message:  fmt.Sprintf("%s of the straight %s is soldered for %s without a gap, and may move by %s against the benchwork", oneOrBoth(s.rails), s.text(c), rule.Length("", run).Text, smallLength(moves)),
		Why:      "rail that has no room buckles, or tears its ties loose",
		Assumed:  "the room gets " + seasonText,
		Numbers: []finding.Number{
			{Name: "movement", Text: smallLength(moves), SI: moves, Unit: "m", Limit: "at most " + smallLength(jointPlay) + " at its two ends", Source: rule.CommonPractice},
			rule.Length("soldered run", run),
		},
		Fix:   "leave a joint near " + middle.Text + " unsoldered, or cut an expansion gap there, with a feeder on either side",
		Mends: expandMends(c, s, moves),
	})
}

// smallLength prints a movement.
func smallLength(metres float64) string {
	return fmt.Sprintf("%.3f in (%s)", metres/0.0254, quantity.FormatMetric(metres))
}
