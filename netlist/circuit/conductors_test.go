package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
)

// kindWord names the kinds of conductors.
var kindWord = map[circuit.Kind]string{
	circuit.RailLength: "rail", circuit.JointMetal: "joint", circuit.PiecePart: "part", circuit.BondWire: "bond",
	circuit.FeederWire: "feeder", circuit.BusSpan: "span", circuit.WireEnd: "wire end", circuit.BreakerLeg: "breaker",
	circuit.ReverserLeg: "reverser", circuit.DetectorLeg: "detector", circuit.InLineLeg: "in-line", circuit.ChangeoverLeg: "changeover",
	circuit.PlugLeg: "plug", circuit.BridgeFeed: "bridge feed", circuit.PastDetector: "past detector", circuit.PastInLine: "past in-line",
}

// conductorText tells every field of a conductor: kind, index of what it is part of, its
// rail and leg, from and to in feet, whether it is sure, in which position of which
// device, the line of its entry, and the two nodes.
func conductorText(c *circuit.Circuit, k *circuit.Conductor) string {
	words := []string{kindWord[k.Kind], fmt.Sprint(k.Ref)}
	if k.Part != circuit.NoPart {
		words = append(words, k.Part.String())
	}
	words = append(words, railWord[k.Rail], k.Leg.String(), feet(k.From)+".."+feet(k.To))
	if !k.Sure {
		words = append(words, "perhaps")
	}
	if k.Device >= 0 {
		words = append(words, fmt.Sprintf("in %s %s", c.Devices[k.Device].Name, c.Devices[k.Device].Positions[k.Position]))
	} else if k.Position != -1 {
		words = append(words, fmt.Sprintf("position %d of no device", k.Position))
	}
	return strings.Join(words, " ") + fmt.Sprintf(", line %d, %d-%d", k.Pos.Line, k.A, k.B)
}

func conductors(c *circuit.Circuit) string {
	var b strings.Builder
	for i := range c.Conductors {
		fmt.Fprintln(&b, conductorText(c, &c.Conductors[i]))
	}
	return b.String()
}

// One track with a gap, a joint and two feeders, whole.
func TestConductorFields(t *testing.T) {
	c := build(t, head+power+`tracks:
  M1: {from: end, to: end, length: 10 ft}
gaps:
  M1: [{at: 4 ft, rails: left, kind: insulated}]
joints:
  M1: [{at: 7 ft, rails: right, kind: unknown}]
feeders:
  M1:
    A: right
    2 ft: {from: ring @ 1 ft, length: 12 in}
    9 ft: {from: ring @ 8 ft, A: left, rails: left, length: 6 in, broken: unknown}
`)
	// Nodes: 0, 1 the booster's legs, 2, 3 the supply's; 4 to 7 leg A of the bus at 0, 1, 8,
	// 40 ft, 8 to 11 leg B; then left and right of the track at 0, 2, 4 ft, behind the gap, at
	// 7 ft, behind the joint, at 9, 10 ft.
	check(t, conductors(c), `
wire end 0 left A 0..0, line 6, 0-4
span 0 left A 0..1, line 6, 4-5
span 0 left A 1..8, line 6, 5-6
span 0 left A 8..40, line 6, 6-7
wire end 0 left B 0..0, line 6, 1-8
span 0 left B 0..1, line 6, 8-9
span 0 left B 1..8, line 6, 9-10
span 0 left B 8..40, line 6, 10-11
rail 0 left A 0..2, line 8, 12-14
rail 0 right A 0..2, line 8, 13-15
rail 0 left A 2..4, line 8, 14-16
rail 0 right A 2..4, line 8, 15-17
joint 0 right A 4..4, line 10, 17-19
rail 0 left A 4..7, line 8, 18-20
rail 0 right A 4..7, line 8, 19-21
joint 0 left A 7..7, line 12, 20-22
joint 0 right A 7..7 perhaps, line 12, 21-23
rail 0 left A 7..9, line 8, 22-24
rail 0 right A 7..9, line 8, 23-25
rail 0 left A 9..10, line 8, 24-26
rail 0 right A 9..10, line 8, 25-27
feeder 0 right A 0..1, line 16, 5-15
feeder 0 left B 0..1, line 16, 9-14
feeder 1 left A 0..0.5 perhaps, line 17, 6-24
`)
	if c.Nodes != 28 {
		t.Errorf("%d nodes, want 28", c.Nodes)
	}
	if got := c.Conductors[8].Length(); got != 2*ft {
		t.Errorf("the first rail is %v m long, want %v", got, 2*ft)
	}
}
