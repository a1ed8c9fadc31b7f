package audit

import (
	"fmt"
	"strings"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/rule"
)

// off begins every measurement with an ohmmeter: with power on, or through an engine or a booster, it reads nonsense
// and may be harmed.
const off = "Switch everything off and pull the supplies' plugs. "

// shopSizes are the AWG sizes that a reading is told for. Common practice, no source.
var shopSizes = []int{22, 20, 18, 16, 14, 12}

// bench is the room in which wire is measured, in degrees Celsius.
var bench = conductor.Range{Lo: 15, Hi: 25}

// busWireByMeter says how to find the size of a bus's wire.
func busWireByMeter(l *layout.Layout, b *layout.Bus) []string {
	out := []string{off + "Look at the jacket first: the size is often printed along it. Or cut a little of the end bare and measure the copper across with a caliper: " + diametersText() + " (solid; a stranded wire is a tenth thicker)."}
	metres := b.Length.Mid()
	if !b.Length.Known() {
		return append(out, "By ohms it takes the length as well, which is not known.")
	}
	how := "Take bus " + b.Name + " off what feeds it, both legs, and everything that draws current off the rails. Join its two legs at the far end with a clip, and measure ohms between them at the near end; the wire is as long as there and back, " + quantity.FormatLength(2*metres) + "."
	if b.Legs != layout.LegsBoth {
		how = "Take bus " + b.Name + " off what feeds it. Run a spare wire of known size to its far end, join the two there, and measure ohms between them at the near end; take the spare wire's own ohms off."
		metres /= 2
	}
	return append(out, off+how+" Its feeders off at one leg, too: through them the rails help the bus, and it reads thicker than it is. Hold the two probes together first and take off what that reads. "+ohmsText(metres)+". Take the clip off before power goes on.")
}

// ohmsText says which reading means which wire, over so many metres there and as many back.
func ohmsText(metres float64) string {
	parts := make([]string, len(shopSizes))
	for i, n := range shopSizes {
		r := conductor.WireOhms(awg(n), bench)
		parts[i] = rule.RangeText(conductor.Range{Lo: r.Lo * 2 * metres, Hi: r.Hi * 2 * metres}, quantity.FormatResistance) + " is " + quantity.AWGName(n)
	}
	text := strings.Join(parts, ", ")
	if r := conductor.WireOhms(awg(shopSizes[len(shopSizes)-1]), bench); r.Hi*2*metres < leastOhms {
		text += "; below " + quantity.FormatResistance(leastOhms) + " a hand meter tells little, so trust the caliper"
	}
	return text
}

// leastOhms is what a hand meter still tells apart from its own leads. Common practice, no source.
const leastOhms = 0.2

// diametersText says which copper is which size.
func diametersText() string {
	parts := make([]string, len(shopSizes))
	for i, n := range shopSizes {
		parts[i] = fmt.Sprintf("%.2f mm is %s", quantity.AWGDiameter(n)*1e3, quantity.AWGName(n))
	}
	return strings.Join(parts, ", ")
}

func feederWire() []string {
	return []string{off + "Measure the copper of one feeder across with a caliper where it is bare: " + diametersText() + ", 0.51 mm is 24 AWG. Look at a few others, too: feeders are seldom all of one roll."}
}

// busLengthByTape says how to find the length of a bus.
func busLengthByTape(b *layout.Bus) []string {
	out := []string{"With a tape along the wire, from what feeds it to its far end, one way; power off, since the tape is metal."}
	if b.Wire.Known() {
		r := conductor.WireOhms(b.Wire, bench)
		out = append(out, off+"Or, where it cannot be reached: take bus "+b.Name+" off what feeds it, join its two legs at the far end with a clip, and measure ohms between them at the near end. Hold the probes together first and take off what that reads. Each ohm is "+
			rule.RangeText(conductor.Range{Lo: 1 / (2 * r.Hi), Hi: 1 / (2 * r.Lo)}, quantity.FormatLength)+" of bus. Take the clip off before power goes on.")
	}
	return out
}

func railByCaliper() []string {
	return []string{off + "Measure a rail's height with a caliper: code 100 is 0.100 in (2.54 mm) high, code 83 0.083 in (2.11 mm), code 70 0.070 in (1.78 mm). Brass is yellow, nickel silver white with a yellow tinge, and steel holds a magnet."}
}

// feederByMeter says how to find what a feeder hangs from.
func feederByMeter(l *layout.Layout, buses []int32) []string {
	names := make([]string, len(buses))
	for i, b := range buses {
		names[i] = "bus " + l.Buses[b].Name
	}
	return []string{
		off + "Take both its wires off the rails, since through the rails every bus of the district is joined, and take the buses off what feeds them.",
		"Ohms from one loose wire to each leg of " + listed(names, mostNamed) + ", at the end where the bus is fed: near 0 is the one it hangs from, and the leg. The same for the other wire. Tag both before they go back on.",
	}
}

func voltsByMeter() []string {
	return []string{"It stands on its label or in its instructions. With power on, a meter on AC volts from rail to rail reads it roughly: few meters are made for DCC, and many read a tenth high or low. Touch the rails with the probes only."}
}

func jumpersByMeter() []string {
	return []string{off + "Ohms from a closure rail to the stock rail beside it, with the points thrown the other way: near 0 means a jumper (or metal that makes one unneeded). Feeders beyond the turnout must be off the rails for it, or the reading goes round by the bus."}
}
