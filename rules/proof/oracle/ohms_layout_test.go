package oracle

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// oneTrack is a layout of one booster, one bus and one track, at 20 °C throughout.
func oneTrack(limits, train string) string { return fmt.Sprintf(one, limits, train) }

const one = `
gapwise: 1
layout: one track
defaults: {joint: {kind: soldered}}
limits: {temperature: 20 .. 20 °C%s}
trains: {goods: {length: 1 m, current: %s, at-once: 3}}
boosters: {one: {volts: 15 V, inside: 0.1 Ω, trips-at: 5 A, trip-time: 40 ms}}
buses: {main: {from: booster one, wire: 14 AWG, length: 10 m}}
tracks: {M1: {from: end, to: end, length: 144 in, rail: code 100 nickel silver}}
`

// What one metre has at the high end: 14 AWG 8.285 mΩ (facts.md section 3) with seven strands to solid 1.98/1.93,
// code 100 nickel silver 76 mΩ (P:RB).
const (
	wire14  = 8.285e-3 * 1.98 / 1.93
	rail100 = 0.076
)

func ohmsOf(t *testing.T, text string) []Point {
	t.Helper()
	points, err := Ohms(text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return points
}

// pointAt finds the point nearest to a place.
func pointAt(t *testing.T, points []Point, piece string, at float64, end string) Point {
	t.Helper()
	best := -1
	for i, p := range points {
		if p.Piece == piece && p.End == end && (best < 0 || math.Abs(p.At-at) < math.Abs(points[best].At-at)) {
			best = i
		}
	}
	if best < 0 || math.Abs(points[best].At-at) > 1e-3 {
		t.Fatalf("no point %s @ %.3f m %s", piece, at, end)
	}
	return points[best]
}

// W23's arrangement (12 ft of track, 3 A) with code 100 instead: the loop of 12 ft is 2 × 3.6576 m × 76 mΩ/m =
// 0.55596 Ω, fed at one end: 1.6679 V for 3 A at the far end.
func TestOneFeeder(t *testing.T) {
	points := ohmsOf(t, oneTrack("", "1 A")+`feeders: {M1: {A: left, 0.1 mm: {from: main @ 10 m, wire: 14 AWG, length: 1 m}}}`)
	near, far := pointAt(t, points, "M1", 0, ""), pointAt(t, points, "M1", 3.6576, "")
	// inside, two legs of: bus splice, 10 m of bus, two splices, 1 m of feeder
	root := 0.1 + 2*(busSpliceOhms.hi+11*wire14+2*spliceOhms.hi)
	near1(t, "at the feeder", near.ROhmWeak, root, 5e-5)
	near1(t, "12 ft on", far.ROhmWeak-near.ROhmWeak, 0.55596, 5e-5)
	near1(t, "drop of 3 A over it", far.Drop-near.Drop, 1.6679, 5e-4)
	near1(t, "weak short", far.ShortWeak, 15/(far.ROhmWeak+0.5), 1e-9)
	near1(t, "strong short", far.ShortStrong, 15/(far.ROhmStrong+0.1), 1e-9)
	// 57.1 mΩ/m (P:RA) at the low end
	near1(t, "strong loop", far.ROhmStrong-near.ROhmStrong, 2*3.6576*0.0571, 1e-3)
	if far.Guard != "booster one" || far.Trips != 5 || far.Assumed || far.InSettings {
		t.Errorf("guarded by %s at %g, assumed %t, in settings %t", far.Guard, far.Trips, far.Assumed, far.InSettings)
	}
}

// Fed alike at both ends, a train in the middle sees a quarter of the loop (facts.md section 5: IR/4).
func TestTwoFeeders(t *testing.T) {
	points := ohmsOf(t, oneTrack("", "1 A")+`feeders: {M1: {A: left, 0.1 mm: {from: main @ 5 m, wire: 14 AWG, length: 1 m}, 3657.5 mm: {from: main @ 5 m, wire: 14 AWG, length: 1 m}}}`)
	feeder := wire14 + 2*spliceOhms.hi
	bus := 0.1 + 2*(busSpliceOhms.hi+5*wire14)
	mid, end := pointAt(t, points, "M1", 1.8288, ""), pointAt(t, points, "M1", 0, "")
	near1(t, "middle", mid.ROhmWeak, bus+2*feeder/2+0.55596/4, 5e-5)
	// at one end: one feeder beside the other with all the rail
	near1(t, "end", end.ROhmWeak, bus+2/(1/feeder+1/(feeder+0.55596/2)), 5e-5)
	var worst float64
	for _, p := range points {
		worst = max(worst, p.ROhmWeak)
	}
	near1(t, "the worst is the middle", worst, mid.ROhmWeak, 1e-12)
}

// A length's inner points by the closed form are what a joint there would see (a soldered one has no ohms at its low end).
func TestInnerPointsAreNodes(t *testing.T) {
	const feeders = "feeders: {M1: {A: left, 0.6576 m: {from: main @ 5 m, wire: 16 AWG, length: 1 m}, 3.2 m: {from: main @ 9 m, wire: 20 AWG, length: 2 m}}}\n"
	plain := ohmsOf(t, oneTrack("", "1 A")+feeders)
	cut := ohmsOf(t, oneTrack("", "1 A")+feeders+"joints: {M1: [{at: 1081.333333 mm, kind: soldered}]}") // a sixth of the way
	near1(t, "a joint", pointAt(t, cut, "M1", 1.081333333, "").ROhmStrong, pointAt(t, plain, "M1", 1.081333333, "").ROhmStrong, 1e-6)
}

// Two trains at the far end with their noses together and the third one train's length, 1 m, nearer the feeder: the
// third takes what the others see less the last metre of rail.
func TestDropLeast(t *testing.T) {
	points := ohmsOf(t, oneTrack("", "1 A")+`feeders: {M1: {A: left, 0.1 mm: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}
joints: {M1: [{at: 2.6576 m, kind: soldered}]}`)
	far := pointAt(t, points, "M1", 3.6576, "")
	near1(t, "all here", far.Drop, 3*far.ROhmWeak, 1e-9)
	third := far.ROhmWeak - 2*rail100*1
	near1(t, "apart", far.DropLeast, 2*far.ROhmWeak+third, 1e-4)
}

// What trips bounds what trains draw: a breaker for 2 A.
func TestTripBoundsDrop(t *testing.T) {
	text := strings.Replace(oneTrack("", "1 A"), "from: booster one", "from: breaker b", 1) +
		"breakers: {b: {from: booster one, trips-at: 2 A, resistance: 60 mΩ, opens: A}}\n" +
		"feeders: {M1: {A: left, 1 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}"
	p := pointAt(t, ohmsOf(t, text), "M1", 1, "")
	near1(t, "drop", p.Drop, 2*p.ROhmWeak, 1e-9)
	near1(t, "ohms", p.ROhmWeak, 0.1+0.06+2*(busSpliceOhms.hi+2*wire14+2*spliceOhms.hi), 5e-5)
	if p.Guard != "breaker b" {
		t.Errorf("guarded by %s", p.Guard)
	}
	both := pointAt(t, ohmsOf(t, strings.Replace(text, "opens: A", "opens: both", 1)), "M1", 1, "")
	near1(t, "half in each leg", both.ROhmWeak, p.ROhmWeak, 1e-12)
	// the third ampere is drawn before the breaker, at the booster itself: with both legs opened it takes from the point only
	// what the booster's inside does, with leg A alone opened leg B's wires too
	near1(t, "bound", both.DropMost, both.Drop+0.1, 1e-9)
	near1(t, "bound in one leg", p.DropMost, p.Drop+0.1+busSpliceOhms.hi+2*wire14+2*spliceOhms.hi, 5e-5)
}

// A detector takes its fixed volts from what drives a short, and adds them to a drop.
func TestDetectorTakesVolts(t *testing.T) {
	const head = "detectors: {d: {from: main @ 1 m, leg: A, drop: 0.7 V}}\n"
	text := strings.Replace(oneTrack("", "1 A"), "buses: {", "buses: {seen: {from: detector d, legs: A, wire: 14 AWG, length: 1 m}, ", 1) + head +
		"feeders: {M1: {A: left, 1 m: {from: main @ 1 m, A-from: seen @ 1 m, wire: 14 AWG, length: 1 m}}}"
	p := pointAt(t, ohmsOf(t, text), "M1", 1, "")
	near1(t, "short", p.ShortWeak, (15-0.7)/(p.ROhmWeak+0.5), 1e-9)
	near1(t, "drop", p.Drop, 3*p.ROhmWeak+0.7, 1e-9)
	near1(t, "ohms", p.ROhmWeak, 0.1+2*(busSpliceOhms.hi+2*wire14+2*spliceOhms.hi)+busSpliceOhms.hi+wire14+detectorOhms.hi, 5e-5)
}

// A joint of unknown kind is open where that is careful and closed where that is.
func TestUnknownJoint(t *testing.T) {
	points := ohmsOf(t, oneTrack("", "1 A")+`joints: {M1: [{at: 2 m, kind: unknown}]}
feeders: {M1: {A: left, 1 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}`)
	p := pointAt(t, points, "M1", 3.6576, "")
	if !math.IsInf(p.ROhmWeak, 1) || p.ShortWeak != 0 || !finite(p.ROhmStrong) || p.ShortStrong == 0 {
		t.Errorf("beyond the joint: %+v", p)
	}
}

// A power-routing turnout feeds the leg that it is set for: rail beyond its gap hangs on the blade.
func TestPowerRouting(t *testing.T) {
	text := strings.Replace(oneTrack("", "1 A"), "to: end", "to: T1 points", 1)
	text = strings.Replace(text, "tracks: {", "tracks: {S1: {from: T1 straight, to: end, length: 1 m, rail: code 100 nickel silver}, S2: {from: T1 curved, to: end, length: 1 m, rail: code 100 nickel silver}, ", 1)
	text += `turnouts: {T1: {hand: right, wiring: power-routing, length: 200 mm, blade-contact: 0.1 Ω}}
feeders: {M1: {A: left, 3 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}`
	points := ohmsOf(t, text)
	feed, end := pointAt(t, points, "M1", 3, ""), pointAt(t, points, "S1", 1, "")
	if feed.InSettings || !end.InSettings || end.Skipped {
		t.Fatalf("at the feeder %+v, beyond the turnout %+v", feed, end)
	}
	// M1's last 0.6576 m, the joint, T1's 0.2 m, a joint, 1 m in the stock rail; in the other the blade, half of T1 before
	// the frog (both closures are tied to it: theirs in parallel with the other and the wire between the blades), half behind it.
	half := 0.1 * rail100
	closures := 1 / (1/half + 1/(half+spliceOhms.hi))
	common := 2 * (0.6576*rail100 + 2*2e-3 + rail100)
	near1(t, "set straight", end.ROhmWeak-feed.ROhmWeak, common+2*half+0.1+closures+half, 1e-5)
	curved := pointAt(t, points, "S2", 1, "")
	near1(t, "set curved", curved.ROhmWeak, end.ROhmWeak, 1e-9)
}

// A changeover's rail is listed for each source that it can hang from.
func TestChangeover(t *testing.T) {
	text := strings.Replace(oneTrack("", "1 A"), "buses: {", "buses: {turn: {from: changeover c, wire: 14 AWG, length: 1 m}, ", 1) +
		"cabs: {old: {volts: 0 .. 12 V}}\nchangeovers: {c: {positions: {dcc: main @ 1 m, dc: cab old, none: nothing}, opens: both}}\n" +
		"feeders: {M1: {A: left, 1 m: {from: turn @ 1 m, wire: 14 AWG, length: 1 m}}}"
	sources := map[string]float64{}
	for _, p := range ohmsOf(t, text) {
		if p.Piece == "M1" && p.At == 1 && p.InSettings {
			sources[p.Source] = p.ROhmWeak
		}
	}
	here := 2 * (busSpliceOhms.hi + 2*wire14 + 2*spliceOhms.hi + contactOhms.hi)
	near1(t, "from the booster", sources["booster one"], here+0.1+2*(busSpliceOhms.hi+wire14), 5e-5)
	near1(t, "from the cab", sources["cab old"], here+insideOhms.hi, 5e-5)
}

// Wires between the legs make ohms meaningless.
func TestLegsMeet(t *testing.T) {
	_, err := Ohms(oneTrack("", "1 A") + `feeders: {M1: {A: left, 1 m: main @ 1 m, 2 m: {from: main @ 2 m, A: right}}}`)
	var meet *LegsMeetError
	if !errors.As(err, &meet) || meet.Source != "booster one" || !meet.Sure {
		t.Errorf("crossed feeders: %v", err)
	}
	text := strings.Replace(oneTrack("", "1 A"), "boosters: {", "boosters: {two: {volts: 15 V, inside: 0.1 Ω, trips-at: 5 A}, ", 1)
	text = strings.Replace(text, "tracks: {", "tracks: {M2: {from: end, to: end, length: 1 m, rail: code 100 nickel silver}, ", 1)
	text = strings.Replace(text, "buses: {", "buses: {far: {from: booster two, wire: 14 AWG, length: 1 m}, ", 1)
	points, err := Ohms(text + `feeders: {M1: {A: left, 1 m: main @ 1 m, 2 m: {from: main @ 2 m, A: right}}, M2: {A: left, 0.5 m: far @ 1 m}}`)
	if !errors.As(err, &meet) || len(points) == 0 {
		t.Errorf("beside another booster: %d points, %v", len(points), err)
	}
	for _, p := range points {
		if p.Source != "booster two" {
			t.Errorf("a point of %s", p.Source)
		}
	}
	_, err = Ohms(oneTrack("", "1 A") + `joints: {M1: [{at: 1500 mm, kind: unknown}]}
feeders: {M1: {A: left, 1 m: main @ 1 m, 2 m: {from: main @ 2 m, A: right}}}`)
	if !errors.As(err, &meet) || meet.Sure {
		t.Errorf("beyond an unknown joint: %v", err)
	}
}

// A bridge of two rails, each hung in its middle from a ring, in every setting that the ring feeds.
func TestTurntableBridge(t *testing.T) {
	text := strings.Replace(oneTrack("", "1 A"), "to: end", "to: TT x", 1) +
		`turntables: {TT: {bridge: 0.3 m, tracks: {x: 0 deg, y: 30 deg}, feed: plain, from: booster one, A: left}}
feeders: {M1: {A: left, 1 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}`
	p := pointAt(t, ohmsOf(t, text), "TT", 0, "head")
	near1(t, "the bridge's head", p.ROhmWeak, 0.1+2*(ringOhms.hi+0.15*rail100), 1e-6)
	if p.InSettings {
		t.Error("a plain bridge is fed in every setting")
	}
}

// What lies between the end where a piece is fed and its others, in ohms of the loop, by the pieces' anatomy: L is the
// piece's 0.2 m of rail, s the tie or jumper of a wire, j the soldered joint of the end that is fed.
func TestPieces(t *testing.T) {
	const (
		l = 0.2 * rail100
		s = 0.01
	)
	half, inner := l/2, s+l/2+s+l/2 // a blade's tie, to the frog, a jumper, and on
	for _, tt := range []struct {
		section, piece, fed string
		want                map[string]float64
	}{
		{"turnouts", "{hand: left, wiring: dead-frog, jumpers: yes", "points", map[string]float64{"points": 0, "straight": l + inner, "curved": l + inner}},
		{"turnouts", "{hand: wye, wiring: unfed-frog, jumpers: yes", "left", map[string]float64{"points": l + inner, "left": 0, "right": 2*l + 2*inner}},
		{"turnouts", "{hand: right, wiring: {blades: stock, closures: frog, frog: metal, isolated: toe, frog-from: nothing}", "straight", map[string]float64{"straight": 0}},
		{"three-ways", "{construction: symmetric, wiring: switched-frog, jumpers: yes", "points", map[string]float64{"left": l + s + half + 2*s + half, "straight": 2 * inner, "right": l + s + half + 2*s + half}},
		{"crossings", "{angle: 60 deg, wiring: dead-frogs", "a", map[string]float64{"a": 0, "c": 2 * l}},
		{"slips", "{slip: a-b, wiring: dead-frogs", "a", map[string]float64{"a": 0, "c": 2 * l, "b": 2 * (l + s), "d": 2 * (l + s)}},
	} {
		text := strings.Replace(oneTrack("", "1 A"), "from: end, to: end", "from: end, to: P "+tt.fed, 1) + tt.section + ": {P: " + tt.piece + ", length: 0.2 m}}\n" +
			"feeders: {M1: {A: left, 3657.5 mm: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}"
		points := ohmsOf(t, text)
		fed := pointAt(t, points, "P", 0, tt.fed).ROhmWeak
		near1(t, tt.piece+" joint", fed-pointAt(t, points, "M1", 3.6575, "").ROhmWeak, 2*(0.0001*rail100+solderedOhms.hi), 1e-6)
		for end, want := range tt.want {
			if end != tt.fed {
				near1(t, tt.piece+" "+end, pointAt(t, points, "P", 0, end).ROhmWeak-fed, want, 1e-5)
			}
		}
		for _, p := range points {
			if _, want := tt.want[p.End]; p.Piece == "P" && !want && p.End != tt.fed && finite(p.ROhmWeak) {
				t.Errorf("%s: %s is fed", tt.piece, p.End)
			}
		}
	}
}

// Bonds, plugs, reversers and switches lie on the way with what is typed of them, or by default.
func TestDevicesOnTheWay(t *testing.T) {
	base := strings.Replace(oneTrack("", "1 A"), "tracks: {", "tracks: {M2: {from: end, to: end, length: 1 m, rail: code 100 nickel silver}, ", 1)
	feed := "feeders: {M1: {A: left, 1 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}\n"
	points := ohmsOf(t, base+feed+"bonds: [{from: M1 @ 1.5 m, to: M2 @ 0.2 m, rails: both, wire: 14 AWG, length: 2 m}]")
	near1(t, "a bond", pointAt(t, points, "M2", 0.2, "").ROhmWeak-pointAt(t, points, "M1", 1.5, "").ROhmWeak, 2*(2*wire14+2*spliceOhms.hi), 1e-5)

	plain := pointAt(t, ohmsOf(t, base+feed), "M1", 1, "").ROhmWeak
	for device, want := range map[string]float64{
		"reverser r|reversers: {r: {from: booster one, switching: automatic, trips-at: 2 A, resistance: 80 mΩ, opens: both}}": 0.08,
		"reverser r|reversers: {r: {from: booster one, switching: automatic}}":                                                reverserOhms.hi,
		"plug p|plugs: {p: {from: booster one, legs: straight, resistance: 5 .. 20 mΩ}}":                                      0.02,
		"plug p|plugs: {p: {from: booster one, legs: crossed}}":                                                               plugOhms.hi,
		"in-line s|in-line: {s: {from: booster one, kind: switch, leg: both}}":                                                2 * contactOhms.hi,
		"in-line f|in-line: {f: {from: booster one, kind: fuse, leg: A, rating: 2 A}}":                                        fuseOhms.hi,
	} {
		from, section, _ := strings.Cut(device, "|")
		p := pointAt(t, ohmsOf(t, strings.Replace(base, "from: booster one", "from: "+from, 1)+feed+section), "M1", 1, "")
		near1(t, device, p.ROhmWeak-plain, want, 1e-9)
	}
}

// Eight turnouts that feed one another have more settings than are tried.
func TestTooManySettings(t *testing.T) {
	tracks, turnouts := "", ""
	for i := range 8 {
		turnouts += fmt.Sprintf("T%d: {hand: right, wiring: power-routing, length: 0.2 m}, ", i)
		tracks += fmt.Sprintf("S%d: {from: T%d curved, to: end, length: 0.3 m, rail: code 100 nickel silver}, ", i, i)
		if i < 7 {
			tracks += fmt.Sprintf("L%d: {from: T%d straight, to: T%d points, length: 0.3 m, rail: code 100 nickel silver}, ", i, i, i+1)
		}
	}
	text := strings.Replace(oneTrack("", "1 A"), "from: end, to: end", "from: end, to: T0 points", 1)
	text = strings.Replace(text, "tracks: {", "tracks: {E: {from: T7 straight, to: end, length: 0.3 m}, "+tracks, 1)
	text += "turnouts: {" + strings.TrimSuffix(turnouts, ", ") + "}\nfeeders: {M1: {A: left, 1 m: {from: main @ 1 m, wire: 14 AWG, length: 1 m}}}"
	if p := pointAt(t, ohmsOf(t, text), "E", 0.3, ""); !p.Skipped || !math.IsNaN(p.ROhmWeak) {
		t.Errorf("at the end of the ladder: %+v", p)
	}
}

// No text may make it panic or hang.
func FuzzOhms(f *testing.F) {
	f.Add(oneTrack("", "1 A") + "feeders: {M1: {A: left, 1 m: main @ 1 m}}")
	f.Add(oneTrack(", bus-drop: 1 %", "1 A") + "detectors: {d: {from: main @ 1 m, leg: A}}\nchangeovers: {c: {positions: {x: main @ 2 m, y: nothing}}}\nfeeders: {M1: {A: right, 1 m: main @ 1 m}}")
	f.Fuzz(func(_ *testing.T, text string) { _, _ = Hazards(text) })
}

func kindsOf(hs []ElectricHazard) map[string]ElectricHazard {
	out := map[string]ElectricHazard{}
	for _, h := range hs {
		out[h.Kind] = h
	}
	return out
}

func TestElectricHazards(t *testing.T) {
	const good = "feeders: {M1: {A: left, 1.8288 m: {from: main @ 1 m, wire: 20 AWG, length: 0.3 m}}}"
	base := oneTrack("", "0.4 A")
	lamp := strings.Replace(base, "from: booster one", "from: in-line l", 1) + "in-line: {l: {from: booster one, kind: lamp, leg: A, limits-to: 2 A, resistance: 20 Ω}}\n"
	for _, tt := range []struct {
		name, text string
		want       []string
	}{
		{"as it should be", base + good, nil},
		// 15 V / (0.1 + 2 × 60 m × 0.339 Ω/m) = 0.36 A
		{"a thin long bus", strings.Replace(base, "wire: 14 AWG, length: 10 m", "wire: 30 AWG, length: 60 m", 1) + strings.Replace(good, "@ 1 m", "@ end", 1), []string{ShortNeverTrips, DropOverLimit}},
		// weakly 15 V / (0.1 + 0.5 + 2 × 1.2 …); strongly 15 V / (0.2 + 0.1 …)
		{"a trip above the weakest short", strings.NewReplacer("trips-at: 5 A", "trips-at: 18 A", "14 AWG", "8 AWG", "20 AWG", "8 AWG").Replace(base + good), []string{ShortMayNotTrip}},
		{"a fine feeder", strings.Replace(base, "trips-at: 5 A", "trips-at: 8 A", 1) + "feeders: {M1: {A: left, 1.8288 m: {from: main @ 1 m, wire: 28 AWG, length: 0.3 m}}}", []string{WireHot, LetThrough}},
		{"a slow trip", strings.Replace(base, "trip-time: 40 ms", "trip-time: 2 s", 1) + "feeders: {M1: {A: left, 1.8288 m: {from: main @ 1 m, wire: 24 AWG, length: 0.3 m}}}", []string{LetThrough}},
		{"a lamp", lamp + good, []string{DropOverLimit}},
	} {
		hs, err := Hazards(tt.text)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		got := kindsOf(hs)
		for _, k := range tt.want {
			if _, ok := got[k]; !ok {
				t.Errorf("%s: no %s in %+v", tt.name, k, hs)
			}
			delete(got, k)
		}
		if len(got) > 0 {
			t.Errorf("%s: also %+v", tt.name, got)
		}
	}
}

// The owner's own limit for what the bus may take: 15 V × 1 % = 0.15 V; 2.4 A × 2 × (5 m of 14 AWG and its
// splice) is more. The feeder's limit of 1 V holds.
func TestOwnLimits(t *testing.T) {
	hs, err := Hazards(oneTrack(", bus-drop: 1 %, feeder-drop: 1 V", "0.8 A") + "feeders: {M1: {A: left, 1.8288 m: {from: main @ 5 m, wire: 20 AWG, length: 0.3 m}}}")
	if err != nil {
		t.Fatal(err)
	}
	if len(hs) != 1 || hs[0].Kind != DropOverLimit || hs[0].Part != "bus" {
		t.Fatalf("found %+v", hs)
	}
	near1(t, "limit", hs[0].Limit, 0.15, 1e-12)
	near1(t, "drop in the bus", hs[0].Value, 2.4*2*(busSpliceOhms.hi+5*wire14), 1e-4)
}
