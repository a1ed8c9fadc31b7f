package split

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"

	"gapwise/districts/partition"
	"gapwise/rules"
)

var full = flag.Bool("full", false, "divide more and larger layouts, which takes minutes")

// asks are the ways in which each layout is divided.
func asks() map[string]Ask {
	one := usual()
	one.Districts, one.With = 4, Boosters
	two := one
	two.With, two.Whole, two.Districts = Breakers, nil, 8
	two.Order = [3]partition.Term{partition.Trains, partition.Bus, partition.Cuts}
	three := usual()
	three.With = Boosters
	return map[string]Ask{"boosters": one, "breakers": two, "fewest": three}
}

// layouts are the demos and some made ones, checked.
func layouts(t *testing.T) map[string]*rules.Report {
	t.Helper()
	out := map[string]*rules.Report{}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "*", "*s*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if base := filepath.Base(f); strings.HasSuffix(base, "sound.yaml") || base == "unsplit.yaml" {
			out[f] = readFile(t, filepath.Join(filepath.Base(filepath.Dir(f)), base))
		}
	}
	sizes, seeds := []int{300, 900}, 3
	if *full {
		sizes, seeds = []int{300, 900, 3000, 9000}, 12
	}
	for _, size := range sizes {
		for seed := range seeds {
			out[fmt.Sprintf("made %d.%d", size, seed)] = read(t, made(size, uint64(seed)))
		}
	}
	return out
}

// made is a made layout with many trains alike, so that what a district draws grows with its blocks. Where the seed is odd, main tracks and
// their sidings have no gaps, and blocks no detectors.
func made(size int, seed uint64) string {
	text := string(generate.YAML(generate.Layout(size, seed)))
	from, to := strings.Index(text, "trains:"), strings.Index(text, "practice:")
	text = text[:from] + "trains:\n  goods: {length: 5 ft, current: 500 mA, at-once: 30, wheels: metal}\noperations: {at-once: 30, pickup: 2 in, wheels: metal}\n" + text[to:]
	if seed%2 == 0 {
		return text
	}
	var out strings.Builder
	section := ""
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, " ") {
			section = strings.TrimSpace(line)
		}
		if main := strings.HasPrefix(line, "  M") || strings.HasPrefix(line, "  S"); section == "gaps:" && main {
			continue
		}
		line = detector.ReplaceAllString(line, "}")
		out.WriteString(line)
	}
	return out.String()
}

var detector = regexp.MustCompile(`, detector: [A-Za-z0-9-]+}`)

// fits makes every rating at least what the largest piece needs.
func fits(r *rules.Report, ask Ask, times float64) Ask {
	w, err := newWholes(r.Layout, ask.Whole)
	if err != nil {
		return ask
	}
	x, err := newInstance(newAtoms(newGround(r.Layout, r.Trace), w), &ask)
	if err != nil {
		return ask
	}
	most := int64(0)
	for n := range x.nodes {
		load, _ := x.problem(nil, &ask).LoadOf([]int32{int32(n)})
		most = max(most, load)
	}
	ask.Ratings = []float64{times * (float64(most) + 1) / 1000 / (1 - ask.Margin)}
	return ask
}

// TestLaws divides demos and made layouts in several ways: districts are connected, disjoint and complete, within what they may draw, and
// the layout read again has exactly the cuts and taps that were asked for.
func TestLaws(t *testing.T) {
	found, written, districts, cuts := 0, 0, 0, 0
	reports := layouts(t)
	for _, name := range sortedKeys(reports) {
		r := reports[name]
		for _, how := range sortedKeys(asks()) {
			a, err := Split(context.Background(), r, fits(r, asks()[how], map[string]float64{"boosters": 2, "breakers": 1.5, "fewest": 1}[how]))
			if err != nil {
				t.Logf("%s, %s: %v", name, how, err)
				continue
			}
			if a.Feasible != partition.Found {
				if len(a.Why) == 0 {
					t.Errorf("%s, %s: nothing found, and not said why", name, how)
				}
				continue
			}
			found, districts, cuts = found+1, districts+len(a.Districts), cuts+len(a.Cuts)
			for _, x := range a.plan.apart() {
				t.Errorf("%s, %s: %s", name, how, x)
			}
			if len(a.Refused) > 0 {
				t.Logf("%s, %s: %v", name, how, a.Refused)
				continue
			}
			written++
			for _, x := range asWritten(a) {
				t.Errorf("%s, %s: %s", name, how, x)
			}
		}
	}
	t.Logf("%d divisions into %d districts with %d new cuts, %d written", found, districts, cuts, written)
	if found < 25 || written < 20 || cuts < 10 {
		t.Errorf("only %d divisions, %d written", found, written)
	}
}

func sortedKeys[V any](m map[string]V) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.SortFunc(out, cmp.Compare[string])
	return out
}

// apart walks the track of each district by itself: along ways, over gaps, but not over a new cut; what cannot be reached, is reached
// twice, or is left out is told.
func (p *plan) apart() []string {
	var wrong []string
	g := p.g
	seen := make([]int, g.points)
	next := make([][]int32, g.points)
	step := func(a, b int32) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	for i := range g.c.Ways {
		if w := &g.c.Ways[i]; w.Kind != circuit.WayTrack {
			step(w.A, w.B)
		}
	}
	for t := range g.spanAt { // stretches of one length of track, one behind the other
		for n, i := range g.spanAt[t] {
			s := &g.spans[i]
			if n > 0 && g.spans[g.spanAt[t][n-1]].way == s.way {
				step(g.spans[g.spanAt[t][n-1]].point, s.point)
			}
			if w := &g.c.Ways[s.way]; s.to-s.from > w.Length-1e-9 {
				step(w.A, w.B)
			}
		}
	}
	wired := p.wired()
	for d := range p.out.Districts {
		var queue []int32
		metres := 0.0
		for q := range g.points {
			if p.x.atoms.of[q] == p.out.Districts[d].atoms[0] {
				queue = append(queue, int32(q))
				seen[q]++
			}
		}
		for len(queue) > 0 {
			q := queue[0]
			queue = queue[1:]
			onward := next[q]
			if n := p.x.atoms.of[q]; wired[n] != nil { // a wire or device holds the piece together, not track
				onward = append(slices.Clip(onward), wired[n]...)
			}
			for _, r := range onward {
				if seen[r] == 0 && p.districtOfPoint(r) == int32(d) {
					seen[r]++
					queue = append(queue, r)
				}
			}
		}
		for i := range g.spans {
			if s := &g.spans[i]; p.districtOfPoint(s.point) == int32(d) {
				metres += s.to - s.from
			}
		}
		if metres > p.out.Districts[d].Metres+1e-6 {
			wrong = append(wrong, fmt.Sprintf("district %s has %.3f m of track, not %.3f", p.out.Districts[d].Name, metres, p.out.Districts[d].Metres))
		}
	}
	for q := range g.points {
		inside := p.x.atoms.of[q] >= 0
		if inside != (p.districtOfPoint(int32(q)) >= 0) {
			wrong = append(wrong, fmt.Sprintf("point %d is divided %t", q, inside))
		}
		if inside && seen[q] == 0 {
			wrong = append(wrong, fmt.Sprintf("point %d cannot be reached in district %s", q, p.out.Districts[p.districtOfPoint(int32(q))].Name))
		}
	}
	load := p.x.problem(nil, &p.out.Ask)
	for d := range p.out.Districts {
		x := &p.out.Districts[d]
		if got, _ := load.LoadOf(x.atoms); got != x.Load || got > x.May {
			wrong = append(wrong, fmt.Sprintf("district %s draws %d, told %d of %d", x.Name, got, x.Load, x.May))
		}
	}
	return wrong
}

// wired gives the points of pieces that consist of parts which no rail joins.
func (p *plan) wired() map[int32][]int32 {
	u := p.g.metal(func(int32) bool { return true })
	points := map[int32][]int32{}
	for q, n := range p.x.atoms.of {
		points[n] = append(points[n], int32(q))
	}
	for n, list := range points {
		if !slices.ContainsFunc(list, func(q int32) bool { return u.of(q) != u.of(list[0]) }) {
			delete(points, n)
		}
	}
	return points
}

// asWritten compares the layout read again with what was asked for.
func asWritten(a *Answer) []string {
	var wrong []string
	p := a.plan
	now := a.After.Layout
	if len(now.Gaps) != len(p.l.Gaps)+len(a.Cuts) {
		wrong = append(wrong, fmt.Sprintf("%d gaps, %d before, %d cuts", len(now.Gaps), len(p.l.Gaps), len(a.Cuts)))
	}
	for _, c := range a.Cuts {
		cut := map[layout.RailSet]bool{} // a gap that is there in one rail leaves the other to be cut
		for i := range now.Gaps {
			g := &now.Gaps[i]
			if now.Pieces[g.Place.Piece].Name == p.l.Tracks[c.Track].Name && g.Kind == layout.Insulated && g.Place.At.Mid()-c.At < 1e-4 && c.At-g.Place.At.Mid() < 1e-4 {
				cut[g.Rails] = true
			}
		}
		if !cut[layout.BothRails] && (!cut[layout.LeftRail] || !cut[layout.RightRail]) {
			wrong = append(wrong, "no gap at "+c.Text)
		}
	}
	if len(now.Feeders) != len(p.l.Feeders)+len(a.Feeders) {
		wrong = append(wrong, fmt.Sprintf("%d feeders, %d before, %d new", len(now.Feeders), len(p.l.Feeders), len(a.Feeders)))
	}
	// Every feeder hangs, by the circuit of the new layout, from the device of the district that its track is in.
	t := a.After.Trace
	for f := range now.Feeders {
		spot, source := t.Feeds[f].Spot, t.Feeds[f].Source()
		if spot < 0 || source < 0 {
			continue
		}
		piece := &now.Pieces[t.C.Spots[spot].Piece]
		d := int32(-1)
		for i := range p.l.Pieces {
			if p.l.Pieces[i].Name != piece.Name {
				continue
			}
			place := layout.Place{Piece: layout.PieceID(i), End: t.C.Spots[spot].End}
			place.At.Value = now.Feeders[f].Place.At.Value
			if piece.Kind == layout.TrackPiece {
				place.End = now.Feeders[f].Place.End
			}
			if q, ok := p.g.pointAt(place); ok {
				d = p.districtOfPoint(q)
			}
		}
		if d < 0 {
			continue
		}
		up := source
		for up >= 0 && t.C.Sources[up].Name != a.Districts[d].Device.Name {
			up = t.C.Sources[up].Parent
		}
		if up < 0 && t.C.Sources[source].Kind != circuit.ChangeoverSource {
			wrong = append(wrong, fmt.Sprintf("feeder %s of district %s hangs from %s", now.Feeders[f].Place.Text, a.Districts[d].Name, t.C.Sources[source].Name))
		}
	}
	return wrong
}

// TestSameBytes divides twice and compares all that is told.
func TestSameBytes(t *testing.T) {
	r := readFile(t, "tin-harbour/sound.yaml")
	ask := fits(r, asks()["fewest"], 1)
	tell := func() string {
		a := divide(t, r, ask)
		text, err := a.plan.w.Texts()
		if err != nil {
			t.Fatal(err)
		}
		b := *a
		b.plan, b.After, b.Layout = nil, nil, nil
		return fmt.Sprintf("%+v %s", b, text)
	}
	first := tell()
	for range 4 {
		if again := tell(); again != first {
			t.Fatal("not the same twice")
		}
	}
}

// TestBruteForce compares divisions of small layouts with the best of all that there are.
func TestBruteForce(t *testing.T) {
	cases := 0
	for _, size := range []int{60, 120, 200} {
		for seed := range uint64(4) {
			r := read(t, made(size, seed))
			ask := usual()
			ask.Districts, ask.With = 3, Boosters
			ask = fits(r, ask, 1+float64(seed)/3)
			if brute(t, fmt.Sprintf("%d.%d", size, seed), r, ask) {
				cases++
			}
		}
	}
	for i, rating := range []float64{2, 3, 4.5, 6} {
		ask := usual()
		ask.Districts, ask.Ratings = 3, []float64{rating}
		ask.Order = [][3]partition.Term{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {1, 0, 2}}[i]
		for _, r := range []*rules.Report{read(t, small), readFile(t, "larch-fell/unsplit.yaml")} {
			if brute(t, fmt.Sprint(r.Layout.Name, " ", rating), r, ask) {
				cases++
			}
		}
	}
	if cases < 12 {
		t.Errorf("only %d cases", cases)
	}
}

// brute tries every division into three districts, and, where there is none, into fewer.
func brute(t *testing.T, name string, r *rules.Report, ask Ask) bool {
	t.Helper()
	a, err := Split(context.Background(), r, ask)
	if err != nil {
		t.Log(name, err)
		return false
	}
	w, err := newWholes(r.Layout, ask.Whole)
	if err != nil {
		t.Fatal(err)
	}
	x, err := newInstance(newAtoms(newGround(r.Layout, r.Trace), w), &ask)
	if err != nil || len(x.nodes) > 8 {
		return false
	}
	amps := make([]float64, ask.Districts)
	for i := range amps {
		amps[i] = nth(ask.Ratings, i)
	}
	p := x.problem(amps, &ask)
	best := bestOf(p, ask.Districts)
	if best == nil {
		best = bestOf(p, 0)
	}
	switch {
	case best == nil && a.Feasible != partition.Impossible:
		t.Errorf("%s: there is none, but %d", name, a.Feasible)
	case best != nil && a.Feasible != partition.Found:
		t.Errorf("%s: %v is one, but %d: %v", name, *best, a.Feasible, a.Why)
	case best != nil:
		for k, term := range a.Terms {
			if term.Value != best[k] || !term.Proven {
				t.Errorf("%s: %s is %d (proved %t), the best is %d", name, term.Term, term.Value, term.Proven, best[k])
			}
		}
	}
	return true
}

// bestOf tries every division that uses at least so many districts; nil when there is none.
func bestOf(p *partition.Problem, least int) *[3]int64 {
	p.Least = least
	part := make([]int32, len(p.Nodes))
	var best *[3]int64
	for {
		if v, err := p.Evaluate(part); err == nil && (best == nil || slices.Compare(v[:], best[:]) < 0) {
			best = &v
		}
		i := 0
		for ; i < len(part); i++ {
			if part[i]++; int(part[i]) < len(p.Parts) {
				break
			}
			part[i] = 0
		}
		if i == len(part) {
			return best
		}
	}
}
