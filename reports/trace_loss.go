package reports

import (
	"context"
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// lossLines tells, source by source, which loss of one wire, joiner or tap is worst: for a short, and for the drop.
func lossLines(c *rule.Case) []Line {
	var out []Line
	for _, h := range c.Power.Heads {
		if !h.Known() || len(h.Weak.Rails) == 0 {
			continue
		}
		losses, left, err := h.Losses(context.Background())
		if err != nil {
			continue
		}
		short, drop := h.WorstLosses(losses)
		dead := 0
		for i := range losses {
			if losses[i].Dead {
				dead++
			}
		}
		var lines []string
		if short != nil {
			lines = append(lines, fmt.Sprintf("without %s a short at %s draws %s, before that %s", lostText(c, short), c.PointPlace(&short.Point).Text, quantity.FormatCurrent(short.Short), quantity.FormatCurrent(short.Point.Short.Lo)))
		}
		if drop != nil && drop.Drop > 0 {
			lines = append(lines, fmt.Sprintf("without %s trains at %s lose %s on the way", lostText(c, drop), c.PointPlace(&drop.Point).Text, quantity.FormatVoltage(drop.Drop)))
		}
		if dead > 0 {
			lines = append(lines, fmt.Sprintf("%s have no second way beside them: what lies behind goes dead (see --without)", counted(dead, "wire or joint", "wires and joints")))
		}
		if left > 0 {
			lines = append(lines, fmt.Sprintf("%s not tried: too many", counted(left, "loss was", "losses were")))
		}
		if len(lines) == 0 {
			continue
		}
		out = append(out, Line{0, true, "the worst loss of one wire or joint, behind " + c.C.Sources[h.Source].Name + " (everything at its worst)"})
		for _, l := range lines {
			out = append(out, Line{1, false, l})
		}
	}
	return out
}

// lostText names what is lost.
func lostText(c *rule.Case, l *power.Loss) string {
	k := &c.C.Conductors[l.Conductor]
	leg := c.LegWord(k.Leg)
	switch k.Kind {
	case circuit.FeederWire:
		return fmt.Sprintf("the wire of %s of the feeder at %s", leg, c.FeederPlace(k.Ref).Text)
	case circuit.WireEnd:
		return fmt.Sprintf("the joint of %s of bus %s to its source", leg, c.L.Buses[k.Ref].Name)
	default:
		return fmt.Sprintf("the joiner in the %s rail of %s", c.RailWord(k.Rail), c.L.Pieces[k.Ref].Name)
	}
}
