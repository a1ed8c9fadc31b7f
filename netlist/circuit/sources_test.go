package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// sourceText tells a source: what it hangs from, the booster at its head, and what sets it apart.
func sourceText(c *circuit.Circuit, s *circuit.Source) string {
	name := func(i int32) string {
		if i < 0 {
			return "nothing"
		}
		return c.Sources[i].Name
	}
	text := s.Name + " from " + name(s.Parent) + ", head " + name(s.Booster)
	if s.Free {
		text += ", free"
	}
	if s.Crossed {
		text += ", crossed"
	}
	return text
}

// grid is everything that a district may hang from.
const grid = head + `supplies:
  wall: {volts: 18 V}
boosters:
  one: {supply: wall, volts: 15 V}
  self: {supply: wall, volts: 15 V, switching: automatic}
cabs:
  north: {volts: 0 .. 12 V}
breakers:
  top: {from: booster one}
  yard: {from: main @ 7 ft}
  under: {from: turned @ 1 ft}
  lost: {from: dark @ 1 ft}
reversers:
  loop: {from: yard @ 3 ft, switching: automatic}
  again: {from: loop @ 1 ft, switching: automatic}
detectors:
  D1: {from: main @ 4 ft, leg: A, senses: current}
in-line:
  fuse: {from: main @ 5 ft, kind: fuse, leg: both}
changeovers:
  prog: {positions: {run: turned @ 2 ft, program: booster self, neither: nothing}, opens: both}
  back: {positions: {west: {from: main @ 6 ft, legs: crossed}, east: main @ 6 ft}, opens: A}
plugs:
  cross: {from: main @ 8 ft, legs: crossed}
  loose: {from: turned @ 3 ft, legs: either}
  firm: {from: turned @ 4 ft, legs: straight}
buses:
  main: {from: breaker top, wire: 14 AWG, length: 40 ft}
  yard: {from: breaker yard, wire: 14 AWG, length: 9 ft}
  loop: {from: reverser loop, wire: 14 AWG, length: 9 ft}
  turned: {from: plug cross, wire: 14 AWG, length: 9 ft}
  firm: {from: plug firm, wire: 14 AWG, length: 9 ft}
  dark: {from: unknown, wire: 14 AWG, length: 9 ft}
  D1-wire: {from: detector D1, legs: A, wire: 14 AWG, length: 9 ft}
  fused: {from: in-line fuse, wire: 14 AWG, length: 9 ft}
`

func TestSources(t *testing.T) {
	c := build(t, grid)
	var b strings.Builder
	for i := range c.Sources {
		fmt.Fprintln(&b, sourceText(c, &c.Sources[i]))
	}
	check(t, b.String(), `
booster one from nothing, head booster one
booster self from nothing, head booster self, free
breaker top from booster one, head booster one
breaker yard from breaker top, head booster one
breaker under from breaker top, head booster one, crossed
breaker lost from nothing, head nothing
reverser loop from breaker yard, head booster one, free
reverser again from reverser loop, head booster one, free
cab north from nothing, head nothing, free
supply wall from nothing, head nothing, free
changeover prog from breaker top, head booster one, crossed
changeover back from breaker top, head booster one, crossed
plug loose from breaker top, head booster one, free, crossed
`)
}

// SourceAbove from each bus.
func TestSourceAbove(t *testing.T) {
	c := build(t, grid)
	want := map[string]string{
		"main": "breaker top", "yard": "breaker yard", "loop": "reverser loop", "turned": "breaker top, crossed",
		"firm": "breaker top, crossed", "dark": "nothing", "D1-wire": "breaker top", "fused": "breaker top",
	}
	for i := range c.Layout.Buses {
		source, crossed := c.SourceAbove(layout.Source{Kind: layout.FromTap, Tap: layout.Tap{Bus: int32(i)}})
		got := "nothing"
		if source >= 0 {
			got = c.Sources[source].Name
		}
		if crossed {
			got += ", crossed"
		}
		if name := c.Layout.Buses[i].Name; got != want[name] {
			t.Errorf("%s: %s, want %s", name, got, want[name])
		}
	}
	if got, crossed := c.SourceAbove(layout.Source{Kind: layout.FromTap, Tap: layout.Tap{Bus: -1, Unknown: true}}); got != -1 || crossed {
		t.Errorf("above what is unknown: %d, %v", got, crossed)
	}
}

// nodeNames names the nodes of the power side: "main @ 7 A" for a tap, "yard out A" for
// what a bus or district hangs from.
func nodeNames(c *circuit.Circuit) []string {
	names := make([]string, c.Nodes)
	for n := range names {
		names[n] = "nothing's"
	}
	for i := range c.Layout.Buses {
		bus := c.Layout.Buses[i].Name
		for leg := range layout.Leg(2) {
			for k, n := range c.BusNodes[i].Node[leg] {
				if n >= 0 {
					names[n] = bus + " @ " + feet(c.BusNodes[i].At[k]) + " " + leg.String()
				}
			}
		}
	}
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.WireEnd && names[k.A] == "nothing's" {
			names[k.A] = "source of " + c.Layout.Buses[k.Ref].Name + " " + k.Leg.String()
		}
	}
	for _, s := range c.Sources {
		for leg := range layout.Leg(2) {
			names[s.Out[leg]] = s.Name + " " + leg.String()
		}
	}
	return names
}

// The legs of devices, from their source to what hangs from them.
func TestDeviceLegs(t *testing.T) {
	c := build(t, grid)
	names := nodeNames(c)
	var b strings.Builder
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind == circuit.BusSpan || k.Kind == circuit.WireEnd {
			continue
		}
		when, parts := "", ""
		if k.Device >= 0 {
			when = " in " + c.Devices[k.Device].Name + " " + c.Devices[k.Device].Positions[k.Position]
		}
		if k.Parts() {
			parts = ", parts"
		}
		fmt.Fprintf(&b, "%s %d %s: %s to %s%s%s\n", kindWord[k.Kind], k.Ref, k.Leg, names[k.A], names[k.B], when, parts)
	}
	check(t, b.String(), `
breaker 0 A: booster one A to breaker top A, parts
breaker 0 B: booster one B to breaker top B, parts
breaker 1 A: main @ 7 A to breaker yard A, parts
breaker 1 B: main @ 7 B to breaker yard B, parts
breaker 2 A: turned @ 1 A to breaker under A, parts
breaker 2 B: turned @ 1 B to breaker under B, parts
breaker 3 A: dark @ 1 A to breaker lost A, parts
breaker 3 B: dark @ 1 B to breaker lost B, parts
reverser 0 A: yard @ 3 A to reverser loop A in reverser loop straight, parts
reverser 0 A: yard @ 3 B to reverser loop A in reverser loop crossed, parts
reverser 0 B: yard @ 3 B to reverser loop B in reverser loop straight, parts
reverser 0 B: yard @ 3 A to reverser loop B in reverser loop crossed, parts
reverser 1 A: loop @ 1 A to reverser again A in reverser again straight, parts
reverser 1 A: loop @ 1 B to reverser again A in reverser again crossed, parts
reverser 1 B: loop @ 1 B to reverser again B in reverser again straight, parts
reverser 1 B: loop @ 1 A to reverser again B in reverser again crossed, parts
detector 0 A: main @ 4 A to source of D1-wire A
past detector 0 B: main @ 4 B to nothing's
in-line 0 A: main @ 5 A to source of fused A
in-line 0 B: main @ 5 B to source of fused B
changeover 0 A: turned @ 2 A to changeover prog A in changeover prog run, parts
changeover 0 B: turned @ 2 B to changeover prog B in changeover prog run, parts
changeover 0 A: booster self A to changeover prog A in changeover prog program, parts
changeover 0 B: booster self B to changeover prog B in changeover prog program, parts
changeover 1 A: main @ 6 B to changeover back A in changeover back west, parts
changeover 1 B: main @ 6 A to changeover back B, parts
changeover 1 A: main @ 6 A to changeover back A in changeover back east, parts
plug 0 A: main @ 8 B to source of turned A
plug 0 B: main @ 8 A to source of turned B
plug 1 A: turned @ 3 A to plug loose A in plug loose straight, parts
plug 1 A: turned @ 3 B to plug loose A in plug loose crossed, parts
plug 1 B: turned @ 3 B to plug loose B in plug loose straight, parts
plug 1 B: turned @ 3 A to plug loose B in plug loose crossed, parts
plug 2 A: turned @ 4 A to source of firm A
plug 2 B: turned @ 4 B to source of firm B
`)
	if got := names[c.DetectorIn[0]] + " to " + names[c.DetectorOut[0]]; got != "main @ 4 A to source of D1-wire A" {
		t.Errorf("the detector watches %s", got)
	}
}

// A switch opens its leg when it is off; the leg it leaves alone runs past it.
func TestSwitch(t *testing.T) {
	c := build(t, head+power+"in-line:\n  cut: {from: ring @ 1 ft, kind: switch, leg: B}\n")
	d := device(t, c, "switch cut")
	if got := strings.Join(c.Devices[d].Positions, " "); got != "on off" {
		t.Errorf("positions: %s", got)
	}
	var got []string
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.InLineLeg || k.Kind == circuit.PastInLine {
			text, _, _ := strings.Cut(conductorText(c, k), ", line")
			got = append(got, text)
		}
	}
	check(t, strings.Join(got, "\n"), "past in-line 0 left A 0..0\nin-line 0 left B 0..0 in switch cut on")
}
