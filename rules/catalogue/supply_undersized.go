package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// headroom is how many volts a booster needs above what it puts on the rails, at the least.
// Common practice, no source: 1 to 2 V.
const headroom = 1.0

var supplyUndersized = rule.Rule{
	ID:       "supply-undersized",
	Severity: finding.Caution,
	Title:    "a supply gives less than its boosters need",
	Doc: rule.Doc{
		What:    "A supply is rated for less current than one of its boosters trips at (or, where that is not said, is rated for), or has fewer volts than the booster puts on the rails: a caution. Less than 1 V above the track's volts, or a rating below what its boosters come to when one of them is shorted and the others run at their ratings, is a note. The booster is taken to pass its supply's current on, ampere for ampere. Of ranges, and of the supply's `tolerance`, the careful ends count.",
		Why:     "A supply that gives up first lets its volts sink instead of letting the booster trip: the short stays fed, and decoders reset.",
		Fix:     "Use a supply rated for at least the booster's trip current, 1 to 2 V above the track's volts; one supply for each booster.",
		Example: "supplies:\n  brick: {volts: 18 V, rating: 3 A, listed: yes}\nboosters:\n  one: {supply: brick, volts: 15 V, rating: 5 A, trips-at: 5 A}",
	},
	Sources: []string{
		"the ratings in the layout",
		"headroom of 1 to 2 V: " + rule.CommonPractice,
		"NEM 609:2010, 6.1: outputs of supplies never in series or parallel; it says nothing of one supply with several boosters",
	},
}

func init() { supplyUndersized.Check = checkSupplyUndersized }

func checkSupplyUndersized(c *rule.Case) {
	for i := range c.L.Supplies {
		var boosters []int32
		for k := range c.L.Boosters {
			if c.L.Boosters[k].Supply == int32(i) {
				boosters = append(boosters, int32(k))
			}
		}
		whole := true
		for _, b := range boosters {
			supplyVolts(c, int32(i), b)
			whole = supplyAmps(c, int32(i), b) && whole
		}
		if whole && len(boosters) > 1 {
			supplyShared(c, int32(i), boosters)
		}
	}
}

// needs is the current a booster asks of its supply, and the word for what it is.
func needs(b *layout.Booster) (amps quantity.Current, word string) {
	if b.TripsAt.Known() {
		return b.TripsAt, "trips at"
	}
	return b.Rating, "is rated"
}

// supplyAmps holds a supply's rating against one booster; false when it is reported or unknown.
func supplyAmps(c *rule.Case, supply, booster int32) bool {
	s, b := &c.L.Supplies[supply], &c.L.Boosters[booster]
	need, word := needs(b)
	if !s.Rating.Known() || !need.Known() {
		c.LeaveOpen("whether supply "+s.Name+" can trip booster "+b.Name, "the layout does not say the supply's rating, or at what current the booster trips", s.Pos)
		return false
	}
	if !beyond(need.Hi, s.Rating.Lo) {
		return true
	}
	c.Report(finding.Finding{
		Severity: finding.Caution,
		Pos:      s.Pos,
		Place:    finding.Place{Text: "supply " + s.Name},
		Message:  fmt.Sprintf("supply %s gives %s, and booster %s %s %s", s.Name, s.Rating, b.Name, word, need),
		Why:      "the supply's volts sink before the booster trips, and the short stays fed",
		Numbers: []finding.Number{
			{Name: "rating of supply " + s.Name, Text: s.Rating.String(), SI: s.Rating.Lo, Unit: "A", Limit: "at least " + need.String(), Source: "booster " + b.Name + ", yours"},
			{Name: "short by", Text: quantity.FormatCurrent(need.Hi - s.Rating.Lo), SI: need.Hi - s.Rating.Lo, Unit: "A"},
		},
		Fix:   fmt.Sprintf("set booster %s to trip at %s or less, or use a listed supply of %s or more", b.Name, quantity.FormatCurrent(s.Rating.Lo), quantity.FormatCurrent(stepUp(need.Hi))),
		Mends: supplyNeedMends(c, supply, booster, need.Hi),
	})
	return false
}

// supplyVolts holds a supply's volts, at the low end of its tolerance, against a booster's.
func supplyVolts(c *rule.Case, supply, booster int32) {
	s, b := &c.L.Supplies[supply], &c.L.Boosters[booster]
	if !s.Volts.Known() || !b.Volts.Known() {
		c.LeaveOpen("whether supply "+s.Name+" has volts enough for booster "+b.Name, "the layout does not say the volts of both", s.Pos)
		return
	}
	low := s.Volts.Lo
	said := s.Volts.String()
	if s.Tolerance.Known() {
		low -= low * s.Tolerance.Hi / 100
		said += " within " + s.Tolerance.String()
	}
	f := finding.Finding{
		Pos:     s.Pos,
		Place:   finding.Place{Text: "supply " + s.Name},
		Assumed: "that its volts are direct current: of alternating current the peak counts, less what the rectifier takes",
		Fix:     fmt.Sprintf("set booster %s to %s or less, or use a listed supply of %s or more", b.Name, quantity.FormatVoltage(low-headroom), quantity.FormatVoltage(b.Volts.Hi+headroom)),
		Mends:   supplyVoltsMends(c, supply, booster, low),
	}
	number := finding.Number{Name: "volts of supply " + s.Name, Text: said, SI: low, Unit: "V", Source: "booster " + b.Name + ", yours"}
	switch {
	case beyond(b.Volts.Hi, low):
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("supply %s has %s, less than the %s that booster %s is to put on the rails", s.Name, said, b.Volts, b.Name)
		f.Why = "a booster cannot give more than it gets, and the track's volts sink with every train"
		number.Limit = "at least " + b.Volts.String()
	case beyond(b.Volts.Hi+headroom, low):
		f.Severity = finding.Note
		f.Message = fmt.Sprintf("supply %s has %s, hardly more than the %s that booster %s is to put on the rails", s.Name, said, b.Volts, b.Name)
		f.Why = "a booster takes a volt or two itself, more with a full load"
		number.Limit, number.Source = "at least "+quantity.FormatVoltage(b.Volts.Hi+headroom), rule.CommonPractice
	default:
		return
	}
	f.Numbers = []finding.Number{number}
	c.Report(f)
}

// supplyShared holds a supply against all its boosters: the one with the highest need shorted, the
// others at their ratings.
func supplyShared(c *rule.Case, supply int32, boosters []int32) {
	s := &c.L.Supplies[supply]
	total, worst := 0.0, 0.0
	for _, k := range boosters {
		b := &c.L.Boosters[k]
		need, _ := needs(b)
		rated := need.Hi
		if b.Rating.Known() {
			rated = b.Rating.Hi
		}
		total += rated
		worst = max(worst, need.Hi-rated)
	}
	total += worst
	if !beyond(total, s.Rating.Lo) {
		return
	}
	sum := quantity.FormatCurrent(total)
	c.Report(finding.Finding{
		Severity: finding.Note,
		Pos:      s.Pos,
		Place:    finding.Place{Text: "supply " + s.Name},
		Message:  fmt.Sprintf("supply %s gives %s, and its %d boosters come to %s with one of them shorted and the others fully loaded", s.Name, s.Rating, len(boosters), sum),
		Why:      "a short on one booster then takes the volts from all of them",
		Numbers:  []finding.Number{{Name: "asked of supply " + s.Name, Text: sum, SI: total, Unit: "A", Limit: "at most " + s.Rating.String(), Source: "supply " + s.Name + ", yours"}},
		Fix:      "give each booster a listed supply of its own; never tie two supplies' outputs together",
		Mends:    ownSupplyMends(c, supply),
	})
}
