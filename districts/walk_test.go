package districts_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"pgregory.net/rapid"
)

// power is the head of the layouts below: a booster with a bus of 44 ft.
const power = `gapwise: 1
layout: Test
defaults:
  turnout: {length: 1 ft, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: plain}
supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
buses:
  ring: {from: booster one, wire: 14 AWG, length: 44 ft}
`

// triangle is a main with a balloon and a spur: from T1 straight round by L1 to T1 curved,
// and T2 on the main.
const triangle = power + `tracks:
  M1: {from: end, to: T2 points, length: 6 ft}
  M2: {from: T2 straight, to: T1 points, length: 4 ft}
  S:  {from: T2 curved, to: end, length: 3 ft}
  L1: {from: T1 straight, to: T1 curved, length: 10 ft}
turnouts:
  T1: {hand: right}
  T2: {hand: left}
feeders:
  M1: {1 ft: ring @ 2 ft}
`

// walked prints a walk: where each pace ends, its length in all, and whether left became right.
func walked(t *testing.T, tr *districts.Trace, from, to string) string {
	t.Helper()
	p := &printer{tr: tr, l: tr.C.Layout}
	paces := tr.Route(spotAt(t, tr, from), spotAt(t, tr, to))
	if len(paces) == 0 {
		return "no way"
	}
	metres, turned := 0.0, false
	stops := []string{p.spot(paces[0].From)}
	for i, x := range paces {
		w := &tr.C.Ways[x.Way]
		if (w.A != x.From || w.B != x.To) && (w.B != x.From || w.A != x.To) {
			t.Fatalf("pace %d leads from %s to %s, its way from %s to %s", i, p.spot(x.From), p.spot(x.To), p.spot(w.A), p.spot(w.B))
		}
		if i > 0 && paces[i-1].To != x.From {
			t.Fatalf("pace %d begins elsewhere than the last one ends", i)
		}
		metres += w.Length
		turned = turned != w.Turned
		stops = append(stops, p.spot(x.To))
	}
	out := strings.Join(stops, ", ") + ": " + inFeet(metres)
	if turned {
		out += ", turned over"
	}
	return out
}

// TestRoute: a train goes the shortest way, turns back nowhere, and finds its left rail on the
// right where the way turned over.
func TestRoute(t *testing.T) {
	tr := trace(t, triangle)
	for _, c := range []struct{ from, to, want string }{
		{"M1 @ start", "S @ end", "M1 @ 0 ft, M1 @ 1 ft, M1 @ 6 ft, T2 points, T2 curved, S @ 0 ft, S @ 3 ft: 10 ft"},
		{"S @ end", "M1 @ start", "S @ 3 ft, S @ 0 ft, T2 curved, T2 points, M1 @ 6 ft, M1 @ 1 ft, M1 @ 0 ft: 10 ft"},
		// From leg to leg there is no way but round the balloon and home over the points.
		{"L1 @ start", "L1 @ end", "L1 @ 0 ft, L1 @ 10 ft: 10 ft"},
		{"T1 straight", "T1 curved", "T1 straight, L1 @ 0 ft, L1 @ 10 ft, T1 curved: 10 ft, turned over"},
		// M2 to S: in at T2 straight, out at its points, and M1 ends: only by the balloon,
		// which turns the train but not the leg it comes home by.
		{"M2 @ start", "S @ end", "no way"},
		{"M2 @ end", "M2 @ start", "M2 @ 4 ft, M2 @ 0 ft: 4 ft"},
		{"M1 @ start", "M1 @ start", "no way"},
	} {
		if got := walked(t, tr, c.from, c.to); got != c.want {
			t.Errorf("%s to %s:\n got %s\nwant %s", c.from, c.to, got, c.want)
		}
	}
}

// TestRouteRound: on a ring the shorter arc is taken, and over the pit of a turntable too.
func TestRouteRound(t *testing.T) {
	ring := trace(t, power+`tracks:
  R: {closed: yes, length: 20 ft}
feeders:
  R: {3 ft: ring @ 2 ft, 9 ft: ring @ 4 ft, 17 ft: ring @ 6 ft}
`)
	if got, want := walked(t, ring, "R @ 17 ft", "R @ 3 ft"), "R @ 17 ft, R @ 20 ft, R @ 0 ft, R @ 3 ft: 6 ft"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if got, want := walked(t, ring, "R @ 3 ft", "R @ 9 ft"), "R @ 3 ft, R @ 9 ft: 6 ft"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	table := trace(t, power+`tracks:
  lead:  {from: end, to: TT lead, length: 6 ft}
  stall: {from: TT stall, to: end, length: 3 ft}
turntables:
  TT: {bridge: 1 ft, tracks: {lead: 0 deg, stall: 90 deg}, feed: plain, from: ring @ 8 ft, A: left}
feeders:
  lead: {2 ft: ring @ 2 ft}
`)
	got := walked(t, table, "lead @ 2 ft", "stall @ end")
	if !strings.HasPrefix(got, "lead @ 2 ft, lead @ 6 ft, TT lead, TT bridge, TT stall, stall @ 0 ft, stall @ 3 ft: 8 ft") {
		t.Errorf("over the bridge: %s", got)
	}
}

// TestRouteAgainstEveryWalk compares, on random track plans, with the shortest of all walks
// that never turn back, found by stretching every walk pace by pace.
func TestRouteAgainstEveryWalk(t *testing.T) {
	routes, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		tr, err := traceText(p.yaml())
		if err != nil {
			t.Fatal(err)
		}
		c := tr.C
		spots := make([]int32, len(c.Spots))
		for i := range spots {
			spots[i] = int32(i)
		}
		from := rapid.SampledFrom(spots).Draw(t, "from")
		to := rapid.SampledFrom(spots).Draw(t, "to")
		if from == to {
			return
		}
		paces := tr.Route(from, to)
		metres := math.Inf(1)
		if len(paces) > 0 {
			metres = 0
		}
		for i, x := range paces {
			w := c.Ways[x.Way]
			metres += w.Length
			if i > 0 && (paces[i-1].Way == x.Way || paces[i-1].To != x.From || (w.Kind == circuit.WayThrough && c.Ways[paces[i-1].Way].Kind == circuit.WayThrough)) {
				t.Fatalf("turns back at pace %d of %v\n%s", i, paces, p.yaml())
			}
		}
		if least := leastWalk(c, from, to); math.Abs(least-metres) > 1e-9 && least != metres {
			t.Fatalf("from spot %d to %d: %g m, the shortest of all walks is %g m\n%s", from, to, metres, least, p.yaml())
		}
		if len(paces) > 0 {
			routes++
		} else {
			none++
		}
	})
	if routes < 5 || none < 1 {
		t.Errorf("only %d routes and %d without", routes, none)
	}
}

// leastWalk relaxes the length of every walk by its last way and direction until nothing
// gets shorter (Bellman 1958, from memory).
func leastWalk(c *circuit.Circuit, from, to int32) float64 {
	type last struct {
		way int
		at  int32
	}
	metres := map[last]float64{}
	for range 2*len(c.Ways) + 1 {
		for k, w := range c.Ways {
			for _, end := range [][2]int32{{w.A, w.B}, {w.B, w.A}} {
				shortest := math.Inf(1)
				if end[0] == from {
					shortest = 0
				}
				for before, m := range metres {
					both := c.Ways[before.way].Kind == circuit.WayThrough && w.Kind == circuit.WayThrough
					if before.at == end[0] && before.way != k && !both {
						shortest = min(shortest, m)
					}
				}
				key := last{k, end[1]}
				if old, found := metres[key]; !math.IsInf(shortest, 1) && (!found || shortest+w.Length < old) {
					metres[key] = shortest + w.Length
				}
			}
		}
	}
	least := math.Inf(1)
	for x, m := range metres {
		if x.at == to {
			least = min(least, m)
		}
	}
	return least
}

// TestAt looks places up: what carries what, by which wires, and which block is meant.
func TestAt(t *testing.T) {
	tr := trace(t, power+`tracks:
  M1: {from: end, to: T1 points, length: 10 ft}
  S:  {from: T1 straight, to: end, length: 5 ft}
  C:  {from: T1 curved, to: end, length: 5 ft}
  R:  {closed: yes, length: 20 ft}
turnouts:
  T1: {hand: right}
  T2: {hand: left, at: R @ 5 ft, via: points to straight}
  T3: {hand: left, at: R @ 9 ft, via: straight to points}
joins: [[T2 curved, T3 curved]]
gaps:
  S: [3 ft]
feeders:
  M1: {2 ft: ring @ 2 ft, 8 ft: ring @ 6 ft}
blocks:
  west: {covers: M1 @ start .. 5 ft}
  east: {covers: M1 @ 5 ft .. end}
`)
	p := &printer{tr: tr, l: tr.C.Layout}
	for _, c := range []struct{ at, want string }{
		{"M1 @ 2 ft", "M1 @ 2 ft at 2 ft, left fed by one A over 3, right fed by one B over 3, zone 0, meant west"},
		{"M1 @ 4 ft", "M1 @ 2 ft at 4 ft, left fed by one A over 3, right fed by one B over 3, zone 0, meant west"},
		{"M1 @ 6 ft", "M1 @ 8 ft at 6 ft, left fed by one A over 4, right fed by one B over 4, zone 0, meant east"},
		{"M1 @ 1 ft from end", "M1 @ 8 ft at 9 ft, left fed by one A over 4, right fed by one B over 4, zone 0, meant east"},
		{"M1 @ end", "M1 @ 10 ft at 10 ft, left fed by one A over 5, right fed by one B over 5, zone 0, meant east"},
		{"S @ 3 ft 6 in", "S @ 3 ft at 3.5 ft, left dead by none, right dead by none, zone 2, meant -"},
		{"T1 points", "T1 points at 0 ft, left fed by one A over 6, right fed by one B over 6, zone 0, meant -"},
		// The inner rail of a leg: by blade, closure rail and jumper, where the outer is one rail.
		{"T1 curved", "T1 curved at 0 ft, left fed by one A over 9, right fed by one B over 7, zone 0, meant -"},
		{"T1", "T1 points at 0 ft, left fed by one A over 6, right fed by one B over 6, zone 0, meant -"},
		{"R @ 5 ft 6 in", "inside a body"},
		{"R @ 9 ft 1 in", "inside a body"},
		{"R @ 1 ft", "R @ 0 ft at 1 ft, left dead by none, right dead by none, zone 1, meant -"},
	} {
		w, ok := tr.At(place(t, tr, c.at))
		got := "inside a body"
		if ok {
			var rails [2]string
			for r := range rails {
				from := "none"
				if w.Fed[r] {
					from = p.source(w.From[r].Source) + " " + [...]string{"A", "B"}[w.From[r].Leg] + " over " + itoa(len(w.Path[r]))
				}
				rails[r] = fedWords[w.State[r]] + " by " + from
			}
			got = p.spot(w.Spot) + " at " + inFeet(w.At) + ", left " + rails[0] + ", right " + rails[1] + ", zone " + itoa(int(w.Zone)) +
				", meant " + names(w.Meant, func(b int32) string { return tr.C.Layout.Blocks[b].Name })
		}
		if got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.at, got, c.want)
		}
	}
}

// TestPathsAreWalks: on random plans every path that At gives leads, conductor by
// conductor, from the leg named to the rail asked for, and a rail is fed just when there is one.
func TestPathsAreWalks(t *testing.T) {
	paths := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		tr, err := traceText(p.yaml())
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range tr.C.Spots {
			for _, node := range s.Node {
				from, path, ok := tr.PathTo(node)
				if ok != (tr.Fed[node] != districts.Dead) {
					t.Fatalf("node %d: a path %t, state %d\n%s", node, ok, tr.Fed[node], p.yaml())
				}
				if !ok {
					continue
				}
				paths++
				at := tr.C.Sources[from.Source].Out[from.Leg]
				for _, step := range path {
					k := tr.C.Conductors[step.Conductor]
					if (k.A != at || k.B != step.Node) && (k.B != at || k.A != step.Node) {
						t.Fatalf("a step from node %d to %d by a conductor between %d and %d", at, step.Node, k.A, k.B)
					}
					at = step.Node
				}
				if at != node {
					t.Fatalf("the path ends at %d, not at %d", at, node)
				}
			}
		}
	})
	if paths < 150 {
		t.Errorf("only %d paths", paths)
	}
}

func itoa(n int) string {
	return strings.TrimSuffix(inFeet(float64(n)*0.3048), " ft")
}

func intervals(tr *districts.Trace, list []districts.Interval) []string {
	var out []string
	for _, x := range list {
		out = append(out, tr.C.Layout.Tracks[x.Track].Name+" "+inFeet(x.From)+" .. "+inFeet(x.To))
	}
	return out
}

// without says what taking a thing out does, in words.
func without(t *testing.T, tr *districts.Trace, name string) string {
	t.Helper()
	r, all, ok := districts.FindRemoval(tr.C.Layout, name)
	if !ok {
		t.Fatalf("nothing is named %s; there are %s", name, strings.Join(all, ", "))
	}
	w := tr.Without(r)
	if len(w.Through) != len(w.Stays) {
		t.Fatalf("%d stretches stay alive, through %d feeders", len(w.Stays), len(w.Through))
	}
	stays := intervals(tr, w.Stays)
	for i, f := range w.Through {
		by := "no feeder"
		if f >= 0 {
			by = tr.C.Layout.Feeders[f].Place.Text
		}
		stays[i] += " by " + by
	}
	word := func(s string) string { return s }
	return "dies " + names(intervals(tr, w.Dies), word) + "; stays " + names(stays, word)
}

// yardAndMain has two districts parted at 10 ft: the main from the booster, the yard behind a
// breaker; beyond 16 ft a shelf on a plug.
const yardAndMain = `tracks:
  M1: {from: end, to: end, length: 20 ft}
gaps:
  M1: [10 ft, 16 ft]
breakers:
  yard: {from: ring @ 20 ft}
plugs:
  shelf: {from: ring @ 30 ft, legs: straight}
feeders:
  M1: {2 ft: ring @ 2 ft, 8 ft: ring @ 8 ft, 12 ft: yard @ 2 ft, 14 ft: yard @ 4 ft, 18 ft: shelf @ 2 ft}
`

var yardPower = strings.Replace(power, "buses:\n", `buses:
  yard: {from: breaker yard, wire: 14 AWG, length: 9 ft}
  shelf: {from: plug shelf, wire: 14 AWG, length: 9 ft}
`, 1)

func TestWithout(t *testing.T) {
	sound := trace(t, yardPower+yardAndMain)
	for _, c := range []struct{ name, want string }{
		{"breaker yard", "dies M1 10 ft .. 16 ft; stays -"},
		{"plug shelf", "dies M1 16 ft .. 20 ft; stays -"},
		{"booster one", "dies M1 0 ft .. 20 ft; stays -"},
		{"bus ring", "dies M1 0 ft .. 20 ft; stays -"},
		{"bus yard", "dies M1 10 ft .. 16 ft; stays -"},
		{"feeder M1 @ 2 ft", "dies -; stays -"},
		{"feeder M1 @ 18 ft", "dies M1 16 ft .. 20 ft; stays -"},
	} {
		if got := without(t, sound, c.name); got != c.want {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
	}
	// One of the yard's feeders hangs from the main bus: the breaker trips, and the yard stays
	// alive by the stray.
	stray := trace(t, yardPower+strings.Replace(yardAndMain, "14 ft: yard @ 4 ft", "14 ft: ring @ 14 ft", 1))
	if got, want := without(t, stray, "breaker yard"), "dies -; stays M1 10 ft .. 16 ft by M1 @ 14 ft"; got != want {
		t.Errorf("with a stray feeder: got %s, want %s", got, want)
	}
	// A feeder in one rail only keeps one rail alive, which is not enough to run on.
	oneRail := trace(t, yardPower+strings.Replace(yardAndMain, "14 ft: yard @ 4 ft", "14 ft: {from: ring @ 14 ft, rails: left}", 1))
	if got, want := without(t, oneRail, "breaker yard"), "dies M1 10 ft .. 16 ft; stays -"; got != want {
		t.Errorf("with a stray wire in one rail: got %s, want %s", got, want)
	}
	// The gap at 10 ft bridged: the yard's track stays alive from the main.
	bridged := trace(t, yardPower+strings.Replace(yardAndMain, "[10 ft, 16 ft]", "[16 ft]", 1))
	if got, want := without(t, bridged, "breaker yard"), "dies -; stays M1 0 ft .. 16 ft by M1 @ 2 ft"; got != want {
		t.Errorf("without the gap: got %s, want %s", got, want)
	}
	// A sliding joint may conduct, but nobody can vouch for it: what lies behind it dies. It
	// parts no block, so that the rest of the block is told of too.
	sliding := trace(t, yardPower+strings.Replace(yardAndMain, "[10 ft, 16 ft]", "[{at: 10 ft, kind: expansion, joint: sliding}, 16 ft]", 1))
	if got, want := without(t, sliding, "breaker yard"), "dies M1 10 ft .. 16 ft; stays M1 0 ft .. 10 ft by M1 @ 2 ft"; got != want {
		t.Errorf("behind a sliding joint: got %s, want %s", got, want)
	}
	_, all, ok := districts.FindRemoval(sound.C.Layout, "breaker yrad")
	want := []string{
		"booster one", "breaker yard", "plug shelf", "bus yard", "bus shelf", "bus ring",
		"feeder M1 @ 2 ft", "feeder M1 @ 8 ft", "feeder M1 @ 12 ft", "feeder M1 @ 14 ft", "feeder M1 @ 18 ft",
	}
	if ok || !slices.Equal(all, want) {
		t.Errorf("names that can be taken out: %q", all)
	}
}

func TestSummaries(t *testing.T) {
	summary := func(tr *districts.Trace) []string {
		p := &printer{tr: tr, l: tr.C.Layout}
		var out []string
		for _, s := range tr.Summaries() {
			line := p.source(s.Source) + ": feeders " + names(s.Feeders, p.feeder) + "; " + inFeet(s.Length) + " in " + itoa(len(s.Zones)) + " zones; blocks " +
				names(s.Blocks, func(b int32) string { return tr.C.Layout.Blocks[b].Name })
			if s.Shared {
				line += "; shared"
			}
			out = append(out, line)
		}
		return out
	}
	blocks := "blocks:\n  main: {covers: M1 @ start .. 10 ft}\n  yard: {covers: M1 @ 10 ft .. 16 ft}\n"
	if got, want := summary(trace(t, yardPower+yardAndMain+blocks)), []string{
		"one: feeders M1 @ 2 ft, M1 @ 8 ft, M1 @ 18 ft; 14 ft in 2 zones; blocks main",
		"breaker yard: feeders M1 @ 12 ft, M1 @ 14 ft; 6 ft in 1 zones; blocks yard",
		"supply wall: feeders -; 0 ft in 0 zones; blocks -",
	}; !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	stray := strings.Replace(yardAndMain, "14 ft: yard @ 4 ft", "14 ft: ring @ 14 ft", 1)
	if got, want := summary(trace(t, yardPower+stray+blocks)), []string{
		"one: feeders M1 @ 2 ft, M1 @ 8 ft, M1 @ 14 ft, M1 @ 18 ft; 20 ft in 3 zones; blocks main, yard; shared",
		"breaker yard: feeders M1 @ 12 ft; 6 ft in 1 zones; blocks yard; shared",
		"supply wall: feeders -; 0 ft in 0 zones; blocks -",
	}; !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// TestOddRing: in a balloon there is a ring that turns its rails, with its gaps and the stretches
// between them; in an oval there is none.
func TestOddRing(t *testing.T) {
	tr := trace(t, power+`tracks:
  M1: {from: end, to: T1 points, length: 6 ft}
  L1: {from: T1 straight, to: T1 curved, length: 10 ft}
turnouts:
  T1: {hand: right}
gaps:
  L1: [1 ft, 9 ft, {at: 5 ft, rails: left}]
feeders:
  M1: {2 ft: ring @ 2 ft}
`)
	p := &printer{tr: tr, l: tr.C.Layout}
	var ring *districts.Ring
	for i := range tr.C.Ways {
		w := &tr.C.Ways[i]
		r := tr.OddRing(int32(i))
		onLoop := w.Kind == circuit.WayThrough || p.l.Pieces[w.Piece].Name == "L1"
		if (r != nil) != onLoop {
			t.Errorf("%s: on a ring that turns its rails: %t", p.way(int32(i)), r != nil)
		}
		if w.Kind == circuit.WayTrack && onLoop {
			ring = r
		}
	}
	if ring == nil {
		t.Fatal("no ring")
	}
	if got := sorted(ring.Gaps, p.way); got != "L1 @ 1 ft, L1 @ 9 ft" {
		t.Errorf("gaps %s", got)
	}
	if got := names(ring.Half, p.way); got != "L1 @ 5 ft" {
		t.Errorf("half gaps %s", got)
	}
	if got := names(tr.Tracks(ring), func(i int32) string { return p.l.Tracks[i].Name }); got != "L1" {
		t.Errorf("tracks %s", got)
	}
	if got := sorted(tr.Stretches(ring), func(s districts.Stretch) string {
		gaps := []string{p.way(s.From), p.way(s.To)}
		slices.Sort(gaps)
		return strings.Join(gaps, " and ") + " " + inFeet(s.Length)
	}); got != "L1 @ 1 ft and L1 @ 9 ft 4 ft, L1 @ 1 ft and L1 @ 9 ft 8 ft" {
		t.Errorf("stretches %s", got)
	}
	oval := trace(t, power+"tracks:\n  R: {closed: yes, length: 20 ft}\nfeeders:\n  R: {3 ft: ring @ 2 ft}\n")
	for i := range oval.C.Ways {
		if oval.OddRing(int32(i)) != nil {
			t.Errorf("way %d of an oval lies on a ring that turns its rails", i)
		}
	}
}

// TestFindPlaceAgreesWithTyped: a place found by its typed words is the place of the feeder
// typed there.
func TestFindPlaceAgreesWithTyped(t *testing.T) {
	tr := trace(t, yardPower+yardAndMain)
	for i := range tr.C.Layout.Feeders {
		f := &tr.C.Layout.Feeders[i]
		p := place(t, tr, f.Place.Text)
		if p.Piece != f.Place.Piece || p.End != f.Place.End || math.Abs(p.At.Mid()-f.Place.At.Mid()) > 1e-9 {
			t.Errorf("%s is found at %+v", f.Place.Text, p)
		}
		if w, ok := tr.At(p); !ok || w.Spot != tr.Feeds[i].Spot {
			t.Errorf("%s: spot %d, the feeder's is %d", f.Place.Text, w.Spot, tr.Feeds[i].Spot)
		}
	}
	if len(tr.C.Layout.Feeders) != 5 || tr.C.Layout.Pieces[0].Kind != layout.TrackPiece {
		t.Error("the layout is not as typed")
	}
}
