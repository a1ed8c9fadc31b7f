package rule

import (
	"cmp"
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/districts/power"
	"gapwise/rules/finding"
)

// PointPlace is where a point of track or a tap of a bus is.
func (c *Case) PointPlace(p *power.Point) finding.Place {
	if p.Way < 0 {
		return finding.Place{Text: fmt.Sprintf("bus %s @ %s", c.L.Buses[p.Bus].Name, quantity.FormatLength(p.At))}
	}
	return c.TrackPlace(c.L.Pieces[c.C.Ways[p.Way].Piece].Index, p.At)
}

// PointPos is where the track or bus of a point stands in the file.
func (c *Case) PointPos(p *power.Point) source.Pos {
	if p.Way < 0 {
		return c.L.Buses[p.Bus].Pos
	}
	return c.C.Ways[p.Way].Pos
}

// Part is what one entry of the layout adds to a loop: ohms of it, and how many of its wires or lengths
// the current takes.
type Part struct {
	Culprit
	Ohms         float64
	Henries      float64 // at the high end
	LeastHenries float64
	Missing      string // what the layout does not say about it, "" when its ohms are known
}

// Parts are the entries that a loop to a point runs through, by falling ohms; all rails of one track are one.
// The source's own inside is not among them.
func (c *Case) Parts(p *power.Point) []Part {
	shares, err := p.Shares()
	if err != nil {
		return nil
	}
	var out []Part
	at := map[Culprit]int{}
	for _, s := range shares {
		k := &c.C.Conductors[s.Conductor]
		key := Culprit{k.Kind, k.Ref}
		switch k.Kind {
		case circuit.JointMetal, circuit.PiecePart:
			key.Kind = circuit.RailLength
		case circuit.WireEnd:
			key.Kind = circuit.BusSpan
		}
		i, seen := at[key]
		if !seen {
			i = len(out)
			at[key] = i
			out = append(out, Part{Culprit: key})
		}
		out[i].Ohms += s.Ohms
		e := c.Power.Elements.Of(s.Conductor)
		out[i].Henries += e.Henries.Hi * s.Current * s.Current
		out[i].LeastHenries += e.Henries.Lo * s.Current * s.Current
		if e.Assumed {
			out[i].Missing = e.Missing
		}
	}
	slices.SortStableFunc(out, func(x, y Part) int { return -cmp.Compare(x.Ohms, y.Ohms) })
	return out
}

// CulpritName names an entry: "bus mine", "the feeder at M1 @ 4 ft".
func (c *Case) CulpritName(k Culprit) string {
	switch k.Kind {
	case circuit.BusSpan, circuit.WireEnd:
		return "bus " + c.L.Buses[k.Ref].Name
	case circuit.FeederWire:
		return "the feeder at " + c.FeederPlace(k.Ref).Text
	case circuit.BondWire:
		return "the bond at " + c.Place(c.L.Bonds[k.Ref].From).Text
	case circuit.BreakerLeg:
		return "breaker " + c.L.Breakers[k.Ref].Name
	case circuit.ReverserLeg:
		return "reverser " + c.L.Reversers[k.Ref].Name
	case circuit.DetectorLeg, circuit.PastDetector:
		return "detector " + c.L.Detectors[k.Ref].Name
	case circuit.InLineLeg, circuit.PastInLine:
		return layout.InLineKindWords[c.L.InLines[k.Ref].Kind] + " " + c.L.InLines[k.Ref].Name
	case circuit.PlugLeg:
		return "plug " + c.L.Plugs[k.Ref].Name
	case circuit.ChangeoverLeg:
		return "changeover " + c.L.Changeovers[k.Ref].Name
	default:
		return "the rails of " + c.L.Pieces[k.Ref].Name
	}
}

// CulpritPos is where an entry stands in the file.
func (c *Case) CulpritPos(k Culprit) source.Pos {
	switch k.Kind {
	case circuit.BusSpan, circuit.WireEnd:
		return c.L.Buses[k.Ref].Pos
	case circuit.FeederWire:
		return c.L.Feeders[k.Ref].Pos
	case circuit.BondWire:
		return c.L.Bonds[k.Ref].Pos
	case circuit.BreakerLeg:
		return c.L.Breakers[k.Ref].Pos
	case circuit.ReverserLeg:
		return c.L.Reversers[k.Ref].Pos
	case circuit.DetectorLeg, circuit.PastDetector:
		return c.L.Detectors[k.Ref].Pos
	case circuit.InLineLeg, circuit.PastInLine:
		return c.L.InLines[k.Ref].Pos
	case circuit.PlugLeg:
		return c.L.Plugs[k.Ref].Pos
	case circuit.ChangeoverLeg:
		return c.L.Changeovers[k.Ref].Pos
	default:
		return c.L.Pieces[k.Ref].Pos
	}
}

// CulpritWire is the wire of an entry that is wire; ok is false for anything else.
func (c *Case) CulpritWire(k Culprit) (w quantity.Wire, ok bool) {
	switch k.Kind {
	case circuit.BusSpan, circuit.WireEnd:
		return c.L.Buses[k.Ref].Wire, true
	case circuit.FeederWire:
		return c.L.Feeders[k.Ref].Wire, true
	case circuit.BondWire:
		return c.L.Bonds[k.Ref].Wire, true
	default:
		return w, false
	}
}

// Thicker lists the sizes above a wire's, thin first: those in stock where the layout lists any, else what
// shops keep, in the system in which the wire was typed.
func (c *Case) Thicker(w quantity.Wire, feeder bool) []quantity.Wire {
	stock := c.L.Stock.Bus
	if feeder {
		stock = c.L.Stock.Feeder
	}
	var sizes []quantity.Wire
	for _, s := range stock {
		if s.Wire.Known() {
			sizes = append(sizes, s.Wire)
		}
	}
	if len(sizes) == 0 {
		sizes = ShopSizes(w.Known() && !w.HasGauge)
	}
	slices.SortStableFunc(sizes, func(x, y quantity.Wire) int { return cmp.Compare(x.Lo, y.Lo) })
	return slices.DeleteFunc(sizes, func(s quantity.Wire) bool { return s.Lo <= w.Hi*1.001 })
}

// Less is by what part the resistance of a wire falls when it is made of another size.
func (c *Case) Less(from, to quantity.Wire) float64 {
	room := c.Power.Elements.Celsius()
	return 1 - conductor.WireOhms(to, room).Hi/conductor.WireOhms(from, room).Hi
}

// WireText is how a size is written: "14 AWG (2.08 mm²)", "1.5 mm² (about 15 AWG)".
func WireText(w quantity.Wire) string {
	if w.HasGauge {
		return quantity.AWGName(w.Gauge) + " (" + quantity.FormatArea(w.Lo) + ")"
	}
	return quantity.FormatArea(w.Lo) + " (about " + quantity.AWGName(quantity.NearestAWG(w.Lo)) + ")"
}

// RangeText is a range in words: "4.4 .. 5.1 A" as two values of one unit, or one value.
func RangeText(r conductor.Range, one func(float64) string) string {
	lo, hi := one(r.Lo), one(r.Hi)
	if lo == hi {
		return lo
	}
	return lo + " .. " + hi
}
