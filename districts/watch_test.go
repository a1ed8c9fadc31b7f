package districts_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

var feederOf = regexp.MustCompile(`\{A: (\w+), (\d ft): main @ (\d+) ft\}`)

// withDetectors hangs leg A of some feeders of a drawing from two detectors, of which the second may hang behind the first.
func withDetectors(r *rand.Rand, text string) string {
	text = feederOf.ReplaceAllStringFunc(text, func(s string) string {
		m := feederOf.FindStringSubmatch(s)
		d := r.IntN(4)
		if d > 1 {
			return s
		}
		return fmt.Sprintf("{A: %s, %s: {from: main @ %s ft, A-from: D%d-wire @ %s ft}}", m[1], m[2], m[3], d+1, m[3])
	})
	second := "main @ 2 ft"
	if r.IntN(3) == 0 {
		second = "D1-wire @ 1 ft"
	}
	wire := "wire: 16 AWG, length: 3000 ft, legs: A"
	text = strings.Replace(text, "laid: twisted}}", fmt.Sprintf("laid: twisted}, D1-wire: {from: detector D1, %s}, D2-wire: {from: detector D2, %s}}", wire, wire), 1)
	return text + fmt.Sprintf("detectors: {D1: {from: main @ 1 ft, leg: A, senses: current}, D2: {from: %s, leg: A, senses: current}}\n", second)
}

// TestWatchesAgainstEverySetting compares who sees a train with every setting of the circuit: metal is followed setting by
// setting, marked by the detectors that current comes through. It shares no code with what it checks.
func TestWatchesAgainstEverySetting(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 31))
	count := map[string]int{}
	for range 120 {
		text := withDetectors(r, randomDrawing(r))
		tr, err := traceText(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		watches, open := tr.Watches()
		if len(open) > 0 {
			t.Fatalf("the bound was reached on a small layout\n%s", text)
		}
		b := newBrute(tr.C, func(i int) bool {
			k := &tr.C.Conductors[i]
			return k.Kind != circuit.DetectorLeg && (k.Device < 0 || tr.C.Devices[k.Device].Kind != circuit.FrogDevice)
		})
		var settings []metalWhen
		b.each(func(all []int16) {
			settings = append(settings, metalWhen{slices.Clone(all), b.groups(all, ^uint64(0))})
		})
		for i := range watches {
			if w := &watches[i]; w.Way < 0 && len(settings) > 0 {
				checkWatch(t, tr, b, settings, w, text, count)
			}
		}
	}
	t.Logf("%v", count)
	for _, k := range []string{"one", "part", "none", "when set", "past it when set"} {
		if count[k] < 10 {
			t.Errorf("only %d: %s", count[k], k)
		}
	}
}

// metalWhen is a setting of all devices and the metal that is one with it.
type metalWhen struct {
	all []int16
	of  []int
}

// lamp is a way of current into a rail: a detector, -1 for none, and the leg.
type lamp struct {
	detector int32
	leg      layout.Leg
}

// lamps are the ways of current into the metal of a node in one setting.
func lamps(tr *districts.Trace, of []int, node int32) []lamp {
	var out []lamp
	add := func(at int32, l lamp) {
		if of[at] == of[node] && !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	for s := range tr.C.Sources {
		for leg := range layout.Leg(2) {
			add(tr.C.Sources[s].Out[leg], lamp{-1, leg})
		}
	}
	for d := range tr.C.DetectorOut {
		add(tr.C.DetectorOut[d], lamp{int32(d), layout.A})
	}
	return out
}

func checkWatch(t *testing.T, tr *districts.Trace, b *bruteCircuit, settings []metalWhen, w *districts.Watch, text string, count map[string]int) {
	t.Helper()
	track := tr.C.Layout.Pieces[w.Piece].Index
	var nodes [2]int32
	for _, s := range tr.C.TrackSpots[track] {
		if tr.C.Spots[s].At == w.From {
			nodes = tr.C.Spots[s].Node
		}
	}
	behind := tr.Detection().Behind
	seen := func(d int32) (s districts.Seen, ok bool) {
		i := slices.IndexFunc(w.Always, func(s districts.Seen) bool { return s.Detector == d })
		if i < 0 {
			return s, false
		}
		return w.Always[i], true
	}
	proven := make([]bool, len(w.When))
	var always [2]map[lamp]bool // by rail, by metal that no device parts
	bare := b.groups(settings[0].all, 0)
	for side, n := range nodes {
		always[side] = map[lamp]bool{}
		for _, l := range lamps(tr, bare, n) {
			always[side][l] = true
		}
	}
	for _, m := range settings {
		all, now := m.all, map[lamp]bool{}
		for _, n := range nodes {
			for _, l := range lamps(tr, m.of, n) {
				now[l] = true
			}
		}
		for l := range now {
			told := slices.ContainsFunc(w.When, func(x districts.SeenWhen) bool { return x.Detector == l.detector && x.Leg == l.leg })
			if _, always := seen(l.detector); l.detector >= 0 && !always && !told {
				t.Fatalf("%v at %v gets leg %s through D%d in %v and nothing says so: %+v\n%s", tr.C.Layout.Pieces[w.Piece].Name, w.From, l.leg, l.detector+1, all, w, text)
			}
		}
		for i, x := range w.When {
			if _, held := b.bits(x.Settings, all); held {
				if proven[i] = true; !now[lamp{x.Detector, x.Leg}] {
					t.Fatalf("%+v is not so in %v\n%s", x, all, text)
				}
			}
		}
	}
	for _, s := range w.Always {
		through, past := false, false
		for _, ls := range always {
			own, other := false, false
			for l := range ls {
				if l.detector >= 0 && (l.detector == s.Detector || behind(l.detector, s.Detector)) {
					own = true
				} else {
					other = true
				}
			}
			through, past = through || own, past || own && other
		}
		if !through || past != s.Part {
			t.Fatalf("%s at %v is said to be seen by D%d (part: %t); by metal alone current comes by %v\n%s", tr.C.Layout.Pieces[w.Piece].Name, w.From, s.Detector+1, s.Part, always, text)
		}
	}
	for i := range proven {
		if !proven[i] {
			t.Fatalf("%+v is part of no valid setting\n%s", w.When[i], text)
		}
	}
	switch {
	case len(w.Always) == 0:
		count["none"]++
	case w.Always[0].Part:
		count["part"]++
	default:
		count["one"]++
	}
	for _, x := range w.When {
		if count["when set"]++; x.Detector < 0 {
			count["past it when set"]++
		}
	}
}
