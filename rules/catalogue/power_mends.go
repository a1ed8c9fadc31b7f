package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// wireMends are the sizes above a culprit's wire, the next first, as changes to try.
func wireMends(c *rule.Case, k rule.Culprit) []finding.Mend {
	wire, is := c.CulpritWire(k)
	if !is || !wire.Known() {
		return nil
	}
	kind := finding.MendBusWire
	switch k.Kind {
	case circuit.FeederWire:
		kind = finding.MendFeederWire
	case circuit.BondWire:
		kind = finding.MendBondWire
	}
	var out []finding.Mend
	for _, to := range c.Thicker(wire, kind == finding.MendFeederWire) {
		out = append(out, wireMend(c, k, kind, to))
	}
	return out
}

func wireMend(c *rule.Case, k rule.Culprit, kind finding.MendKind, to quantity.Wire) finding.Mend {
	return finding.Mend{
		Kind: kind, Ref: k.Ref, SquareM: to.Lo, Gauge: to.Gauge, HasGauge: to.HasGauge,
		Text: fmt.Sprintf("make %s of %s", c.CulpritName(k), rule.WireText(to)),
	}
}

// feederMends is one more feeder at a point of track, like the one that the point's loop uses most.
func feederMends(c *rule.Case, p *power.Point, parts []rule.Part) []finding.Mend {
	if p.Way < 0 {
		return nil
	}
	for _, q := range parts {
		if q.Kind != circuit.FeederWire {
			continue
		}
		f := &c.L.Feeders[q.Ref]
		if f.Place.Piece != c.C.Ways[p.Way].Piece || f.Place.End >= 0 || f.Rails != layout.BothRails {
			continue
		}
		at := c.PointPlace(p).Text
		return []finding.Mend{{
			Kind: finding.MendFeeder, Ref: q.Ref, AtM: p.At,
			Text: fmt.Sprintf("hang one more feeder at %s, like that at %s, from the bus as much farther along", at, c.FeederPlace(q.Ref).Text),
		}}
	}
	return nil
}

// twistMends twists the wires of a bus that are not.
func twistMends(c *rule.Case, k rule.Culprit) []finding.Mend {
	if k.Kind != circuit.BusSpan || c.L.Buses[k.Ref].Laid.Kind == layout.LaidTwisted || c.L.Buses[k.Ref].Legs != layout.LegsBoth {
		return nil
	}
	return []finding.Mend{{Kind: finding.MendTwist, Ref: k.Ref, Text: "twist the two wires of " + c.CulpritName(k)}}
}
