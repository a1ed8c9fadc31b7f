package catalogue

import (
	"context"
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// mayHangOnOne is how much track may hang on one feeder, in metres (3 ft). Common
// practice, no source.
const mayHangOnOne = 0.9144

var onlyOneFeeder = rule.Rule{
	ID:         "only-one-feeder",
	Severity:   finding.Caution,
	Practice:   "two-feeders-everywhere",
	OnlyListed: true,
	Title:      "a stretch of track hangs on one feeder, or on one tap of a bus",
	Doc: rule.Doc{
		What:    "For owners who list the practice. Joined rail of more than 3 ft (914 mm) has one feeder, or several that all hang from one place of a bus. Named is what goes dead when that breaks; what another setting of track work still feeds does not count. A feeder that may be broken is no second one. Named too is a feeder without which the rail stays alive, but a short no longer trips anything.",
		Why:     "One bad joint then stops every train on the stretch.",
		Fix:     "Hang a second feeder from another place of the bus.",
		Example: "feeders:\n  M1: {A: left, 4 ft: main @ 4 ft}   # the only one on 8 ft of track\npractice: [two-feeders-everywhere]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { onlyOneFeeder.Check = checkOnlyOneFeeder }

func checkOnlyOneFeeder(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	for _, h := range c.Power.Heads {
		if h.Known() {
			weakOnTheOther(c, h)
		}
	}
	for _, x := range c.T.LoneFeeds() {
		if x.Length <= mayHangOnOne+1e-6 {
			continue
		}
		f := &c.L.Feeders[x.Feeders[0]]
		subject := "the feeder at " + c.FeederPlace(x.Feeders[0]).Text
		if len(x.Feeders) > 1 {
			subject = fmt.Sprintf("one place, %s, from which %d feeders come", c.FeederTo(x.Feeders[0]), len(x.Feeders))
		}
		lost := make([]string, len(x.Dies))
		for i, s := range x.Dies {
			lost[i] = c.IntervalText(s)
		}
		where := strings.Join(lost, ", ")
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      f.Pos,
			Place:    c.FeederPlace(x.Feeders[0]),
			Message:  fmt.Sprintf("%s of track hangs on %s: if it breaks, %s is dead%s", rule.Length("", x.Length).Text, subject, where, ofBlocks(c, &x)),
			Why:      "one bad joint stops every train there",
			Numbers:  []finding.Number{{Name: "track that one break stops", Text: rule.Length("", x.Length).Text, SI: x.Length, Unit: "m", Limit: "at most " + rule.Length("", mayHangOnOne).Text, Source: rule.CommonPractice}},
			Fix:      "hang a second feeder there, from another place of the bus",
			Mends:    spanMends(c, &railSpan{spans: x.Dies}, 0),
		})
	}
}

// weakOnTheOther names feeders without which a short that would trip does so no longer: the other feeder
// keeps the rail alive, and is too little to protect it.
func weakOnTheOther(c *rule.Case, h *power.Head) {
	losses, left, err := h.Losses(context.Background())
	if err != nil || left > 0 {
		c.GiveUp("what the loss of each feeder behind "+c.C.Sources[h.Source].Name+" does to shorts", "the bound on work was reached", c.C.Sources[h.Source].Pos)
		return
	}
	told := map[int32]bool{}
	for i := range losses {
		l := &losses[i]
		k := &c.C.Conductors[l.Conductor]
		if l.Dead || l.Point.Way < 0 || k.Kind != circuit.FeederWire || told[k.Ref] {
			continue
		}
		t, known := tripOf(h, l.Point.Guard)
		if t.held || !known || l.Point.Short.Lo < t.at.Hi || l.Short >= t.at.Lo {
			continue
		}
		told[k.Ref] = true
		place := c.PointPlace(&l.Point)
		amps := quantity.FormatCurrent(l.Short)
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      c.L.Feeders[k.Ref].Pos,
			Place:    c.FeederPlace(k.Ref),
			Message:  fmt.Sprintf("if the wire of %s of the feeder at %s breaks, a short at %s draws %s or little more, and %s trips at %s", c.LegWord(k.Leg), c.FeederPlace(k.Ref).Text, place.Text, amps, t.name, t.at),
			Why:      "trains go on running, so nobody notices that the rail is no longer protected",
			Numbers:  []finding.Number{{Name: "short current without it", Text: amps, SI: l.Short, Unit: "A", Limit: "at least " + t.at.String(), Source: t.name + ", yours"}},
			Fix:      "hang one more feeder near " + place.Text,
			Mends:    pointMends(c, &l.Point),
		})
	}
}

// ofBlocks names the blocks that lose track.
func ofBlocks(c *rule.Case, x *districts.LoneFeed) string {
	if len(x.Blocks) == 0 {
		return ""
	}
	names := make([]string, len(x.Blocks))
	for i, b := range x.Blocks {
		names[i] = c.L.Blocks[b].Name
	}
	word := "block "
	if len(names) > 1 {
		word = "blocks "
	}
	return ", in " + word + strings.Join(names, ", ")
}
