package reader

import (
	"fmt"
	"testing"

	"gapwise/netlist/layout"
)

// Names may be numbers, or begin with one.
func TestNumbersAsNames(t *testing.T) {
	l := sound(t, header+power+common+`tracks:
  14: {from: end, to: TT 3, length: 5 ft}
  2: {from: TT 4, to: end, length: 5 ft}
turntables:
  TT: {bridge: 1 ft, tracks: {3: 0 deg, 4: 90 deg}, feed: plain, from: 5A, A: right}
breakers:
  5A: {from: ring @ 3 ft}
gaps: {14: [1 ft], TT: ["4"]}
feeders: {14: {2 ft: ring @ 3 ft}}
blocks: {7: {covers: [14 @ 0 .. gap, 2]}}
accept: [{finding: gap-one-rail, at: breaker 5A, because: it is}, {finding: gap-one-rail, at: 7, because: it is}]
`)
	if got := meeting(l, 0, 1); got != "TT 3, like" {
		t.Error(got)
	}
	if g := l.Gaps[1].Place; g.Text != "TT 4" || g.End != 1 {
		t.Errorf("%+v", g)
	}
	if f := l.Turntables[0].From; f.Kind != layout.FromBreaker || f.Text != "breaker 5A" || l.Turntables[0].ARail != layout.Right {
		t.Errorf("%+v", l.Turntables[0])
	}
	if a := l.Accepts; a[0].At != "breaker 5A" || a[0].Target.Kind != layout.TargetDevice || a[1].At != "block 7" {
		t.Errorf("%+v", a)
	}
}

// The ends of each hand, and which is the left leg.
func TestHands(t *testing.T) {
	for hand, want := range map[string]string{
		"left":         "points/start straight/end curved/end left 2",
		"right":        "points/start straight/end curved/end left 1",
		"wye":          "points/start left/end right/end left 1",
		"curved-left":  "points/start inner/end outer/end left 1",
		"curved-right": "points/start inner/end outer/end left 2",
	} {
		l, _ := readAll(t, header+"turnouts:\n  T1: {hand: "+hand+", wiring: dead-frog}\n")
		got := ""
		for _, e := range l.Pieces[0].Ends {
			got += fmt.Sprintf("%s/%s ", e.Name, [2]string{"start", "end"}[e.Facing])
		}
		if got += fmt.Sprint("left ", l.Turnouts[0].Hand.LegLeft()); got != want {
			t.Errorf("%s: %s, want %s", hand, got, want)
		}
	}
}

// Every preset in five words, as language.md section 5 tells them.
func TestPresets(t *testing.T) {
	for preset, want := range map[string]string{
		"dead-frog":            "stock blade plastic toe heel nothing",
		"unfed-frog":           "stock blade metal toe heel nothing",
		"switched-frog":        "stock blade metal toe heel contacts",
		"flipped-frog":         "stock blade metal toe heel device",
		"selective":            "neither blade plastic toe heel nothing",
		"tied-blades":          "each-other blade metal toe heel nothing",
		"power-routing":        "each-other both metal blades",
		"power-routing-gapped": "each-other both metal heel blades",
	} {
		l, _ := readAll(t, header+"turnouts:\n  T1: {hand: left, wiring: "+preset+"}\n")
		w := l.Turnouts[0].Wiring
		got := []string{"stock", "each-other", "neither"}[w.Blades] + " " + []string{"blade", "frog", "both"}[w.Closures]
		got += map[bool]string{true: " metal", false: " plastic"}[w.FrogMetal]
		if w.IsolatedToe {
			got += " toe"
		}
		if w.IsolatedHeel {
			got += " heel"
		}
		got += " " + []string{"nothing", "contacts", "device", "blades"}[w.FrogFrom]
		if got != want || w.Preset.String() != preset {
			t.Errorf("%s: %s, want %s", preset, got, want)
		}
	}
}

// The turnout's own `jumpers` wins over `wiring`'s, and both over a default; a default
// does not reach the presets that refuse them.
func TestJumpers(t *testing.T) {
	full := func(rest string) string {
		return "wiring: {blades: stock, closures: blade, frog: metal, isolated: both, frog-from: contacts" + rest + "}"
	}
	for _, c := range []struct {
		defaults, own string
		want          layout.YesNo
	}{
		{"{wiring: dead-frog}", "", layout.YesNoUnsaid},
		{"{wiring: dead-frog, jumpers: yes}", "", layout.Yes},
		{"{wiring: dead-frog, jumpers: yes}", "jumpers: unknown", layout.YesNoUnknown},
		{"{wiring: dead-frog, jumpers: yes}", "wiring: power-routing", layout.No},
		{"{wiring: dead-frog, jumpers: yes}", "wiring: power-routing, jumpers: no", layout.No},
		{"{jumpers: yes}", full(", jumpers: no"), layout.No},
		{"{jumpers: yes}", full(""), layout.Yes},
		{"{jumpers: yes}", full(", jumpers: no") + ", jumpers: yes", layout.Yes},
		{"{jumpers: no, " + full(", jumpers: yes") + "}", "", layout.No},
		{"{" + full(", jumpers: yes") + "}", "", layout.Yes},
		{"{jumpers: yes}", "wiring: {blades: each-other, closures: both, frog: metal, isolated: none, frog-from: blades}", layout.No},
		{"{jumpers: yes}", "wiring: {blades: stock, closures: blade, frog: plastic}", layout.Yes},
	} {
		own := c.own
		if own != "" {
			own = ", " + own
		}
		l := sound(t, header+"defaults:\n  turnout: "+c.defaults+"\ntracks:\n  M1: {from: T1 points, to: end, length: 3 ft}\n  M2: {from: T1 straight, to: end, length: 3 ft}\n  M3: {from: T1 curved, to: end, length: 3 ft}\nturnouts:\n  T1: {hand: left"+own+"}\n")
		if got := l.Turnouts[0].Wiring.Jumpers; got != c.want {
			t.Errorf("%s %s: %d, want %d", c.defaults, c.own, got, c.want)
		}
	}
}

// A body may pass a ring's start; nothing else may stand in it there.
func TestBodyPastRingStart(t *testing.T) {
	const text = `tracks:
  R1: {closed: yes, length: 30 ft}
  S1: {from: T1 curved, to: end, length: 3 ft}
turnouts:
  T1: {hand: left, at: R1 @ 29 ft 6 in, via: points to straight}
gaps:
  R1: [PLACE]
`
	for place, want := range map[string]string{
		"0":            "R1 @ 0 is inside T1",
		"end":          "R1 @ end is inside T1",
		"2 in":         "R1 @ 2 in is inside T1",
		"29 ft 8 in":   "R1 @ 29 ft 8 in is inside T1",
		"5 in":         "",
		"6 in":         "",
		"29 ft 6 in":   "",
		"15 ft":        "",
		"4 in .. 8 in": "",
	} {
		text := header + common + text
		text = text[:len(text)-len("PLACE]\n")] + place + "]\n"
		if got := messages(t, text); got != want {
			t.Errorf("%s: %q, want %q", place, got, want)
		}
	}
	l := sound(t, header+common+text[:len(text)-len("PLACE]\n")]+"5 in]\n")
	if g := l.Gaps[0].Place; l.Pieces[g.Piece].Name != "T1" || g.End != 1 {
		t.Errorf("the far edge: %+v", g)
	}
}

// A crossing may stand on two tracks, on one, or on one track twice.
func TestCrossingStands(t *testing.T) {
	l := sound(t, header+`tracks:
  M1: {from: end, to: end, length: 9 ft}
  M2: {from: X2 b, to: end, length: 3 ft}
  M3: {from: X2 d, to: end, length: 3 ft}
crossings:
  X1: {wiring: dead-frogs, length: 6 in, at: [M1 @ 2 ft, M1 @ 6 ft], via: [a to c, d to b]}
  X2: {wiring: dead-frogs, length: 6 in, at: M1 @ 4 ft, via: c to a}
`)
	if len(l.Tracks[0].Stands) != 3 || l.Tracks[0].Stands[1].First != 2 || l.Crossings[0].Jumpers != layout.Yes {
		t.Errorf("%+v", l.Tracks[0].Stands)
	}
}

// Settings are named by leg or by route, from either end.
func TestSettings(t *testing.T) {
	l := sound(t, header+common+`tracks:
  M1: {from: T1 points, to: X1 a, length: 9 ft}
  M2: {from: T1 straight, to: X1 b, length: 3 ft}
  M3: {from: T1 curved, to: X1 c, length: 3 ft}
  M4: {from: end, to: X1 d, length: 3 ft}
turnouts:
  T1: {hand: left, clear-at: {curved: 9 in}}
slips:
  X1: {slip: both, wiring: dead-frogs, frog-gets: {west: {a-c: right, b-d: open}}, throw: unknown}
never-together:
  - {T1: points-curved, X1: b-d}
  - {T1: straight, X1: c-d, name: levers}
`)
	got := lines(l.NeverTogether, func(x layout.Exclusion) string { return fmt.Sprint(x.Settings, x.Name) })
	if got != "[curved d-b]\n[straight d-c]levers\n" {
		t.Error(got)
	}
	if g := l.Crossings[0].FrogGets; len(g) != 2 || g[0].Gets != layout.GetsStockRight || g[1].Setting != "d-b" || g[1].Gets != layout.GetsOpen || l.Crossings[0].Throw != layout.ThrowUnsaid {
		t.Errorf("%+v", g)
	}
	if c := l.Turnouts[0].ClearAt; c[0].Said() || !metres(c[1], 9*inch, 9*inch) {
		t.Errorf("%+v", c)
	}
}
