package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
)

// coupled tells what is thrown together with each device, position by position.
func coupled(c *circuit.Circuit) string {
	var b strings.Builder
	for i := range c.Devices {
		d := &c.Devices[i]
		for _, k := range d.Coupled {
			e := &c.Devices[k.Device]
			fmt.Fprintf(&b, "%s with %s:", d.Name, e.Name)
			for at, to := range k.To {
				fmt.Fprintf(&b, " %s=%s", d.Positions[at], e.Positions[to])
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// oneWiring is a frog that is one with its blades, and fed by contacts too.
const oneWiring = "{blades: each-other, closures: blade, frog: metal, isolated: heel, frog-from: contacts}"

func TestCoupling(t *testing.T) {
	for _, tt := range []struct{ name, turnouts, more, want string }{
		{"by the name of the leg, whatever the hand", "  T: {hand: left}\n  U: {hand: right, throws-with: T}\n", "", `
T with U: straight=straight curved=curved
U with T: straight=straight curved=curved`},
		{"a wye by order", "  T: {hand: left}\n  U: {hand: wye, throws-with: T}\n", "", `
T with U: straight=left curved=right
U with T: left=straight right=curved`},
		{"said from both sides, it is said once", "  T: {hand: left, throws-with: U}\n  U: {hand: right, throws-with: T}\n", "", `
T with U: straight=straight curved=curved
U with T: straight=straight curved=curved`},
		{"one through the other", "  T: {hand: left}\n  U: {hand: wye, throws-with: T}\n  V: {hand: right, throws-with: U}\n", "", `
T with U: straight=left curved=right
T with V: straight=straight curved=curved
U with T: left=straight right=curved
U with V: left=straight right=curved
V with U: straight=left curved=right
V with T: straight=straight curved=curved`},
		{"with one that has a moment of passing", "  T: {hand: left}\n  U: {hand: right, throws-with: T, wiring: switched-frog, throw: make-first}\n", "", `
T with U: straight=straight curved=curved
U with T: straight=straight curved=curved passing=curved`},
		{"a changeover by order", "  T: {hand: left}\n", power + "changeovers: {C: {positions: {run: ring @ 1 ft, dark: nothing}, opens: both, throws-with: T}}\n", `
changeover C with T: run=straight dark=curved
T with changeover C: straight=run curved=dark`},
		{"both with a moment of passing", "  T: {hand: left, wiring: switched-frog, throw: make-first}\n  U: {hand: right, throws-with: T, wiring: switched-frog, throw: make-first}\n", "", `
T with U: straight=straight curved=curved passing=passing
U with T: straight=straight curved=curved passing=passing`},
		{"a third position of a changeover is no moment of passing", "  T: {hand: left, wiring: switched-frog, throw: make-first}\n", power + "changeovers: {C: {positions: {run: ring @ 1 ft, dark: nothing, spare: nothing}, opens: both, throws-with: T}}\n", `
changeover C with T: run=straight dark=curved spare=curved
T with changeover C: straight=run curved=dark passing=dark`},
		{"a changeover whose position is called as a moment", "  T: {hand: left, wiring: switched-frog, throw: make-first}\n", power + "changeovers: {C: {positions: {passing: ring @ 1 ft, dark: nothing}, opens: both, throws-with: T}}\n", `
changeover C with T: passing=straight dark=curved
T with changeover C: straight=passing curved=dark passing=dark`},
		{"a changeover without a position", "  T: {hand: left}\n", power + "changeovers: {C: {positions: {}, opens: both, throws-with: T}}\n", ""},
		{"blades and contacts apart in both, a wye by order", "  T: {hand: left, wiring: " + oneWiring + "}\n  U: {hand: wye, throws-with: T, wiring: " + oneWiring + "}\n", "", `
T with U: straight=left curved=right passing, blades curved and contacts straight=passing, blades right and contacts left passing, blades straight and contacts curved=passing, blades left and contacts right
U with T: left=straight right=curved passing, blades left and contacts right=passing, blades straight and contacts curved passing, blades right and contacts left=passing, blades curved and contacts straight`},
		{"apart in one: a turnout with the blades", "  T: {hand: left}\n  U: {hand: right, throws-with: T, wiring: " + oneWiring + "}\n", "", `
T with U: straight=straight curved=curved
U with T: straight=straight curved=curved passing, blades straight and contacts curved=straight passing, blades curved and contacts straight=curved`},
		{"apart in one: a changeover with the contacts", "  T: {hand: left, wiring: " + oneWiring + "}\n", power + "changeovers: {C: {positions: {run: ring @ 1 ft, dark: nothing}, opens: both, throws-with: T}}\n", `
changeover C with T: run=straight dark=curved
T with changeover C: straight=run curved=dark passing, blades curved and contacts straight=run passing, blades straight and contacts curved=dark`},
		{"alone", "  T: {hand: left}\n  U: {hand: left}\n", "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := head + tt.more + "defaults: {turnout: {length: 11 in, wiring: dead-frog, jumpers: yes}}\nturnouts:\n" + tt.turnouts + "tracks:\n"
			for _, line := range strings.Split(strings.TrimSpace(tt.turnouts), "\n") {
				name := strings.TrimSpace(line)[:1]
				legs := "straight curved"
				if strings.Contains(line, "wye") {
					legs = "left right"
				}
				for _, end := range strings.Fields("points " + legs) {
					text += "  " + name + "-" + end + ": {from: " + name + " " + end + ", to: end, length: 1 ft}\n"
				}
			}
			check(t, coupled(build(t, text)), tt.want)
		})
	}
}

// A lever that throws more than a lever can is followed so far, and said.
func TestCouplingIsBounded(t *testing.T) {
	var turnouts, tracks strings.Builder
	for i := range 80 {
		fmt.Fprintf(&turnouts, "  T%d: {hand: left", i)
		if i > 0 {
			fmt.Fprintf(&turnouts, ", throws-with: T%d", i-1)
		}
		turnouts.WriteString("}\n")
		for _, end := range []string{"points", "straight", "curved"} {
			fmt.Fprintf(&tracks, "  T%d-%s: {from: T%d %s, to: end, length: 1 ft}\n", i, end, i, end)
		}
	}
	c := build(t, head+"defaults: {turnout: {length: 11 in, wiring: dead-frog, jumpers: yes}}\nturnouts:\n"+turnouts.String()+"tracks:\n"+tracks.String())
	if got := len(c.Devices[0].Coupled); got != 64 {
		t.Errorf("T0 is thrown with %d devices", got)
	}
	if got := notModelled(c); !strings.Contains(got, "all that is thrown together with T0: more than 64 devices are") {
		t.Errorf("not said: %s", got)
	}
}
