package difference

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

const base = `gapwise: 1
layout: Test
defaults:
  track:   {rail: code 83 nickel silver}
  turnout: {hand: right, length: 11 in, wiring: dead-frog, jumpers: yes}
  gap:     {rails: both, kind: insulated}
  joint:   {kind: soldered}
  feeder:  {wire: 20 AWG, length: 10 in}
tracks:
  M1: {from: end, to: T1 points, length: 20 ft}
  M2: {from: T1 straight, to: end, length: 10 ft}
  S1: {from: T1 curved, to: bumper, length: 6 ft}
turnouts:
  T1: {}
gaps:
  M1: [4 ft]
supplies:
  one: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: one, volts: 15 V, trips-at: 5 A}
breakers:
  yard: {from: booster one, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 30 ft}
  side: {from: breaker yard, wire: 16 AWG, length: 12 ft}
feeders:
  M1: {A: left, 2 ft: main @ 2 ft, 12 ft: main @ 12 ft}
  M2: {A: left, 5 ft: main @ 25 ft}
  S1: {A: left, 3 ft: side @ 3 ft}
blocks:
  west: {covers: M1 @ 0 .. 4 ft}
trains:
  ore: {length: 6 ft, current: 1 A}
`

// read reads a layout that has no mistakes.
func read(t *testing.T, text string) *layout.Layout {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(context.Background(), open, "layout.yaml", reader.Options{LimitNames: []string{"rail-drop"}, PracticeNames: []string{"gaps-filled"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		t.Fatalf("line %d: %s\n%s", problems[0].Pos.Line, problems[0].Message, strings.Split(text, "\n")[problems[0].Pos.Line-1])
	}
	return l
}

// changed is the base with some texts replaced, each of which must be there.
func changed(t *testing.T, edits ...string) string {
	t.Helper()
	text := base
	for i := 0; i < len(edits); i += 2 {
		if !strings.Contains(text, edits[i]) {
			t.Fatalf("no %q", edits[i])
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return text
}

// told is a difference, an entry a line.
func told(d *Difference) []string {
	var out []string
	for i := range d.Entries {
		e := &d.Entries[i]
		names := func(l *layout.Layout, is []int32) string {
			var names []string
			for _, i := range is {
				name := EntryOf(l, e.Kind, i).Name
				if name == "" {
					name = fmt.Sprint("#", i)
				}
				names = append(names, name)
			}
			return strings.Join(names, "+")
		}
		line := fmt.Sprintf("%s %s %s>%s", e.Kind, e.Fate, names(d.Before, e.Before), names(d.After, e.After))
		if e.Turned && e.Fate != Turned {
			line += " turned"
		}
		if e.MovedM > 0 {
			line += fmt.Sprintf(" by %.3f m", e.MovedM)
		}
		for _, c := range e.Changes {
			line += fmt.Sprintf("; %s: %s > %s", c.Key, c.From, c.To)
		}
		out = append(out, line)
	}
	return out
}

// TestChanges makes each kind of change, and its mirror.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		name  string
		edits []string
		want  []string
	}{
		{"nothing", nil, nil},
		{"spelling, order and comments", []string{
			"wire: 14 AWG, length: 30 ft", "length: 360 in, wire: AWG 14", "  M1: [4 ft]", "  M1: [1219.2 mm]   # anew",
			"  S1: {A: left, 3 ft: side @ 3 ft}\n", "", "feeders:\n", "feeders:\n  S1: {3 ft: {from: side @ 36 in, A: left}}\n",
		}, nil},
		{"wire", []string{"wire: 16 AWG", "wire: 1.5 mm²"}, []string{"bus changed side>side; wire: 16 AWG (1.31 mm²) > 1.5 mm²"}},
		{"wire unknown", []string{"wire: 16 AWG", "wire: unknown"}, []string{"bus changed side>side; wire: 16 AWG (1.31 mm²) > unknown"}},
		{"trip", []string{"trips-at: 3 A", "trips-at: 2 .. 3 A"}, []string{"breaker changed yard>yard; trips-at: 3 A > 2 .. 3 A"}},
		{"gap moved", []string{"M1: [4 ft]", "M1: [5 ft]"}, []string{"gap moved #0>#0 by 0.305 m; at: M1 @ 4 ft (1.22 m) > M1 @ 5 ft (1.52 m)"}},
		{"gap moved far is another", []string{"M1: [4 ft]", "M1: [14 ft]"}, []string{"gap added >#0", "gap removed #0>"}},
		{"gap in one rail", []string{"M1: [4 ft]", "M1: [{at: 4 ft, rails: left}]"}, []string{"gap changed #0>#0; rails: both > left"}},
		{"feeder crossed", []string{"S1: {A: left", "S1: {A: right"}, []string{"feeder changed #3>#3; A: left > right"}},
		{"feeder from another bus", []string{"3 ft: side @ 3 ft", "3 ft: main @ 22 ft"}, []string{"feeder changed #3>#3; from: side @ 3 ft (914 mm) > main @ 22 ft (6.71 m)"}},
		{"feeder unlabelled", []string{"3 ft: side @ 3 ft", "3 ft: {from: unknown}"}, []string{"feeder changed #3>#3; from: side @ 3 ft (914 mm) > unknown"}},
		{"feeder added", []string{"5 ft: main @ 25 ft", "5 ft: main @ 25 ft, 9 ft: main @ 29 ft"}, []string{"feeder added >#3"}},
		{"bus renamed", []string{"  side:", "  yards:", "side @", "yards @"}, []string{"bus renamed side>yards"}},
		{"bus renamed and made of other wire", []string{"  side:", "  yards:", "side @", "yards @", "16 AWG", "18 AWG"}, []string{"bus changed side>yards; wire: 16 AWG (1.31 mm²) > 18 AWG (0.823 mm²)"}},
		{"track renamed", []string{"  S1: {from", "  spur: {from", "  S1: {A", "  spur: {A"}, []string{"piece renamed S1>spur"}},
		{"turnout renamed", []string{"T1 points", "W points", "T1 straight", "W straight", "T1 curved", "W curved", "  T1: {}", "  W: {}"}, []string{"piece renamed T1>W"}},
		{"block", []string{"M1 @ 0 .. 4 ft", "M1"}, []string{"block changed west>west; covers: M1 @ 0 .. 4 ft > M1"}},
		{"train", []string{"current: 1 A", "current: 2 A"}, []string{"train changed ore>ore; current: 1 A > 2 A"}},
		{"limit and practice", []string{"trains:", "limits: {rail-drop: 5 %}\npractice: [gaps-filled]\ntrains:"}, []string{"limit added >rail-drop", "practice added >gaps-filled"}},
		{"names of legs", []string{"tracks:", "wire-colours: {A: red, B: black}\ntracks:"}, []string{"layout changed #0>#0; wire of leg A: not said > red; wire of leg B: not said > black"}},
		{"joints made anew", []string{"joint:   {kind: soldered}", "joint:   {kind: plain}"}, []string{
			"piece changed M1>M1; joints: soldered > plain", "piece changed M2>M2; joints: soldered > plain", "piece changed S1>S1; joints: soldered > plain",
		}},
		{"longer at its end", []string{"to: end, length: 10 ft", "to: end, length: 12 ft"}, []string{"piece changed M2>M2; length: 10 ft (3.05 m) > 12 ft (3.66 m)"}},
		{"cut in two", []string{
			"M1: {from: end, to: T1 points, length: 20 ft}", "M1: {from: end, to: M9 start, length: 8 ft}\n  M9: {from: M1 end, to: T1 points, length: 12 ft}",
			"2 ft: main @ 2 ft, 12 ft: main @ 12 ft", "2 ft: main @ 2 ft}\n  M9: {A: left, 4 ft: main @ 12 ft",
		}, []string{"piece split M1>M1+M9"}},
		{"cut in two, the far half turned", []string{
			"M1: {from: end, to: T1 points, length: 20 ft}", "M1: {from: end, to: M9 end, length: 8 ft}\n  M9: {from: T1 points, to: M1 end, length: 12 ft}",
			"2 ft: main @ 2 ft, 12 ft: main @ 12 ft", "2 ft: main @ 2 ft}\n  M9: {A: right, 8 ft: main @ 12 ft",
		}, []string{"piece split M1>M1+M9 turned"}},
		{"a turnout put into it", []string{
			"M1: {from: end, to: T1 points, length: 20 ft}",
			"M1: {from: end, to: T2 points, length: 8 ft}\n  M9: {from: T2 straight, to: T1 points, length: 11 ft 1 in}\n  S2: {from: T2 curved, to: end, length: 3 ft}",
			"  T1: {}", "  T1: {}\n  T2: {}",
			"2 ft: main @ 2 ft, 12 ft: main @ 12 ft", "2 ft: main @ 2 ft}\n  M9: {A: left, 3 ft 1 in: main @ 12 ft",
		}, []string{"piece split M1>M1+M9", "piece added >S2", "piece added >T2"}},
		{"a turnout stands on it", []string{"  T1: {}", "  T1: {}\n  T2: {at: M1 @ 8 ft, via: points to straight}", "tracks:", "tracks:\n  S2: {from: T2 curved, to: end, length: 3 ft}"}, []string{"piece added >S2", "piece added >T2"}},
		{"turned", []string{
			"M1: {from: end, to: T1 points", "M1: {from: T1 points, to: end", "M1: [4 ft]", "M1: [16 ft]", "M1: {A: left, 2 ft: main @ 2 ft, 12 ft: main @ 12 ft}", "M1: {A: right, 8 ft: main @ 12 ft, 18 ft: main @ 2 ft}",
			"M1 @ 0 .. 4 ft", "M1 @ 16 .. 20 ft",
		}, []string{"piece turned M1>M1"}},
		{"names exchanged", []string{"  M2: {from: T1 straight, to: end, length: 10 ft}\n  S1: {from: T1 curved, to: bumper, length: 6 ft}", "  S1: {from: T1 straight, to: end, length: 10 ft}\n  M2: {from: T1 curved, to: bumper, length: 6 ft}", "  M2: {A: left, 5 ft", "  x: {A: left, 5 ft", "  S1: {A: left", "  M2: {A: left", "  x:", "  S1:"}, []string{"piece renamed M2>S1", "piece renamed S1>M2"}},
		{"joined to another leg", []string{"from: T1 straight, to: end", "from: T1 curved, to: end", "from: T1 curved, to: bumper", "from: T1 straight, to: bumper"}, []string{
			"piece changed M2>M2; from: T1 straight > T1 curved", "piece changed S1>S1; from: T1 curved > T1 straight",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, after := read(t, base), read(t, changed(t, c.edits...))
			if got := told(Compare(before, after)); strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
			there, back := Compare(before, after), Compare(after, before)
			if len(there.Entries) != len(back.Entries) || there.Same != back.Same {
				t.Errorf("there %d differ and %d are the same, back %d and %d", len(there.Entries), there.Same, len(back.Entries), back.Same)
			}
			fates := map[Fate]int{}
			for i := range there.Entries {
				fates[there.Entries[i].Fate]++
				fates[back.Entries[i].Fate.Mirror()]--
			}
			for f, n := range fates {
				if n != 0 {
					t.Errorf("%d more %s there than back", n, f)
				}
			}
		})
	}
}
