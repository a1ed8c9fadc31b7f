package districts_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/districts"
)

var meetingWords = map[districts.GapMeeting]string{
	districts.MeetsItself: "itself", districts.MeetsDead: "dead", districts.MeetsUnseen: "unseen", districts.MeetsDistrict: "district",
	districts.MeetsBooster: "booster", districts.MeetsReverser: "reverser", districts.MeetsByHand: "by hand",
	districts.MeetsUnknown: "unknown", districts.MeetsShort: "short",
}

// gapText tells what joining a gap's rails does.
func gapText(tr *districts.Trace, f *districts.GapFact) string {
	return tr.C.Layout.Gaps[f.Gap].Place.Text + ": " + names(f.Joins, func(j districts.GapJoin) string {
		class := func(x int32) string {
			switch {
			case x < 0:
				return "none"
			case j.Meets == districts.MeetsUnseen:
				return tr.C.Layout.Detectors[x].Name
			default:
				return strings.TrimPrefix(strings.TrimPrefix(tr.C.Sources[x].Name, "booster "), "breaker ")
			}
		}
		text := fmt.Sprintf("%s %s/%s", meetingWords[j.Meets], class(j.Classes[0]), class(j.Classes[1]))
		for _, s := range j.Settings {
			text += " " + tr.C.Devices[s.Device].Name + "=" + tr.C.Devices[s.Device].Positions[s.Position]
		}
		if j.Standing {
			text += " standing"
		}
		if j.Frog {
			text += " on a frog"
		}
		return text
	})
}

const gapHead = `gapwise: 1
layout: Gaps
defaults:
  turnout: {wiring: dead-frog, jumpers: yes, length: 9 in}
  gap: {rails: both, kind: insulated, fill: styrene}
  joint: {kind: soldered}
supplies:
  brick: {volts: 18 V, rating: 6 A, listed: yes}
  slate: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: brick, volts: 15 V, trips-at: 5 A, trip-time: 40 ms, signal: command, signal-wired: straight}
`

const gapLine = `tracks:
  line: {from: end, to: end, length: 24 ft}
gaps:
  line: [12 ft]
`

// TestGapMeetings holds every kind of meeting to a small layout.
func TestGapMeetings(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want string
	}{
		"one district": {gapLine + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: main @ 20 ft}
`, "line @ 12 ft: -"},
		"turned over": {gapLine + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
feeders:
  line: {3 ft: {from: main @ 3 ft, A: left}, 5 ft: {from: main @ 5 ft, A: left}, 18 ft: {from: main @ 18 ft, A: right}, 20 ft: {from: main @ 20 ft, A: right}}
`, "line @ 12 ft: short one/one"},
		"a crossed feeder, put right": {gapLine + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
feeders:
  line: {3 ft: {from: main @ 3 ft, A: left}, 5 ft: {from: main @ 5 ft, A: left}, 20 ft: {from: main @ 20 ft, A: right}}
`, "line @ 12 ft: -"},
		"a stray feeder, put right": {gapLine + `breakers:
  east: {from: main @ 2 ft, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  east: {from: breaker east, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 5 ft: main @ 5 ft, 9 ft: east @ 2 ft, 20 ft: east @ 20 ft}
`, "line @ 12 ft: district one/east"},
		"no feeder beyond": {gapLine + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft}
`, "line @ 12 ft: dead one/none"},
		"no feeder at all": {gapLine, "line @ 12 ft: -"},
		"two breakers": {gapLine + `breakers:
  west: {from: main @ 1 ft, trips-at: 3 A}
  east: {from: main @ 2 ft, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: breaker west, wire: 14 AWG, length: 24 ft}
  east: {from: breaker east, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: west @ 3 ft, 20 ft: east @ 20 ft}
`, "line @ 12 ft: district west/east"},
		"two boosters in phase": {strings.Replace(gapLine, "tracks:", "  two: {like: one, supply: slate}\ntracks:", 1) + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: booster two, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: booster one/two"},
		"two boosters out of phase": {strings.Replace(gapLine, "tracks:", "  two: {like: one, supply: slate, signal-wired: crossed}\ntracks:", 1) + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: booster two, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: short one/two"},
		"two boosters, who knows": {strings.Replace(gapLine, "tracks:", "  two: {like: one, supply: slate, signal-wired: unknown}\ntracks:", 1) + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: booster two, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: unknown one/two"},
		"a cab": {gapLine + `cabs:
  dial: {volts: 12 V}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: cab dial, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: unknown one/cab dial"},
		"a reverser": {gapLine + `reversers:
  loop: {from: main @ 1 ft, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: reverser loop, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: reverser one/reverser loop"},
		"a reverser by hand": {gapLine + `reversers:
  loop: {from: main @ 1 ft, switching: by-hand}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: reverser loop, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: by hand one/reverser loop"},
		"two sections of one reverser": {gapLine + `reversers:
  loop: {from: main @ 1 ft, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: reverser loop, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: far @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: -"},
		"two breakers of one reverser, turned over": {gapLine + `reversers:
  loop: {from: main @ 1 ft, switching: automatic}
breakers:
  west: {from: far @ 1 ft, trips-at: 3 A}
  east: {from: far @ 2 ft, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: reverser loop, wire: 14 AWG, length: 24 ft}
  west: {from: breaker west, wire: 14 AWG, length: 24 ft}
  east: {from: breaker east, wire: 14 AWG, length: 24 ft}
feeders:
  line: {3 ft: {from: west @ 3 ft, A: left}, 5 ft: {from: west @ 5 ft, A: left}, 18 ft: {from: east @ 18 ft, A: right}, 20 ft: {from: east @ 20 ft, A: right}}
`, "line @ 12 ft: short west/east"},
		"a detector": {gapLine + `detectors:
  watch: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  watch: {from: detector watch, legs: A, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: watch @ 2 ft}, 20 ft: main @ 20 ft}
`, "line @ 12 ft: unseen none/watch"},
		"a detector, and the gap in the other rail": {strings.Replace(gapLine, "[12 ft]", "[{at: 12 ft, rails: right}]", 1) + `detectors:
  watch: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  watch: {from: detector watch, legs: A, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: watch @ 2 ft}, 20 ft: main @ 20 ft}
`, "line @ 12 ft: -"},
		"a detector ahead of a breaker": {gapLine + `detectors:
  watch: {from: main @ 1 ft, leg: A}
breakers:
  east: {from: detector watch, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  east: {from: breaker east, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: east @ 20 ft}
`, "line @ 12 ft: district one/east, unseen none/watch"},
		"a changeover": {gapLine + `cabs:
  dial: {volts: 12 V}
changeovers:
  pick: {opens: both, positions: {main: booster one, dc: cab dial, dark: nothing}}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: changeover pick, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: unknown one/changeover pick changeover pick=dc, district one/changeover pick changeover pick=main"},
		"a changeover, crossed in one position": {gapLine + `changeovers:
  pick: {opens: both, positions: {main: booster one, turned: {from: booster one, legs: crossed}}}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: changeover pick, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: far @ 20 ft}
`, "line @ 12 ft: by hand one/changeover pick"},
		"a gap that slides": {strings.Replace(gapLine, "[12 ft]", "[{at: 12 ft, kind: expansion, joint: sliding}]", 1) + `buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft}
`, "line @ 12 ft: -"},
		"beyond the frog": {`tracks:
  lead: {from: end, to: T1 points, length: 6 ft}
  main: {from: T1 straight, to: end, length: 6 ft}
  spur: {from: T1 curved, to: end, length: 6 ft}
turnouts:
  T1: {hand: left, wiring: power-routing}
gaps:
  T1: [{at: straight, rails: inner}, {at: curved, rails: inner}]
buses:
  main: {from: booster one, wire: 14 AWG, length: 14 ft}
feeders:
  lead: {A: left, 3 ft: main @ 3 ft}
  main: {A: left, 3 ft: main @ 10 ft}
  spur: {A: left, 3 ft: main @ 11 ft}
`, "T1 straight: short one/one T1=curved standing\nT1 curved: short one/one T1=straight standing"},
		"an unfed frog beside the gap": {`tracks:
  lead: {from: end, to: T1 points, length: 6 ft}
  main: {from: T1 straight, to: end, length: 6 ft}
  spur: {from: T1 curved, to: end, length: 6 ft}
turnouts:
  T1: {hand: left, wiring: {blades: stock, closures: blade, frog: metal, isolated: toe, frog-from: nothing, jumpers: no}}
gaps:
  T1: [{at: straight, rails: inner}, {at: curved, rails: inner}]
buses:
  main: {from: booster one, wire: 14 AWG, length: 14 ft}
feeders:
  lead: {A: left, 3 ft: main @ 3 ft}
  main: {A: left, 3 ft: main @ 10 ft}
  spur: {A: left, 3 ft: main @ 11 ft}
`, "T1 straight: short one/one T1=curved standing on a frog, dead one/none\nT1 curved: short one/one T1=straight standing on a frog, dead one/none"},
	} {
		tr := trace(t, gapHead+c.text)
		facts, _ := tr.GapFacts()
		var lines []string
		for i := range facts {
			if !facts[i].Whole {
				t.Errorf("%s: not every setting was looked at", name)
			}
			lines = append(lines, gapText(tr, &facts[i]))
		}
		if got := strings.Join(lines, "\n"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

// TestGapSides: the sides stand in walking order of the track, whichever piece a joint names first.
func TestGapSides(t *testing.T) {
	tr := trace(t, gapHead+`tracks:
  back: {from: end, to: line start, length: 6 ft}
  line: {from: back end, to: T1 points, length: 6 ft}
  rest: {from: T1 straight, to: end, length: 6 ft}
  spur: {from: T1 curved, to: end, length: 6 ft}
turnouts:
  T1: {hand: left}
gaps:
  line: [end, 3 ft, start]
breakers:
  k: {from: main @ 1 ft, trips-at: 3 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  k: {from: breaker k, wire: 14 AWG, length: 24 ft}
feeders:
  back: {A: left, 3 ft: main @ 3 ft}
  line: {A: left, 1 ft: k @ 1 ft, 5 ft: main @ 5 ft}
  rest: {A: left, 1 ft: k @ 5 ft}
blocks:
  west: {covers: back}
  mid: {covers: line @ 0 .. 3 ft}
  east: {covers: line @ 3 ft .. end}
`)
	facts, faulty := tr.GapFacts()
	if faulty {
		t.Error("nothing is wrong")
	}
	got := names(facts, func(f districts.GapFact) string {
		text := tr.C.Layout.Gaps[f.Gap].Place.Text
		for _, s := range f.Sides {
			text += " [" + names(s.Sources, func(x int32) string { return tr.C.Sources[x].Name }) + " " + names(s.Blocks, func(b int32) string { return tr.C.Layout.Blocks[b].Name }) + "]"
		}
		return text
	})
	want := "line @ start [booster one west] [breaker k mid], line @ 3 ft [breaker k mid] [booster one east], line @ end [booster one east] [breaker k -]"
	if got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
