package districts_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/districts"
)

// detectedShelf is a line of 24 ft with a gap in its middle; parts holds what differs.
func detectedShelf(parts string) string {
	return `gapwise: 1
layout: Shelf
defaults:
  gap: {rails: both, kind: insulated, fill: styrene}
  joint: {kind: soldered}
tracks:
  line: {from: end, to: end, length: 24 ft}
gaps:
  line: [12 ft]
supplies:
  brick: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: brick, volts: 15 V, trips-at: 5 A, trip-time: 40 ms}
` + parts
}

func reachText(tr *districts.Trace, d *districts.Detection) string {
	l := tr.C.Layout
	feeder := func(f int32) string { return l.Feeders[f].Place.Text }
	detector := func(i int32) string { return l.Detectors[i].Name }
	source := func(s int32) string { return tr.C.Sources[s].Name }
	var lines []string
	for i := range d.Reach {
		r := &d.Reach[i]
		text := fmt.Sprintf("%s: %s; other leg %s; detectors %s; sources %s", l.Detectors[i].Name, names(r.Feeders, feeder), names(r.OtherLeg, feeder), names(r.Detectors, detector), names(r.Sources, source))
		for _, flag := range []struct {
			set  bool
			word string
		}{{r.Rail, "; rail"}, {r.Load, "; load"}, {r.Around, "; around"}} {
			if flag.set {
				text += flag.word
			}
		}
		lines = append(lines, text)
	}
	return strings.Join(lines, "\n")
}

// TestDetectorReach follows wire through every kind of device behind a detector.
func TestDetectorReach(t *testing.T) {
	for name, c := range map[string]struct{ parts, want string }{
		"its own wire": {`detectors:
  west: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: detector west, legs: A, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: west @ 1 ft}, 20 ft: main @ 20 ft}
`, "west: line @ 3 ft; other leg -; detectors -; sources -"},
		"the leg let pass": {`detectors:
  west: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: detector west, legs: B, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, B-from: west @ 1 ft}, 20 ft: main @ 20 ft}
`, "west: -; other leg line @ 3 ft; detectors -; sources -"},
		"a breaker": {`detectors:
  west: {from: main @ 1 ft, leg: A}
breakers:
  k: {from: detector west, trips-at: 2 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  k: {from: breaker k, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: k @ 2 ft}
`, "west: line @ 20 ft; other leg -; detectors -; sources breaker k"},
		"a reverser behind a breaker": {`detectors:
  west: {from: main @ 1 ft, leg: B}
breakers:
  k: {from: detector west, trips-at: 2 A}
reversers:
  r: {from: breaker k, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  r: {from: reverser r, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: r @ 2 ft}
`, "west: line @ 20 ft; other leg -; detectors -; sources breaker k, reverser r"},
		"in series": {`detectors:
  west: {from: main @ 1 ft, leg: A}
  east: {from: west @ 4 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: detector west, wire: 16 AWG, length: 9 ft}
  east: {from: detector east, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: west @ 3 ft, 20 ft: east @ 2 ft}
`, "west: line @ 3 ft, line @ 20 ft; other leg -; detectors east; sources -\neast: line @ 20 ft; other leg -; detectors -; sources -"},
		"a wire that comes back": {`detectors:
  west: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: detector west, legs: A, wire: 16 AWG, length: 9 ft, to: main @ 9 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: west @ 1 ft}, 20 ft: main @ 20 ft}
`, "west: -; other leg -; detectors -; sources -; around"},
		"a load": {`detectors:
  west: {from: main @ 1 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  west: {from: detector west, wire: 16 AWG, length: 9 ft}
loads:
  - {at: west @ 8 ft, resistance: 1 kΩ}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: main @ 20 ft}
`, "west: -; other leg -; detectors -; sources -; load"},
	} {
		tr := trace(t, detectedShelf(c.parts))
		if got := reachText(tr, tr.Detection()); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

// TestSourceDetector: of detectors in series the inner one is the nearest.
func TestSourceDetector(t *testing.T) {
	tr := trace(t, detectedShelf(`detectors:
  near: {from: far @ 4 ft, leg: A}
  far: {from: main @ 1 ft, leg: A}
breakers:
  k: {from: detector near, trips-at: 2 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  far: {from: detector far, wire: 16 AWG, length: 9 ft}
  k: {from: breaker k, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: main @ 3 ft, 20 ft: k @ 2 ft}
`))
	d := tr.Detection()
	for s, want := range map[string]int32{"booster one": -1, "breaker k": 0} {
		for i := range tr.C.Sources {
			if got := d.SourceDetector(int32(i)); tr.C.Sources[i].Name == s && got != want {
				t.Errorf("%s: detector %d, want %d", s, got, want)
			}
		}
	}
	if !d.Behind(0, 1) || d.Behind(1, 0) {
		t.Error("the inner detector hangs behind the outer one, and not the other way")
	}
	if d.Sees(0, nil) {
		t.Error("a detector sees feeders where there are none")
	}
}

// TestDetectorsAsMeant: a detector far up is no other detector, two exchanged are one, and
// what a detector sees besides its own block is listed.
func TestDetectorsAsMeant(t *testing.T) {
	const devices = `detectors:
  w: {from: main @ 1 ft, leg: A}
  e: {from: main @ 13 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  w: {from: detector w, legs: A, wire: 16 AWG, length: 9 ft}
  e: {from: detector e, legs: A, wire: 16 AWG, length: 9 ft}
`
	for name, c := range map[string]struct{ parts, others, more string }{
		"as meant": {devices + `feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: w @ 1 ft}, 20 ft: {from: main @ 20 ft, A-from: e @ 2 ft}}
blocks:
  W: {covers: line @ 0 .. 12 ft, detector: w}
  E: {covers: line @ 12 ft .. end, detector: e}
`, "-", "-"},
		"exchanged": {devices + `feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: e @ 1 ft}, 20 ft: {from: main @ 20 ft, A-from: w @ 2 ft}}
blocks:
  W: {covers: line @ 0 .. 12 ft, detector: w}
  E: {covers: line @ 12 ft .. end, detector: e}
`, "W meant w found e, exchanged with E", "-"},
		"past it": {devices + `feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: w @ 1 ft}, 20 ft: main @ 20 ft}
blocks:
  W: {covers: line @ 0 .. 12 ft, detector: w}
  E: {covers: line @ 12 ft .. end, detector: e}
`, "E meant e found none", "-"},
		"one wire for both": {devices + `feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: w @ 1 ft}, 20 ft: {from: main @ 20 ft, A-from: w @ 2 ft}}
blocks:
  W: {covers: line @ 0 .. 12 ft, detector: w}
  E: {covers: line @ 12 ft .. end}
`, "-", "w: W and E"},
		"ahead of its breaker": {`detectors:
  w: {from: main @ 1 ft, leg: A}
  e: {from: main @ 13 ft, leg: A}
breakers:
  k: {from: detector e, trips-at: 2 A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 24 ft}
  w: {from: detector w, legs: A, wire: 16 AWG, length: 9 ft}
  k: {from: breaker k, wire: 16 AWG, length: 9 ft}
feeders:
  line: {A: left, 3 ft: {from: main @ 3 ft, A-from: w @ 1 ft}, 20 ft: k @ 2 ft}
blocks:
  W: {covers: line @ 0 .. 12 ft, detector: w}
  E: {covers: line @ 12 ft .. end, detector: e}
`, "-", "-"},
	} {
		tr := trace(t, detectedShelf(c.parts))
		l := tr.C.Layout
		block := func(b int32) string { return l.Blocks[b].Name }
		d := tr.Detection()
		others := names(d.OtherDetectors(), func(x districts.OtherDetector) string {
			found := "none"
			if x.Found >= 0 {
				found = l.Detectors[x.Found].Name
			}
			text := fmt.Sprintf("%s meant %s found %s", block(x.Block), l.Detectors[x.Meant].Name, found)
			if x.Exchanged >= 0 {
				text += ", exchanged with " + block(x.Exchanged)
			}
			return text
		})
		more := names(d.MoreThanMeant(), func(m districts.MoreThanMeant) string {
			return fmt.Sprintf("%s: %s and %s", l.Detectors[m.Detector].Name, names(m.Own, block), names(m.More, block))
		})
		if others != c.others || more != c.more {
			t.Errorf("%s: others %q, more %q; want %q, %q", name, others, more, c.others, c.more)
		}
	}
}
