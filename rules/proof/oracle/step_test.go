package oracle

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

const foot = 0.3048

func stepped(bs []Bridged) []string {
	out := []string{}
	for _, b := range bs {
		s := fmt.Sprintf("%s over %s, %.2f m", b.Train, strings.Join(b.Gaps, " + "), b.Metres)
		if b.Against {
			s += ", against"
		}
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

func TestTrains(t *testing.T) {
	const goods = "trains: {goods: {length: 8 ft}}\n"
	const plastic = "trains: {goods: {length: 8 ft, wheels: plastic}}\n"
	const turning = "feeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}"
	const odd = "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: cross @ 5 ft}}"
	tests := []struct {
		name, text string
		want       []string
	}{
		{"a gap between legs of one kind", shelf + goods + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: main @ 9 ft}}", nil},
		// From the front on the gap until the rear is: the train's own length.
		{"a gap between opposite legs", shelf + goods + odd, []string{"goods over line @ 3.05 m, 2.44 m"}},
		{"a gap near the end", shelf + goods + "gaps: {line: [17 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 19 ft: cross @ 5 ft}}", []string{"goods over line @ 5.18 m, 0.91 m"}},
		// Three engines of 1 ft with 2.5 ft between them.
		{"plastic wheels", shelf + plastic + "operations: {pickup: 1 ft}\n" + odd, []string{"goods over line @ 3.05 m, 0.30 m", "goods over line @ 3.05 m, 0.30 m", "goods over line @ 3.05 m, 0.30 m"}},
		{"a train that the track does not hold", shelf + "trains: {long: {length: 21 ft}}\n" + odd, nil},
		// The section is 7 ft long, the train 8 ft: it is over both gaps on 1 ft of its way.
		{"a short reversing section", balloon + "gaps: {loop: [1 ft, 8 ft]}\n" + turning, []string{"goods over loop @ 0.30 m + loop @ 2.44 m, 0.30 m"}},
		{"a section as long as the train", balloon + "gaps: {loop: [1 ft, 9 ft]}\n" + turning, nil},
		{"a section an inch short", balloon + "gaps: {loop: [1 ft, 8 ft 11 in]}\n" + turning, []string{"goods over loop @ 0.30 m + loop @ 2.72 m, 0.03 m"}},
		// Its engines of 6 in are 3 ft 9 in apart from middle to end, 7 ft 6 in from end to end: over gaps 7 ft 6 in apart at once for 6 in either way.
		{"a short section, plastic wheels", strings.Replace(balloon, "8 ft}}\n", "8 ft, wheels: plastic}}\n", 1) + "operations: {pickup: 6 in}\ngaps: {loop: [1 ft, 8 ft 6 in]}\n" + turning, []string{"goods over loop @ 0.30 m + loop @ 2.59 m, 0.15 m"}},
		{"a short section between plastic engines", strings.Replace(balloon, "8 ft}}\n", "8 ft, wheels: plastic}}\n", 1) + "operations: {pickup: 6 in}\ngaps: {loop: [1 ft, 7 ft]}\n" + turning, nil},
		{"a section of one polarity", shelf + goods + "gaps: {line: [5 ft, 9 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 7 ft: turn @ 3 ft, 12 ft: main @ 9 ft}}", nil},
		{"a block of other trains", shelf + "trains: {goods: {length: 8 ft}, railcar: {length: 2 ft}}\nblocks: {b: {covers: line @ 10 ft .. end, trains: [railcar]}}\n" + odd, []string{"railcar over line @ 3.05 m, 0.61 m"}},
		// Two sections that each have a reverser of their own: one of the four states suits.
		{"two reversers", shelf + goods + "reversers: {other: {from: main @ 3 ft, switching: automatic}}\nbuses: {o: {from: reverser other}}\ngaps: {line: [7 ft, 10 ft]}\nfeeders: {line: {A: left, 3 ft: turn @ 3 ft, 8 ft: main @ 3 ft, 15 ft: {from: o @ 3 ft, A: right}}}", nil},
		// One reverser on either side of a section that must have it both ways.
		{"one reverser asked for both states", shelf + goods + "gaps: {line: [7 ft, 10 ft]}\nfeeders: {line: {A: left, 3 ft: turn @ 3 ft, 8 ft: main @ 3 ft, 15 ft: {from: turn @ 3 ft, A: right}}}", []string{"goods over line @ 2.13 m + line @ 3.05 m, 1.52 m"}},
		// On a ring of 30 ft the stretches go round its start: the front on the gap at 1 ft, until the rear is on it.
		{"a ring", "tracks: {oval: {closed: yes, length: 30 ft}}\n" + goods + "gaps: {oval: [1 ft, 20 ft]}\nfeeders: {oval: {A: left, 5 ft: main @ 3 ft, 25 ft: cross @ 2 ft}}", []string{"goods over oval @ 0.30 m, 2.44 m", "goods over oval @ 6.10 m, 2.44 m"}},
		// The way is 12 ft 11 in long, so the front goes from 8 ft, which is an inch beyond the gap, to the end. With T1 straight the spur is too short.
		{"a leg fed crossed", fork + "turnouts: {T1: {hand: left, wiring: dead-frog}}\n" + goods + "gaps: {spur: [1 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: main @ 9 ft}, spur: {A: right, 3 ft: main @ 9 ft}}", []string{"goods over spur @ 0.30 m, 1.50 m"}},
		// Its rail has the far stock rail's leg while T1 is straight, and suits with T1 curved.
		{"a leg that is wrong while T1 is against it", "tracks: {lead: {from: end, to: T1 points, length: 6 ft}, main: {from: T1 straight, to: end, length: 6 ft}, spur: {from: T1 curved, to: end, length: 9 ft}}\nturnouts: {T1: {hand: left, wiring: power-routing}}\n" + goods + "gaps: {spur: [6 in], T1: [{at: straight, rails: inner}]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: main @ 9 ft}, spur: {A: left, 3 ft: main @ 9 ft}}", []string{"goods over spur @ 0.15 m, 0.15 m, against"}},
		{"turntable behind a reverser, tracks that disagree", strings.Replace(table, "stall: {A: left", "stall: {A: right", 1) + "trains: {goods: {length: 2 ft}}\nturntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: plain, from: reverser turn, A: right}}", []string{
			"goods over lead @ 1.83 m + stall @ 0.00 m, 0.30 m",
		}},
		{"turntable with plain rings", table + "trains: {goods: {length: 1 ft}}\nturntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: plain, from: main @ 7 ft, A: right}}", []string{
			"goods over lead @ 1.83 m, 0.30 m", "goods over stall @ 0.00 m, 0.30 m",
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := reading(t, merged(t, base, tt.text)).Trains()
			if err != nil {
				t.Fatal(err)
			}
			if got := slices.Compact(stepped(s.Bridged)); !slices.Equal(got, slices.Compact(slices.Clone(tt.want))) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
			if tt.name == "plastic wheels" && len(s.Bridged) != 3 {
				t.Errorf("three engines: %v", s.Bridged)
			}
			if len(s.Unknown) > 0 {
				t.Errorf("not stepped: %v", s.Unknown)
			}
		})
	}
}

func TestStretch(t *testing.T) {
	s, err := reading(t, merged(t, base, balloon+"gaps: {loop: [1 ft, 8 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}")).Trains()
	if err != nil || len(s.Bridged) != 1 {
		t.Fatal(s, err)
	}
	b := s.Bridged[0]
	// One end goes from 0 to 1 ft, and the other, 8 ft ahead, from 8 ft to 9 ft.
	if b.First != [2]string{"loop @ 0.00 m", "loop @ 2.44 m"} || b.Last != [2]string{"loop @ 0.30 m", "loop @ 2.74 m"} || math.Abs(b.Metres-foot) > tiny {
		t.Errorf("%+v", b)
	}
	// The track that is covered is there with T1 either way.
	if !slices.Equal(b.Setting, []string{"T1 straight"}) || b.Settings != 2 {
		t.Errorf("%+v", b)
	}
}

func TestTrainsOfWhichTooLittleIsKnown(t *testing.T) {
	const odd = "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: cross @ 5 ft}}\n"
	for text, want := range map[string][]string{
		"trains: {a: {length: unknown}, b: {length: 2 ft, wheels: plastic}, c: {length: 2 ft}}\n":                                  {"a", "b"},
		"trains: {a: {length: 2 ft, wheels: plastic}}\noperations: {pickup: unknown}\n":                                            {"a"},
		"trains: {a: {length: 2 ft}, b: {length: 2 ft, wheels: metal}}\noperations: {wheels: plastic, pickup: 4 in, at-once: 1}\n": nil,
	} {
		s, err := reading(t, merged(t, base, shelf+odd+text)).Trains()
		if err != nil || !slices.Equal(s.Unknown, want) {
			t.Errorf("%s: %v, %v", text, s.Unknown, err)
		}
	}
}

// A train moved by 5 mm at a time is a short at the same places.
func TestStretchesAgainstSmallSteps(t *testing.T) {
	for _, text := range []string{
		balloon + "gaps: {loop: [1 ft, 8 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}",
		balloon + "gaps: {loop: [1 ft, 13 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: main @ 5 ft}}",
		"tracks: {oval: {closed: yes, length: 30 ft}}\ntrains: {goods: {length: 8 ft}}\ngaps: {oval: [1 ft, 6 ft, 20 ft]}\nfeeders: {oval: {A: left, 3 ft: turn @ 4 ft, 8 ft: main @ 3 ft, 25 ft: cross @ 2 ft}}",
	} {
		l := reading(t, merged(t, base, text))
		levers, err := l.levers()
		if err != nil {
			t.Fatal(err)
		}
		st := &stepper{Layout: l, g: l.graph(false), levers: levers, bad: map[string]bool{}, out: map[string]*Bridged{}}
		const step = 0.005
		err = l.eachPose(levers, mostPoses, func(ps *pose, chosen []int) {
			st.now, st.chosen = st.metal(ps), chosen
			for _, c := range st.chains(ps.lie) {
				c.breaks = slices.DeleteFunc(c.breaks, func(b chainBreak) bool { return len(st.now.parted(b.pairs)) == 0 })
				for _, tr := range l.trains {
					last := c.length - tr.length
					if c.ring {
						last = c.length
					}
					walked := 0.0
					for at := step / 2; at < last; at += step {
						if len(st.unsuited(&c, at, []footing{{0, tr.length}})) > 0 {
							walked += step
						}
					}
					clear(st.out)
					st.run(&c, tr, []footing{{0, tr.length}})
					told := map[string]float64{}
					for _, b := range st.out {
						told[fmt.Sprint(b.First, b.Last)] = b.Metres // two sets of gaps on one stretch count once
					}
					sum := 0.0
					for _, k := range sortedKeys(told) {
						sum += told[k]
					}
					if math.Abs(sum-walked) > 4*step {
						t.Errorf("%s, %v: %.3f m in steps, %.3f m told: %v", tr.name, settingNames(levers, chosen), walked, sum, stepped(valuesOf(st.out)))
					}
				}
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func valuesOf(m map[string]*Bridged) []Bridged {
	var out []Bridged
	for _, k := range sortedKeys(m) {
		out = append(out, *m[k])
	}
	return out
}

// beyondPairs reports whether trains join only what Hazards does not follow, which looks at pairs of gaps around live rail: more than two gaps,
// or rail between that no leg reaches.
func beyondPairs(hs []Hazard, bridged []Bridged) bool {
	return !slices.ContainsFunc(bridged, func(b Bridged) bool {
		dead := slices.ContainsFunc(hs, func(h Hazard) bool { return h.Kind == Dead && slices.Contains(b.Gaps, h.Place) })
		return !b.Against && len(b.Gaps) < 3 && !dead
	})
}

// Every gap, frog or pair of gaps that Hazards fears for a train is under a train here, but for what two reversers do to each other by their timing.
func TestTrainsAgainstHazards(t *testing.T) {
	some := 0
	for f, l := range catalogued(t) {
		if len(l.trains) == 0 {
			continue
		}
		hs, err1 := l.Hazards(0)
		s, err2 := l.Trains()
		if err1 != nil || err2 != nil {
			t.Errorf("%s: %v, %v", f, err1, err2)
			continue
		}
		feared := slices.ContainsFunc(hs, func(h Hazard) bool {
			return h.Kind == Wheel || h.Kind == Train && !strings.Contains(h.Detail, "turn by themselves")
		})
		found := slices.ContainsFunc(s.Bridged, func(b Bridged) bool { return !b.Against })
		if feared && !found || found && !feared && !beyondPairs(hs, s.Bridged) {
			t.Errorf("%s: %v, but %v", f, hs, stepped(s.Bridged))
		}
		for _, h := range hs {
			if h.Kind == Wheel && !slices.ContainsFunc(s.Bridged, func(b Bridged) bool { return slices.Contains(b.Gaps, h.Place) }) {
				t.Errorf("%s: no train over %v: %v", f, h, stepped(s.Bridged))
			}
		}
		if found {
			some++
		}
	}
	if some < 5 {
		t.Errorf("only %d layouts with hazards under trains", some)
	}
}
