package catalogue

import (
	"fmt"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// What a power station may put on the rails, in volts peak, whatever the scale. For large scale the
// table of the standard says 22 V and its list of revisions 24 V.
const (
	leastTrackVolts = 8.5
	mostTrackVolts  = 22.0
	mostLargeVolts  = 24.0
	s91             = "NMRA S-9.1 (3/2020)"
)

var boosterVoltsOutOfRange = rule.Rule{
	ID:       "booster-volts-out-of-range",
	Severity: finding.Caution,
	Title:    "a booster's volts lie outside what the DCC standard allows",
	Doc: rule.Doc{
		What:    "A booster puts less than 8.5 V or more than 22 V on the rails. These limits are the same for every scale; for large scale the standard's own list of revisions says 24 V where its table says 22 V, so between the two it is a note. What is usual in a scale (12 V in N, 15 V in HO, 18 V in large) is no limit. Both ends of a range count, boosters for programming too.",
		Why:     "Below the range decoders drop out; above it they burn.",
		Fix:     "Set the booster to a voltage in the range: 12 V for N and smaller, 15 V for HO, S and O, 18 V for large scales.",
		Example: "scale: HO\nboosters:\n  one: {volts: 24 V}",
	},
	Sources: []string{
		"8.5 to 22 V peak: " + s91 + ", Tables 1 to 3, power station",
		"24 V for large scale: " + s91 + ", list of revisions",
	},
}

func init() { boosterVoltsOutOfRange.Check = checkBoosterVoltsOutOfRange }

func checkBoosterVoltsOutOfRange(c *rule.Case) {
	for i := range c.L.Boosters {
		b := &c.L.Boosters[i]
		switch {
		case !b.Volts.Known():
			c.LeaveOpen("whether booster "+b.Name+" keeps within the volts of the DCC standard", "the layout does not say its volts", b.Pos)
		case b.Volts.Hi > mainsVolts: // household-mains speaks of it
		case b.Volts.Lo < leastTrackVolts:
			trackVolts(c, int32(i), b.Volts.Lo, finding.Caution)
		case !beyond(b.Volts.Hi, mostTrackVolts):
		case c.L.Scale == "" && !beyond(b.Volts.Hi, mostLargeVolts):
			c.LeaveOpen("whether booster "+b.Name+" may drive "+b.Volts.String(), "more than 22 V is a matter of the scale, and the layout does not say it", b.Pos)
		case c.L.Scale == "large" && !beyond(b.Volts.Hi, mostLargeVolts):
			trackVolts(c, int32(i), b.Volts.Hi, finding.Note)
		default:
			trackVolts(c, int32(i), b.Volts.Hi, finding.Caution)
		}
	}
}

// usualVolts are the nominal volts of the standard by scale; 0 for a scale that it does not name.
func usualVolts(scale string) float64 {
	switch scale {
	case "Z", "N":
		return 12
	case "HO", "S", "O":
		return 15
	case "large":
		return 18
	default:
		return 0
	}
}

// trackVolts reports a booster by the end of its volts that is out of range.
func trackVolts(c *rule.Case, booster int32, volts float64, severity finding.Severity) {
	b := &c.L.Boosters[booster]
	f := finding.Finding{
		Severity: severity,
		Pos:      b.Pos,
		Place:    finding.Place{Text: "booster " + b.Name},
		Numbers:  []finding.Number{{Name: "volts of booster " + b.Name, Text: b.Volts.String(), SI: volts, Unit: "V", Limit: "8.5 to 22 V", Source: s91}},
		Fix:      "set booster " + b.Name + " to between 8.5 V and 22 V",
		Mends:    trackVoltsMends(c, booster),
	}
	if usual := usualVolts(c.L.Scale); usual > 0 {
		f.Fix = fmt.Sprintf("set booster %s to %g V, the usual for scale %s", b.Name, usual, c.L.Scale)
	}
	switch {
	case volts < leastTrackVolts:
		f.Message = fmt.Sprintf("booster %s puts %s on the rails, less than the 8.5 V of the DCC standard", b.Name, b.Volts)
		f.Why = "a decoder need not work below 7 V, and the wire and the rail take some on the way to it"
	case severity == finding.Note:
		f.Message = fmt.Sprintf("booster %s puts %s on the rails: the DCC standard's table says 22 V for large scales, its list of revisions 24 V", b.Name, b.Volts)
		f.Why = "a decoder made to the table's 22 V has little left"
	default:
		f.Message = fmt.Sprintf("booster %s puts %s on the rails, more than the 22 V of the DCC standard", b.Name, b.Volts)
		f.Why = "decoders burn, and lamps and motors run hot"
		if c.L.Scale == "large" || c.L.Scale == "" {
			f.Numbers[0].Limit = "8.5 to 24 V"
		}
	}
	c.Report(f)
}
