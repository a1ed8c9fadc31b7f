package districts_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
)

// switched is track that hangs from changeovers; T is thrown with the second and third.
const switched = `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
tracks:
  P: {from: end, to: T points, length: 10 ft}
  Q: {from: T straight, to: end, length: 10 ft}
  R: {from: T curved, to: end, length: 10 ft}
turnouts:
  T: {hand: left}
gaps: {Q: [start], R: [start]}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
  two: {like: one}
cabs: {dc: {volts: 0 .. 12 V}}
breakers: {guard: {from: booster two}}
reversers: {turn: {from: booster two, switching: by-hand}}
changeovers:
  alone: {positions: {run: one @ 1 ft, off: nothing, turned: {from: guard @ 1 ft, legs: crossed}}, opens: both}
  pair1: {positions: {run: one @ 2 ft, plain: cab dc}, opens: both, throws-with: T}
  pair2: {like: pair1, positions: {run: turn @ 1 ft, plain: cab dc}}
  above: {positions: {near: booster one, far: changeover alone, lost: unknown}, opens: both}
buses:
  one:   {from: booster one, wire: 14 AWG, length: 20 ft}
  guard: {from: breaker guard, wire: 14 AWG, length: 20 ft}
  turn:  {from: reverser turn, wire: 14 AWG, length: 20 ft}
  alone: {from: changeover alone, wire: 14 AWG, length: 20 ft}
  pair1: {from: changeover pair1, wire: 14 AWG, length: 20 ft}
  pair2: {from: changeover pair2, wire: 14 AWG, length: 20 ft}
`

// headText tells a head and the positions it takes.
func headText(tr *districts.Trace) func(districts.Head) string {
	return func(h districts.Head) string {
		text := "?"
		if h.Source >= 0 {
			text = tr.C.Sources[h.Source].Name
		}
		if h.Crossed {
			text += " crossed"
		}
		if h.Loose {
			text += " loose"
		}
		return text + settingText(tr, h.Settings)
	}
}

func settingText(tr *districts.Trace, settings []districts.Setting) string {
	text := ""
	for _, s := range settings {
		d := &tr.C.Devices[s.Device]
		text += fmt.Sprintf(" [%s %s]", strings.TrimPrefix(d.Name, "changeover "), d.Positions[s.Position])
	}
	return text
}

func sourceNamed(t *testing.T, tr *districts.Trace, name string) int32 {
	t.Helper()
	i := slices.IndexFunc(tr.C.Sources, func(s circuit.Source) bool { return s.Name == name })
	if i < 0 {
		t.Fatalf("no %s", name)
	}
	return int32(i)
}

func TestHeads(t *testing.T) {
	tr := trace(t, switched)
	for _, c := range []struct{ source, want string }{
		{"booster one", "booster one"},
		{"breaker guard", "booster two"},
		{"reverser turn", "booster two loose"},
		{"changeover alone", "booster one [alone run], booster two crossed [alone turned]"},
		{"changeover pair2", "booster two loose [pair2 run], cab dc [pair2 plain]"},
		{"changeover above", "booster one [above near], booster one [above far] [alone run], booster two crossed [above far] [alone turned], ? [above lost]"},
	} {
		heads, whole := tr.Heads(sourceNamed(t, tr, c.source))
		if got := names(heads, headText(tr)); got != c.want || !whole {
			t.Errorf("%s: %s (whole: %v), want %s", c.source, got, whole, c.want)
		}
	}
}

// TestHeadsStop chains changeovers whose positions all lead to the next.
func TestHeadsStop(t *testing.T) {
	var b strings.Builder
	b.WriteString("gapwise: 1\nlayout: Test\ntracks: {P: {from: end, to: end, length: 1 ft}}\nsupplies: {wall: {volts: 18 V}}\nboosters: {one: {supply: wall, volts: 15 V}}\nchangeovers:\n  c0: {positions: {x: nothing, y: booster one}}\n")
	for i := range 40 {
		fmt.Fprintf(&b, "  c%d: {positions: {x: changeover c%d, y: changeover c%d}}\n", i+1, i, i)
	}
	tr := trace(t, b.String())
	if _, whole := tr.Heads(sourceNamed(t, tr, "changeover c40")); whole {
		t.Error("all of 2^40 ways were followed")
	}
	if heads, whole := tr.Heads(sourceNamed(t, tr, "changeover c5")); !whole || len(heads) != 32 {
		t.Errorf("%d heads (whole: %v), want 32", len(heads), whole)
	}
}

func TestEncounters(t *testing.T) {
	for _, c := range []struct{ name, rest, want string }{
		{
			"one side by a changeover", "feeders:\n  P: {2 ft: one @ 3 ft}\n  Q: {2 ft: alone @ 2 ft}\n",
			"booster one, booster one [alone run]; booster one, booster two [alone turned]",
		},
		{
			"thrown together", "feeders:\n  P: {2 ft: pair1 @ 3 ft}\n  Q: {2 ft: pair2 @ 2 ft}\n",
			"booster one, booster two [pair1 run] [pair2 run]; cab dc, cab dc [pair1 plain] [pair2 plain]",
		},
		{
			"each by itself", "feeders:\n  P: {2 ft: pair1 @ 3 ft}\n  Q: {2 ft: alone @ 2 ft}\n",
			"booster one, booster one [alone run] [pair1 run]; booster one, cab dc [alone run] [pair1 plain]; booster two, booster one [alone turned] [pair1 run]; booster two, cab dc [alone turned] [pair1 plain]",
		},
		{
			"two gaps", "feeders:\n  P: {2 ft: one @ 3 ft}\n  Q: {2 ft: guard @ 2 ft}\n  R: {2 ft: guard @ 4 ft}\n",
			"booster one, booster two at 2 ways",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := trace(t, switched+c.rest)
			list, whole := tr.Encounters()
			var got []string
			for _, e := range list {
				text := tr.C.Sources[e.Heads[0]].Name + ", " + tr.C.Sources[e.Heads[1]].Name + settingText(tr, e.Settings)
				if len(e.Ways) > 1 {
					text += fmt.Sprintf(" at %d ways", len(e.Ways))
				}
				got = append(got, text)
			}
			if strings.Join(got, "; ") != c.want || !whole {
				t.Errorf("%s (whole: %v), want %s", strings.Join(got, "; "), whole, c.want)
			}
		})
	}
}
