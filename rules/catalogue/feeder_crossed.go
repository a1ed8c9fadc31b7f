package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var feederCrossed = rule.Rule{
	ID:       "feeder-crossed",
	Severity: finding.Fault,
	Title:    "a feeder is connected the wrong way round",
	Doc: rule.Doc{
		What:    "A feeder puts leg A on the rail that its neighbours, along the rails and across the gaps, put leg B on. The one feeder is named whose two wires would have to be swapped, not each short that it makes.",
		Why:     "It shorts the booster through the rail to the next feeder, or makes wheels short where they cross the gap to the next block.",
		Fix:     "Swap the two wires of that feeder at the rail, or at the bus.",
		Example: "feeders:\n  M1: {2 ft: {from: main @ 2 ft, A: left}, 5 ft: {from: main @ 5 ft, A: right}}",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit", "which of several feeders is named, by the least that would have to change: " + rule.CommonPractice},
}

func init() { feederCrossed.Check = checkFeederCrossed }

func checkFeederCrossed(c *rule.Case) {
	p := c.T.Polarity
	whole := crossedBuses(c, p.WrongFeeders)
	told := map[int32]bool{}
	lines := crossedLines(c, p.WrongFeeders)
	for _, f := range p.WrongFeeders {
		bus := busOf(c, f)
		line := slices.IndexFunc(lines, func(fs []int32) bool { return slices.Contains(fs, f) })
		switch {
		case whole[bus] && !told[bus]:
			told[bus] = true
			c.Report(crossedBus(c, bus, f))
		case whole[bus]:
		case line < 0:
			c.Report(crossedFeeder(c, f))
		case len(lines[line]) == 1:
			x := crossedFeeder(c, f)
			x.Candidates = append(x.Candidates, exchangedEnds(c.L.Pieces[c.L.Feeders[f].Place.Piece].Name))
			c.Report(x)
		case lines[line][0] == f:
			c.Report(crossedLine(c, lines[line]))
		}
	}
	for _, plug := range p.WrongPlugs {
		c.Report(crossedPlug(c, plug))
	}
	if !p.Exact {
		c.LeaveOpen("whether fewer changes would explain the crossed feeders and gaps", "the search for the least explanation reached its bound on work; the one given is right but may not be the least", feederPos(c, p.WrongFeeders))
	}
}

// crossedFeeder tells of one feeder.
func crossedFeeder(c *rule.Case, f int32) finding.Finding {
	feeder := &c.L.Feeders[f]
	shouldBe := feeder.ARail.Other()
	return finding.Finding{
		Severity: finding.Fault,
		Pos:      feeder.Pos,
		Place:    c.FeederPlace(f),
		Message: fmt.Sprintf("the feeder at %s is crossed: it puts %s on the %s rail, where the feeders around it put it on the %s rail",
			c.Place(feeder.Place).Text, c.LegWord(layout.A), c.RailWord(feeder.ARail), c.RailWord(shouldBe)),
		Why:     "it shorts the booster through the rail, or through the first wheel on the gap",
		Witness: crossedWitness(c, f),
		Fix:     fmt.Sprintf("swap the two wires of this feeder at the rail (so that `A: %s` is true)", [2]string{"left", "right"}[shouldBe]),
		Candidates: otherExplanations(c, func(e *districts.Explanation) bool {
			return slices.Contains(e.Feeders, f)
		}),
		Mends: crossedFeederMends(c, f),
	}
}

// crossedLine tells of a line of track whose every feeder is crossed: its wires are, or its line
// in the file has its ends exchanged.
func crossedLine(c *rule.Case, feeders []int32) finding.Finding {
	x := crossedFeeder(c, feeders[0])
	var names []string
	for n, f := range feeders {
		if name := c.L.Pieces[c.L.Feeders[f].Place.Piece].Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
		if n > 0 {
			x.Also = append(x.Also, "the feeder at "+c.Place(c.L.Feeders[f].Place).Text)
		}
	}
	track := strings.Join(names, ", ")
	x.Message = fmt.Sprintf("all %d feeders of %s are crossed, the first at %s: they put %s where the track around it has %s", len(feeders), track, c.Place(c.L.Feeders[feeders[0]].Place).Text, c.LegWord(layout.A), c.LegWord(layout.B))
	x.Fix = "swap the two wires of each of them at the rail"
	x.Candidates = append(x.Candidates, exchangedEnds(track))
	x.Mends = swapMends(c, feeders, "swap at the rails the two wires of each of the feeders at "+feedersText(c, feeders)+meterAfterSwap)
	return x
}

// exchangedEnds is the explanation that the layout is right and the file is wrong.
func exchangedEnds(track string) string {
	return fmt.Sprintf("the wires are right and the file is wrong: `from` and `to` of %s are exchanged, or left and right were seen from the other end", track)
}

// crossedBus tells of a bus whose every feeder is crossed: the bus itself is.
func crossedBus(c *rule.Case, b, first int32) finding.Finding {
	bus := &c.L.Buses[b]
	x := finding.Finding{
		Severity: finding.Fault,
		Pos:      bus.Pos,
		Place:    finding.Place{Text: "bus " + bus.Name},
		Message:  fmt.Sprintf("every feeder of bus %s puts %s on the rail where its neighbours put %s: the bus itself is connected the wrong way round", bus.Name, c.LegWord(layout.A), c.LegWord(layout.B)),
		Why:      "it shorts the booster through the rail, or through the first wheel on the gap",
		Witness:  crossedWitness(c, first),
		Fix:      fmt.Sprintf("swap the two wires of bus %s where it hangs from %s", bus.Name, bus.From.Text),
	}
	var own []int32
	for i := range c.L.Feeders {
		if busOf(c, int32(i)) == b {
			x.Also = append(x.Also, "the feeder at "+c.Place(c.L.Feeders[i].Place).Text)
			own = append(own, int32(i))
		}
	}
	x.Mends = swapMends(c, own, x.Fix+"; each of its feeders then puts "+c.LegWord(layout.A)+" on the other rail"+meterAfterSwap)
	for i := range x.Mends {
		x.Mends[i].Work.Wires = 1
	}
	return x
}

// crossedPlug tells of a plug by which everything behind it is the wrong way round.
func crossedPlug(c *rule.Case, plug int32) finding.Finding {
	p := &c.L.Plugs[plug]
	should := "crossed"
	if p.Legs == layout.PlugCrossed {
		should = "straight"
	}
	x := finding.Finding{
		Severity:   finding.Fault,
		Pos:        p.Pos,
		Place:      finding.Place{Text: "plug " + p.Name},
		Message:    fmt.Sprintf("plug %s is the wrong way round: every feeder behind it puts %s on the rail where its neighbours put %s", p.Name, c.LegWord(layout.A), c.LegWord(layout.B)),
		Why:        "it shorts the booster through the rail, or through the first wheel on the gap",
		Fix:        fmt.Sprintf("swap the two wires of plug %s (so that `legs: %s` is true)", p.Name, should),
		Candidates: otherExplanations(c, func(e *districts.Explanation) bool { return slices.Contains(e.Plugs, plug) }),
		Mends:      []finding.Mend{{Text: fmt.Sprintf("swap the two wires of plug %s%s", p.Name, meterAfterSwap), Work: finding.Work{Wires: 1}, Changes: []finding.Change{turnPlug(c, plug)}}},
	}
	for i := range c.T.Feeds {
		if c.T.Behind(int32(i), plug) {
			if x.Witness == nil {
				x.Witness = crossedWitness(c, int32(i))
			}
			x.Also = append(x.Also, "the feeder at "+c.Place(c.L.Feeders[i].Place).Text)
		}
	}
	return x
}

func crossedWitness(c *rule.Case, f int32) []finding.Step {
	if from, _, path := c.T.PathThrough(f); path != nil {
		return c.WitnessFrom(from, path)
	}
	return c.WitnessTo(c.C.FeederSpot[f], c.L.Feeders[f].ARail)
}

// busOf is the bus a feeder's legs both hang from, -1 when there is no one bus.
func busOf(c *rule.Case, f int32) int32 {
	from := c.L.Feeders[f].From
	if from[0].Bus != from[1].Bus {
		return -1
	}
	return from[0].Bus
}

// crossedBuses are the buses of at least two feeders, all of them crossed.
func crossedBuses(c *rule.Case, wrong []int32) map[int32]bool {
	count, bad := map[int32]int{}, map[int32]int{}
	for i := range c.T.Feeds {
		if b := busOf(c, int32(i)); b >= 0 && c.T.Feeds[i].Spot >= 0 {
			count[b]++
		}
	}
	for _, f := range wrong {
		bad[busOf(c, f)]++
	}
	out := map[int32]bool{}
	for b, n := range count {
		if n > 1 && bad[b] == n {
			out[b] = true
		}
	}
	return out
}

// crossedLines lists the feeders of each line of track, one track or several end to end between
// gaps, of which all are crossed.
func crossedLines(c *rule.Case, wrong []int32) [][]int32 {
	if len(wrong) == 0 {
		return nil
	}
	line := make([]int32, len(c.L.Tracks))
	for n, l := range districts.Lines(c.L, func(*layout.Track) bool { return true }) {
		for _, t := range l.Tracks {
			line[t.Track] = int32(n)
		}
	}
	type stretch struct{ line, section int32 }
	feeders := map[stretch][]int32{}
	right := map[stretch]bool{}
	var order []stretch
	for i := range c.L.Feeders {
		spot := c.T.Feeds[i].Spot
		piece := &c.L.Pieces[max(c.L.Feeders[i].Place.Piece, 0)]
		if spot < 0 || piece.Kind != layout.TrackPiece {
			continue
		}
		at := stretch{line[piece.Index], c.T.Polarity.Sections.Of[spot]}
		if feeders[at] == nil {
			order = append(order, at)
		}
		feeders[at] = append(feeders[at], int32(i))
		if _, found := slices.BinarySearch(wrong, int32(i)); !found {
			right[at] = true
		}
	}
	var out [][]int32
	for _, at := range order {
		if !right[at] {
			out = append(out, feeders[at])
		}
	}
	return out
}

// otherExplanations lists, as text, the other ways to account for the same contradictions
// that do without what a finding names; still reports whether one names it too.
func otherExplanations(c *rule.Case, still func(*districts.Explanation) bool) []string {
	p := c.T.Polarity
	var out []string
	for i := range p.Others {
		if still(&p.Others[i]) {
			continue
		}
		var parts []string
		for _, f := range p.Others[i].Feeders {
			if !slices.Contains(p.WrongFeeders, f) {
				parts = append(parts, "the feeder at "+c.Place(c.L.Feeders[f].Place).Text+" is the crossed one")
			}
		}
		for _, g := range p.Others[i].Gaps {
			if !slices.Contains(p.WrongGaps, g) {
				parts = append(parts, "the two sides of "+c.WayPlace(g).Text+" are fed the opposite way round")
			}
		}
		for _, b := range p.Others[i].Signals {
			if !slices.Contains(p.WrongSignals, b) {
				parts = append(parts, "booster "+c.L.Boosters[b].Name+" is out of phase")
			}
		}
		for _, plug := range p.Others[i].Plugs {
			if !slices.Contains(p.WrongPlugs, plug) {
				parts = append(parts, "plug "+c.L.Plugs[plug].Name+" is the wrong way round")
			}
		}
		if text := strings.Join(parts, ", and "); text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}
