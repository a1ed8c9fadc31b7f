package catalogue

import (
	"fmt"

	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// mostVoltsApart is how far the volts of two boosters may lie apart whose track meets. NEM
// 604:2013, 2.2 takes 1 V as the working value of what the wiring of a loop may lose, so
// this much a train meets inside one district too. That it serves here as well is common practice.
const mostVoltsApart = 1.0

var boostersDifferInVolts = rule.Rule{
	ID:       "boosters-differ-in-volts",
	Severity: finding.Caution,
	Title:    "the track of two boosters meets, and their volts differ",
	Doc: rule.Doc{
		What:    "Track of one booster meets track of another at a gap, a common rail or the edge of a pit, and one drives over 1 V more than the other. Of ranges the two ends that lie furthest apart count, and the finding says when the two may as well agree. Boosters for programming are left out, and so is the drop in the wires.",
		Why:     "Trains change speed at the gap, and while a vehicle with pickups on both sides stands on it, the stronger booster drives current into the weaker through the vehicle's own thin wires.",
		Fix:     "Set both to the same volts, or give both supplies and boosters of one kind.",
		Example: "boosters:\n  one: {supply: brick, volts: 15 V}\n  two: {supply: slate, volts: 18 V}   # and their track meets at a gap",
	},
	Sources: []string{
		"1 V: NEM 604:2013, 2.2, working value of the loss in a loop of wire, so a train meets as much inside one district",
		"that the same figure serves between two boosters: " + rule.CommonPractice,
	},
}

func init() { boostersDifferInVolts.Check = checkBoostersDifferInVolts }

func checkBoostersDifferInVolts(c *rule.Case) {
	var apart []boosterPair
	for _, p := range boosterPairs(c) {
		x, y := &c.L.Boosters[p.boosters[0]], &c.L.Boosters[p.boosters[1]]
		if !x.Volts.Known() || !y.Volts.Known() {
			c.LeaveOpen(fmt.Sprintf("whether booster %s and booster %s have the same volts", x.Name, y.Name), "their track meets, and the layout does not say the volts of both", c.WayPos(p.ways[0]))
			continue
		}
		if worst, _ := voltsApart(x.Volts, y.Volts); worst > mostVoltsApart+1e-9 {
			apart = append(apart, p)
		}
	}
	for _, o := range oddBoosters(apart) {
		c.Report(voltsDiffer(c, &o))
	}
}

// voltsApart is how far two voltages lie apart at most, and at least.
func voltsApart(x, y quantity.Voltage) (worst, least float64) {
	return max(x.Hi-y.Lo, y.Hi-x.Lo), max(0, x.Lo-y.Hi, y.Lo-x.Hi)
}

func voltsDiffer(c *rule.Case, o *oddBooster) finding.Finding {
	own := &c.L.Boosters[o.booster]
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      own.Pos,
		Place:    finding.Place{Text: "booster " + own.Name},
		Why:      "trains change speed there, and a vehicle that bridges the two carries current from the stronger booster into the weaker",
		Fix:      "set both to the same volts",
		Settings: c.Settings(o.pairs[0].settings),
	}
	var others []int32
	for i := range o.pairs {
		p := &o.pairs[i]
		others = append(others, o.other(p))
		other := &c.L.Boosters[o.other(p)]
		worst, least := voltsApart(own.Volts, other.Volts)
		text := fmt.Sprintf("booster %s drives %s and booster %s %s where their track meets, at %s", own.Name, own.Volts, other.Name, other.Volts, c.WayPlace(p.ways[0]).Text)
		if least <= mostVoltsApart {
			text += "; only the range makes them differ by more than " + quantity.FormatVoltage(mostVoltsApart)
		}
		if i == 0 {
			f.Message = text
		} else {
			f.Also = append(f.Also, text)
		}
		f.Numbers = append(f.Numbers, finding.Number{
			Name: "apart from booster " + other.Name, Text: quantity.FormatVoltage(worst), SI: worst, Unit: "V",
			Limit: "at most " + quantity.FormatVoltage(mostVoltsApart), Source: rule.CommonPractice,
		})
		meetAt(c, &f, p.ways, 1)
	}
	f.Mends = voltsMends(c, o.booster, others)
	return f
}
