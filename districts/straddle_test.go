package districts_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/reader"
)

// straddlesOf prints what trains join, and what was left open, one a line.
func straddlesOf(t *testing.T, tr *districts.Trace) string {
	t.Helper()
	found, err := tr.Straddles(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	p := &printer{tr: tr, l: tr.C.Layout}
	kinds := [...]string{"gap", "section", "chain", "dead", "other"}
	var out []string
	for i, list := range [][]districts.Straddle{found.List, found.Open} {
		for _, f := range list {
			places := names(f.Places, func(w int32) string { return p.spot(tr.C.Ways[w].A) })
			between := names(f.Between, func(s int32) string { return strings.TrimPrefix(tr.C.Sources[s].Name, "reverser ") })
			set := names(f.Settings, func(s districts.Setting) string {
				return tr.C.Devices[s.Device].Name + " " + tr.C.Devices[s.Device].Positions[s.Position]
			})
			line := fmt.Sprintf("%s over %s, %s, between %s, set %s", kinds[f.Kind], places, inFeet(f.Span), between, set)
			if i == 1 {
				line = "open: " + line
			}
			out = append(out, line)
		}
	}
	if len(found.Stopped) > 0 {
		out = append(out, "stopped")
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

// reversed is the head of the layouts below: a booster, another in phase with crossed outputs, and two reversers.
const reversed = `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  joint: {kind: soldered}
  feeder: {A: left}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V, signal: command, signal-wired: straight}
  two: {supply: wall, volts: 15 V, signal: command, signal-wired: crossed}
reversers:
  east: {from: main @ 1 ft, switching: automatic}
  west: {from: main @ 2 ft, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 60 ft}
  other: {from: booster two, wire: 14 AWG, length: 60 ft}
  east: {from: reverser east, wire: 14 AWG, length: 60 ft}
  west: {from: reverser west, wire: 14 AWG, length: 60 ft}
`

func TestStraddles(t *testing.T) {
	const line = "tracks:\n  M: {from: end, to: end, length: 20 ft}\n"
	cases := []struct{ name, text, want string }{
		{"a section shorter than the train", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 4 ft 1 in, wheels: metal}}
`, "section over M @ 4 ft, M @ 8 ft, 4 ft, between east, set -"},
		{"a section as long as the train", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 4 ft, wheels: metal}}
`, ""},
		{"both ends of a section ask for one state", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: main @ 5 ft}
trains: {goods: {length: 10 ft, wheels: metal}}
`, ""},
		{"a booster whose signal is crossed is in phase the other way round", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: other @ 5 ft}
trains: {goods: {length: 10 ft, wheels: metal}}
`, "section over M @ 4 ft, M @ 8 ft, 4 ft, between east, set -"},
		{"two sections one after the other", line + `gaps: {M: [4 ft, 8 ft, 10 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 9 ft: west @ 3 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "chain over M @ 4 ft, M @ 8 ft, M @ 10 ft, 6 ft, between east, west, set -"},
		{"two sections of one reverser about fixed track", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: east @ 3 ft, 6 ft: main @ 4 ft, 12 ft: {from: east @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "chain over M @ 4 ft, M @ 8 ft, 4 ft, between -, set -"},
		{"dead rail between", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "dead over M @ 4 ft, M @ 8 ft, 4 ft, between -, set -"},
		{"a plug that goes in either way round feeds the rail between", line + `gaps: {M: [4 ft, 8 ft]}
plugs: {loose: {from: main @ 9 ft, legs: either}}
buses: {loose: {from: plug loose, wire: 14 AWG, length: 9 ft}}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: loose @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "other over M @ 4 ft, M @ 8 ft, 4 ft, between -, set -"},
		{"an expansion cut bounds a section as a gap does", line + `gaps: {M: [4 ft, {at: 8 ft, kind: expansion, joint: cut}]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "section over M @ 4 ft, M @ 8 ft, 4 ft, between east, set -"},
		{"a staggered gap is nearest where its nearer cut is", line + `gaps: {M: [4 ft, {at: 8 ft, rails: left}, {at: 8 ft 6 in, rails: right}]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 4 ft 3 in, wheels: metal}}
`, "section over M @ 4 ft, M @ 8 ft, 4 ft, between east, set -"},
		{"plastic wheels join what lies within the pick-up base", line + `gaps: {M: [4 ft, 8 ft, 12 ft, 12 ft 1 in]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 10 ft: {from: main @ 5 ft, A: right}, 14 ft: main @ 9 ft}
trains: {goods: {length: 7 ft, wheels: plastic}}
operations: {pickup: 2 in}
`, "dead over M @ 12 ft, M @ 12.08 ft, 0.08 ft, between -, set -"},
		{"only a railcar comes to the section", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}, railcar: {length: 1 ft, wheels: metal}}
blocks: {short: {covers: M @ gap .. end, trains: railcar}}
`, ""},
		{"a train of unknown length", line + `gaps: {M: [4 ft, 8 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: unknown, wheels: metal}, railcar: {length: 1 ft, wheels: metal}}
`, "open: section over M @ 4 ft, M @ 8 ft, 4 ft, between east, set -"},
		{"a track of unknown length on the way", `tracks:
  M: {from: end, to: N start, length: unknown}
  N: {from: M end, to: end, length: 9 ft}
gaps: {M: [4 ft], N: [3 ft]}
feeders:
  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft}
  N: {6 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 7 ft, wheels: metal}}
`, "open: section over M @ 4 ft, N @ 3 ft, 5 ft, between east, set -"},
		{"a train as long as its ring does not meet itself", `tracks:
  R: {closed: yes, length: 8 ft}
gaps: {R: [1 ft, 3 ft]}
feeders:
  R: {2 ft: east @ 3 ft, 5 ft: main @ 4 ft}
trains: {goods: {length: 30 ft, wheels: metal}}
`, ""},
		{"over the bridge of a turntable to the track across", `tracks:
  lead:  {from: end, to: TT lead, length: 6 ft}
  stall: {from: TT stall, to: end, length: 6 ft}
  shed:  {from: TT shed, to: end, length: 6 ft}
turntables:
  TT: {bridge: 1 ft, tracks: {lead: 0 deg, stall: 180 deg, shed: 90 deg}, feed: plain, from: reverser east, A: left}
feeders:
  lead: {2 ft: main @ 3 ft}
  stall: {2 ft: main @ 4 ft, A: right}
  shed: {2 ft: {from: main @ 5 ft, A: right}}
trains: {goods: {length: 2 ft, wheels: metal}}
`, `section over TT bridge, TT bridge, 1 ft, between east, set TT lead-head
section over TT bridge, TT bridge, 1 ft, between east, set TT lead-tail
section over TT bridge, TT bridge, 1 ft, between east, set TT stall-head
section over TT bridge, TT bridge, 1 ft, between east, set TT stall-tail`},
		{"a route that an interlocking rules out", `tracks:
  W: {from: end, to: T1 points, length: 6 ft}
  M: {from: T1 straight, to: T2 straight, length: 2 ft}
  S: {from: T1 curved, to: end, length: 6 ft}
  V: {from: T2 curved, to: end, length: 6 ft}
  E: {from: T2 points, to: end, length: 6 ft}
turnouts: {T1: {hand: left}, T2: {hand: right}}
gaps: {W: [5 ft 6 in], E: [6 in]}
feeders:
  W: {1 ft: main @ 3 ft}
  M: {1 ft: east @ 3 ft}
  E: {A: right, 3 ft: main @ 5 ft}
trains: {goods: {length: 9 ft, wheels: metal}}
never-together: [{T1: straight, T2: straight}]
`, ""},
		{"the same route without the interlocking", `tracks:
  W: {from: end, to: T1 points, length: 6 ft}
  M: {from: T1 straight, to: T2 straight, length: 2 ft}
  S: {from: T1 curved, to: end, length: 6 ft}
  V: {from: T2 curved, to: end, length: 6 ft}
  E: {from: T2 points, to: end, length: 6 ft}
turnouts: {T1: {hand: left}, T2: {hand: right}}
gaps: {W: [5 ft 6 in], E: [6 in]}
feeders:
  W: {1 ft: main @ 3 ft}
  M: {1 ft: east @ 3 ft}
  E: {A: right, 3 ft: main @ 5 ft}
trains: {goods: {length: 9 ft, wheels: metal}}
`, "section over W @ 5.5 ft, E @ 0.5 ft, 5 ft, between east, set T1 straight, T2 straight"},
		{"a power-routing leg is set for the train before it", `tracks:
  W: {from: end, to: T1 points, length: 6 ft}
  M: {from: T1 straight, to: end, length: 9 ft}
  S: {from: T1 curved, to: end, length: 9 ft}
turnouts: {T1: {hand: left, wiring: power-routing}}
gaps: {M: [1 ft, 3 ft], S: [1 ft, 3 ft]}
feeders:
  W: {1 ft: main @ 3 ft}
  M: {2 ft: east @ 3 ft, 6 ft: main @ 6 ft}
  S: {2 ft: west @ 3 ft, 6 ft: main @ 7 ft}
trains: {goods: {length: 9 ft, wheels: metal}}
`, ""},
		{"the other track beyond is turned over", `tracks:
  W: {from: end, to: T1 points, length: 6 ft}
  M: {from: T1 straight, to: end, length: 9 ft}
  S: {from: T1 curved, to: end, length: 9 ft}
turnouts: {T1: {hand: left, wiring: power-routing}}
gaps: {M: [1 ft, 3 ft], S: [1 ft, 3 ft]}
feeders:
  W: {1 ft: main @ 3 ft}
  M: {2 ft: east @ 3 ft, 6 ft: main @ 6 ft}
  S: {2 ft: west @ 3 ft, 6 ft: {from: main @ 7 ft, A: right}}
trains: {goods: {length: 9 ft, wheels: metal}}
`, "section over S @ 1 ft, S @ 3 ft, 2 ft, between west, set T1 curved"},
	}
	for _, c := range cases {
		head := reversed
		if text, more, found := strings.Cut(c.text, "\nbuses: {loose:"); found { // one more bus
			bus, rest, _ := strings.Cut(more, "}\n")
			head, c.text = reversed+"  loose:"+bus+"\n", text+"\n"+rest
		}
		if got := straddlesOf(t, trace(t, head+c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// TestHelixPair: two helix tracks that lead from one line to another make a reversing loop. As wired first it has
// no reverser, and wheels on one gap short; put right, its section of 41 ft 8 in takes any train but a longer one.
func TestHelixPair(t *testing.T) {
	read := func(name, trains string) *districts.Trace {
		open := func(n string) ([]byte, error) {
			text, err := os.ReadFile(filepath.Join("../testdata/tin-harbour", n))
			return []byte(strings.Replace(string(text), "ore:     {length: 10 ft 3 in,", "ore:     {length: "+trains+",", 1)), err
		}
		l, problems, err := reader.Read(context.Background(), open, name, reader.Options{})
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
		if err != nil {
			t.Fatal(err)
		}
		tr, err := districts.Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		return tr
	}
	for _, c := range []struct{ file, train, want string }{
		{"upper.yaml", "10 ft 3 in", "gap over HB @ 0.67 ft, 0 ft, between -, set T12 curved"},
		{"upper-sound.yaml", "10 ft 3 in", ""},
		{"upper-sound.yaml", "12 ft 2 in", ""},
		{"upper-sound.yaml", "12 ft 3 in", "section over BL @ 0.67 ft, BL @ 12.83 ft, 12.17 ft, between loop, set T4 straight"},
		{"upper-sound.yaml", "41 ft 9 in", "section over BL @ 0.67 ft, BL @ 12.83 ft, 12.17 ft, between loop, set T4 straight\nsection over HB @ 0.67 ft, HB @ 42.33 ft, 41.67 ft, between down, set T12 curved, T11 curved"},
	} {
		if got := straddlesOf(t, read(c.file, c.train)); got != c.want {
			t.Errorf("%s with a train of %s:\n got %s\nwant %s", c.file, c.train, got, c.want)
		}
	}
}

// TestSecondTrains: two exits of a section that ask for different states, on routes that can be set at once.
func TestSecondTrains(t *testing.T) {
	const balloon = reversed + `tracks:
  M: {from: end, to: T1 points, length: 9 ft}
  L: {from: T1 straight, to: T1 curved, length: 14 ft}
turnouts: {T1: {hand: left}}
gaps: {L: [1 ft, 13 ft]}
feeders:
  M: {1 ft: main @ 3 ft}
  L: {6 ft: east @ 4 ft}
`
	const link = reversed + `tracks:
  M: {from: end, to: end, length: 20 ft}
gaps: {M: [4 ft, 8 ft]}
feeders:
`
	for _, c := range []struct {
		name, text string
		want       int
	}{
		{"a balloon's turnout lets in one train", balloon, 0},
		{"a line on either side", link + "  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: {from: main @ 5 ft, A: right}}\n", 1},
		{"both ends ask for one state", link + "  M: {1 ft: main @ 3 ft, 6 ft: east @ 4 ft, 12 ft: main @ 5 ft}\n", 0},
	} {
		if got := trace(t, c.text).SecondTrains(); len(got) != c.want {
			t.Errorf("%s: %d, want %d: %v", c.name, len(got), c.want, got)
		}
	}
}

// TestStraddlesStop: where routes are too many for the bound, the places are named.
func TestStraddlesStop(t *testing.T) {
	d := &drawing{wirings: []string{"dead-frog"}}
	d.grid(6, 24, true)
	text := d.text() + "trains: {goods: {length: 400 ft, wheels: metal}}\n"
	first := straddlesOf(t, trace(t, text+"gaps: {K0: [1 ft], K1: [1 ft]}\n"))
	if first != "stopped" {
		t.Errorf("got %q, want it to stop", first)
	}
}
