package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// routes tells the ways through a piece: from where to where, in which setting, and what
// always joins each rail: "points to curved in curved: = ?".
func routes(c *circuit.Circuit) string {
	var b strings.Builder
	for i := range c.Ways {
		w := &c.Ways[i]
		if w.Kind != circuit.WayThrough && w.Kind != circuit.WayPit {
			continue
		}
		where := func(s int32) string {
			_, end, _ := strings.Cut(spotText(c, s), " ")
			return end
		}
		fmt.Fprintf(&b, "%s to %s", where(w.A), where(w.B))
		if w.Turned {
			b.WriteString(", turned")
		}
		if w.Device >= 0 {
			fmt.Fprintf(&b, " in %s", c.Devices[w.Device].Positions[w.Position])
		}
		fmt.Fprintf(&b, ": %s %s, %s ft\n", cutText(w, layout.Left), cutText(w, layout.Right), feet(w.Length))
	}
	return b.String()
}

// The routes through track work, and which of their rails is whole in every setting.
func TestRoutes(t *testing.T) {
	table := func(section, keys string, ends ...string) string {
		return workText(section, "from: booster one, A: left, "+keys, ends...)
	}
	for _, tt := range []struct{ name, text, want string }{
		{"dead frog", turnoutText("wiring: dead-frog, jumpers: yes"), "points to curved in curved: = =, 0.917 ft\npoints to straight in straight: = =, 0.917 ft"},
		{"no jumpers", turnoutText("wiring: dead-frog, jumpers: no"), "points to curved in curved: = |, 0.917 ft\npoints to straight in straight: | =, 0.917 ft"},
		{"jumpers unsaid", turnoutText("wiring: unfed-frog"), "points to curved in curved: = ?, 0.917 ft\npoints to straight in straight: ? =, 0.917 ft"},
		{"blades that only touch", turnoutText("wiring: selective, jumpers: yes"), "points to curved in curved: = |, 0.917 ft\npoints to straight in straight: | =, 0.917 ft"},
		{"power-routing", turnoutText("wiring: power-routing"), "points to curved in curved: = |, 0.917 ft\npoints to straight in straight: | =, 0.917 ft"},
		{"closures cut from the blades", turnoutText("wiring: {blades: stock, closures: frog, frog: metal, isolated: heel, frog-from: contacts, jumpers: yes}"), "points to curved in curved: = |, 0.917 ft\npoints to straight in straight: | =, 0.917 ft"},
		{"three-way", threeWayText("construction: symmetric, wiring: dead-frog, jumpers: unknown"), "points to left in left: = ?, 1 ft\npoints to straight in straight: ? ?, 1 ft\npoints to right in right: ? =, 1 ft"},
		{"lapped three-way", threeWayText("construction: lapped, first: right, wiring: dead-frog, jumpers: no"), "points to right in right: | =, 1 ft\npoints to straight in straight: | |, 1 ft\npoints to left in left: = |, 1 ft"},
		{"crossing", crossingText("wiring: dead-frogs"), "a to c: = =, 0.5 ft\nd to b: = =, 0.5 ft"},
		{"crossing by contacts, no wires through", crossingText("wiring: powered-frogs, jumpers: no, throw: break-first"), "a to c in a-c: | |, 0.5 ft\nd to b in d-b: | |, 0.5 ft"},
		{"single slip", slipText("slip: d-c, wiring: dead-frogs, jumpers: unknown"), "a to c in a-c: ? ?, 1 ft\nd to b in d-b: ? ?, 1 ft\nd to c in d-c: ? ?, 1 ft"},
		{"double slip", slipText("slip: both, wiring: joined"), "a to c in a-c: = =, 1 ft\na to b in a-b: = =, 1 ft\nd to b in d-b: = =, 1 ft\nd to c in d-c: = =, 1 ft"},
		{"turntable", table("turntables", "bridge: 2 ft, feed: plain, tracks: {lead: 10 deg, stall: 190.2 deg, wye: 40 deg}", "lead", "stall", "wye"), `
bridge to lead in lead-head: | |, 1 ft
bridge to stall, turned in lead-head: | |, 1 ft
bridge to lead, turned in lead-tail: | |, 1 ft
bridge to stall in lead-tail: | |, 1 ft
bridge to lead, turned in stall-head: | |, 1 ft
bridge to stall in stall-head: | |, 1 ft
bridge to lead in stall-tail: | |, 1 ft
bridge to stall, turned in stall-tail: | |, 1 ft
bridge to wye in wye-head: | |, 1 ft
bridge to wye, turned in wye-tail: | |, 1 ft`},
		{"transfer table", table("transfer-tables", "bridge: 4 ft, a: {a1: 0 in, a2: 2 in}, b: {b1: 0 in}", "a1", "a2", "b1"), `
bridge to a1 in a1-b1: | |, 2 ft
bridge to b1 in a1-b1: | |, 2 ft
bridge to a2 in a2-b1: | |, 2 ft
bridge to b1 in a2-b1: | |, 2 ft`},
	} {
		t.Run(tt.name, func(t *testing.T) { check(t, sortedLines(routes(build(t, tt.text))), sortedLines(tt.want)) })
	}
}

// Which leg each bridge rail of a split ring has, where the angles tell, and where not.
func TestSplitRing(t *testing.T) {
	for _, tt := range []struct{ keys, want, open string }{
		{"split-at: 90 deg, tracks: {lead: 0 deg, far: 100 deg}", `
P lead-head: booster one A to bridge left
P lead-head: booster one B to bridge right
P lead-tail: booster one A to bridge right
P lead-tail: booster one B to bridge left
P far-head: booster one A to bridge right
P far-head: booster one B to bridge left
P far-tail: booster one A to bridge left
P far-tail: booster one B to bridge right`, ""},
		{"split-at: unknown, tracks: {lead: 0 deg}", "", `
9: which leg each bridge rail of P has at lead-head: its angles leave open on which half of the ring the bridge then stands
9: which leg each bridge rail of P has at lead-tail: its angles leave open on which half of the ring the bridge then stands`},
		{"split-at: 90 deg, tracks: {near: 85 .. 95 deg, low: 80 .. 89 deg}", `
P low-head: booster one A to bridge left
P low-head: booster one B to bridge right
P low-tail: booster one A to bridge right
P low-tail: booster one B to bridge left`, `
9: which leg each bridge rail of P has at near-head: its angles leave open on which half of the ring the bridge then stands
9: which leg each bridge rail of P has at near-tail: its angles leave open on which half of the ring the bridge then stands`},
		{"split-at: 90 deg, tracks: {over: 270 deg}", "", `
9: which leg each bridge rail of P has at over-head: its angles leave open on which half of the ring the bridge then stands
9: which leg each bridge rail of P has at over-tail: its angles leave open on which half of the ring the bridge then stands`},
	} {
		t.Run(tt.keys, func(t *testing.T) {
			_, tracks, _ := strings.Cut(tt.keys, "tracks: {")
			var ends []string
			for _, track := range strings.Split(tracks, ", ") {
				end, _, _ := strings.Cut(track, ":")
				ends = append(ends, end)
			}
			c := build(t, workText("turntables", "bridge: 12 in, feed: split-ring, from: booster one, A: left, "+tt.keys, ends...))
			check(t, contacts(c), tt.want)
			check(t, notModelled(c), tt.open)
		})
	}
}
