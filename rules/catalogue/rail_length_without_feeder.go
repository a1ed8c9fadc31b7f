package catalogue

import (
	"fmt"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railLengthWithoutFeeder = rule.Rule{
	ID:         "rail-length-without-feeder",
	Severity:   finding.Caution,
	Practice:   "feeder-on-every-rail-length",
	OnlyListed: true,
	Title:      "a length of rail between loose joints has no feeder of its own",
	Doc: rule.Doc{
		What:    "For owners who list the practice. Rail is followed through soldered joints, bonds and the whole metal of track work; it ends at gaps, at plain joiners and at the joints of a default `every`, counted from each track's start. A length that has no feeder is named. The rails of a turnout, crossing or slip are asked for no feeder of their own. Where the only feeder lies beyond a joint or jumper of unknown kind, or may be broken, the length is listed as not checked. Dead rail is left to rail-dead.",
		Why:     "The length hangs on its joiners, which loosen and corrode.",
		Fix:     "Solder a feeder to each rail of the length, solder one of its joints, or bond it to its neighbour.",
		Example: "defaults:\n  joint: {kind: plain, every: 3 ft}\nfeeders:\n  M1: {A: left, 1 ft: main @ 1 ft}   # M1 is 9 ft long: three lengths, one feeder\npractice: [feeder-on-every-rail-length]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { railLengthWithoutFeeder.Check = checkRailLengthWithoutFeeder }

func checkRailLengthWithoutFeeder(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	var without, unsure []railSpan
	for _, r := range c.T.RailLines().Lengths() {
		switch {
		case r.Feeder == districts.HasSurely, r.Fed == districts.Dead:
		case r.Feeder == districts.MayHave:
			unsure = addSpan(unsure, spanOf(c, r.Parts))
		default:
			without = addSpan(without, spanOf(c, r.Parts))
		}
	}
	for i := range without {
		s := &without[i]
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      s.track(c).Pos,
			Place:    c.TrackPlace(s.spans[0].Track, s.spans[0].From),
			Message:  fmt.Sprintf("%s of %s has no feeder of its own before the next joint that is not soldered", oneOrBoth(s.rails), s.text(c)),
			Why:      "it hangs on rail joiners, which loosen and corrode",
			Numbers:  []finding.Number{rule.Length("rail without a feeder", s.length())},
			Fix:      "hang a feeder there, solder one of its joints, or bond it to its neighbour",
			Mends:    spanMends(c, s, 0),
		})
	}
	for i := range unsure {
		s := &unsure[i]
		c.LeaveOpen(fmt.Sprintf("whether %s of %s has a feeder of its own", oneOrBoth(s.rails), s.text(c)), c.DoubtAt(spanNodes(c, s)...).Open(), s.track(c).Pos)
	}
}

// oneOrBoth puts both rails in the singular, as one length of track.
func oneOrBoth(rails string) string {
	if rails == "both rails" {
		return "each rail"
	}
	return rails
}
