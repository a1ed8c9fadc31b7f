package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// wireMends are the sizes above a culprit's wire, the next first.
func wireMends(c *rule.Case, k rule.Culprit) []finding.Mend {
	wire, is := c.CulpritWire(k)
	if !is || !wire.Known() {
		return nil
	}
	var change finding.Change
	switch k.Kind {
	case circuit.FeederWire:
		change = finding.Change{Op: finding.OpSetFeeder, Ref: k.Ref}
	case circuit.BondWire:
		change = finding.Change{Op: finding.OpSetItem, Section: "bonds", Ref: k.Ref}
	default:
		change = finding.Change{Op: finding.OpSet, Section: "buses", Name: c.L.Buses[k.Ref].Name}
	}
	var out []finding.Mend
	for _, to := range c.Thicker(wire, k.Kind == circuit.FeederWire) {
		one := change
		one.Keys = []finding.Key{{Name: "wire", Value: to.String()}}
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("make %s of %s", c.CulpritName(k), rule.WireText(to)),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{one},
		})
	}
	return out
}

// feederNear is how far from the worst point of a track one more feeder may hang: 6 in.
const feederNear = 0.1524

// feederMends is one more feeder at a point of track, like the one that the point's loop uses most.
func feederMends(c *rule.Case, p *power.Point, parts []rule.Part) []finding.Mend {
	if p.Way < 0 || c.L.Pieces[c.C.Ways[p.Way].Piece].Kind != layout.TrackPiece {
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
		track := c.L.Pieces[f.Place.Piece].Index
		at, ok := c.FreePlace(track, p.At, p.At-feederNear, p.At+feederNear)
		if !ok {
			return nil
		}
		return []finding.Mend{{
			Text:    fmt.Sprintf("hang one more feeder at %s, like that at %s, from the bus as much farther along", c.TrackPlace(track, at).Text, c.FeederPlace(q.Ref).Text),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{c.FeederLike(q.Ref, track, at, f.ARail)},
		}}
	}
	return nil
}

// twistMends twists the wires of a bus that are not.
func twistMends(c *rule.Case, k rule.Culprit) []finding.Mend {
	if k.Kind != circuit.BusSpan || c.L.Buses[k.Ref].Laid.Kind == layout.LaidTwisted || c.L.Buses[k.Ref].Legs != layout.LegsBoth {
		return nil
	}
	return []finding.Mend{{
		Text:    "twist the two wires of " + c.CulpritName(k),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{rule.SetKey("buses", c.L.Buses[k.Ref].Name, "laid", "twisted")},
	}}
}
