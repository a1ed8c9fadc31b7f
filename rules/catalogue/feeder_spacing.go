package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// farFromFeeder is half of the 6 ft that feeders may lie apart, in metres. Common
// practice, no source.
const farFromFeeder = 0.9144

var feederSpacing = rule.Rule{
	ID:         "feeder-spacing",
	Severity:   finding.Caution,
	Practice:   "feeder-every-6-ft",
	OnlyListed: true,
	Title:      "rail lies more than 3 ft from its nearest feeder",
	Doc: rule.Doc{
		What:    "For owners who list the practice. Measured along each rail, through joints and the whole rails of track work, some point is more than 3 ft (914 mm) from the nearest feeder of that rail: two neighbouring feeders are more than 6 ft (1.83 m) apart, or the last one is more than 3 ft from where the rail ends. A bond counts as no length. Rail that no feeder reaches is left to rail-dead.",
		Why:     "Rail and its joiners lose much more than the bus does, and the loss shows farthest from the feeders.",
		Fix:     "Hang a feeder in the middle of the stretch.",
		Example: "feeders:\n  M1: {A: left, 1 ft: main @ 1 ft, 9 ft: main @ 9 ft}   # 8 ft between the two\npractice: [feeder-every-6-ft]",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { feederSpacing.Check = checkFeederSpacing }

func checkFeederSpacing(c *rule.Case) {
	if !c.Listed(c.Rule.Practice) {
		return
	}
	var spans []railSpan
	var first []finding.Finding
	for _, x := range c.T.FarFromFeeders(farFromFeeder + 1e-6) {
		s := spanOf(c, x.Parts)
		n := len(spans)
		if spans = addSpan(spans, s); len(spans) == n {
			continue
		}
		at := c.TrackPlace(x.Track, x.At)
		first = append(first, finding.Finding{
			Severity: finding.Caution,
			Pos:      s.track(c).Pos,
			Place:    at,
			Why:      "rail and joiners lose more than the bus does, and the loss shows farthest from the feeders",
			Numbers:  []finding.Number{{Name: "along the rail to the nearest feeder", Text: rule.Length("", x.Farthest).Text, SI: x.Farthest, Unit: "m", Limit: "at most " + rule.Length("", farFromFeeder).Text, Source: rule.CommonPractice}},
			Fix:      "hang a feeder near " + at.Text,
		})
	}
	for i := range first {
		f := &first[i]
		f.Message = fmt.Sprintf("%s of %s is up to %s from the nearest feeder, along the rail", oneOrBoth(spans[i].rails), spans[i].text(c), f.Numbers[0].Text)
		f.Mends = spanMends(c, &spans[i], 2*farFromFeeder)
		c.Report(*f)
	}
}
