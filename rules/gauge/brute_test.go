package gauge

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/districts/power"
	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var full = flag.Bool("full", false, "try many more layouts")

// small writes a small layout: one to three buses behind a booster, a ring, a track with a siding or a plain one on each.
type small struct {
	r                        *rand.Rand
	tracks, gaps, turnouts   []string
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
		n := 3 + r.IntN(most-2)
		cheap := r.IntN(n) // a thick one may be a bargain
		bargain := r.IntN(2) == 0
		for i := range n {
			price := float64(10*(i+1)) * (0.8 + 0.4*r.Float64())
			if bargain && i == cheap {
				price /= 6
			}
			sizes = append(sizes, fmt.Sprintf("{wire: %s, price: %.2f, per: 100 ft}", wires[from+i], price))
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

// tried is one choice of all there are.
type tried struct {
	cost float64
	keys map[string]bool // what it does not meet
	text string
}

// everyChoice holds every choice of a source's sizes against every demand, nothing set aside.
func everyChoice(t testing.TB, r *rules.Report, h *power.Head, a *Ask, most int) []tried {
	t.Helper()
	ctx := context.Background()
	c := &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power, Shared: &rule.Verdicts{}}
	runs, _ := runsOf(c, h, a)
	n := 1
	var sizes []int
	for i := range runs {
		sizes = append(sizes, len(runs[i].Sizes))
		n *= len(runs[i].Sizes)
	}
	if n > most {
		return nil
	}
	d, err := newDemands(ctx, newBar(c, h, a), runs)
	if err != nil {
		t.Fatal(err)
	}
	var out []tried
	each(sizes, func(choice []int) {
		short, err := d.shortfalls(ctx, with(r.Layout, runs, choice), false)
		if err != nil {
			t.Fatal(err)
		}
		x := tried{keys: map[string]bool{}, text: fmt.Sprint(choice)}
		for i := range runs {
			x.cost += runs[i].Sizes[choice[i]].Cost
		}
		for i := range short {
			x.keys[short[i].key()] = true
		}
		out = append(out, x)
	})
	return out
}

type searchedHead struct {
	*Head
	short []finding.Finding
}

func searched(t testing.TB, r *rules.Report, a *Ask) *searchedHead {
	t.Helper()
	ctx := context.Background()
	c := &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power, Shared: &rule.Verdicts{}}
	h := r.Power.Heads[0]
	own := *a
	own.Work = DefaultWork(conductors(h))
	runs, _ := runsOf(c, h, &own)
	d, err := newDemands(ctx, newBar(c, h, &own), runs)
	if err != nil {
		t.Fatal(err)
	}
	x := &searchedHead{Head: &Head{}}
	f, err := d.search(ctx, x.Head, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	x.Found, x.Proven, x.Cost, x.Bound, x.Work = f.best != nil, f.proven, f.cost, f.bound, f.work
	if x.Found {
		q := checked(t, with(r.Layout, runs, f.best))
		for _, f := range q.Findings {
			if slices.Contains(judging, f.Rule) && f.Severity > 0 {
				x.short = append(x.short, f)
			}
		}
	}
	return x
}

func TestX(t *testing.T) {
	n, imp := 0, 0
	var brute, choose time.Duration
	for seed := range 250 {
		rnd := rand.New(rand.NewPCG(uint64(seed), 9))
		text := smallLayout(rnd)
		r := readText(t, text)
		a := Ask{ByPrice: rnd.IntN(2) == 0, Margin: pick(rnd, 0, DefaultMargin), LoseOne: rnd.IntN(4) == 0}
		switch rnd.IntN(3) {
		case 0:
			a.WireDrop = DefaultWireDrop
		case 1:
			a.WireDrop, a.Relative = 0.02+0.08*rnd.Float64(), true
		}
		if !r.Power.Heads[0].Known() {
			continue
		}
		t0 := time.Now()
		all := everyChoice(t, r, r.Power.Heads[0], &a, 300)
		if all == nil {
			continue
		}
		brute += time.Since(t0)
		t0 = time.Now()
		h := searched(t, r, &a)
		choose += time.Since(t0)
		n++
		waived := map[string]bool{}
		for i := range h.Impossible {
			waived[h.Impossible[i].key()] = true
		}
		if len(waived) > 0 {
			imp++
		}
		best, clean := math.Inf(1), 0
		for _, x := range all {
			if len(x.keys) == 0 {
				clean++
			}
			ok := true
			for k := range x.keys {
				ok = ok && waived[k]
			}
			if ok {
				best = min(best, x.cost)
			}
		}
		if !h.Proven || h.Found != !math.IsInf(best, 1) || h.Found && math.Abs(h.Cost-best) > 1e-9*best || clean > 0 && len(waived) > 0 {
			fmt.Println("seed", seed, a, "found", h.Found, "proven", h.Proven, h.Cost, "best", best, "clean", clean, "of", len(all), "imp", len(waived), waived)
			fmt.Println("    thickest breaks", all[len(all)-1].keys)
		}
		for k := range waived {
			for _, x := range all {
				ok := !x.keys[k]
				for o := range x.keys {
					ok = ok && waived[o]
				}
				if ok {
					fmt.Println("seed", seed, a, "needlessly waived", k, "met by", x.text, x.keys, "top", all[len(all)-1].keys)
					break
				}
			}
		}
		if h.Found {
			for i := range h.short {
				if f := &h.short[i]; len(f.Also) > 0 {
					fmt.Println("seed", seed, a, "masked", f.Rule, f.Severity, f.Place.Text, f.Also)
				}
			}
		}
	}
	fmt.Println(n, "layouts", imp, "with impossible", brute, choose)
}
