package oracle

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// between has a track, mid, from leg to leg of two turnouts whose inner rails are live only when set to it. Its other rail is cut, so that boosters
// one and two meet by the inner rail, and only with both turnouts set to mid: by its blade it has the left stock rail of the right-hand T1, and the
// right one of the left-hand T2. West begins at an end, so its left rail is T1's left one; east begins at the points, so its left rail is T2's right.
const between = `
tracks:
  west: {from: end, to: T1 points, length: 6 ft}
  mid: {from: T1 curved, to: T2 curved, length: 3 ft}
  east: {from: T2 points, to: end, length: 6 ft}
turnouts: {T1: {hand: right, wiring: selective}, T2: {hand: left, wiring: selective KEYS}}
gaps: {T1: [{at: curved, rails: outer}]}
feeders: {west: {A: left, 3 ft: main @ 3 ft}, east: {A: left, 3 ft: second @ 5 ft}}
`

// glued has a frog that is one metal with both blades, and fed by contacts besides: at rest both give it the same stock rail.
const glued = fork + "turnouts: {T1: {hand: left, wiring: {blades: each-other, closures: both, frog: metal, isolated: heel, frog-from: contacts, jumpers: no} KEYS}}\n" + forkFed

func keyedAs(text, keys string) string { return strings.Replace(text, "KEYS", keys, 1) }

func told(cs []Conflict) []string {
	out := []string{}
	for _, c := range cs {
		s := fmt.Sprintf("%s: %s, %s %q", c.Kind, c.X, c.Y, c.Ways)
		if !c.Sure {
			s += " unsure"
		}
		if c.Moment != "" {
			s += "; " + c.Moment
		}
		out = append(out, strings.NewReplacer("leg A of", "A", "leg B of", "B").Replace(s))
	}
	return out
}

func TestShorts(t *testing.T) {
	const one = "A booster one, B booster one"
	two := func(ways string) []string {
		return []string{"source to source: A booster one, A booster two " + ways, "source to source: B booster one, B booster two " + ways}
	}
	tests := []struct {
		name, text   string
		set, passing []string
	}{
		{"nothing", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}", nil, nil},
		// Rail that is whole joins the boosters however anything lies.
		{"two boosters", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", two("[[]]"), nil},
		{"over a joint nobody knows", shelf + "joints: {line: [{at: 10 ft, kind: unknown}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", two("[[]] unsure"), nil},
		{"a gap between", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", nil, nil},
		// The common rail is excused, so the whole one is not told; where both rails are whole the other one is.
		{"common rail", shelf + "common-rail: [{rail: right, of: line}]\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", two("[[]]")[:1], nil},
		{"common rail at a two-pole breaker", shelf + "common-rail: [{rail: right, of: line}]\ngaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: east @ 5 ft}}", []string{"source to source: B booster one, B breaker east [[]]"}, nil},
		// Two phases: legs of the same letter clash as well.
		{"another signal", shelf + "gaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: strange @ 5 ft}}", []string{
			"phase to phase: B booster far, B booster one [[]]", "source to source: B booster far, B booster one [[]]",
		}, nil},
		// The changeover's crossed position is the only one in which legs of one phase are opposed; its district is another in each.
		{"changeover", shelf + "gaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: swap @ 5 ft}}", []string{
			`leg to leg: B booster one, B changeover swap [["changeover swap back"]]`, "source to source: B booster one, B changeover swap [[]]",
		}, nil},
		// A reverser may lie either way, and nobody sets it.
		{"reverser", shelf + "gaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: turn @ 5 ft}}", []string{
			"leg to leg: B booster one, B reverser turn [[]]", "source to source: B booster one, B reverser turn [[]]",
		}, nil},
		// What hangs behind a switch is live only with the switch on.
		{"switch", shelf + "in-line: {k: {from: second @ 3 ft, kind: switch, leg: A}}\nbuses: {s: {from: in-line k}}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: s @ 5 ft}}", []string{
			`source to source: A booster one, A booster two [["switch k on"]]`, two("[[]]")[1],
		}, nil},
		// The changeover is crossed just when its turnout is curved: one throw.
		{"changeover thrown by a turnout", fork + "turnouts: {T1: {hand: left}}\ngaps: {main: [{at: start, rails: left}]}\nchangeovers: {swap: {positions: {straight: main @ 9 ft, curved: {from: main @ 9 ft, legs: crossed}}, opens: both, throws-with: T1}}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: swap @ 5 ft}}", []string{
			`leg to leg: B booster one, B changeover swap [["T1 curved"]]`, "source to source: B booster one, B changeover swap [[]]",
		}, nil},
		{"bus that ends on another", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nbuses: {long: {from: booster two, length: 9 ft, to: main @ 3 ft}}", two("[[]]"), nil},

		{"two turnouts", keyedAs(between, ""), []string{two(`[["T1 curved" "T2 curved"]]`)[0]}, nil},
		{"two turnouts thrown together", keyedAs(between, ", throws-with: T1"), []string{two(`[["T1 curved with T2 curved"]]`)[0]}, nil},
		{"never together", keyedAs(between, "") + "never-together: [{T1: curved, T2: curved}]\n", nil, nil},
		// A third piece stands in the way only if it leaves no setting at all.
		{"never with any setting of a third", keyedAs(between, "") + "crossings: {X: {wiring: powered-frogs}}\nnever-together: [{T1: curved, T2: curved, X: a-c}, {T1: curved, T2: curved, X: d-b}]\n", nil, nil},
		{"never with one setting of a third", keyedAs(between, "") + "crossings: {X: {wiring: powered-frogs}}\nnever-together: [{T1: curved, T2: curved, X: a-c}]\n", []string{two(`[["T1 curved" "T2 curved"]]`)[0]}, nil},
		// With T1 straight its frog, and so the left rail of `over`, has the stock rail of leg B; that rail is the outer one at T2, of leg A, since both
		// ends of `over` are ends. The same from T2.
		{"crossover", strings.Replace(crossover, "THROWN", "", 1), []string{"leg to leg: " + one + ` [["T1 straight"] ["T2 straight"]]`}, nil},

		// Both contacts made join the stock rails by way of the frog, wherever the blades are.
		{"contacts that make first", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, throw: make-first}}\n" + forkFed, nil, []string{
			"leg to leg: " + one + ` [[]]; T1 straight to T1 curved, blades as in T1 curved, contacts made both ways`,
			"leg to leg: " + one + ` [[]]; T1 straight to T1 curved, blades as in T1 straight, contacts made both ways`,
		}},
		// The blade gives one stock rail and the contact the other, to one metal.
		{"contacts and blades on one metal", keyedAs(glued, ""), nil, []string{
			"leg to leg: " + one + ` [[]]; T1 straight to T1 curved, blades as in T1 curved, contacts as in T1 straight`,
			"leg to leg: " + one + ` [[]]; T1 straight to T1 curved, blades as in T1 straight, contacts as in T1 curved`,
		}},
		// Blades stay on their stock rail here and the frog is parted from them.
		{"contacts on a frog that is parted", fork + "turnouts: {T1: {hand: left, wiring: switched-frog}}\n" + forkFed, nil, nil},
		// In the moment of the throw both boosters are joined by the contact; the position of nothing parts them.
		{"changeover that makes first", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nchangeovers: {hot: {positions: {x: main @ 3 ft, y: second @ 2 ft}, opens: A, throw: make-first}}", nil, []string{
			"source to source: A booster one, A booster two [[]]; changeover hot, contacts made both ways",
		}},
		{"changeover that makes first, off between", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nchangeovers: {hot: {positions: {a-on: main @ 3 ft, b-off: nothing, c-on: second @ 2 ft}, opens: both, throw: make-first}}", nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := reading(t, merged(t, base, tt.text)).Shorts()
			if err != nil {
				t.Fatal(err)
			}
			if got := told(c.Set); !slices.Equal(got, tt.set) {
				t.Errorf("set: got %q, want %q", got, tt.set)
			}
			if got := told(c.Passing); !slices.Equal(got, tt.passing) {
				t.Errorf("passing: got %q, want %q", got, tt.passing)
			}
		})
	}
}

// What one throw sets has as many ways as the language gives it settings that may be.
func TestLevers(t *testing.T) {
	for text, want := range map[string][]string{
		"turnouts: {T: {hand: right, wiring: dead-frog}}":                                                                         {"T straight", "T curved"},
		"turnouts: {T: {hand: right, wiring: switched-frog, throw: make-first}}":                                                  {"T straight", "T curved"},
		"three-ways: {T: {construction: symmetric, wiring: dead-frog}}":                                                           {"T left", "T straight", "T right"},
		"three-ways: {T: {construction: lapped, first: left, wiring: dead-frog}}":                                                 {"T left", "T straight", "T right", "T left, both thrown"},
		"slips: {S: {slip: both, wiring: dead-frogs}}":                                                                            {"S a-c", "S a-b", "S d-b", "S d-c"},
		"slips: {S: {slip: a-b, wiring: dead-frogs}}":                                                                             {"S a-c", "S d-b", "S a-b"},
		"crossings: {X: {wiring: powered-frogs}}":                                                                                 {"X a-c", "X d-b"},
		"crossings: {X: {wiring: dead-frogs}}":                                                                                    {"X as it lies"},
		"turnouts: {T: {hand: right, wiring: dead-frog}, U: {hand: left, wiring: dead-frog, throws-with: T}}":                     {"T straight with U straight", "T curved with U curved"},
		"turnouts: {T: {hand: right, wiring: dead-frog}, U: {hand: wye, wiring: dead-frog, throws-with: T}}":                      {"T straight with U left", "T curved with U right"},
		"boosters: {b: {}}\nturntables: {T: {bridge: 1 m, tracks: {p: 0 deg, q: 90 deg}, feed: plain, from: booster b, A: left}}": {"T p head", "T p tail", "T q head", "T q tail"},
	} {
		levers, err := reading(t, text).levers()
		if err != nil || len(levers) != 1 {
			t.Errorf("%s: %v, %v", text, levers, err)
			continue
		}
		var got []string
		for _, w := range levers[0].ways {
			got = append(got, w.name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

func TestFewest(t *testing.T) {
	for keys, want := range map[string]int{"": 2, ", throws-with: T1": 1} {
		c, err := reading(t, merged(t, base, keyedAs(between, keys))).Shorts()
		if err != nil || len(c.Set) != 1 || c.Set[0].Fewest() != want {
			t.Errorf("%q: %v, %v, want %d levers", keys, c.Set, err, want)
		}
	}
}

func TestTooBigToTry(t *testing.T) {
	l := reading(t, yard(12, "switched-frog", true)) // 3 to the 12 is over 2 to the 18
	if _, err := l.Shorts(); !errors.Is(err, ErrTooBig) {
		t.Errorf("Shorts: %v", err)
	}
	l = reading(t, yard(13, "dead-frog", true)+"trains: {goods: {length: 3 ft}}\n")
	if c, err := l.Shorts(); err != nil || len(c.Set) > 0 {
		t.Errorf("turnouts that switch no metal are not tried: %v, %v", c, err)
	}
	if _, err := l.Trains(); !errors.Is(err, ErrTooBig) {
		t.Errorf("Trains: %v", err)
	}
	if _, err := l.Watch(); !errors.Is(err, ErrTooBig) {
		t.Errorf("Watch: %v", err)
	}
}

// catalogued reads the layouts of the catalogue that are modelled.
func catalogued(t *testing.T) map[string]*Layout {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root, "rules/catalogue/testdata/*/*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*Layout{}
	for _, f := range files {
		if l, err := Read(f, os.ReadFile); err == nil {
			out[f] = l
		}
	}
	if len(out) < len(files)/2 {
		t.Fatalf("only %d of %d layouts were read", len(out), len(files))
	}
	return out
}

// Legs of one phase or of two meet in a full setting if and only if one of the ways told is part of it: nodes are joined one by one here.
func TestWaysAgainstFullSettings(t *testing.T) {
	tried := 0
	for f, l := range catalogued(t) {
		if len(l.common) > 0 || len(l.closed) > 0 {
			continue
		}
		levers, err := l.levers()
		if err != nil {
			t.Fatal(err)
		}
		c, err := l.Shorts()
		if err != nil {
			t.Errorf("%s: %v", f, err)
			continue
		}
		err = l.eachPose(levers, 256, func(ps *pose, chosen []int) {
			tried++
			var lies []string
			for i, w := range chosen {
				lies = append(lies, levers[i].ways[w].name)
			}
			want := map[string]bool{}
			for _, k := range c.Set {
				if k.Kind == SourceToSource {
					continue
				}
				for _, w := range k.Ways {
					if !slices.ContainsFunc(w, func(s string) bool { return !slices.Contains(lies, s) }) {
						want[k.Kind+k.X+k.Y] = true
					}
				}
			}
			got := map[string]bool{}
			s := newSets(l.nodes)
			for _, cd := range l.conductors {
				if cd.piece < 0 || cd.in>>ps.lie[cd.piece]&1 == 1 {
					s.union(cd.a, cd.b)
				}
			}
			for _, x := range l.hung {
				for _, y := range l.hung {
					if x.terminal == y.terminal || s.find(x.node) != s.find(y.node) || l.leg(x.terminal) < 0 || l.leg(y.terminal) < 0 {
						continue
					}
					l.someState(l.loose(ps, x.terminal, y.terminal), ps, func(state []int) bool {
						legs, phases := l.clash(x.terminal, y.terminal, ps, state)
						a, b := l.sourceLeg(x.terminal), l.sourceLeg(y.terminal)
						if legs {
							got[LegToLeg+min(a, b)+max(a, b)] = true
						}
						if phases {
							got[PhaseToPhase+min(a, b)+max(a, b)] = true
						}
						return false
					})
				}
			}
			if x, y := sortedKeys(got), sortedKeys(want); !slices.Equal(x, y) {
				t.Errorf("%s, set %q: %q, but the ways say %q", f, lies, x, y)
			}
		})
		if err != nil && !errors.Is(err, ErrTooBig) {
			t.Error(err)
		}
	}
	if tried < 500 {
		t.Errorf("only %d settings were tried", tried)
	}
}

// What Hazards finds group by group, Shorts finds by trying, and but for blades and contacts apart nothing else.
func TestShortsAgainstHazards(t *testing.T) {
	some := 0
	for f, l := range catalogued(t) {
		hs, err1 := l.Hazards(0)
		c, err2 := l.Shorts()
		if err1 != nil || err2 != nil {
			t.Errorf("%s: %v, %v", f, err1, err2)
			continue
		}
		for kind, hazard := range map[string]string{LegToLeg: Short, SourceToSource: Tied} {
			feared := slices.ContainsFunc(hs, func(h Hazard) bool { return h.Kind == hazard })
			found := slices.ContainsFunc(slices.Concat(c.Set, c.Passing), func(k Conflict) bool {
				return k.Kind == kind && !strings.Contains(k.Moment, "contacts as in")
			})
			if feared != found {
				t.Errorf("%s: %s %v, but conflicts %v", f, hazard, feared, told(slices.Concat(c.Set, c.Passing)))
			}
			if found {
				some++
			}
		}
	}
	if some < 20 {
		t.Errorf("only %d layouts with conflicts", some)
	}
}
