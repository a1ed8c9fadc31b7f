package districts_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// watchedLine is a line of three detected blocks with a turnout and its spur in the first two, now and then with the watched rail cut inside a block, a
// feeder that passes another detector or none, and contacts that take their leg from somewhere else.
func watchedLine(r *rand.Rand) string {
	rarely := func(n int) bool { return r.IntN(n) == 0 }
	from := func(own, at int) string {
		switch r.IntN(20) {
		case 0:
			return fmt.Sprintf("main @ %d ft", at)
		case 1:
			return fmt.Sprintf("D%d-wire @ %d ft", r.IntN(3), at)
		default:
			return fmt.Sprintf("D%d-wire @ %d ft", own, at)
		}
	}
	var gaps, feeders, spurFeeders, turnouts, spurs, blocks, spurGaps strings.Builder
	for b := range 3 {
		if b > 0 {
			fmt.Fprintf(&gaps, "%d ft, ", 10*b)
		}
		cut := rarely(2)
		if cut {
			fmt.Fprintf(&gaps, "{at: %d ft, rails: left}, ", 10*b+2)
		}
		fmt.Fprintf(&feeders, "    %d ft: %s\n", 10*b+1, from(b, 10*b+1))
		if cut || rarely(2) {
			fmt.Fprintf(&feeders, "    %d ft: %s\n", 10*b+3, from(b, 10*b+3))
		}
		fmt.Fprintf(&feeders, "    %d ft: D%d-wire @ %d ft\n", 10*b+8, b, 10*b+8)
		covers := fmt.Sprintf("line @ %d ft .. %d ft", 10*b, 10*b+10)
		if b < 2 {
			wiring := []string{
				"selective", "dead-frog", "power-routing-gapped",
				"{blades: each-other, closures: both, frog: metal, isolated: heel, frog-from: contacts, jumpers: no}",
				"{blades: neither, closures: blade, frog: metal, isolated: toe, frog-from: contacts}",
			}[r.IntN(5)]
			tap := ""
			if strings.Contains(wiring, "contacts") {
				at := []string{fmt.Sprintf("D%d-wire", b), "main", "D2-wire"}[r.IntN(3)]
				tap = fmt.Sprintf(", frog-from: %s @ %d ft, frog-gets: {%s}", at, 10*b+5, []string{"straight: A, curved: open", "straight: A, curved: B", "straight: open, curved: B"}[r.IntN(3)])
			}
			if strings.Contains(wiring, "toe") {
				fmt.Fprintf(&gaps, "{at: %d ft, rails: left}, ", 10*b+7)
			}
			fmt.Fprintf(&turnouts, "  T%d: {hand: left, at: line @ %d ft, via: points to straight, throw: break-first, wiring: %s%s}\n", b, 10*b+5, wiring, tap)
			fmt.Fprintf(&spurs, "  S%d: {from: T%d curved, to: end, length: 8 ft, use: siding}\n", b, b)
			fmt.Fprintf(&spurGaps, "  S%d: [%s]\n", b, []string{"{at: 2 ft, rails: left}", "{at: 2 ft, rails: right}"}[r.IntN(2)])
			if rarely(2) {
				fmt.Fprintf(&spurFeeders, "  S%d: {A: left, 4 ft: %s}\n", b, from(b, 40))
			}
			covers += fmt.Sprintf(", T%d, S%d", b, b)
		}
		fmt.Fprintf(&blocks, "  B%d: {covers: [%s], detector: D%d}\n", b, covers, b)
	}
	text := "gapwise: 1\nlayout: L\nscale: HO\ndefaults:\n  turnout: {length: 10 in, jumpers: yes}\n  gap: {rails: both, kind: insulated, fill: styrene}\n  joint: {kind: soldered}\n  feeder: {wire: 20 AWG, length: 8 in}\n  bus: {laid: twisted}\n" +
		"tracks:\n  line: {from: end, to: end, length: 30 ft, use: main}\n" + spurs.String() + "turnouts:\n" + turnouts.String() +
		"gaps:\n  line: [" + strings.TrimSuffix(gaps.String(), ", ") + "]\n" + spurGaps.String() +
		"supplies: {s: {volts: 18 V, rating: 6 A, listed: yes}}\nboosters: {front: {supply: s, volts: 15 V, rating: 5 A, trips-at: 5 A, trip-time: 40 ms}}\n" +
		"detectors: {D0: {from: main @ 1 ft, leg: A}, D1: {from: main @ 2 ft, leg: A}, D2: {from: " + []string{"main @ 3 ft", "D1-wire @ 1 ft"}[min(1, r.IntN(4)/3)] + ", leg: A}}\n" +
		"buses: {main: {from: booster front, wire: 14 AWG, length: 60 ft}"
	for d := range 3 {
		text += fmt.Sprintf(", D%d-wire: {from: detector D%d, wire: 16 AWG, length: 60 ft}", d, d)
	}
	return text + "}\nfeeders:\n" + spurFeeders.String() + "  line:\n    A: left\n" + feeders.String() + "blocks:\n" + blocks.String()
}

// TestUnwatchedAgainstEverySetting holds what blocks' own detectors do not see against every setting of layouts in which nothing else is told, which the
// trace would take as put right.
func TestUnwatchedAgainstEverySetting(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	count := map[string]int{}
	for range 400 {
		text := watchedLine(r)
		tr, err := traceText(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		lasting := slices.ContainsFunc(tr.Conflicts, func(x districts.Conflict) bool {
			return !slices.ContainsFunc(x.Settings, func(s districts.Setting) bool { return tr.C.Devices[s.Device].Momentary(s.Position) })
		})
		if lasting || len(tr.Ties)+len(tr.DetectorTies)+len(tr.PastDetector)+len(tr.Polarity.WrongFeeders)+len(tr.Differences)+len(tr.Detection().OtherDetectors()) > 0 {
			count["told otherwise"]++
			continue
		}
		list, open := tr.Unwatched()
		if len(open) > 0 {
			t.Fatalf("the bound was reached on a small layout\n%s", text)
		}
		checkUnwatched(t, tr, list, text, count)
		checkFouls(t, tr, text, count)
	}
	t.Logf("%v", count)
	for _, k := range []string{"seen", "unseen", "unseen when set", "part when set", "leg seen", "leg not seen"} {
		if count[k] < 10 {
			t.Errorf("only %d: %s", count[k], k)
		}
	}
}

func checkUnwatched(t *testing.T, tr *districts.Trace, list []districts.Unwatched, text string, count map[string]int) {
	t.Helper()
	b := newBrute(tr.C, func(i int) bool {
		k := &tr.C.Conductors[i]
		return k.Kind != circuit.DetectorLeg && (k.Device < 0 || tr.C.Devices[k.Device].Kind != circuit.FrogDevice)
	})
	behind := tr.Detection().Behind
	for track, spots := range tr.C.TrackSpots {
		for i := 1; i < len(spots); i++ {
			x, y := &tr.C.Spots[spots[i-1]], &tr.C.Spots[spots[i]]
			rail := slices.ContainsFunc(tr.Ways.Of(spots[i-1]), func(k int32) bool {
				w := &tr.C.Ways[k]
				return w.Kind == circuit.WayTrack && w.A+w.B-spots[i-1] == spots[i]
			})
			if !rail || y.At-x.At < 0.2 { // track work, or a stub
				continue
			}
			own := int32(min(2, x.At/(10*0.3048))) // blocks and detectors have the same numbers
			if tr.C.Layout.Tracks[track].Name != "line" {
				own = int32(tr.C.Layout.Tracks[track].Name[1] - '0')
			}
			// ways are the ways of leg A into the rails there: through the own detector, and past it.
			ways := func(all []int16, used uint64) (through, past bool, of []lamp) {
				groups := b.groups(all, used)
				for _, node := range x.Node {
					for _, l := range lamps(tr, groups, node) {
						if l.leg == layout.A && (l.detector == own || behind(l.detector, own)) {
							through = true
						} else if l.leg == layout.A {
							past, of = true, append(of, l)
						}
					}
				}
				return through, past, of
			}
			at := slices.IndexFunc(list, func(u districts.Unwatched) bool {
				return u.Piece == x.Piece && u.From <= x.At && x.At < u.To
			})
			first, some, proven, apart := true, false, false, false
			var alwaysPast bool
			b.each(func(all []int16) {
				for d, p := range all {
					if tr.C.Devices[d].Momentary(p) {
						return
					}
				}
				if first {
					_, alwaysPast, _ = ways(all, 0)
					first = false
				}
				through, past, of := ways(all, ^uint64(0))
				some = some || past
				if at < 0 {
					return
				}
				if _, held := b.bits(list[at].Settings, all); held {
					proven, apart = true, apart || !through
					if !slices.ContainsFunc(of, func(l lamp) bool { return slices.Contains(list[at].Through, l.detector) }) {
						t.Fatalf("%+v is not so in %v\n%s", list[at], all, text)
					}
				}
			})
			where := fmt.Sprintf("%s at %v", tr.C.Layout.Tracks[track].Name, x.At)
			switch {
			case (at >= 0) != some:
				t.Fatalf("%s: told %t, and some setting leads leg A past D%d: %t\n%s", where, at >= 0, own, some, text)
			case at < 0:
				count["seen"]++
				continue
			case !proven:
				t.Fatalf("%+v is part of no valid setting\n%s", list[at], text)
			case list[at].Detector != own || list[at].Part == apart || (len(list[at].Settings) == 0) != alwaysPast:
				t.Fatalf("%s: %+v; in some such setting leg A does not come through D%d: %t; by metal alone past it: %t\n%s", where, list[at], own, apart, alwaysPast, text)
			case len(list[at].Settings) == 0:
				count["unseen"]++
			case list[at].Part:
				count["part when set"]++
			default:
				count["unseen when set"]++
			}
		}
	}
}

// checkFouls holds what is seen of the first metres of each spur against every setting.
func checkFouls(t *testing.T, tr *districts.Trace, text string, count map[string]int) {
	t.Helper()
	b := newBrute(tr.C, func(i int) bool {
		k := &tr.C.Conductors[i]
		return k.Kind != circuit.DetectorLeg && (k.Device < 0 || tr.C.Devices[k.Device].Kind != circuit.FrogDevice)
	})
	behind := tr.Detection().Behind
	const metres = 1.0
	var legs []int32
	for i := range tr.C.Layout.Turnouts {
		legs = append(legs, tr.C.EndSpot[tr.C.Layout.Turnouts[i].Piece][2])
	}
	for i, f := range tr.Fouls(legs, []float64{metres, metres}) {
		track := slices.IndexFunc(tr.C.Layout.Tracks, func(x layout.Track) bool { return x.Name == fmt.Sprintf("S%d", i) })
		// seen says by setting whether leg A is at a spot, through one of some detectors, and past each.
		seen := func(of []int, spot int32, detectors []int32) (there, through bool, past []bool) {
			past = make([]bool, len(detectors))
			for _, node := range tr.C.Spots[spot].Node {
				for _, l := range lamps(tr, of, node) {
					if l.leg != layout.A {
						continue
					}
					there = true
					for k, d := range detectors {
						own := l.detector == d || behind(l.detector, d)
						through, past[k] = through || own, past[k] || !own
					}
				}
			}
			return there, through, past
		}
		all3 := []int32{0, 1, 2}
		never := map[int32]bool{0: true, 1: true, 2: true} // past a detector, at the leg's end
		held, unseen := false, false
		var detectors []int32
		if f != nil {
			detectors = f.Detectors
		}
		b.each(func(all []int16) {
			for d, p := range all {
				if tr.C.Devices[d].Momentary(p) {
					return
				}
			}
			of := b.groups(all, ^uint64(0))
			there, _, past := seen(of, legs[i], all3)
			for k, d := range all3 {
				never[d] = never[d] && there && !past[k]
			}
			for _, s := range tr.C.TrackSpots[track] {
				if tr.C.Spots[s].At >= metres {
					continue
				}
				there, through, _ := seen(of, s, detectors)
				unseen = unseen || there && !through
				if f != nil && f.Unseen && s == f.Spot {
					if _, ok := b.bits(f.Settings, all); ok && there && !through {
						held = true
					}
				}
			}
		})
		var want []int32
		for _, d := range all3 {
			if never[d] {
				want = append(want, d)
			}
		}
		switch {
		case !slices.Equal(want, detectors):
			t.Fatalf("leg of T%d: %+v; its end is seen by %v in every setting\n%s", i, f, want, text)
		case f == nil:
		case f.Unseen != unseen || f.Unseen && !held:
			t.Fatalf("leg of T%d: %+v; in some setting not seen: %t\n%s", i, f, unseen, text)
		case !f.Unseen:
			count["leg seen"]++
		case len(f.Settings) == 0:
			count["leg not seen"]++
		default:
			count["leg not seen when set"]++
		}
	}
}
