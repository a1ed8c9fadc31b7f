package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// workText is one piece P of a section, with a track at each end.
func workText(section, keys string, ends ...string) string {
	text := head + power + "defaults: {joint: {kind: soldered}}\n" + section + ":\n  P: {" + keys + "}\ntracks:\n"
	for _, end := range ends {
		text += "  at-" + end + ": {from: P " + end + ", to: end, length: 3 ft}\n"
	}
	return text
}

func turnoutText(keys string) string {
	return workText("turnouts", "hand: left, length: 11 in, "+keys, "points", "straight", "curved")
}

func threeWayText(keys string) string {
	return workText("three-ways", "length: 12 in, "+keys, "points", "left", "straight", "right")
}

func crossingText(keys string) string {
	return workText("crossings", "length: 6 in, "+keys, "a", "b", "c", "d")
}

func slipText(keys string) string {
	return workText("slips", "length: 12 in, "+keys, "a", "b", "c", "d")
}

// workNames names the nodes of a piece: "points left", or a frog by its name.
func workNames(c *circuit.Circuit) []string {
	names := nodeNames(c)
	for i := range c.Spots {
		s := &c.Spots[i]
		if c.Layout.Pieces[s.Piece].Name != "P" {
			continue
		}
		at := "bridge"
		if s.End >= 0 {
			at = c.Layout.Pieces[s.Piece].Ends[s.End].Name
		}
		names[s.Node[layout.Left]], names[s.Node[layout.Right]] = at+" left", at+" right"
	}
	for _, m := range c.Inner {
		names[m.Node] = m.Name
	}
	return names
}

// contacts tells the conductors that hold in single positions of a piece or its devices,
// and what wheels need of its frogs.
func contacts(c *circuit.Circuit) string {
	names := workNames(c)
	var b strings.Builder
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Device >= 0 {
			fmt.Fprintf(&b, "%s %s: %s to %s\n", c.Devices[k.Device].Name, c.Devices[k.Device].Positions[k.Position], names[k.A], names[k.B])
		}
	}
	return b.String()
}

func demands(c *circuit.Circuit) string {
	names := workNames(c)
	var b strings.Builder
	for _, d := range c.Demands {
		fmt.Fprintf(&b, "%s: %s as %s\n", c.Devices[d.Device].Positions[d.Position], d.Name, names[d.As])
		if names[d.Frog] != d.Name {
			fmt.Fprintf(&b, "the node is that of %s\n", names[d.Frog])
		}
	}
	return b.String()
}

// Wirings in full that no preset has: the groups in every setting.
func TestWiringInFull(t *testing.T) {
	for _, tt := range []struct{ wiring, want string }{
		{"blades: neither, closures: frog, frog: metal, isolated: heel, frog-from: nothing, jumpers: yes", `
curved.left points.left
curved.right frog straight.left
points.right straight.right`},
		{"blades: neither, closures: blade, frog: metal, isolated: heel, frog-from: nothing, jumpers: yes", `
curved.left points.left
curved.right frog straight.left
points.right straight.right`},
		{"blades: neither, closures: frog, frog: metal, isolated: both, frog-from: nothing, jumpers: yes", `
curved.left points.left
curved.right
frog
points.right straight.right
straight.left`},
		{"blades: each-other, closures: frog, frog: metal, isolated: both, frog-from: blades, jumpers: yes", `
curved.left points.left
curved.right
frog
points.right straight.right
straight.left`},
		{"blades: neither, closures: blade, frog: metal, isolated: both, frog-from: blades, jumpers: yes", `
curved.left points.left
curved.right frog straight.left
points.right straight.right`},
		{"blades: stock, closures: both, frog: metal, isolated: heel, frog-from: nothing, jumpers: no", `
curved.left frog points.left points.right straight.right
curved.right
straight.left`},
	} {
		t.Run(tt.wiring, func(t *testing.T) {
			c := build(t, turnoutText("wiring: {"+tt.wiring+"}"))
			g := joined(c, surely)
			members := []string{"frog"}
			for _, end := range []string{"points", "straight", "curved"} {
				members = append(members, end+".left", end+".right")
			}
			got := partition(members, func(m string) int32 { return g.find(pieceNode(t, c, piece(t, c, subject), m)) })
			check(t, strings.Join(got, "\n"), tt.want)
		})
	}
}

// What wheels need of each frog, whatever feeds it.
func TestDemands(t *testing.T) {
	const turnout = "straight: frog as points left\ncurved: frog as points right\n"
	const threeWay = "left: left-frog as points right\nstraight: left-frog as points left\n" +
		"left: middle-frog as points right\nright: middle-frog as points left\n" +
		"straight: right-frog as points right\nright: right-frog as points left\n"
	for _, tt := range []struct{ name, text, want string }{
		{"plastic frog", turnoutText("wiring: dead-frog"), ""},
		{"frog that no wire feeds", turnoutText("wiring: unfed-frog"), turnout},
		{"switched frog", turnoutText("wiring: switched-frog"), turnout},
		{"power-routing", turnoutText("wiring: power-routing"), turnout},
		{"frog that flips by itself", turnoutText("wiring: flipped-frog"), ""},
		{"symmetric", threeWayText("construction: symmetric, wiring: unfed-frog"), threeWay},
		{"symmetric, flipped", threeWayText("construction: symmetric, wiring: flipped-frog"), ""},
		{"lapped", threeWayText("construction: lapped, first: left, wiring: unfed-frog"), `
left: left-frog as points right
left, second throw thrown: left-frog as points right
straight: left-frog as points left
left: middle-frog as points right
left, second throw thrown: middle-frog as points right
right: middle-frog as points left
straight: right-frog as points right
right: right-frog as points left`},
		{"crossing of plastic frogs", crossingText("wiring: dead-frogs"), ""},
		{"crossing", crossingText("wiring: powered-frogs, throw: break-first"), `
a-c: west as a right
d-b: west as d left
a-c: east as a left
d-b: east as d right
a-c: north as a left
d-b: north as d left
a-c: south as a right
d-b: south as d right`},
		{"double slip", slipText("slip: both, wiring: switched-frogs, throw: break-first"), `
a-c: west as a right
a-b: west as a right
d-b: west as d left
d-c: west as d left
a-c: east as a left
a-b: east as a right
d-b: east as d right
d-c: east as d left`},
		{"single slip", slipText("slip: d-c, wiring: switched-frogs, throw: break-first"), `
a-c: west as a right
d-b: west as d left
d-c: west as d left
a-c: east as a left
d-b: east as d right
d-c: east as d left`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			check(t, sortedLines(demands(build(t, tt.text))), sortedLines(tt.want))
		})
	}
}

// What feeds a frog in each setting, by contact maps, and what is not known of it.
func TestContactMaps(t *testing.T) {
	for _, tt := range []struct{ name, text, contacts, open string }{
		{"stock rails as the owner has them", turnoutText("wiring: switched-frog, jumpers: yes, throw: break-first, frog-gets: {straight: stock-right, curved: stock-left}"), `
P straight: frog to points right
P curved: frog to points left`, ""},
		{
			"one setting said", turnoutText("wiring: switched-frog, jumpers: yes, throw: break-first, frog-gets: {straight: open}"), "",
			"9: the frog of P set curved: the layout does not say what feeds it then",
		},
		{
			"unknown", turnoutText("wiring: switched-frog, jumpers: yes, throw: break-first, frog-gets: {straight: unknown, curved: stock-right}"),
			"P curved: frog to points right", "9: the frog of P set straight: the layout says it is unknown",
		},
		{"legs of a bus", turnoutText("wiring: switched-frog, jumpers: yes, throw: break-first, frog-from: ring @ 3 ft, frog-gets: {straight: A, curved: B}"), `
P straight: frog to ring @ 3 A
P curved: frog to ring @ 3 B`, ""},
		{
			"legs of an unknown bus", turnoutText("wiring: switched-frog, jumpers: yes, throw: break-first, frog-from: unknown, frog-gets: {straight: A, curved: stock-right}"),
			"P curved: frog to points right", "9: the frog of P set straight: the layout does not say what feeds it then",
		},
		{"nothing said of the throw", turnoutText("wiring: switched-frog, jumpers: yes"), `
P straight: frog to points left
P curved: frog to points right`, "9: whether the contacts of P break before they make: the layout does not say `throw`"},
		{"both in passing", turnoutText("wiring: switched-frog, jumpers: yes, throw: make-first"), `
P straight: frog to points left
P curved: frog to points right
P passing: frog to points left
P passing: frog to points right`, ""},
		{"both legs in passing", turnoutText("wiring: switched-frog, jumpers: yes, throw: make-first, frog-from: ring @ 3 ft, frog-gets: {straight: A, curved: B}"), `
P straight: frog to ring @ 3 A
P curved: frog to ring @ 3 B
P passing: frog to ring @ 3 A
P passing: frog to ring @ 3 B`, ""},
		{"one open in passing", turnoutText("wiring: switched-frog, jumpers: yes, throw: make-first, frog-gets: {straight: open, curved: stock-right}"), `
P curved: frog to points right
P passing: frog to points right`, ""},
		{"flips by itself", turnoutText("wiring: flipped-frog, jumpers: yes"), `
frog device of P stock-left: frog to points left
frog device of P stock-right: frog to points right`, ""},
		{"three-way, by the throws that the frogs follow", threeWayText("construction: lapped, first: right, jumpers: yes, throw: break-first, wiring: switched-frog, frog-gets: {left-frog: {left: stock-right, straight: open}, middle-frog: {right: stock-left, left: stock-right}, right-frog: {right: stock-left}}"), `
P right: right-frog to points left
P right, second throw thrown: right-frog to points left
P right: middle-frog to points left
P right, second throw thrown: middle-frog to points left
P straight: middle-frog to points right
P left: middle-frog to points right
P right, second throw thrown: left-frog to points right
P left: left-frog to points right`, `
9: the right-frog of P at straight: the layout does not say what feeds it then
9: the right-frog of P at straight: the layout does not say what feeds it then`},
		{"three-way that passes by contacts", threeWayText("construction: symmetric, jumpers: yes, wiring: switched-frog, frog-gets: {left-frog: {left: open, straight: open}, middle-frog: {left: open, right: open}, right-frog: {straight: open, right: unknown}}"), "", `
9: the right-frog of P at right: the layout says it is unknown
9: whether the contacts of P break before they make: the layout does not say ` + "`throw`"},
		{"three-way whose second throw makes before it breaks", threeWayText("construction: symmetric, jumpers: yes, wiring: switched-frog, throw: make-first, frog-gets: {left-frog: {left: open, straight: open}, middle-frog: {left: open, right: open}, right-frog: {straight: stock-right, right: stock-left}}"), `
P left: right-frog to points right
P straight: right-frog to points right
P right: right-frog to points left
P passing, second throw: right-frog to points left
P passing, second throw: right-frog to points right`, ""},
		{"crossing, left and right of the route that is set", crossingText("wiring: powered-frogs, throw: break-first, frog-gets: {west: {a-c: right, d-b: left}, east: {a-c: open, d-b: right}, north: {a-c: left}}"), `
P a-c: west to a right
P d-b: west to d left
P d-b: east to d right
P a-c: north to a left
P a-c: south to a right
P d-b: south to d right`, "9: the north frog of P at d-b: the layout does not say what feeds it then"},
		{"single slip without a map", slipText("slip: a-b, wiring: switched-frogs, throw: break-first"), `
P a-b: west to a right
P a-b: east to a right`, `
9: the west frog of P at a-c: the layout does not say what feeds it then
9: the west frog of P at d-b: the layout does not say what feeds it then
9: the east frog of P at a-c: the layout does not say what feeds it then
9: the east frog of P at d-b: the layout does not say what feeds it then`},
		{"single slip by route", slipText("slip: a-b, wiring: switched-frogs, throw: break-first, frog-gets: {west: {a-c: right, d-b: left, a-b: right}, east: {a-c: left, d-b: right, a-b: right}}"), `
P a-c: west to a right
P d-b: west to d left
P a-b: west to a right
P a-c: east to a left
P d-b: east to d right
P a-b: east to a right`, ""},
		{"slip that passes by contacts", slipText("slip: both, wiring: switched-frogs, frog-gets: {west: {a-c: open, a-b: open, d-b: open, d-c: open}, east: {a-c: open, a-b: open, d-b: open, d-c: unknown}}"), "", `
9: the east frog of P at d-c: the layout says it is unknown
9: whether the contacts of P break before they make: the layout does not say ` + "`throw`"},
		{"crossing that makes before it breaks", crossingText("wiring: powered-frogs, throw: make-first, frog-gets: {west: {a-c: right, d-b: left}, east: {a-c: open, d-b: right}, north: {a-c: open, d-b: open}, south: {a-c: right, d-b: open}}"), `
P a-c: west to a right
P d-b: west to d left
P passing: west to a right
P passing: west to d left
P d-b: east to d right
P passing: east to d right
P a-c: south to a right
P passing: south to a right`, ""},
		{"slip that makes before it breaks", slipText("slip: both, wiring: switched-frogs, throw: make-first, frog-gets: {west: {a-c: right, a-b: right, d-b: left, d-c: left}, east: {a-c: open, a-b: open, d-b: open, d-c: open}}"), `
P a-c: west to a right
P a-b: west to a right
P d-b: west to d left
P d-c: west to d left
P passing, west end: west to a right
P passing, west end: west to d left`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := build(t, tt.text)
			check(t, sortedLines(contacts(c)), sortedLines(tt.contacts))
			check(t, sortedLines(notModelled(c)), sortedLines(tt.open))
		})
	}
}
