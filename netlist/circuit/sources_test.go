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
  back: {positions: {crossed: {from: main @ 6 ft, legs: crossed}, straight: main @ 6 ft}, opens: A}
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

// The legs of devices, from their source to what hangs from them.
func TestDeviceLegs(t *testing.T) {
	c := build(t, grid)
	node := func(bus string, leg layout.Leg, at float64) string {
		for i := range c.Layout.Buses {
			if c.Layout.Buses[i].Name != bus {
				continue
			}
			for k, x := range c.BusNodes[i].At {
				if x == at*ft {
					return fmt.Sprint(c.BusNodes[i].Node[leg][k])
				}
			}
		}
		t.Fatalf("no tap %s @ %v ft", bus, at)
		return ""
	}
	out := func(name string, leg layout.Leg) string {
		for i := range c.Sources {
			if c.Sources[i].Name == name {
				return fmt.Sprint(c.Sources[i].Out[leg])
			}
		}
		t.Fatalf("no source %s", name)
		return ""
	}
	var got strings.Builder
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind != circuit.BusSpan && k.Kind != circuit.WireEnd {
			text := conductorText(c, k)
			text, _, _ = strings.Cut(text, ", line")
			parts := ""
			if k.Parts() {
				parts = ", parts"
			}
			fmt.Fprintf(&got, "%s%s: %d to %d\n", text, parts, k.A, k.B)
		}
	}
	const a, b = layout.A, layout.B
	legs := func(prefix, suffix string, in, out func(layout.Leg) string) string {
		s := ""
		for _, leg := range []layout.Leg{a, b} {
			s += fmt.Sprintf("%s left %s 0..0%s: %s to %s\n", prefix, leg, suffix, in(leg), out(leg))
		}
		return s
	}
	at := func(bus string, ft float64) func(layout.Leg) string {
		return func(leg layout.Leg) string { return node(bus, leg, ft) }
	}
	of := func(name string) func(layout.Leg) string {
		return func(leg layout.Leg) string { return out(name, leg) }
	}
	turned := func(f func(layout.Leg) string) func(layout.Leg) string {
		return func(leg layout.Leg) string { return f(leg.Other()) }
	}
	swap := func(kind, device string, in, out func(layout.Leg) string) string {
		s := ""
		for _, leg := range []layout.Leg{a, b} {
			s += fmt.Sprintf("%s left %s 0..0 in %s straight, parts: %s to %s\n", kind, leg, device, in(leg), out(leg))
			s += fmt.Sprintf("%s left %s 0..0 in %s crossed, parts: %s to %s\n", kind, leg, device, in(leg.Other()), out(leg))
		}
		return s
	}
	// what hangs directly from a detector, a fuse or a firm plug is the start of its bus
	d1, fused, firm, cross := wireEnds(c, "D1-wire"), wireEnds(c, "fused"), wireEnds(c, "firm"), wireEnds(c, "turned")
	check(t, got.String(),
		legs("breaker 0", ", parts", of("booster one"), of("breaker top"))+
			legs("breaker 1", ", parts", at("main", 7), of("breaker yard"))+
			legs("breaker 2", ", parts", at("turned", 1), of("breaker under"))+
			legs("breaker 3", ", parts", at("dark", 1), of("breaker lost"))+
			swap("reverser 0", "reverser loop", at("yard", 3), of("reverser loop"))+
			swap("reverser 1", "reverser again", at("loop", 1), of("reverser again"))+
			fmt.Sprintf("detector 0 left A 0..0: %s to %d\n", node("main", a, 4), d1[a])+
			fmt.Sprintf("past detector 0 left B 0..0: %s to %d\n", node("main", b, 4), c.DetectorOut[0]+1)+
			legs("in-line 0", "", at("main", 5), func(leg layout.Leg) string { return fmt.Sprint(fused[leg]) })+
			legs("changeover 0", " in changeover prog run, parts", at("turned", 2), of("changeover prog"))+
			legs("changeover 0", " in changeover prog program, parts", of("booster self"), of("changeover prog"))+
			fmt.Sprintf("changeover 1 left A 0..0 in changeover back crossed, parts: %s to %s\n", node("main", b, 6), out("changeover back", a))+
			fmt.Sprintf("changeover 1 left B 0..0, parts: %s to %s\n", node("main", a, 6), out("changeover back", b))+
			fmt.Sprintf("changeover 1 left A 0..0 in changeover back straight, parts: %s to %s\n", node("main", a, 6), out("changeover back", a))+
			legs("plug 0", "", turned(at("main", 8)), func(leg layout.Leg) string { return fmt.Sprint(cross[leg]) })+
			swap("plug 1", "plug loose", at("turned", 3), of("plug loose"))+
			legs("plug 2", "", at("turned", 4), func(leg layout.Leg) string { return fmt.Sprint(firm[leg]) }),
	)
	if c.DetectorIn[0] != mustInt(t, node("main", a, 4)) || c.DetectorOut[0] != d1[a] {
		t.Errorf("detector from %d to %d", c.DetectorIn[0], c.DetectorOut[0])
	}
}

// wireEnds are the nodes that a bus's two legs hang from.
func wireEnds(c *circuit.Circuit, bus string) [2]int32 {
	ends := [2]int32{-1, -1}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Kind == circuit.WireEnd && c.Layout.Buses[k.Ref].Name == bus && ends[k.Leg] < 0 {
			ends[k.Leg] = k.A
		}
	}
	return ends
}

func mustInt(t *testing.T, s string) int32 {
	t.Helper()
	var n int32
	if _, err := fmt.Sscan(s, &n); err != nil {
		t.Fatal(err)
	}
	return n
}

// A switch opens its leg when it is off; the leg it leaves alone runs past it.
func TestSwitch(t *testing.T) {
	c := build(t, head+power+"in-line:\n  cut: {from: ring @ 1 ft, kind: switch, leg: B}\nbuses:\n")
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
