package circuit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
)

// work is a turnout wired in full, by the words of the layout language.
type work struct {
	hand, blades, closures, frog, isolated, from, throw string
	jumpers                                             bool
	gets                                                [2]string // by contacts, set to the left leg and to the right
}

// legWords are the left and the right leg of each hand.
var legWords = map[string][2]string{
	"left": {"curved", "straight"}, "right": {"straight", "curved"}, "wye": {"left", "right"},
	"curved-left": {"inner", "outer"}, "curved-right": {"outer", "inner"},
}

// keys are the turnout as typed.
func (w *work) keys() string {
	wiring := fmt.Sprintf("blades: %s, closures: %s, frog: %s", w.blades, w.closures, w.frog)
	if w.frog == "metal" {
		wiring += fmt.Sprintf(", isolated: %s, frog-from: %s", w.isolated, w.from)
	}
	jumpers := "no"
	if w.jumpers {
		jumpers = "yes"
	}
	keys := fmt.Sprintf("hand: %s, length: 11 in, throw: %s, jumpers: %s, wiring: {%s}", w.hand, w.throw, jumpers, wiring)
	if w.from != "contacts" {
		return keys
	}
	legs := legWords[w.hand]
	if slices.Contains(w.gets[:], "A") {
		keys += ", frog-from: ring @ 3 ft"
	}
	return keys + fmt.Sprintf(", frog-gets: {%s: %s, %s: %s}", legs[0], w.gets[0], legs[1], w.gets[1])
}

// drawn is the table of language.md section 5 for wiring in full: the metal that is joined with the blades set to a leg (0 left, 1
// right, -1 in the air) and the contacts closed as in the settings listed.
func (w *work) drawn(blades int, closed ...int) [][2]string {
	var m [][2]string
	is := func(yes bool, pairs ...[2]string) {
		if yes {
			m = append(m, pairs...)
		}
	}
	metal := w.frog == "metal"
	toe := metal && (w.isolated == "both" || w.isolated == "toe")
	heel := metal && (w.isolated == "both" || w.isolated == "heel")
	is(w.blades == "stock", [2]string{"SL", "BL"}, [2]string{"SR", "BR"})
	is(w.blades == "each-other", [2]string{"BL", "BR"})
	is(w.blades != "stock" && blades == 0, [2]string{"BR", "SR"})
	is(w.blades != "stock" && blades == 1, [2]string{"BL", "SL"})
	is(w.closures != "frog", [2]string{"BL", "CL"}, [2]string{"BR", "CR"})
	is(metal && !toe, [2]string{"CL", "F"}, [2]string{"CR", "F"})
	is(metal && !heel, [2]string{"F", "IL"}, [2]string{"F", "IR"})
	is(w.jumpers, [2]string{"CL", "IR"}, [2]string{"CR", "IL"})
	is(w.from == "blades", [2]string{"BL", "F"}, [2]string{"BR", "F"})
	if w.from == "contacts" {
		for _, set := range closed {
			node, found := map[string]string{"stock-left": "SL", "stock-right": "SR", "A": "A", "B": "B"}[w.gets[set]]
			is(found, [2]string{"F", node})
		}
	}
	return m
}

// works lists every wiring in full that the language takes.
func works() []work {
	var all []work
	maps := [][2]string{{"stock-right", "stock-left"}, {"stock-left", "stock-right"}, {"A", "B"}, {"open", "stock-left"}, {"A", "stock-left"}, {"open", "open"}}
	for _, hand := range []string{"left", "right", "wye"} {
		for _, blades := range []string{"stock", "each-other", "neither"} {
			for _, closures := range []string{"blade", "frog", "both"} {
				for _, jumpers := range []bool{true, false} {
					w := work{hand: hand, blades: blades, closures: closures, frog: "plastic", throw: "break-first", jumpers: jumpers}
					all = append(all, w)
					w.frog = "metal"
					for _, w.isolated = range []string{"both", "heel", "toe", "none"} {
						if jumpers && (w.isolated == "toe" || w.isolated == "none") {
							continue // refused: the frog is metal with a leg
						}
						for _, w.from = range []string{"nothing", "device", "blades"} {
							all = append(all, w)
						}
						w.from = "contacts"
						for _, w.throw = range []string{"break-first", "make-first"} {
							for _, w.gets = range maps {
								all = append(all, w)
							}
						}
						w.gets = [2]string{}
						w.throw = "break-first"
					}
				}
			}
		}
	}
	return all
}

// metalWords are the rails at a turnout's ends, its frog and the legs of a bus tap, by the letters of language.md section 5.
var metalWords = []string{"SL", "SR", "IL", "IR", "F", "A", "B"}

// turnoutMetal finds the nodes of metalWords; an outer rail must be one with its stock rail.
func turnoutMetal(t *testing.T, c *circuit.Circuit, w *work) map[string]int32 {
	p := piece(t, c, subject)
	legs := legWords[w.hand]
	nodes := map[string]int32{}
	for word, member := range map[string]string{"SL": "points.left", "SR": "points.right", "IL": legs[0] + ".right", "IR": legs[1] + ".left"} {
		nodes[word] = pieceNode(t, c, p, member)
	}
	if w.frog == "metal" {
		nodes["F"] = innerNode(t, c, p, "frog")
	}
	names := nodeNames(c)
	for n, name := range names {
		switch name {
		case "ring @ 3 A":
			nodes["A"] = int32(n)
		case "ring @ 3 B":
			nodes["B"] = int32(n)
		}
	}
	g := joined(c, surely)
	for word, member := range map[string]string{"SL": legs[0] + ".left", "SR": legs[1] + ".right"} {
		if g.find(nodes[word]) != g.find(pieceNode(t, c, p, member)) {
			t.Errorf("%s: %s is not one with %s", w.keys(), member, word)
		}
	}
	return nodes
}

// pairsOf lists which of the members are one, "SL SR".
func pairsOf(members []string, one func(x, y string) bool) []string {
	var out []string
	for i, x := range members {
		for _, y := range members[i+1:] {
			if one(x, y) {
				out = append(out, x+" "+y)
			}
		}
	}
	return out
}

// drawnPairs are the pairs that a table's metal makes one.
func drawnPairs(members []string, metal [][2]string) []string {
	letters := append(slices.Clone(metalWords), "BL", "BR", "CL", "CR")
	g := newGroups(len(letters))
	at := func(word string) int32 { return int32(slices.Index(letters, word)) }
	for _, m := range metal {
		g.join(at(m[0]), at(m[1]))
	}
	return pairsOf(members, func(x, y string) bool { return g.find(at(x)) == g.find(at(y)) })
}

// feedings are the ways in which legs may reach a turnout from outside: its stock rails each from one leg, either way round, and
// each inner rail from one or none beyond.
func feedings() []map[string]string {
	var all []map[string]string
	for _, stock := range [][2]string{{"A", "B"}, {"B", "A"}} {
		for _, il := range []string{"", "A", "B"} {
			for _, ir := range []string{"", "A", "B"} {
				all = append(all, map[string]string{"A": "A", "B": "B", "SL": stock[0], "SR": stock[1], "IL": il, "IR": ir})
			}
		}
	}
	return all
}

// shorted reports whether some pairs that are one carry both legs.
func shorted(joined [][]string, legs map[string]string) bool {
	return slices.ContainsFunc(joined, func(pairs []string) bool {
		return slices.ContainsFunc(pairs, func(pair string) bool {
			x, y, _ := strings.Cut(pair, " ")
			return legs[x] != "" && legs[y] != "" && legs[x] != legs[y]
		})
	})
}

// Every wiring in full against the table of language.md section 5: what each setting joins, and whether a short is there in some moment
// of a throw, with blades on either side or in the air and contacts closed for either setting, for both (if they make first) or for
// none, however legs reach the turnout.
func TestEveryWiringInEveryMoment(t *testing.T) {
	all := works()
	const wirings = 3 * 3 * 3 * (2 + 6*(3+2*6)) // hands, blades, closures; plastic and metal; isolated with jumpers; fed
	if len(all) != wirings {
		t.Errorf("%d wirings, want %d", len(all), wirings)
	}
	inPassing := 0
	for i := range all {
		w := &all[i]
		legs := legWords[w.hand]
		c := build(t, workText("turnouts", w.keys(), "points", legs[0], legs[1]))
		nodes := turnoutMetal(t, c, w)
		var members []string
		for _, word := range metalWords {
			if _, found := nodes[word]; found {
				members = append(members, word)
			}
		}
		d := c.PieceDevice[piece(t, c, subject)]
		in := func(at int, frogDevice int16) []string {
			g := joined(c, func(k *circuit.Conductor) bool {
				if k.Kind == circuit.BusSpan || k.Kind == circuit.WireEnd || k.Kind == circuit.FeederWire {
					return false
				}
				switch {
				case k.Device < 0:
					return true
				case k.Device == d:
					return int(k.Position) == at
				default:
					return c.Devices[k.Device].Kind == circuit.FrogDevice && k.Position == frogDevice
				}
			})
			return pairsOf(members, func(x, y string) bool { return g.find(nodes[x]) == g.find(nodes[y]) })
		}
		for set, leg := range legs {
			at := slices.Index(c.Devices[d].Positions, leg)
			for frogDevice, rail := range []string{"SL", "SR"} {
				metal := w.drawn(set, set)
				if w.from == "device" {
					metal = append(metal, [2]string{"F", rail})
				}
				drawn, built := drawnPairs(members, metal), in(at, int16(frogDevice))
				if !slices.Equal(drawn, built) {
					t.Errorf("%s, set %s: joined are %v, want %v", w.keys(), leg, built, drawn)
				}
			}
		}
		contacts := [][]int{{0}, {1}, {}}
		if w.throw == "make-first" {
			contacts = append(contacts, []int{0, 1})
		}
		var moments [][]string
		for _, blades := range []int{0, 1, -1} {
			for _, closed := range contacts {
				moments = append(moments, drawnPairs(members, w.drawn(blades, closed...)))
			}
		}
		var positions [][]string
		for at := range c.Devices[d].Positions {
			pairs := in(at, -1)
			positions = append(positions, pairs)
			if !slices.ContainsFunc(moments, func(m []string) bool { return slices.Equal(m, pairs) }) {
				t.Errorf("%s, %s: no moment of a throw joins %v", w.keys(), c.Devices[d].Positions[at], pairs)
			}
		}
		for _, legs := range feedings() {
			if got, want := shorted(positions, legs), shorted(moments, legs); got != want {
				t.Errorf("%s: with %v some position shorts: %v, some moment: %v", w.keys(), legs, got, want)
			}
		}
		rest := c.Devices[d].Rests()
		if unfed := feedings()[0]; shorted(positions, unfed) && !shorted(positions[:rest], unfed) {
			inPassing++
		}
		inSettings(t, c, w.keys())
	}
	if inPassing == 0 {
		t.Errorf("none of %d wirings shorts while it is thrown only", len(all))
	}
	t.Logf("%d of %d wirings short while they are thrown, and in no setting", inPassing, len(all))
}

// inSettings sees that routes and what wheels need are of settings, never of moments.
func inSettings(t *testing.T, c *circuit.Circuit, what string) {
	for i := range c.Ways {
		if w := &c.Ways[i]; w.Device >= 0 && c.Devices[w.Device].Momentary(w.Position) {
			t.Errorf("%s: a route through %s %s", what, c.Devices[w.Device].Name, c.Devices[w.Device].Positions[w.Position])
		}
	}
	for _, d := range c.Demands {
		if c.Devices[d.Device].Momentary(d.Position) {
			t.Errorf("%s: wheels in %s %s", what, c.Devices[d.Device].Name, c.Devices[d.Device].Positions[d.Position])
		}
	}
}

// The moments of every piece by name, and how its blades and contacts lie in them.
func TestMoments(t *testing.T) {
	const one = "wiring: {blades: each-other, closures: blade, frog: metal, isolated: heel, frog-from: contacts}"
	air := circuit.Moment{Blades: -1, Contacts: -1}
	for _, tt := range []struct {
		name, text string
		want       []string
		moments    []circuit.Moment
	}{
		{"dead frog", turnoutText("wiring: dead-frog, throw: make-first"), nil, nil},
		{"make first", turnoutText("wiring: switched-frog, throw: make-first"), []string{"passing"}, []circuit.Moment{air}},
		{"a frog one with its blades", turnoutText(one + ", throw: break-first"), []string{
			"passing, blades curved and contacts straight", "passing, blades straight and contacts curved",
		}, []circuit.Moment{{Blades: 1, Contacts: 0}, {Blades: 0, Contacts: 1}}},
		{"both", turnoutText(one + ", throw: make-first"), []string{
			"passing", "passing, blades curved and contacts straight", "passing, blades straight and contacts curved",
		}, []circuit.Moment{air, {Blades: 1, Contacts: 0}, {Blades: 0, Contacts: 1}}},
		{"three-way, make first", threeWayText("construction: lapped, first: left, wiring: switched-frog, throw: make-first"), []string{
			"passing, first throw", "passing, second throw",
		}, []circuit.Moment{air, air}},
		{"three-way, break first", threeWayText("construction: symmetric, wiring: switched-frog, throw: break-first"), nil, nil},
		{"crossing, make first", crossingText("wiring: powered-frogs, throw: make-first"), []string{"passing"}, []circuit.Moment{air}},
		{"slip, make first", slipText("slip: both, wiring: switched-frogs, throw: make-first"), []string{"passing, west end", "passing, east end"}, []circuit.Moment{air, air}},
		{"slip of joined frogs", slipText("slip: both, wiring: joined, throw: make-first"), nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := build(t, tt.text)
			d := &c.Devices[c.PieceDevice[piece(t, c, subject)]]
			if got := d.Positions[d.Rests():]; !slices.Equal(got, tt.want) {
				t.Errorf("the moments are %s", strings.Join(got, "; "))
			}
			if !slices.Equal(d.Moments, tt.moments) {
				t.Errorf("they are %v", d.Moments)
			}
			for at, word := range d.Positions {
				if got, want := d.Momentary(int16(at)), slices.Contains(tt.want, word); got != want {
					t.Errorf("%s: momentary %v", word, got)
				}
			}
			inSettings(t, c, tt.name)
		})
	}
}

// What a three-way, a slip and a crossing join while contacts change over: blades put no leg on their frogs, so that a short there needs
// contacts that make first. Each of their frogs is looked at with its contacts closed for every setting: language.md section 5.
func TestFrogsOfSeveralThrowsInPassing(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		pair       [2]string
	}{
		{"lapped, left first", threeWayText("construction: lapped, first: left, jumpers: no, wiring: switched-frog, throw: "), [2]string{"points.left", "points.right"}},
		{"lapped, right first", threeWayText("construction: lapped, first: right, jumpers: no, wiring: switched-frog, throw: "), [2]string{"points.left", "points.right"}},
		{"symmetric", threeWayText("construction: symmetric, jumpers: no, wiring: switched-frog, throw: "), [2]string{"points.left", "points.right"}},
		{"slip", slipText("slip: both, wiring: switched-frogs, throw: "), [2]string{"a.left", "a.right"}},
		{"crossing", crossingText("wiring: powered-frogs, throw: "), [2]string{"a.right", "d.left"}},
	} {
		for _, throw := range []string{"break-first", "make-first"} {
			t.Run(tt.name+", "+throw, func(t *testing.T) {
				c := build(t, strings.Replace(tt.text, "throw: ", "throw: "+throw, 1))
				p := piece(t, c, subject)
				x, y := pieceNode(t, c, p, tt.pair[0]), pieceNode(t, c, p, tt.pair[1])
				for at, word := range c.Devices[c.PieceDevice[p]].Positions {
					g := joined(c, func(k *circuit.Conductor) bool {
						return k.Device < 0 || (k.Device == c.PieceDevice[p] && int(k.Position) == at)
					})
					passing := c.Devices[c.PieceDevice[p]].Momentary(int16(at))
					if short := g.find(x) == g.find(y); short != passing {
						t.Errorf("%s joins them: %v", word, short)
					}
					if passing && throw == "break-first" {
						t.Errorf("%s: contacts that break first have no such moment", word)
					}
				}
			})
		}
	}
}

// A setting is no moment, whatever its owner calls it.
func TestSettingsNamedAsMoments(t *testing.T) {
	c := build(t, head+power+"changeovers: {C: {positions: {passing: ring @ 1 ft, passing-loop: nothing}, opens: both}}\n"+
		"turntables: {P: {bridge: 12 in, from: booster one, feed: plain, A: left, tracks: {passing: 0 deg, shed: 90 deg}}}\n"+
		"tracks: {one: {from: P passing, to: end, length: 3 ft}, two: {from: P shed, to: end, length: 3 ft}}\n")
	if len(c.Devices) != 2 {
		t.Fatalf("%d devices", len(c.Devices))
	}
	for i := range c.Devices {
		for at, word := range c.Devices[i].Positions {
			if c.Devices[i].Momentary(int16(at)) || circuit.Apart(word) {
				t.Errorf("%s %s is taken for a moment", c.Devices[i].Name, word)
			}
		}
	}
	if d := &c.Devices[device(t, c, "changeover C")]; d.Rests() != 2 {
		t.Errorf("%+v", *d)
	}
}
