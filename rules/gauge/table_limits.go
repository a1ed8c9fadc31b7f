package gauge

import (
	"fmt"

	"gapwise/netlist/quantity"

	"gapwise/rules/catalogue"
	"gapwise/rules/rule"
)

// The limits of a table by name, those of rules by the rule's.
const (
	LimitWireDrop  = "wire-drop"
	LimitWholeDrop = "whole-drop"
	LimitShort     = "short-margin"
	LimitShortDCC  = "short-margin-dcc"
	LimitHeat      = "wire-hot-before-trip"
	LimitEnergy    = "wire-energy-let-through"
)

// wholePart is what all wiring together may lose, in parts of the volts.
const wholePart = catalogue.MostDrop / 100

// Miss is a limit that a size does not meet.
type Miss struct {
	Limit        string
	Value, Bound float64 // volts, parts, amperes, °C, seconds
	Does         string  // what the wire does: "loses 1.1 V"
	By           string  // what is wrong with that: "0.1 V too much"
}

// Text is both in one.
func (m *Miss) Text() string { return m.Does + ", " + m.By }

// limits are those that a run is held against, with their sources.
func (s *single) limits(a *TableAsk) []Limit {
	drop := Limit{LimitWireDrop, "the wire, out and back, may lose " + quantity.FormatVoltage(s.most), WireDropSource}
	if a.WireDrop > 0 {
		drop.Source = "yours"
		if a.Relative {
			drop.Text += ", " + quantity.FormatPercent(100*a.WireDrop) + " of " + quantity.FormatVoltage(s.volts.Lo)
		}
	}
	whole := Limit{LimitWholeDrop, fmt.Sprintf("all wiring, rail and joints too, may lose %s of the volts, which is %s; the wire alone not more", quantity.FormatPercent(catalogue.MostDrop), quantity.FormatVoltage(wholePart*s.volts.Lo)), catalogue.MostDropSource}
	if !s.whole {
		whole.Text = fmt.Sprintf("all wiring, rail and joints too, should lose no more than %s of the volts, which is %s; shown, and yours decides", quantity.FormatPercent(catalogue.MostDrop), quantity.FormatVoltage(wholePart*s.volts.Lo))
	}
	source := "yours"
	if s.margin == DefaultMargin {
		source = rule.CommonPractice
	}
	out := []Limit{
		drop, whole,
		{LimitShort, fmt.Sprintf("a short at the far end has to draw %s, which is %s more than trips", quantity.FormatCurrent(s.need()), quantity.FormatPercent(100*s.margin)), source},
		{LimitShortDCC, "the same in the mean under DCC: nobody says whether a booster senses the peak, the mean or the rms, and the mean is the least", source},
		{LimitHeat, fmt.Sprintf("the wire may get %s warm in still air from %s, which just does not trip", quantity.FormatTemperature(catalogue.WarmInsulation), quantity.FormatCurrent(s.trip)), "PVC, IEC 60364-4-43, Table 43A"},
	}
	if s.seconds > 0 {
		out = append(out, Limit{LimitEnergy, "the wire has to stand a dead short at its far end for the " + quantity.FormatTime(s.seconds) + " that a trip takes", "IEC 60364-4-43, 434.5.2 (clause from memory) and Table 43A, k = 115"})
	}
	return out
}

// misses are the limits that a row does not meet. What follows from another of them is left out.
func (s *single) misses(r *Row) []Miss {
	var out []Miss
	had := map[string]bool{}
	for _, limit := range tableLimits {
		m, missed := s.miss(limit, r)
		had[limit] = missed
		if !missed || limit == LimitWholeDrop && had[LimitWireDrop] || limit == LimitShortDCC && had[LimitShort] {
			continue
		}
		out = append(out, m)
	}
	return out
}

// tableLimits are the limits in the order in which they are told.
var tableLimits = [...]string{LimitWireDrop, LimitWholeDrop, LimitShort, LimitShortDCC, LimitHeat, LimitEnergy}

// miss holds a row against one limit.
func (s *single) miss(limit string, r *Row) (Miss, bool) {
	need := s.need()
	switch limit {
	case LimitWireDrop:
		m := Miss{limit, r.Drop, s.most, "loses " + quantity.FormatVoltage(r.Drop), quantity.FormatVoltage(r.Drop-s.most) + " too much"}
		if r.DropPart >= 1 {
			m.Does, m.By = "cannot carry "+quantity.FormatCurrent(s.amps), "all the volts on the way"
		}
		return m, r.Drop > s.most
	case LimitWholeDrop:
		part := quantity.FormatPercent(100 * r.DropPart)
		return Miss{limit, r.DropPart, wholePart, "loses " + part + " of the volts", "more than all wiring may"}, s.whole && r.DropPart > wholePart
	case LimitShort:
		return Miss{limit, r.Short, need, "a short at the far end draws " + quantity.FormatCurrent(r.Short), quantity.FormatCurrent(need-r.Short) + " too little"}, !(r.Short >= need)
	case LimitShortDCC:
		mean := r.Pulsed.MeanAbs
		return Miss{limit, mean, need, "under DCC a short at the far end draws a mean of " + quantity.FormatCurrent(mean), quantity.FormatCurrent(need-mean) + " too little"}, !(mean >= need)
	case LimitHeat:
		return Miss{limit, r.Celsius, catalogue.WarmInsulation, "gets " + quantity.FormatTemperature(r.Celsius) + " warm", quantity.FormatTemperature(r.Celsius-catalogue.WarmInsulation) + " too warm"}, r.Celsius > catalogue.WarmInsulation
	default:
		text := "a dead short of " + quantity.FormatCurrent(r.Sudden) + " spoils it in " + quantity.FormatTime(r.Stands)
		if !r.Valid { // more heat leaves it then than the formula knows of: it may stand it, and nothing says so
			text = "how long it stands a dead short of " + quantity.FormatCurrent(r.Sudden) + " is not covered past 5 s"
		}
		return Miss{limit, r.Stands, s.seconds, text, "the trip takes " + quantity.FormatTime(s.seconds)}, s.seconds > 0 && r.Stands < s.seconds
	}
}
