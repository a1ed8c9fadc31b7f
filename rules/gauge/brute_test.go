package gauge

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/rule"
)

var full = flag.Bool("full", false, "try many more layouts")

// small writes a small layout: one to three buses behind a booster, on most of them a ring, a track with a siding or a plain one.
type small struct {
	r                        *rand.Rand
	tracks, turnouts         []string
	feeders, breakers, buses []string
}

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// track makes one piece of railway that hangs from a bus, and feeders to it.
func (s *small) track(n int, bus string, busFeet int) {
	r, name := s.r, fmt.Sprintf("N%d", n)
	feet := 6 + r.IntN(30)
	feed := func(track string, feet, from int) {
		var f []string
		step := max(1, pick(r, feet/2, feet/3, 3, 9))
		for at := 1; at < feet; at += step {
			tap := min(busFeet, from+at)
			f = append(f, fmt.Sprintf("%d ft: {from: %s @ %d ft, length: %d in}", at, bus, tap, 4+r.IntN(24)))
		}
		s.feeders = append(s.feeders, fmt.Sprintf("%s: {A: left, %s}", track, strings.Join(f, ", ")))
	}
	switch r.IntN(3) {
	case 0:
		s.tracks = append(s.tracks, fmt.Sprintf("%s: {from: end, to: end, length: %d ft}", name, feet))
		feed(name, feet, r.IntN(busFeet))
	case 1:
		s.tracks = append(s.tracks, fmt.Sprintf("%s: {closed: yes, length: %d ft}", name, feet))
		feed(name, feet, r.IntN(busFeet))
	default:
		a, b := name+"a", name+"b"
		s.turnouts = append(s.turnouts, name+"T: {hand: right}", name+"U: {hand: left}")
		s.tracks = append(s.tracks,
			fmt.Sprintf("%s: {from: %sT straight, to: %sU straight, length: %d ft}", name, name, name, feet),
			fmt.Sprintf("%s: {from: end, to: %sT points, length: 2 ft}", a, name),
			fmt.Sprintf("%s: {from: %sT curved, to: %sU curved, length: %d ft, use: siding}", b, name, name, feet),
			fmt.Sprintf("%sc: {from: %sU points, to: end, length: 3 ft}", name, name))
		feed(name, feet, r.IntN(busFeet))
		if r.IntN(2) == 0 {
			feed(b, feet, r.IntN(busFeet))
		}
	}
}

func smallLayout(r *rand.Rand) string {
	s := &small{r: r}
	buses := 1 + r.IntN(3)
	trips := pick(r, 2, 3, 4, 5, 8)
	wires := []string{"22 AWG", "20 AWG", "18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "0.5 mm²", "1.5 mm²"}
	firstFeet := 0
	for n := range buses {
		feet := 4 + r.IntN(pick(r, 20, 60, 150))
		from := "booster front"
		switch {
		case n == 0:
			firstFeet = feet
		case r.IntN(3) == 0:
			s.breakers = append(s.breakers, fmt.Sprintf("Q%d: {from: B0 @ %d ft, trips-at: %d A, trip-time: %d ms, resistance: %d mΩ}", n, r.IntN(firstFeet), 1+r.IntN(trips), pick(r, 5, 20, 200), 20+r.IntN(200)))
			from = fmt.Sprintf("breaker Q%d", n)
		case r.IntN(2) == 0:
			from = fmt.Sprintf("B0 @ %d ft", r.IntN(firstFeet))
		}
		s.buses = append(s.buses, fmt.Sprintf("B%d: {from: %s, wire: %s, laid: %s, length: %d ft}", n, from, pick(r, wires...), pick(r, "twisted", "2 in apart", "6 in apart", "unknown"), feet))
		if n == 0 || r.IntN(4) > 0 {
			s.track(n, fmt.Sprintf("B%d", n), feet)
		}
	}
	stock := func(from, most int) string {
		var sizes []string
		said := false
		n := 3 + r.IntN(most-2)
		cheap := r.IntN(n) // a thick one may be a bargain
		bargain := r.IntN(2) == 0
		for i := range n {
			price := float64(10*(i+1)) * (0.8 + 0.4*r.Float64())
			if bargain && i == cheap {
				price /= 6
			}
			wire := wires[from+i]
			if !said && r.IntN(8) == 0 { // a reel of which the size is not sure
				wire, said = "24 .. 12 AWG", true
			}
			sizes = append(sizes, fmt.Sprintf("{wire: %s, price: %.2f, per: 100 ft}", wire, price))
		}
		return "[" + strings.Join(sizes, ", ") + "]"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "gapwise: 1\nlayout: Small\nscale: HO\ndefaults:\n  track: {rail: %s}\n", pick(r, "code 100 nickel silver", "code 83 nickel silver", "code 70 nickel silver"))
	fmt.Fprintf(&b, "  turnout: {number: 6, length: 11 in, wiring: dead-frog, frog-length: 1 in, jumpers: yes}\n  feeder: {wire: %s}\n", pick(r, wires[:5]...))
	fmt.Fprintf(&b, "trains:\n")
	for i := range 1 + r.IntN(3) {
		fmt.Fprintf(&b, "  t%d: {length: 3 ft, current: %.1f A, at-once: 1}\n", i, 0.2+1.3*r.Float64())
	}
	fmt.Fprintf(&b, "operations: {at-once: %d}\n", 1+r.IntN(3))
	fmt.Fprintf(&b, "supplies:\n  wall: {volts: 19 V, listed: yes}\nboosters:\n  front: {supply: wall, volts: %d V, inside: %s, rating: %d A, trips-at: %d A, trip-time: %d ms, isolated: yes, signal: command, signal-wired: straight}\n", pick(r, 12, 15, 18), pick(r, "0.05 Ω", "0.1 Ω", "0.3 Ω", "unknown"), trips, trips, pick(r, 5, 40, 500))
	fmt.Fprintf(&b, "stock:\n  bus: %s\n  feeder: %s\n", stock(r.IntN(3), 4), stock(0, 3))
	section := func(name string, lines []string) {
		if len(lines) > 0 {
			fmt.Fprintf(&b, "%s:\n  %s\n", name, strings.Join(lines, "\n  "))
		}
	}
	section("tracks", s.tracks)
	section("turnouts", s.turnouts)
	section("breakers", s.breakers)
	section("buses", s.buses)
	section("feeders", s.feeders)
	return b.String()
}

// readText reads a layout and checks it.
func readText(t testing.TB, text string) *rules.Report {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(context.Background(), open, "small.yaml", rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatalf("%s\n%s", b.String(), text)
	}
	return checked(t, l)
}

func checked(t testing.TB, l *layout.Layout) *rules.Report {
	t.Helper()
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// askOf is some demand.
func askOf(r *rand.Rand) Ask {
	a := Ask{ByPrice: r.IntN(2) == 0, Margin: pick(r, 0, DefaultMargin), LoseOne: r.IntN(4) == 0}
	switch r.IntN(3) {
	case 0:
		a.WireDrop = DefaultWireDrop
	case 1:
		a.WireDrop, a.Relative = 0.02+0.08*r.Float64(), true
	}
	return a
}

// demandsOf are the demands on the first source of a layout, ready to be searched.
func demandsOf(t testing.TB, r *rules.Report, a *Ask) *headDemands {
	t.Helper()
	c := &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power, Shared: &rule.Verdicts{}}
	h := r.Power.Heads[0]
	own := *a
	own.Work = DefaultWork(conductors(h))
	runs, _ := runsOf(c, h, &own)
	d, err := newDemands(context.Background(), newBar(c, h, &own), runs)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// tried is one choice of all there are.
type tried struct {
	choice []int
	cost   float64
	breaks map[string]bool // by Shortfall.key
}

// within reports whether a choice breaks nothing but what is set aside.
func (x *tried) within(aside map[string]bool) bool {
	for k := range x.breaks {
		if !aside[k] {
			return false
		}
	}
	return true
}

// everyChoice holds every choice against every demand, nothing set aside; nil for more than most.
func everyChoice(t testing.TB, d *headDemands, most int) []tried {
	t.Helper()
	n := 1
	var sizes []int
	for i := range d.runs {
		sizes = append(sizes, len(d.runs[i].Sizes))
		n *= len(d.runs[i].Sizes)
	}
	if n > most {
		return nil
	}
	var out []tried
	each(sizes, func(choice []int) {
		short, err := d.shortfalls(context.Background(), with(d.c.L, d.runs, choice), false)
		if err != nil {
			t.Fatal(err)
		}
		x := tried{choice: slices.Clone(choice), breaks: keysOf(short)}
		for i := range d.runs {
			x.cost += d.runs[i].Sizes[choice[i]].Cost
		}
		out = append(out, x)
	})
	return out
}

func keysOf(short []Shortfall) map[string]bool {
	out := map[string]bool{}
	for i := range short {
		out[short[i].key()] = true
	}
	return out
}

// bruteTally is what a sweep has seen.
type bruteTally struct {
	sync.Mutex
	layouts, choices, impossible, lost, priced, bargains, whole, open int
}

// TestChooseAgainstBruteForce holds what the search finds against every choice of sizes there is: it is the cheapest that breaks
// nothing but limits told as impossible, those are broken by the thickest sizes, and none is told where some choice meets all.
func TestChooseAgainstBruteForce(t *testing.T) {
	seeds, most := 560, 36
	switch {
	case *full:
		seeds, most = 1500, 150
	case testing.Short(): // under the race detector, which slows arithmetic most
		seeds = 60
	}
	var all bruteTally
	t.Run("parts", func(t *testing.T) {
		const parts = 4
		for part := range parts {
			t.Run(fmt.Sprint(part), func(t *testing.T) {
				t.Parallel()
				for seed := part; seed < seeds; seed += parts {
					limit := most
					if seed%100 == 9 {
						limit = 250
					}
					bruteOne(t, seed, limit, &all)
				}
			})
		}
	})
	if !testing.Short() && (all.layouts < 200 || all.impossible < 20 || all.lost < 20 || all.bargains < 20 || all.whole < 5) {
		t.Errorf("too few: %+v", &all)
	}
	t.Logf("%d layouts, %d choices; %d with limits that nothing meets, %d with a feeder lost, %d by price, %d where a thicker size was cheaper; %d chosen for whole; %d not computed", all.layouts, all.choices, all.impossible, all.lost, all.priced, all.bargains, all.whole, all.open)
}

func bruteOne(t *testing.T, seed, most int, tally *bruteTally) {
	r := rand.New(rand.NewPCG(uint64(seed), 9))
	report := readText(t, smallLayout(r))
	a := askOf(r)
	if !report.Power.Heads[0].Known() {
		tally.Lock()
		defer tally.Unlock()
		tally.open++
		return // the waveform was not computed; TestOddLayouts has what is said then
	}
	all := everyChoice(t, demandsOf(t, report, &a), most)
	if all == nil {
		return
	}
	d, x := demandsOf(t, report, &a), &Head{}
	f, err := d.search(context.Background(), x, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	aside := keysOf(x.Impossible)
	also := maps.Clone(aside)
	thickest := &all[len(all)-1]
	for k := range aside {
		// the rules tell of a drop of all wiring, and whole-drop where they do not look: one matter
		if limit, guard, _ := strings.Cut(k, " "); slices.Contains([]string{"bus-drop", "feeder-drop", "rail-drop"}, limit) {
			also["whole-drop "+guard] = true
		}
		if !thickest.breaks[k] {
			t.Errorf("seed %d: %s is told as impossible, and the thickest sizes do not break it", seed, k)
		}
	}
	best, clean := math.Inf(1), false
	for i := range all {
		clean = clean || len(all[i].breaks) == 0
		near, err := d.meetsMonotone(context.Background(), all[i].choice)
		if err != nil {
			t.Fatal(err)
		}
		if all[i].within(also) && near {
			best = min(best, all[i].cost)
		}
	}
	switch {
	case clean && len(aside) > 0:
		t.Errorf("seed %d: %v are told as impossible, and some choice meets everything", seed, aside)
	case !f.proven:
		t.Errorf("seed %d: not proven after %d of work", seed, f.work)
	case (f.best != nil) != !math.IsInf(best, 1):
		t.Errorf("seed %d: found %v, the cheapest is %g", seed, f.best, best)
	case f.best == nil:
		return
	case math.Abs(f.cost-best) > 1e-9*best || math.Abs(f.bound-best) > 1e-9*best:
		t.Errorf("seed %d: %v at %g, bound %g, the cheapest is %g", seed, f.best, f.cost, f.bound, best)
	}
	whole := seed%29 == 0
	if whole {
		wholeOne(t, seed, report, a, all, f, aside)
	}
	tally.Lock()
	defer tally.Unlock()
	tally.layouts++
	tally.choices += len(all)
	count := func(n *int, is bool) {
		if is {
			*n++
		}
	}
	count(&tally.impossible, len(aside) > 0)
	count(&tally.lost, a.LoseOne)
	count(&tally.priced, a.ByPrice)
	count(&tally.whole, whole)
	count(&tally.bargains, slices.ContainsFunc(d.runs, func(r Run) bool {
		return !slices.IsSortedFunc(r.Sizes, func(x, y Size) int { return cmp.Compare(x.Cost, y.Cost) })
	}))
}

// wholeOne holds Choose itself against the same.
func wholeOne(t *testing.T, seed int, report *rules.Report, a Ask, all []tried, f found, aside map[string]bool) {
	c, err := Choose(context.Background(), report, a)
	if err != nil {
		t.Fatal(err)
	}
	h := &c.Heads[0]
	if !h.Found || h.Cost != f.cost || !h.Proven || h.Bound != f.bound || !maps.Equal(keysOf(h.Impossible), aside) {
		t.Errorf("seed %d: the search has %v at %g, Choose %v at %g", seed, f.best, f.cost, h.Found, h.Cost)
	}
	for i := range h.Runs {
		if h.Runs[i].Size != f.best[i] || h.Runs[i].Thinner != (f.best[i] > 0) {
			t.Fatalf("seed %d: run %d has size %d, found %v", seed, i, h.Runs[i].Size, f.best)
		}
		if f.best[i] == 0 {
			continue
		}
		one := slices.Clone(f.best)
		one[i]--
		n := slices.IndexFunc(all, func(x tried) bool { return slices.Equal(x.choice, one) })
		want := maps.Clone(all[n].breaks)
		maps.DeleteFunc(want, func(k string, _ bool) bool { return aside[k] })
		if b := h.Runs[i].Breaks; len(want) == 0 && len(b) == 1 && b[0].Limit == "as-near-as-any" && len(aside) > 0 {
			continue // nothing else, but farther from what nothing meets
		}
		for k := range keysOf(h.Runs[i].Breaks) {
			if !want[k] {
				t.Errorf("seed %d: one size thinner in %s is said to break %s", seed, h.Runs[i].Name, k)
			}
		}
		if (len(h.Runs[i].Breaks) == 0) != (len(want) == 0) {
			t.Errorf("seed %d: one size thinner in %s breaks %v, told are %d", seed, h.Runs[i].Name, want, len(h.Runs[i].Breaks))
		}
	}
}

// TestSetAsideHidesNothing: where shorts of a track are too weak with every size, a wire that gets hot on the same way is still told, and a
// thicker one chosen. Both are one mistake to a check, which tells the graver.
func TestSetAsideHidesNothing(t *testing.T) {
	const text = `gapwise: 1
layout: Weak
scale: HO
defaults: {track: {rail: code 83 nickel silver}, feeder: {wire: 20 AWG}}
trains: {t: {length: 3 ft, current: 1.4 A}}
supplies: {wall: {volts: 19 V, listed: yes}}
boosters: {front: {supply: wall, volts: 12 V, inside: unknown, rating: 8 A, trips-at: 8 A, trip-time: 5 ms, isolated: yes, signal: command, signal-wired: straight}}
stock: {bus: [18 AWG, 16 AWG, 14 AWG], feeder: [22 AWG, 20 AWG, 18 AWG]}
tracks: {N: {from: end, to: end, length: 9 ft}}
buses: {main: {from: booster front, wire: 16 AWG, laid: twisted, length: 7 ft}}
feeders: {N: {A: left, 1 ft: {from: main @ 5 ft, length: 27 in}}}
`
	c, err := Choose(context.Background(), readText(t, text), Ask{})
	if err != nil {
		t.Fatal(err)
	}
	h := &c.Heads[0]
	if !keysOf(h.Impossible)["short-too-weak-to-trip booster front"] || !h.Found {
		t.Fatalf("found %v, impossible %+v", h.Found, h.Impossible)
	}
	feeder := &h.Runs[1]
	if feeder.Wire().Gauge != 20 || !slices.ContainsFunc(feeder.Breaks, func(s Shortfall) bool { return s.Limit == "wire-hot-before-trip" }) {
		t.Errorf("%s chosen, thinner breaks %+v", feeder.Wire(), feeder.Breaks)
	}
}

// TestImpossibleMarginIsTold: a margin that no size gives is told as such, and so is a limit of the whole drop.
func TestImpossibleMarginIsTold(t *testing.T) {
	r := rand.New(rand.NewPCG(0, 9))
	c, err := Choose(context.Background(), readText(t, smallLayout(r)), Ask{Margin: 40})
	if err != nil {
		t.Fatal(err)
	}
	h := &c.Heads[0]
	if !h.Found || !keysOf(h.Impossible)["short-margin booster front"] {
		t.Errorf("found %v, impossible %+v", h.Found, h.Impossible)
	}
}
