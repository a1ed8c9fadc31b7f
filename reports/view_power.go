package reports

import (
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// Power is the track that one guard stands before, and no nearer one, in volts and amperes.
type Power struct {
	Layout      string   `json:"layout"`
	Guard       string   `json:"guard"`
	Source      string   `json:"source"`
	TripsAt     *float64 `json:"trips_at_a"`
	WeakestAt   string   `json:"weakest_at"`
	LoopLow     *float64 `json:"loop_low_ohm"`
	LoopHigh    *float64 `json:"loop_high_ohm"`
	ShortLow    *float64 `json:"short_low_a"`
	ShortHigh   *float64 `json:"short_high_a"`
	WorstDropAt string   `json:"worst_drop_at"`
	DropLow     *float64 `json:"drop_low_v"`
	DropHigh    *float64 `json:"drop_high_v"`
	DropAmps    *float64 `json:"drop_a"`

	trips, short, drop string
}

// newPower lists every guard that has track of its own.
func newPower(file string, k *rule.Case) []Power {
	out := []Power{}
	for _, h := range k.Power.Heads {
		if !h.Known() {
			continue
		}
		for g, p := range h.Weakest {
			if p != nil {
				out = append(out, powerOf(file, k, h, g, p))
			}
		}
	}
	return out
}

func powerOf(file string, k *rule.Case, h *power.Head, guard int, p *power.Point) Power {
	x := Power{
		Layout: file, Guard: h.Weak.Guards[guard].Name, Source: k.C.Sources[h.Source].Name,
		WeakestAt: k.PointPlace(p).Text,
		LoopLow:   finite(p.Loop.Lo), LoopHigh: finite(p.Loop.Hi), ShortLow: finite(p.Short.Lo), ShortHigh: finite(p.Short.Hi),
		trips: "not said", short: rule.RangeText(p.Short, quantity.FormatCurrent), drop: "no train draws current",
	}
	if at := h.Passes(int32(guard)); finite(at) != nil {
		x.TripsAt = finite(at)
		x.trips = quantity.FormatCurrent(at)
	}
	if d := h.Drops[guard]; d != nil && d.Amps > 0 {
		x.WorstDropAt = k.PointPlace(&d.Point).Text
		x.DropLow, x.DropHigh, x.DropAmps = finite(d.Wiring.Lo), finite(d.Wiring.Hi), finite(d.Amps)
		x.drop = rule.RangeText(d.Wiring, quantity.FormatVoltage) + " with " + quantity.FormatCurrent(d.Amps)
	}
	return x
}
