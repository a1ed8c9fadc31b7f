package districts_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// The check here is brute force: trains of every length up to the longest are stepped along every route, wheel by
// wheel, in every setting and every state of the reversers. It knows the conductors, and nothing of
// how package districts judges them.

const (
	step  = 5  // millimetres that a train moves at a time
	apart = 10 // millimetres between two wheels
)

// stepper steps trains.
type stepper struct {
	c      *circuit.Circuit
	never  [][2][2]int32 // pairs of device and position
	longMM int
	at     [][]int32 // ways by spot
	faulty map[string][]int32
	judged map[string]bool
}

// bridged is a way that parts rails, and how far it lies along a route.
type bridged struct {
	way int32
	mm  int
}

// run gives the faulty runs of gaps, each as its ways in walking order, of which no shorter run is one.
func (s *stepper) run() [][]int32 {
	s.at = make([][]int32, len(s.c.Spots))
	for i, w := range s.c.Ways {
		s.at[w.A] = append(s.at[w.A], int32(i))
		if w.B != w.A {
			s.at[w.B] = append(s.at[w.B], int32(i))
		}
	}
	s.faulty, s.judged = map[string][]int32{}, map[string]bool{}
	for i, w := range s.c.Ways {
		s.extend([]int32{int32(i)}, w.A, w.B)
		s.extend([]int32{int32(i)}, w.B, w.A)
	}
	var out [][]int32
	for _, run := range s.faulty {
		inner := false
		for _, o := range s.faulty {
			inner = inner || (len(o) < len(run) && contains(run, o))
		}
		if !inner {
			out = append(out, run)
		}
	}
	return out
}

// contains reports whether a run holds another, walked either way.
func contains(run, o []int32) bool {
	back := slices.Clone(o)
	slices.Reverse(back)
	for i := 0; i+len(o) <= len(run); i++ {
		if slices.Equal(run[i:i+len(o)], o) || slices.Equal(run[i:i+len(o)], back) {
			return true
		}
	}
	return false
}

// extend stretches a route until it is longer than a train can be, and steps trains along it.
func (s *stepper) extend(route []int32, first, to int32) {
	total := 0
	for _, k := range route {
		total += mm(s.c.Ways[k].Length)
	}
	last := &s.c.Ways[route[len(route)-1]]
	on := false
	if total-mm(s.c.Ways[route[0]].Length)-mm(last.Length) <= s.longMM {
		for _, k := range s.at[to] {
			w := &s.c.Ways[k]
			if slices.Contains(route, k) || (w.Kind == circuit.WayThrough && last.Kind == circuit.WayThrough) || s.entered(route, w) {
				continue
			}
			on = true
			s.extend(append(slices.Clip(route), k), first, w.A+w.B-to)
		}
	}
	if !on {
		s.trains(route, first)
	}
}

// entered reports whether a route has come through a piece of track work before.
func (s *stepper) entered(route []int32, w *circuit.Way) bool {
	return w.Kind == circuit.WayThrough && slices.ContainsFunc(route, func(k int32) bool { return s.c.Ways[k].Kind == circuit.WayThrough && s.c.Ways[k].Piece == w.Piece })
}

func mm(metres float64) int { return int(metres*1000 + 0.5) }

// trains steps trains of all lengths along a route.
func (s *stepper) trains(route []int32, from int32) {
	var gaps []bridged
	at := 0
	for _, k := range route {
		w := &s.c.Ways[k]
		if w.Metal[0] != circuit.Joined || w.Metal[1] != circuit.Joined {
			gaps = append(gaps, bridged{k, at + mm(w.Length)/2})
		}
		at += mm(w.Length)
	}
	stood := map[[2]int]bool{} // first and last gap under the wheels
	for wheels := 1; (wheels-1)*apart < s.longMM; wheels++ {
		for tail := 0; tail+(wheels-1)*apart <= at; tail += step {
			on := [2]int{-1, -1}
			for i, g := range gaps {
				if d := g.mm - tail; d >= 0 && d <= (wheels-1)*apart && d%apart == 0 {
					if on[0] < 0 {
						on[0] = i
					}
					on[1] = i
				}
			}
			if on[0] < 0 || stood[on] {
				continue
			}
			stood[on] = true
			var under []int32
			for _, g := range gaps[on[0] : on[1]+1] {
				under = append(under, g.way)
			}
			s.stand(route, from, under)
		}
	}
}

// stand judges a train whose wheels are on some gaps of a route.
func (s *stepper) stand(route []int32, from int32, under []int32) {
	i, j := slices.Index(route, under[0]), slices.Index(route, under[len(under)-1])
	key := fmt.Sprint(route[i : j+1])
	if s.judged[key] {
		return
	}
	s.judged[key] = true
	ends := [2]int32{from, from}
	for n, k := range route[:j+1] {
		w := &s.c.Ways[k]
		ends[1] = w.A + w.B - ends[1]
		if n < i {
			ends[0] = ends[1]
		}
	}
	held := map[int32]int16{}
	for _, k := range route[i : j+1] {
		if w := &s.c.Ways[k]; w.Device >= 0 {
			held[w.Device] = w.Position
		}
	}
	if !s.canBe(held) {
		return
	}
	both, clash := maps.Clone(held), false
	var sets []map[int32]int16
	for n, by := range [2]int32{under[0], under[len(under)-1]} {
		leg := s.leg(ends[n], by)
		switch position, on := held[leg.device]; {
		case leg.device < 0:
			continue
		case on && position != leg.position && leg.mm < 305:
			return // the train would run into itself
		case on:
			continue
		}
		one := maps.Clone(held)
		one[leg.device] = leg.position
		if !s.canBe(one) {
			if leg.mm < 305 {
				return // it would run against the points
			}
			continue
		}
		sets = append(sets, one)
		if position, on := both[leg.device]; on && position != leg.position {
			clash = true
		}
		both[leg.device] = leg.position
	}
	if !clash && s.canBe(both) {
		sets = []map[int32]int16{both}
	}
	for _, o := range sets {
		if !s.shortInSome(0, map[int32]int16{}, o, under) {
			return
		}
	}
	s.faulty[key] = slices.Clone(under)
}

// canBe reports whether nothing that settings hold is ruled out.
func (s *stepper) canBe(set map[int32]int16) bool {
	for _, n := range s.never {
		x, okX := set[n[0][0]]
		y, okY := set[n[1][0]]
		if okX && okY && x == int16(n[0][1]) && y == int16(n[1][1]) {
			return false
		}
	}
	return true
}

// servedLeg is the leg of a turnout that lies before a place, with no full gap between.
type servedLeg struct {
	device   int32
	position int16
	mm       int
}

// leg follows the track from a spot to the next turnout; device is -1 where it comes to none, or to its points.
func (s *stepper) leg(spot, by int32) servedLeg {
	for out := 0; ; {
		next := int32(-1)
		for _, k := range s.at[spot] {
			w := &s.c.Ways[k]
			switch {
			case k == by:
			case w.Kind == circuit.WayThrough && s.c.Ways[by].Kind != circuit.WayThrough:
				if s.c.Spots[spot].End == layout.TurnoutPoints {
					return servedLeg{device: -1}
				}
				return servedLeg{w.Device, w.Position, out}
			case w.Kind != circuit.WayThrough && (w.Metal[0] != circuit.Open || w.Metal[1] != circuit.Open):
				next = k
			}
		}
		if next < 0 {
			return servedLeg{device: -1}
		}
		out += mm(s.c.Ways[next].Length)
		spot, by = s.c.Ways[next].A+s.c.Ways[next].B-spot, next
	}
}

// shortInSome tries every valid setting of the track work that agrees with what the train holds.
func (s *stepper) shortInSome(d int, set, held map[int32]int16, under []int32) bool {
	if d == len(s.c.Devices) {
		return s.canBe(set) && s.shorted(set, under) && !s.shorted(set, nil)
	}
	if s.c.Devices[d].Kind != circuit.PieceDevice {
		return s.shortInSome(d+1, set, held, under)
	}
	for p := range s.c.Devices[d].Rests() {
		if h, on := held[int32(d)]; on && h != int16(p) {
			continue
		}
		set[int32(d)] = int16(p)
		if s.shortInSome(d+1, set, held, under) {
			return true
		}
	}
	return false
}

// shorted reports whether every state of the free sources puts two volts on one piece of metal.
func (s *stepper) shorted(set map[int32]int16, under []int32) bool {
	net := make([]int, s.c.Nodes)
	for i := range net {
		net[i] = i
	}
	join := func(x, y int32) {
		from, to := net[x], net[y]
		for i := range net {
			if net[i] == from {
				net[i] = to
			}
		}
	}
	for i := range s.c.Conductors {
		k := &s.c.Conductors[i]
		if k.Kind == circuit.ReverserLeg {
			continue
		}
		if p, is := set[k.Device]; k.Device < 0 || (is && p == k.Position) {
			join(k.A, k.B)
		}
	}
	for _, u := range under {
		w := &s.c.Ways[u]
		for r := range int32(2) {
			across := r
			if w.Turned {
				across = 1 - r
			}
			join(s.c.Spots[w.A].Node[r], s.c.Spots[w.B].Node[across])
		}
	}
	var free []int
	for i := range s.c.Sources {
		if s.c.Sources[i].Kind == circuit.ReverserSource {
			free = append(free, i)
		}
	}
	for state := range 1 << len(free) {
		volts := map[int]int{}
		sound := true
		for i := range s.c.Sources {
			turned := 0
			if n := slices.Index(free, i); n >= 0 {
				turned = state >> n & 1
			}
			for leg := range 2 {
				at := net[s.c.Sources[i].Out[leg]]
				v := 1 + (leg+turned)%2
				sound = sound && (volts[at] == 0 || volts[at] == v)
				volts[at] = v
			}
		}
		if sound {
			return false
		}
	}
	return true
}

// stepperLayout is a small layout by chance: one of a few track plans, gaps where they fall.
type stepperLayout struct {
	tracks   []string
	lengths  []int
	ends     []string
	turnouts []string
	never    string
	gaps     []string
	feeders  []string
	train    int
}

func (p *stepperLayout) track(name, ends string, length int) {
	p.tracks, p.ends, p.lengths = append(p.tracks, name), append(p.ends, ends), append(p.lengths, length)
}

func (p *stepperLayout) text() string {
	var b strings.Builder
	b.WriteString(`gapwise: 1
layout: by chance
defaults:
  gap: {rails: both, kind: insulated}
  joint: {kind: soldered}
supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
reversers:
  east: {from: main @ 1 m, switching: automatic}
  west: {from: main @ 2 m, switching: automatic}
buses:
  main: {from: booster one, wire: 14 AWG, length: 90 m}
  east: {from: reverser east, wire: 14 AWG, length: 90 m}
  west: {from: reverser west, wire: 14 AWG, length: 90 m}
tracks:
`)
	for i, name := range p.tracks {
		fmt.Fprintf(&b, "  %s: {%s, length: %d mm}\n", name, p.ends[i], p.lengths[i])
	}
	b.WriteString(section("turnouts", p.turnouts) + section("gaps", p.gaps) + section("feeders", p.feeders))
	fmt.Fprintf(&b, "trains: {goods: {length: %d mm, wheels: metal}}\n", p.train)
	if p.never != "" {
		fmt.Fprintf(&b, "never-together: [%s]\n", p.never)
	}
	return b.String()
}

// drawStepperLayout draws a plan without feeders.
func drawStepperLayout(r *rand.Rand) *stepperLayout {
	p := &stepperLayout{train: 10*(20+r.IntN(70)) + step}
	long := func() int { return 10 * (30 + r.IntN(50)) }
	turnouts := func(names ...string) {
		for _, name := range names {
			hand := []string{"left", "right"}[r.IntN(2)]
			wiring := []string{"dead-frog, jumpers: yes", "dead-frog, jumpers: yes", "dead-frog, jumpers: no", "power-routing", "power-routing-gapped", "selective, jumpers: yes"}[r.IntN(6)]
			p.turnouts = append(p.turnouts, fmt.Sprintf("  %s: {hand: %s, length: 200 mm, wiring: %s}", name, hand, wiring))
		}
	}
	switch r.IntN(7) {
	case 0:
		p.track("M", "from: end, to: end", 3*long())
	case 1:
		p.track("M", "closed: yes", 2*long())
	case 2:
		p.track("M", "from: end, to: T1 points", long())
		p.track("L", "from: T1 straight, to: T1 curved", 2*long())
		turnouts("T1")
	case 3:
		p.track("M", "from: T1 points, to: T2 points", long())
		p.track("L", "from: T1 straight, to: T1 curved", 2*long())
		p.track("R", "from: T2 straight, to: T2 curved", 2*long())
		turnouts("T1", "T2")
	case 4:
		p.track("M", "from: T1 straight, to: T2 straight", long())
		p.track("S", "from: T1 curved, to: T2 curved", long())
		p.track("W", "from: end, to: T1 points", long())
		p.track("E", "from: T2 points, to: end", long())
		turnouts("T1", "T2")
		if r.IntN(2) == 0 {
			p.never = "{T1: straight, T2: straight}"
		}
	case 5:
		p.track("M", "from: T1 straight, to: T2 curved", long())
		p.track("N", "from: T2 straight, to: T3 curved", long())
		p.track("O", "from: T3 straight, to: T1 curved", long())
		p.track("W", "from: end, to: T1 points", long())
		p.track("E", "from: T2 points, to: end", long())
		turnouts("T1", "T2", "T3")
		p.track("S", "from: T3 points, to: end", long())
	default:
		p.track("M", "from: T1 straight, to: T2 straight", long())
		p.track("N", "from: T1 points, to: T2 points", long())
		p.track("X", "from: T1 curved, to: T2 curved", long())
		turnouts("T1", "T2")
		if r.IntN(3) == 0 {
			p.never = "{T1: curved, T2: straight}"
		}
	}
	for i, name := range p.tracks {
		at, list := 0, []string{}
		for {
			at += 10 * (3 + r.IntN(40))
			if at >= p.lengths[i] {
				break
			}
			list = append(list, fmt.Sprintf("%d mm", at))
		}
		if len(list) > 0 {
			p.gaps = append(p.gaps, fmt.Sprintf("  %s: [%s]", name, strings.Join(list, ", ")))
		}
	}
	return p
}

// feed hangs a feeder from most sections, its source and its sense by chance.
func (p *stepperLayout) feed(r *rand.Rand, tr *districts.Trace) {
	c := tr.C
	seen := map[int32]bool{}
	for _, w := range c.Ways {
		of := tr.Polarity.Sections.Of[w.A]
		if w.Kind != circuit.WayTrack || seen[of] {
			continue
		}
		seen[of] = true
		if r.IntN(5) == 0 {
			continue
		}
		bus := []string{"main", "main", "east", "west"}[r.IntN(4)]
		track := c.Layout.Pieces[w.Piece].Name
		at := mm((c.Spots[w.A].At+c.Spots[w.B].At)/2) + 1
		p.feeders = append(p.feeders, fmt.Sprintf("  %s: {%d mm: {from: %s @ %d m, A: %s}}", track, at, bus, 3+len(p.feeders), []string{"left", "left", "left", "right"}[r.IntN(4)]))
	}
	merged := map[string][]string{}
	var order []string
	for _, f := range p.feeders {
		name, rest, _ := strings.Cut(strings.TrimSuffix(f, "}"), ": {")
		if merged[name] == nil {
			order = append(order, name)
		}
		merged[name] = append(merged[name], rest)
	}
	p.feeders = nil
	for _, name := range order {
		p.feeders = append(p.feeders, name+": {"+strings.Join(merged[name], ", ")+"}")
	}
}

// otherwiseSound reports whether nothing is wrong with a layout but what trains join.
func otherwiseSound(tr *districts.Trace) bool {
	p := tr.Polarity
	return len(tr.Ties)+len(tr.Conflicts)+len(p.WrongFeeders)+len(p.WrongRails)+len(p.WrongSignals)+len(p.WrongPlugs) == 0 && !slices.Contains(tr.Cut, true)
}

// neverOf lists pairs of settings that may not hold at once.
func neverOf(c *circuit.Circuit) (out [][2][2]int32) {
	for _, n := range c.Layout.NeverTogether {
		var pair [2][2]int32
		for i := range 2 {
			d := c.PieceDevice[n.Pieces[i]]
			pair[i] = [2]int32{d, int32(slices.Index(c.Devices[d].Positions, n.Settings[i]))}
		}
		out = append(out, pair)
	}
	return out
}

// runName names a run of gaps the same from either end.
func runName(p *printer, run []int32) string {
	var words []string
	for _, w := range run {
		words = append(words, fmt.Sprintf("%s/%d", p.spot(p.tr.C.Ways[w].A), w))
	}
	if words[0] > words[len(words)-1] {
		slices.Reverse(words)
	}
	return words[0] + " .. " + words[len(words)-1]
}

// stepperNames are the runs of the stepper, by name.
func stepperNames(tr *districts.Trace) []string {
	p := &printer{tr: tr, l: tr.C.Layout}
	s := &stepper{c: tr.C, never: neverOf(tr.C), longMM: mm(tr.C.Layout.Trains[0].Length.Hi)}
	var out []string
	for _, run := range s.run() {
		if len(run) > 1 && slices.ContainsFunc(run, func(w int32) bool { return slices.Contains(tr.Polarity.WrongGaps, w) }) {
			continue
		}
		out = append(out, runName(p, run))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// straddleNames are the runs that the trace finds, by name.
func straddleNames(t *testing.T, tr *districts.Trace) []string {
	t.Helper()
	p := &printer{tr: tr, l: tr.C.Layout}
	found, err := tr.Straddles(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Stopped) > 0 || len(found.Open) > 0 {
		t.Errorf("stopped at %v, open %d", found.Stopped, len(found.Open))
	}
	var out []string
	for i := range found.List {
		out = append(out, runName(p, found.List[i].Places))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestStraddlesAgainstEveryTrain compares, on layouts drawn by chance, with trains stepped along every route.
func TestStraddlesAgainstEveryTrain(t *testing.T) {
	kinds := map[districts.StraddleKind]int{}
	judged, sound := 0, 0
	seeds := []uint64{960, 973, 1314, 2568} // legs and metal that only further settings bring, and ends that rule each other out
	for seed := range uint64(600) {
		seeds = append(seeds, seed)
	}
	for _, seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 7))
		p := drawStepperLayout(r)
		bare, err := traceText(p.text())
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, p.text())
		}
		p.feed(r, bare)
		tr, err := traceText(p.text())
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, p.text())
		}
		if !otherwiseSound(tr) {
			continue
		}
		judged++
		got, want := straddleNames(t, tr), stepperNames(tr)
		if !slices.Equal(got, want) {
			t.Fatalf("seed %d:\n got %v\nwant %v\n%s", seed, got, want, p.text())
		}
		if len(want) == 0 {
			sound++
		}
		found, _ := tr.Straddles(context.Background())
		for _, f := range found.List {
			kinds[f.Kind]++
		}
	}
	t.Logf("%d layouts judged, %d of them sound, %v", judged, sound, kinds)
	if judged < 250 || sound < 50 || kinds[districts.StraddleSection] < 20 || kinds[districts.StraddleChain] < 5 || kinds[districts.StraddleDead] < 20 {
		t.Errorf("only %d layouts, %d sound, %v", judged, sound, kinds)
	}
}
