package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"
)

func TestCopperRings(t *testing.T) {
	const head = `gapwise: 1
layout: Test
defaults: {feeder: {A: left}}
tracks: {P: {closed: yes, length: 30 ft}}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
  two: {like: one}
breakers: {guard: {from: main @ 1 ft}}
detectors: {D: {from: main @ 1 ft, leg: A}}
plugs:
  fixed: {from: main @ 8 ft, legs: straight}
  loose: {from: main @ 8 ft, legs: either}
buses:
`
	for _, c := range []struct{ name, buses, want string }{
		{"open", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n", "-"},
		{"back to its start", "  main: {from: booster one, wire: 14 AWG, length: 10 ft, to: main @ 0 ft}\n", "main AB 10 ft"},
		{"back to its middle", "  main: {from: booster one, wire: 14 AWG, length: 10 ft, to: main @ 4 ft}\n", "main AB 6 ft"},
		{"to its own end", "  main: {from: booster one, wire: 14 AWG, length: 10 ft, to: main @ 10 ft}\n", "-"},
		{"one leg", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  back: {from: main @ 10 ft, legs: B, wire: 14 AWG, length: 2 ft, to: main @ 1 ft}\n", "back B 11 ft"},
		{"two from one booster", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: booster one, wire: 14 AWG, length: 7 ft, to: main @ 10 ft}\n", "more AB 17 ft"},
		{"two boosters", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: booster two, wire: 14 AWG, length: 7 ft, to: main @ 10 ft}\n", "-"},
		{"through a plug", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: plug fixed, wire: 14 AWG, length: 5 ft, to: main @ 0 ft}\n", "more AB 13 ft"},
		{"through a plug that goes either way", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: plug loose, wire: 14 AWG, length: 5 ft, to: main @ 0 ft}\n", "-"},
		{"past a breaker", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: breaker guard, wire: 14 AWG, length: 5 ft, to: main @ 0 ft}\n", "-"},
		{"past a detector", "  main: {from: booster one, wire: 14 AWG, length: 10 ft}\n  more: {from: detector D, legs: A, wire: 14 AWG, length: 5 ft, to: main @ 0 ft}\n", "-"},
		{"two rings", "  main: {from: booster one, wire: 14 AWG, length: 10 ft, to: main @ 4 ft}\n  more: {from: main @ 2 ft, wire: 14 AWG, length: 3 ft, to: main @ 1 ft}\n", "main AB 6 ft, more AB 4 ft"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := head + c.buses + "feeders: {P: {2 ft: main @ 3 ft}}\n"
			tr := trace(t, text)
			got := names(tr.CopperRings(), func(r districts.CopperRing) string {
				legs := ""
				for _, l := range r.Legs {
					legs += l.String()
				}
				return fmt.Sprintf("%s %s %s", tr.C.Layout.Buses[r.Bus].Name, legs, inFeet(r.Length))
			})
			if got != c.want {
				t.Errorf("rings: %s, want %s", got, c.want)
			}
		})
	}
}
