package oracle

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

var (
	turnoutNodes  = []string{"SL", "SR", "BL", "BR", "CL", "CR", "F", "IL", "IR"}
	threeWayNodes = []string{"SL", "SR", "FM", "FL", "FR", "Lr0", "Lr1", "Lr2", "Rl0", "Rl1", "Rl2", "Sl0", "Sl1", "Sr0", "Sr1"}
	crossingNodes = []string{"acL", "acR", "dbL", "dbR", "W", "E", "N", "S"}
)

// reading reads a layout from text.
func reading(t testing.TB, text string) *Layout {
	t.Helper()
	l, err := Read("layout.yaml", func(string) ([]byte, error) { return []byte(text), nil })
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// picture lists, by setting, which named nodes of the only piece are one metal.
func picture(l *Layout, names []string, onlySure bool) map[string]string {
	g := l.graph(onlySure)
	groups, _ := g.groups(0)
	out := map[string]string{}
	draw := func(w *world, setting string) {
		by := map[int][]string{}
		for i, n := range names {
			root := w.sets.find(g.net[i])
			by[root] = append(by[root], n)
		}
		var parts []string
		for _, p := range by {
			if len(p) > 1 {
				slices.Sort(p)
				parts = append(parts, strings.Join(p, "+"))
			}
		}
		slices.Sort(parts)
		out[setting] += strings.Join(parts, " ")
	}
	if len(groups) == 0 {
		draw(g.still(), "always")
	}
	for _, gr := range groups {
		g.each([]group{gr}, func(w *world) {
			if s := l.pieces[0].settings[w.lie[0]]; out[s.name] == "" {
				draw(w, s.name)
			} else {
				draw(w, s.name+" again")
			}
		})
	}
	return out
}

// drawn is a picture typed by hand, its parts in any order.
func drawn(text string) string {
	parts := strings.Fields(text)
	for i, p := range parts {
		n := strings.Split(p, "+")
		slices.Sort(n)
		parts[i] = strings.Join(n, "+")
	}
	slices.Sort(parts)
	return strings.Join(parts, " ")
}

func compare(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: settings %v, want %v", what, sortedKeys(got), sortedKeys(want))
	}
	for s, w := range want {
		if got[s] != drawn(w) {
			t.Errorf("%s, set %s: %s, want %s", what, s, got[s], drawn(w))
		}
	}
}

// The presets of language.md, section 5, typed from its tables.
func TestTurnoutPresets(t *testing.T) {
	const plain = "SL+BL+CL SR+BR+CR"
	const jumped = "SL+BL+CL+IR SR+BR+CR+IL"
	tests := []struct {
		wiring, jumpers, always, left, right string
	}{
		{"dead-frog", "no", plain, "", ""},
		{"dead-frog", "yes", jumped, "", ""},
		{"unfed-frog", "no", plain, "", ""},
		{"unfed-frog", "yes", jumped, "", ""},
		{"flipped-frog", "no", plain, "", ""},
		{"flipped-frog", "yes", jumped, "", ""},
		{"switched-frog", "no", "", "SL+BL+CL SR+BR+CR+F", "SL+BL+CL+F SR+BR+CR"},
		{"switched-frog", "yes", "", "SL+BL+CL+IR SR+BR+CR+IL+F", "SL+BL+CL+IR+F SR+BR+CR+IL"},
		{"selective", "no", "", "BL+CL BR+CR+SR", "BL+CL+SL BR+CR"},
		{"selective", "yes", "", "BL+CL+IR BR+CR+IL+SR", "BL+CL+IR+SL BR+CR+IL"},
		{"tied-blades", "no", "", "BL+CL+BR+CR+SR", "BL+CL+BR+CR+SL"},
		{"tied-blades", "yes", "", "BL+CL+BR+CR+IL+IR+SR", "BL+CL+BR+CR+IL+IR+SL"},
		{"power-routing", "no", "", "BL+CL+BR+CR+F+IL+IR+SR", "BL+CL+BR+CR+F+IL+IR+SL"},
		{"power-routing-gapped", "no", "", "BL+CL+BR+CR+F+SR", "BL+CL+BR+CR+F+SL"},
	}
	hands := map[string][2]string{
		"right": {"straight", "curved"}, "left": {"curved", "straight"}, "wye": {"left", "right"},
		"curved-left": {"inner", "outer"}, "curved-right": {"outer", "inner"},
	}
	for hand, legs := range hands {
		for _, tt := range tests {
			l := reading(t, fmt.Sprintf("turnouts: {T: {hand: %s, wiring: %s, jumpers: %s}}", hand, tt.wiring, tt.jumpers))
			want := map[string]string{legs[0]: tt.left, legs[1]: tt.right}
			if tt.always != "" {
				want = map[string]string{"always": tt.always}
			}
			compare(t, hand+" "+tt.wiring+" jumpers "+tt.jumpers, picture(l, turnoutNodes, true), want)
		}
	}
}

func TestTurnoutEnds(t *testing.T) {
	l := reading(t, "turnouts: {T: {hand: right, wiring: dead-frog}}")
	want := map[string][2]string{"points": {"SL", "SR"}, "straight": {"SL", "IL"}, "curved": {"IR", "SR"}}
	for name, rails := range want {
		e := l.ends[l.pieceEnd(0, name)]
		for rail, n := range rails {
			if turnoutNodes[e.rails[rail]] != n {
				t.Errorf("T %s %s is %s, want %s", name, railWords[rail], turnoutNodes[e.rails[rail]], n)
			}
		}
	}
}

func TestJumpersNobodyKnows(t *testing.T) {
	l := reading(t, "turnouts: {T: {hand: right, wiring: dead-frog}}")
	compare(t, "surely", picture(l, turnoutNodes, true), map[string]string{"always": "SL+BL+CL SR+BR+CR"})
	compare(t, "maybe", picture(l, turnoutNodes, false), map[string]string{"always": "SL+BL+CL+IR SR+BR+CR+IL"})
	// Defaults never reach a frog that is one metal with the rails beyond.
	l = reading(t, "defaults: {turnout: {jumpers: yes}}\nturnouts: {T: {hand: right, wiring: power-routing-gapped}}")
	compare(t, "power-routing", picture(l, turnoutNodes, false), map[string]string{
		"straight": "BL+CL+BR+CR+F+SR", "curved": "BL+CL+BR+CR+F+SL",
	})
}

func TestWiringInFull(t *testing.T) {
	tests := []struct{ wiring, left, right string }{
		{"{blades: each-other, closures: frog, frog: metal, isolated: heel, frog-from: blades, jumpers: no}", "BL+BR+SR CL+CR+F", "BL+BR+SL CL+CR+F"},
		{"{blades: each-other, closures: both, frog: metal, isolated: toe, frog-from: contacts, jumpers: no}", "BL+CL+BR+CR+SR+F+IL+IR", "BL+CL+BR+CR+SL+F+IL+IR"},
		{"{blades: neither, closures: blade, frog: metal, isolated: both, frog-from: contacts, jumpers: yes}", "BL+CL+IR BR+CR+IL+SR+F", "BL+CL+IR+SL+F BR+CR+IL"},
	}
	for _, tt := range tests {
		l := reading(t, "turnouts: {T: {hand: right, wiring: "+tt.wiring+"}}")
		compare(t, tt.wiring, picture(l, turnoutNodes, true), map[string]string{"straight": tt.left, "curved": tt.right})
	}
}

func TestContactMap(t *testing.T) {
	l := reading(t, "turnouts: {T: {hand: right, wiring: switched-frog, jumpers: no, frog-gets: {straight: stock-left, curved: open}, throw: make-first}}")
	compare(t, "contact map", picture(l, turnoutNodes, false), map[string]string{
		"straight": "SL+BL+CL+F SR+BR+CR", "curved": "SL+BL+CL SR+BR+CR", "passing": "SL+BL+CL+F SR+BR+CR",
	})
	l = reading(t, "turnouts: {T: {hand: right, wiring: switched-frog, jumpers: no, throw: make-first}}")
	if got := picture(l, turnoutNodes, false)["passing"]; got != drawn("SL+BL+CL+F+SR+BR+CR") {
		t.Errorf("make-first in passing: %s", got)
	}
	if _, again := picture(l, turnoutNodes, true)["passing"]; again {
		t.Error("the moment of a throw feeds nothing")
	}
}

func TestThreeWays(t *testing.T) {
	const always = "SL+Sl0+Rl0 SR+Sr0+Lr0"
	const jumped = "SL+Sl0+Rl0+Sl1+Rl1+Rl2 SR+Sr0+Lr0+Sr1+Lr1+Lr2"
	for _, tt := range []struct {
		keys string
		want map[string]string
	}{
		{"construction: symmetric, wiring: dead-frog, jumpers: no", map[string]string{"always": always}},
		{"construction: symmetric, wiring: unfed-frog, jumpers: yes", map[string]string{"always": jumped}},
		{"construction: symmetric, wiring: flipped-frog, jumpers: no", map[string]string{"always": always}},
		{"construction: symmetric, wiring: switched-frog, jumpers: no", map[string]string{
			"left": "SL+Sl0+Rl0 SR+Sr0+Lr0+FL+FM+FR", "straight": "SL+Sl0+Rl0+FL+FM SR+Sr0+Lr0+FR", "right": "SL+Sl0+Rl0+FL+FM+FR SR+Sr0+Lr0",
		}},
		{"construction: lapped, first: left, wiring: switched-frog, jumpers: no", map[string]string{
			"left": "SL+Sl0+Rl0 SR+Sr0+Lr0+FL+FM+FR", "straight": "SL+Sl0+Rl0+FL+FM SR+Sr0+Lr0+FR",
			"right": "SL+Sl0+Rl0+FL+FM+FR SR+Sr0+Lr0", "left again": "SL+Sl0+Rl0+FR SR+Sr0+Lr0+FL+FM",
		}},
		{"construction: lapped, first: right, wiring: switched-frog, jumpers: no", map[string]string{
			// Mirrored: right and middle frog follow the first throw, left the second.
			"left": "SL+Sl0+Rl0 SR+Sr0+Lr0+FL+FM+FR", "straight": "SL+Sl0+Rl0+FL SR+Sr0+Lr0+FM+FR",
			"right": "SL+Sl0+Rl0+FL+FM+FR SR+Sr0+Lr0", "right again": "SL+Sl0+Rl0+FM+FR SR+Sr0+Lr0+FL",
		}},
	} {
		l := reading(t, "three-ways: {T: {"+tt.keys+"}}")
		compare(t, tt.keys, picture(l, threeWayNodes, true), tt.want)
	}
}

func TestThreeWayContactMap(t *testing.T) {
	l := reading(t, "three-ways: {T: {construction: symmetric, wiring: switched-frog, jumpers: no, frog-gets: {left-frog: {left: open, straight: stock-left}, right-frog: {straight: stock-right, right: open}, middle-frog: {left: stock-left, right: stock-right}}}}")
	compare(t, "three-way contacts", picture(l, threeWayNodes, true), map[string]string{
		"left": "SL+Sl0+Rl0+FM SR+Sr0+Lr0+FR", "straight": "SL+Sl0+Rl0+FL SR+Sr0+Lr0+FM+FR", "right": "SL+Sl0+Rl0+FL SR+Sr0+Lr0+FM",
	})
}

func TestCrossingsAndSlips(t *testing.T) {
	for _, tt := range []struct {
		section, keys string
		want          map[string]string
	}{
		{"crossings", "wiring: dead-frogs", map[string]string{"always": ""}},
		{"crossings", "wiring: powered-frogs", map[string]string{"a-c": "acR+W+S acL+E+N", "d-b": "dbL+W+N dbR+E+S"}},
		{"crossings", "wiring: joined", map[string]string{"always": "acL+acR+dbL+dbR+W+E+N+S"}},
		{"slips", "slip: both, wiring: dead-frogs", map[string]string{"always": "acL+dbL acR+dbR"}},
		{"slips", "slip: a-b, wiring: dead-frogs", map[string]string{"always": "acL+dbL acR+dbR"}},
		{"slips", "slip: both, wiring: joined", map[string]string{"always": "acL+acR+dbL+dbR+W+E+N+S"}},
		{"slips", "slip: both, wiring: switched-frogs", map[string]string{
			"a-c": "acL+dbL+N+E acR+dbR+S+W", "a-b": "acL+dbL+N acR+dbR+S+W+E",
			"d-b": "acL+dbL+N+W acR+dbR+S+E", "d-c": "acL+dbL+N+W+E acR+dbR+S",
		}},
		{"slips", "slip: a-b, wiring: switched-frogs, frog-gets: {west: {a-c: right, d-b: left}, east: {a-c: left, d-b: right}}", map[string]string{
			"a-c": "acL+dbL+N+E acR+dbR+S+W", "a-b": "acL+dbL+N acR+dbR+S+W+E", "d-b": "acL+dbL+N+W acR+dbR+S+E",
		}},
	} {
		l := reading(t, tt.section+": {X: {"+tt.keys+"}}")
		compare(t, tt.section+" "+tt.keys, picture(l, crossingNodes, true), tt.want)
	}
}

// A single slip's west and east frogs are unknown where its blades do not tell.
func TestSingleSlipNeedsContactMap(t *testing.T) {
	_, err := Read("x", func(string) ([]byte, error) {
		return []byte("slips: {X: {slip: a-b, wiring: switched-frogs}}"), nil
	})
	if err == nil {
		t.Error("a single slip without a contact map was read")
	}
}

func TestQuantities(t *testing.T) {
	for text, want := range map[string][2]float64{
		"12 ft 6 1/2 in": {3.8227, 3.8227}, "12' 6½\"": {3.8227, 3.8227}, "5'-6\"": {1.6764, 1.6764}, "0": {0, 0},
		"7 .. 9 ft": {2.1336, 2.7432}, "0 .. 10 ft 3 in": {0, 3.1242}, "41 cm": {0.41, 0.41}, "½ in": {0.0127, 0.0127}, "1/4 in": {0.00635, 0.00635},
	} {
		lo, hi, err := lengthRange(text)
		if err != nil || max(lo-want[0], want[0]-lo, hi-want[1], want[1]-hi) > 1e-9 {
			t.Errorf("%s: %v .. %v, %v; want %v", text, lo, hi, err, want)
		}
	}
	for _, text := range []string{"", "ft", "12", "3 A", "9 .. 7 ft", "2 .. 3 ft 4 in", "1/0 in"} {
		if lo, hi, err := lengthRange(text); err == nil {
			t.Errorf("%q read as %v .. %v", text, lo, hi)
		}
	}
}
