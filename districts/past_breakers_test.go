package districts_test

import (
	"fmt"
	"testing"
)

func TestBareBridge(t *testing.T) {
	const head = `gapwise: 1
layout: Test
defaults:
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
tracks:
  P: {from: end, to: Q start, length: 10 ft}
  Q: {from: P end, to: end, length: 10 ft}
gaps: {Q: [start]}
supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
feeders:
  P: {5 ft: p @ 1 ft}
  Q: {5 ft: q @ 1 ft}
`
	const wires = `buses:
  main: {from: booster one, wire: 14 AWG, length: 9 ft}
  p: {from: breaker p, wire: 14 AWG, length: 9 ft}
  q: {from: %s q, wire: 14 AWG, length: 9 ft}
`
	for _, c := range []struct{ name, devices, want string }{
		{"different legs", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: main @ 2 ft, opens: B}\n" + fmt.Sprintf(wires, "breaker"), "right B, left A"},
		{"exchanged", "breakers:\n  p: {from: main @ 1 ft, opens: B}\n  q: {from: main @ 2 ft, opens: A}\n" + fmt.Sprintf(wires, "breaker"), "left A, right B"},
		{"the same leg", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: main @ 2 ft, opens: A}\n" + fmt.Sprintf(wires, "breaker"), "-"},
		{"both legs", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: main @ 2 ft, opens: both}\n" + fmt.Sprintf(wires, "breaker"), "-"},
		{"nothing said", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: main @ 2 ft}\n" + fmt.Sprintf(wires, "breaker"), "-"},
		{"one above the other", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: p @ 2 ft, opens: B}\n" + fmt.Sprintf(wires, "breaker"), "-"},
		{"a reverser", "breakers:\n  p: {from: main @ 1 ft, opens: A}\nreversers:\n  q: {from: main @ 2 ft, switching: automatic, opens: B}\n" + fmt.Sprintf(wires, "reverser"), "right B, left A"},
		{"a breaker behind a reverser", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: turn @ 1 ft, opens: A}\nreversers:\n  turn: {from: main @ 2 ft, switching: automatic, opens: B}\n" + fmt.Sprintf(wires, "breaker") + "  turn: {from: reverser turn, wire: 14 AWG, length: 9 ft}\n", "right B, right A, crossed"},
		{"a fuse in the leg", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: fused @ 1 ft, opens: B}\nin-line:\n  fuse: {from: main @ 2 ft, kind: fuse, leg: A, rating: 2 A}\n" + fmt.Sprintf(wires, "breaker") + "  fused: {from: in-line fuse, wire: 14 AWG, length: 9 ft}\n", "-"},
		{"a fuse in the other leg", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: fused @ 1 ft, opens: B}\nin-line:\n  fuse: {from: main @ 2 ft, kind: fuse, leg: B, rating: 2 A}\n" + fmt.Sprintf(wires, "breaker") + "  fused: {from: in-line fuse, wire: 14 AWG, length: 9 ft}\n", "right B, left A"},
		{"a switch in the leg", "breakers:\n  p: {from: main @ 1 ft, opens: A}\n  q: {from: off @ 1 ft, opens: B}\nin-line:\n  knob: {from: main @ 2 ft, kind: switch, leg: A}\n" + fmt.Sprintf(wires, "breaker") + "  off: {from: in-line knob, wire: 14 AWG, length: 9 ft}\n", "right B, left A"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := trace(t, head+c.devices)
			ms := tr.Meetings()
			if len(ms) != 1 {
				t.Fatalf("%d meetings", len(ms))
			}
			b, found := tr.PastBreakers().Bridge(ms[0].Way, sourceNamed(t, tr, "booster one"))
			got := "-"
			if found {
				got = fmt.Sprintf("%s %s, %s %s", [2]string{"left", "right"}[b.Rails[0]], b.Legs[0], [2]string{"left", "right"}[b.Rails[1]], b.Legs[1])
				if b.Crossed {
					got += ", crossed"
				}
				for side, spot := range [2]int32{tr.C.Ways[ms[0].Way].A, tr.C.Ways[ms[0].Way].B} {
					path := b.Paths[side]
					if len(path) == 0 || path[len(path)-1].Node != tr.C.Spots[spot].Node[b.Rails[side]] {
						t.Errorf("the path of side %d does not end on its rail", side)
					}
				}
			}
			if got != c.want {
				t.Errorf("bridge: %s, want %s", got, c.want)
			}
		})
	}
}
