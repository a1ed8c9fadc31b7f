package rules_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// TestUnknownIsLeftOpen gives each rule about feeding and movement a layout in which what
// it needs is unknown: it lists that, and reports nothing.
func TestUnknownIsLeftOpen(t *testing.T) {
	const head = `gapwise: 1
layout: Test
defaults:
  turnout: {length: 10 in, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated, fill: styrene}
  feeder: {A: left}
supplies: {wall: {volts: 18 V, rating: 6 A, listed: yes}}
buses:
  main: {from: booster one, wire: 14 AWG, length: 44 ft}
`
	const booster = "boosters: {one: {supply: wall, volts: 15 V, rating: 5 A, trips-at: 5 A, trip-time: 40 ms}}\n"
	for _, c := range []struct{ rule, text, what string }{
		{
			"feeder-too-long",
			booster + "tracks: {M1: {from: end, to: end, length: 6 ft}}\nfeeders: {M1: {1 ft: main @ 1 ft, 4 ft: main @ 4 ft}}\npractice: [feeders-short]\n",
			"whether 2 feeders are at most 1 ft (305 mm) long, the first at M1 @ 1 ft (305 mm)",
		},
		{
			"rail-length-without-feeder",
			booster + "tracks: {M1: {from: end, to: M2 start, length: 6 ft}, M2: {from: M1 end, to: end, length: 6 ft}}\nfeeders: {M1: {1 ft: main @ 1 ft}}\npractice: [feeder-on-every-rail-length]\n",
			"whether each rail of M2 has a feeder of its own",
		},
		{
			"expansion-gap-missing",
			booster + "tracks: {M1: {from: end, to: end, length: 9 ft}}\nfeeders: {M1: {1 ft: main @ 1 ft}}\npractice: [expansion-gap-in-long-soldered-run]\n",
			"whether M1 needs an expansion gap",
		},
		{
			"expansion-gap-missing",
			booster + "tracks: {M1: {from: end, to: end, length: 9 ft, straight: yes}}\njoints: {M1: [{at: 4 ft, kind: unknown}]}\nfeeders: {M1: {1 ft: main @ 1 ft, 6 ft: main @ 6 ft}}\npractice: [expansion-gap-in-long-soldered-run]\n",
			"whether M1 needs an expansion gap",
		},
		{
			"track-end-conducts",
			"boosters: {one: {supply: wall, volts: unknown}}\ntracks: {M1: {from: end, to: bumper, length: 9 ft}}\nloads: [{at: M1 @ end, resistance: 2 Ω}]\nfeeders: {M1: {1 ft: main @ 1 ft}}\n",
			"what the bumper at M1 @ 9 ft (2.74 m) takes",
		},
		{
			"reversing-gap-weakly-fed",
			booster + "reversers: {loop: {from: main @ 9 ft, switching: automatic, trips-at: 3 A, trip-time: 10 ms}}\n" +
				"tracks: {M1: {from: end, to: T1 points, length: 5 ft}, BL: {from: T1 straight, to: T1 curved, length: 20 ft}}\nturnouts: {T1: {hand: left}}\njoints: {BL: [{at: start, kind: unknown}]}\ngaps: {BL: [2 ft, 18 ft]}\n" +
				"feeders: {M1: {2 ft: main @ 2 ft}, BL: {10 ft: loop @ 2 ft, 19 ft: {from: main @ 5 ft, A: right}}}\n",
			"whether the fixed side of the gap at BL @ 2 ft (610 mm) is fed well enough for reverser loop to act",
		},
	} {
		t.Run(c.rule, func(t *testing.T) {
			text := head + c.text
			if c.rule == "reversing-gap-weakly-fed" {
				text = strings.Replace(text, "buses:\n", "buses:\n  loop: {from: reverser loop, wire: 14 AWG, length: 9 ft}\n", 1)
			}
			if c.rule != "rail-length-without-feeder" {
				text = strings.Replace(text, "defaults:\n", "defaults:\n  joint: {kind: soldered}\n", 1)
			}
			open := func(string) ([]byte, error) { return []byte(text), nil }
			l, problems, err := reader.Read(context.Background(), open, "open.yaml", rules.ReaderOptions())
			if err != nil || len(problems) > 0 {
				t.Fatalf("not read: %v %v", err, problems)
			}
			r, err := rules.Check(context.Background(), l, rules.Options{Only: []string{c.rule}})
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Findings) > 0 {
				t.Errorf("reported: %+v", r.Findings)
			}
			if !slices.ContainsFunc(r.NotChecked, func(n finding.NotChecked) bool { return n.Rule == c.rule && n.What == c.what }) {
				t.Errorf("%q is not listed in %+v", c.what, r.NotChecked)
			}
		})
	}
}
