package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// wires tells conductors of some kinds by the names of their nodes.
func wires(c *circuit.Circuit, kinds ...circuit.Kind) string {
	names := nodeNames(c)
	for s := range c.Spots {
		for rail, n := range c.Spots[s].Node {
			names[n] = spotText(c, int32(s)) + " " + railWord[rail]
		}
	}
	var b strings.Builder
	for i := range c.Conductors {
		k := &c.Conductors[i]
		for _, kind := range kinds {
			if k.Kind != kind {
				continue
			}
			sure := ""
			if !k.Sure {
				sure = " perhaps"
			}
			fmt.Fprintf(&b, "%s %d %s: %s to %s%s, %s ft\n", kindWord[kind], k.Ref, k.Leg, names[k.A], names[k.B], sure, feet(k.Length()))
		}
	}
	return b.String()
}

// Every place where something hangs from a bus is a tap, once.
func TestTaps(t *testing.T) {
	c := build(t, head+`supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
breakers: {yard: {from: main @ 12 ft}}
detectors: {D1: {from: main @ 3 ft, leg: B, senses: current}}
in-line: {fuse: {from: main @ 4 ft, kind: fuse, leg: both}}
plugs: {gate: {from: main @ 5 ft, legs: straight}}
reversers: {loop: {from: main @ 6 ft, switching: by-hand}}
changeovers: {prog: {positions: {run: main @ 7 ft, dark: nothing}, opens: both}}
buses:
  main: {from: booster one, wire: 14 AWG, length: 20 ft, to: main @ 2 ft}
  lone: {from: detector D1, legs: B, wire: 14 AWG, length: 5 ft}
  long: {from: main @ 2 ft, wire: 14 AWG, length: unknown}
turnouts:
  T: {hand: left, length: 11 in, wiring: switched-frog, jumpers: yes, throw: break-first, frog-from: main @ 9 ft, frog-gets: {straight: A, curved: B}}
turntables:
  TT: {bridge: 12 in, tracks: {lead: 0 deg}, feed: plain, from: main @ 10 ft, A: left}
transfer-tables:
  XT: {bridge: 4 ft, a: {a1: 0 in}, b: {b1: 0 in}, from: main @ 11 ft, A: left}
terminators:
  - {at: main @ 15 ft, resistance: 100 Ω}
loads:
  - {at: main @ 16 ft, kind: lamp, draws: 20 mA}
tracks:
  M: {from: T points, to: end, length: 9 ft}
  S: {from: T straight, to: end, length: 1 ft}
  C: {from: T curved, to: end, length: 1 ft}
  L: {from: TT lead, to: end, length: 1 ft}
  X: {from: XT a1, to: end, length: 1 ft}
  Y: {from: XT b1, to: end, length: 1 ft}
feeders:
  M: {A: left, 1 ft: main @ 12 ft, 2 ft: {from: main @ 13 ft, B-from: lone @ 2 ft}, 3 ft: long @ 4 ft, 4 ft: long @ end, 5 ft: long @ 2 ft}
`)
	var b strings.Builder
	for i := range c.Layout.Buses {
		fmt.Fprintf(&b, "%s:", c.Layout.Buses[i].Name)
		for k, at := range c.BusNodes[i].At {
			legs := ""
			for leg := range layout.Leg(2) {
				if c.BusNodes[i].Node[leg][k] >= 0 {
					legs += leg.String()
				}
			}
			fmt.Fprintf(&b, " %s%s", feet(at), legs)
		}
		fmt.Fprintln(&b)
	}
	check(t, b.String(), `
main: 0AB 2AB 3AB 4AB 5AB 6AB 7AB 9AB 10AB 11AB 12AB 13AB 15AB 16AB 20AB
lone: 0B 2B 5B
long: 0AB 2AB 4AB
`)
	check(t, wires(c, circuit.WireEnd), `
wire end 0 A: booster one A to main @ 0 A, 0 ft
wire end 0 A: main @ 20 A to main @ 2 A, 0 ft
wire end 0 B: booster one B to main @ 0 B, 0 ft
wire end 0 B: main @ 20 B to main @ 2 B, 0 ft
wire end 1 B: source of lone B to lone @ 0 B, 0 ft
wire end 2 A: main @ 2 A to long @ 0 A, 0 ft
wire end 2 B: main @ 2 B to long @ 0 B, 0 ft
`)
	check(t, wires(c, circuit.FeederWire), `
feeder 0 A: main @ 12 A to M @ 1 left, 0 ft
feeder 0 B: main @ 12 B to M @ 1 right, 0 ft
feeder 1 A: main @ 13 A to M @ 2 left, 0 ft
feeder 1 B: lone @ 2 B to M @ 2 right, 0 ft
feeder 2 A: long @ 4 A to M @ 3 left, 0 ft
feeder 2 B: long @ 4 B to M @ 3 right, 0 ft
feeder 3 A: long @ 4 A to M @ 4 left, 0 ft
feeder 3 B: long @ 4 B to M @ 4 right, 0 ft
feeder 4 A: long @ 2 A to M @ 5 left, 0 ft
feeder 4 B: long @ 2 B to M @ 5 right, 0 ft
`)
	check(t, notModelled(c), `
33: where long @ end is: the length of the bus is unknown; it is taken to be at its last tap that is measured
`)
	check(t, wires(c, circuit.BridgeFeed), `
bridge feed 1 A: main @ 10 A to TT bridge left, 0 ft
bridge feed 1 B: main @ 10 B to TT bridge right, 0 ft
bridge feed 2 A: main @ 11 A to XT bridge left, 0 ft
bridge feed 2 B: main @ 11 B to XT bridge right, 0 ft
`)
}

// Feeders: which rail gets which leg, and what is not said of them.
func TestFeeders(t *testing.T) {
	c := build(t, head+power+`tracks:
  M: {from: end, to: end, length: 9 ft}
feeders:
  M:
    length: 6 in
    A: right
    start: ring @ 1 ft
    1 ft: {from: ring @ 1 ft, A: left}
    2 ft: {from: ring @ 2 ft, rails: left}
    3 ft: {from: ring @ 3 ft, rails: right, length: 9 in}
    4 ft: {from: ring @ 4 ft, broken: yes}
    5 ft: {from: ring @ 5 ft, broken: unknown}
    6 ft: {from: unknown}
    7 ft: {from: ring @ 7 ft, A-from: unknown}
    8 ft: {from: unknown, rails: left}
`)
	check(t, wires(c, circuit.FeederWire), `
feeder 0 A: ring @ 1 A to M @ 0 right, 0.5 ft
feeder 0 B: ring @ 1 B to M @ 0 left, 0.5 ft
feeder 1 A: ring @ 1 A to M @ 1 left, 0.5 ft
feeder 1 B: ring @ 1 B to M @ 1 right, 0.5 ft
feeder 2 B: ring @ 2 B to M @ 2 left, 0.5 ft
feeder 3 A: ring @ 3 A to M @ 3 right, 0.75 ft
feeder 5 A: ring @ 5 A to M @ 5 right perhaps, 0.5 ft
feeder 5 B: ring @ 5 B to M @ 5 left perhaps, 0.5 ft
feeder 7 B: ring @ 7 B to M @ 7 left, 0.5 ft
`)
	check(t, notModelled(c), `
19: leg A of the feeder at M @ 6 ft: the layout does not say what it hangs from
20: leg A of the feeder at M @ 7 ft: the layout does not say what it hangs from
21: leg B of the feeder at M @ 8 ft: the layout does not say what it hangs from
`)
}

// Bonds, from the places they name.
func TestBonds(t *testing.T) {
	c := build(t, head+`turnouts:
  T: {hand: right, length: 11 in, wiring: dead-frog, jumpers: no}
tracks:
  M: {from: T points, to: end, length: 9 ft}
  S: {from: T straight, to: end, length: 1 ft}
  C: {from: T curved, to: end, length: 1 ft}
  U: {from: end, to: end, length: unknown}
bonds:
  - {from: U @ 2 in from end, to: M @ 1 ft, rails: both}
  - {from: M @ 1 ft, to: M @ 4 ft, rails: both, length: 4 ft}
  - {from: T straight, to: M end, rails: [right, left]}
  - {from: M @ 4 ft, to: T curved, rails: [left, left]}
`)
	check(t, wires(c, circuit.BondWire), `
bond 1 A: M @ 1 left to M @ 4 left, 4 ft
bond 1 A: M @ 1 right to M @ 4 right, 4 ft
bond 2 A: T straight right to M @ 9 left, 0 ft
bond 3 A: M @ 4 left to T curved left, 0 ft
`)
}
