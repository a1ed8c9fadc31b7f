package catalogue

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// MostDrop is how much of the source's volts wiring may lose, in per cent: NEM 604:2013, 2.2.
const (
	MostDrop       = 10.0
	MostDropSource = "NEM 604:2013, 2.2"
)

// dropPart is one of the three things that lose volts between a source and a train.
type dropPart struct {
	rule  *rule.Rule
	limit string // the owner's limit
	what  string
	kinds []circuit.Kind
}

var (
	busPart    = dropPart{&busDrop, "bus-drop", "the buses and what stands in them", []circuit.Kind{circuit.BusSpan, circuit.WireEnd, circuit.BreakerLeg, circuit.ReverserLeg, circuit.DetectorLeg, circuit.InLineLeg, circuit.ChangeoverLeg, circuit.PlugLeg, circuit.BridgeFeed}}
	feederPart = dropPart{&feederDrop, "feeder-drop", "the feeders", []circuit.Kind{circuit.FeederWire, circuit.BondWire}}
	railPart   = dropPart{&railDrop, "rail-drop", "the rails, their joints and the contacts in track work", []circuit.Kind{circuit.RailLength, circuit.JointMetal, circuit.PiecePart}}
	dropParts  = []*dropPart{&busPart, &feederPart, &railPart}
)

func (d *dropPart) takes(k circuit.Kind) bool {
	for _, own := range d.kinds {
		if own == k {
			return true
		}
	}
	return false
}

// drops judges the worst drop behind every guard: the whole of it when this part has the largest share, and this part
// by itself when the owner has a limit for it.
func drops(c *rule.Case, part dropPart) []rule.Verdict {
	var out []rule.Verdict
	for _, h := range heads(c, "the drop") {
		for _, d := range h.Drops {
			if d == nil || d.Amps == 0 {
				continue
			}
			if v, ok := judgeDrop(c, h, d, &part); ok {
				out = append(out, v)
			}
		}
		if len(h.Drops) > 0 && len(c.L.Trains) == 0 && part.rule == &busDrop {
			c.LeaveOpen("what trains behind "+c.C.Sources[h.Source].Name+" make its wires drop", "the layout lists no trains", c.C.Sources[h.Source].Pos)
		}
		if d := firstUnknown(h); d != nil && part.rule == &busDrop {
			c.LeaveOpen("what every train behind "+c.C.Sources[h.Source].Name+" makes its wires drop", "a train that may move has no `current`", c.C.Sources[h.Source].Pos)
		}
	}
	return out
}

func firstUnknown(h *power.Head) *power.Drop {
	for _, d := range h.Drops {
		if d != nil && d.Unknown {
			return d
		}
	}
	return nil
}

// judgeDrop holds the drop at one guard's worst point against its limit.
func judgeDrop(c *rule.Case, h *power.Head, d *power.Drop, part *dropPart) (v rule.Verdict, ok bool) {
	limit := MostDrop / 100 * h.Volts.Lo
	own, hasOwn := limitOf(c, part.limit)
	if d.Wiring.Hi <= limit && !hasOwn {
		return v, false
	}
	parts := c.Parts(&d.Point)
	if d.Wiring.Lo <= limit && !hasOwn {
		// within the published limit unless everything is at its worst; what the layout does not say may decide that
		if p, assumed := missing(parts); assumed && part.rule == &busDrop {
			c.LeaveOpen(fmt.Sprintf("whether the drop at %s stays within its limit: it is %s, and may be %s at most", c.PointPlace(&d.Point).Text, rule.RangeText(d.Wiring, quantity.FormatVoltage), quantity.FormatVoltage(limit)), measure(c, parts), c.CulpritPos(p.Culprit))
		}
		return v, false
	}
	ohms := map[*dropPart]float64{}
	total := 0.0
	for _, p := range parts {
		for _, q := range dropParts {
			if q.takes(p.Kind) {
				ohms[q] += p.Ohms
				total += p.Ohms
			}
		}
	}
	largest := dropParts[0]
	for _, q := range dropParts[1:] {
		if ohms[q] > ohms[largest] {
			largest = q
		}
	}
	if hasOwn {
		share := 0.0
		for q, r := range ohms {
			if q.rule == part.rule {
				share = r / total
			}
		}
		if ownLimit, text := inVolts(own, h); finite(ownLimit) {
			return tellDrop(c, h, d, parts, part, d.Wiring.Times(share), ownLimit, text, "yours")
		}
	}
	if largest.rule != part.rule {
		return v, false
	}
	return tellDrop(c, h, d, parts, nil, d.Wiring, limit, fmt.Sprintf("%s of %s, %s", quantity.FormatPercent(MostDrop), quantity.FormatVoltage(h.Volts.Lo), quantity.FormatVoltage(limit)), MostDropSource)
}

// inVolts is an owner's limit in volts.
func inVolts(l *layout.Limit, h *power.Head) (volts float64, text string) {
	switch l.Unit {
	case layout.UnitPercent:
		v := l.Value.Hi / 100 * h.Volts.Lo
		return v, fmt.Sprintf("%s of %s, %s", quantity.FormatPercent(l.Value.Hi), quantity.FormatVoltage(h.Volts.Lo), quantity.FormatVoltage(v))
	case layout.UnitVolt:
		return l.Value.Hi, quantity.FormatVoltage(l.Value.Hi)
	default:
		return math.NaN(), ""
	}
}

// tellDrop words a drop over its limit; part is nil for the whole drop.
func tellDrop(c *rule.Case, h *power.Head, d *power.Drop, parts []rule.Part, part *dropPart, volts conductor.Range, limit float64, limitText, source string) (v rule.Verdict, ok bool) {
	if volts.Hi <= limit || len(parts) == 0 {
		return v, false
	}
	place := c.PointPlace(&d.Point)
	if p, assumed := missing(parts); assumed && volts.Lo <= limit {
		c.LeaveOpen(fmt.Sprintf("whether the drop at %s stays within its limit", place.Text), measure(c, parts), c.CulpritPos(p.Culprit))
		return v, false
	}
	severity := finding.Caution
	if volts.Lo <= limit {
		severity = finding.Note
	}
	culprit := parts[0].Culprit
	for _, p := range parts {
		if part == nil || part.takes(p.Kind) {
			culprit = p.Culprit
			break
		}
	}
	what := "wires and rails lose"
	if part != nil {
		what = part.what + " lose"
	}
	text := rule.RangeText(volts, quantity.FormatVoltage)
	amps := quantity.FormatCurrent(d.Amps)
	v.Culprit = culprit
	v.Brief = fmt.Sprintf("%s %s on the way to %s with %s", what, text, place.Text, amps)
	v.Finding = finding.Finding{
		Severity: severity,
		Pos:      c.CulpritPos(culprit),
		Place:    place,
		Message:  fmt.Sprintf("%s %s on the way from %s to %s when %s %s there", what, text, c.C.Sources[h.Source].Name, place.Text, trainsWord(d), amps),
		Why:      "trains slow down and lights dim there, and a short there is weaker too",
		Settings: c.Settings(d.Point.Settings),
		Numbers:  []finding.Number{{Name: "drop", Text: text, SI: volts.Hi, Unit: "V", Limit: "at most " + limitText, Source: source}},
		Witness:  chain(c, &d.Point, parts),
		Fix:      mendDrop(c, d, parts, culprit, volts, limit),
		Mends:    loopMends(c, h, &d.Point, parts, culprit, nil),
	}
	if d.Detectors > 0 {
		v.Finding.Numbers = append(v.Finding.Numbers, finding.Number{Name: "detectors drop besides", Text: quantity.FormatVoltage(d.Detectors), SI: d.Detectors, Unit: "V"})
	}
	if severity == finding.Note {
		v.Finding.Assumed = "every joint and contact as good or as bad as they come; " + measure(c, parts)
	}
	return v, true
}

func trainsWord(d *power.Drop) string {
	if d.Trains == 1 {
		return "one train draws"
	}
	return fmt.Sprintf("%d trains that may move at once draw", d.Trains)
}

// mendDrop is the smallest change that brings a drop within its limit.
func mendDrop(c *rule.Case, d *power.Drop, parts []rule.Part, culprit rule.Culprit, volts conductor.Range, limit float64) string {
	name := c.CulpritName(culprit)
	for _, p := range parts {
		if p.Culprit != culprit {
			continue
		}
		// what the wiring may lose, in ohms at this current
		if to, ohms, ok := thicker(c, p, volts.Hi/d.Amps, limit/d.Amps); ok {
			return fmt.Sprintf("make %s of %s: %s then lost at most", name, rule.WireText(to), quantity.FormatVoltage(ohms*d.Amps))
		}
	}
	switch culprit.Kind {
	case circuit.RailLength:
		return fmt.Sprintf("hang one more feeder near %s", c.PointPlace(&d.Point).Text)
	case circuit.FeederWire:
		return fmt.Sprintf("hang a second feeder near %s, or make this one shorter", c.PointPlace(&d.Point).Text)
	default:
		return fmt.Sprintf("no usual size of wire for %s alone is enough: bring a source nearer, run a second bus, or hang more feeders near %s", name, c.PointPlace(&d.Point).Text)
	}
}
