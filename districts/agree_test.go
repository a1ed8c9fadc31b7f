package districts_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"pgregory.net/rapid"
)

// causes counts everything a trace blames.
func causes(tr *districts.Trace) int {
	p := tr.Polarity
	return len(tr.Ties) + len(tr.WireTies) + len(tr.BondTies) + len(tr.Conflicts) +
		len(p.WrongFeeders) + len(p.WrongGaps) + len(p.WrongRails) + len(p.WrongSignals)
}

// blamed says in words what a trace blames.
func blamed(tr *districts.Trace) string {
	p := tr.Polarity
	return fmt.Sprintf("ties %+v, feeders %v, gaps %v, rails %v, signals %v, shorts %+v", tr.Ties, p.WrongFeeders, p.WrongGaps, p.WrongRails, p.WrongSignals, tr.Conflicts)
}

// TestTraceAgainstOracle compares with the brute force of oracle_test.go, which shares no
// code with what it judges. What a single wheel or metal shorts must be blamed; what is
// right even with a train on every one-rail gap must not be. Between the two lie plans
// where only several one-rail gaps bridged at once join what should be apart: there either
// answer is allowed, and they are counted.
func TestTraceAgainstOracle(t *testing.T) {
	count := map[string]int{}
	checkOften(t, func(t *rapid.T) {
		p := drawPlan(t)
		tr, err := traceText(p.yaml())
		if err != nil {
			t.Fatalf("%v\n%s", err, p.yaml())
		}
		if len(tr.Staggered) > 0 {
			t.Fatalf("a plan keeps cuts of one rail a foot apart\n%s", p.yaml())
		}
		strict, wide := p.judge(false), p.judge(true)
		found := causes(tr) > 0
		switch {
		case !strict.clean() && wide.clean():
			t.Fatalf("the oracle is at odds with itself: %+v, bridged %+v\n%s", strict, wide, p.yaml())
		case !strict.clean() && !found:
			t.Fatalf("nothing is blamed, but the oracle finds %+v\n%s", strict, p.yaml())
		case wide.clean() && found:
			t.Fatalf("the oracle finds nothing, blamed are: %s\n%s", blamed(tr), p.yaml())
		}
		count[kind(strict, wide)]++
	})
	t.Logf("%v", count)
	for _, k := range []string{"clean", "short", "tie", "clash"} {
		if count[k] < 10 {
			t.Errorf("only %d plans with %s: %v", count[k], k, count)
		}
	}
}

// kind names the worst that is wrong with a plan.
func kind(strict, wide verdict) string {
	switch {
	case wide.clean():
		return "clean"
	case strict.clean():
		return "between"
	case strict.short && strict.tie:
		return "short and tie"
	case strict.short:
		return "short"
	case strict.tie:
		return "tie"
	case strict.clash:
		return "clash"
	default:
		return "ring without feeder"
	}
}

// TestCausesExplain puts right what a trace blames, one thing at a time taken from its
// lists, and asks the oracle again: nothing may be left. Blamed feeders are taken off or
// turned round, boosters' signals are turned round, rail is cut, and at gaps that need a
// reverser no wheel is asked for.
func TestCausesExplain(t *testing.T) {
	repaired := 0
	checkOften(t, func(t *rapid.T) {
		p := drawPlan(t)
		tr, err := traceText(p.yaml())
		if err != nil {
			t.Fatalf("%v\n%s", err, p.yaml())
		}
		if len(tr.Staggered) > 0 {
			t.Fatalf("a plan keeps cuts of one rail a foot apart\n%s", p.yaml())
		}
		if causes(tr) == 0 {
			return
		}
		if len(tr.Conflicts) > 0 {
			t.Fatalf("dead frogs without settings leave a short that ties and polarity do not explain: %+v\n%s", tr.Conflicts, p.yaml())
		}
		after, ok := p.repaired(tr)
		if !ok {
			t.Fatalf("track work itself is blamed, where a joint beside it would do: %s\n%s", blamed(tr), p.yaml())
		}
		repaired++
		if v := after.judge(true); !v.clean() {
			t.Fatalf("with everything blamed put right there is still %+v\nblamed: %s\n%s\nafter:\n%s", v, blamed(tr), p.yaml(), after.yaml())
		}
	})
	t.Logf("%d plans repaired", repaired)
	if repaired < 150 {
		t.Errorf("only %d plans were repaired", repaired)
	}
}

// repaired is a plan with what a trace blames put right; not ok when track work itself
// would have to be cut.
func (p *plan) repaired(tr *districts.Trace) (*plan, bool) {
	after := *p
	after.gaps = slices.Clone(p.gaps)
	after.signal = slices.Clone(p.signal)
	after.feeders = nil
	off := map[int32]bool{}
	var open []int32
	for _, tie := range tr.Ties {
		if tie.Feeder >= 0 {
			off[tie.Feeder] = true
		} else {
			open = append(open, tie.Cut)
		}
	}
	for i := range tr.Feeds {
		if off[int32(i)] {
			continue
		}
		f := p.feeders[after.feederNamed(tr.C.Layout.Feeders[i].Name)]
		f.aRight = f.aRight != slices.Contains(tr.Polarity.WrongFeeders, int32(i))
		after.feeders = append(after.feeders, f)
	}
	for _, b := range tr.Polarity.WrongSignals {
		after.signal[b] = map[string]string{"straight": "crossed", "crossed": "straight"}[after.signal[b]]
	}
	for _, w := range slices.Concat(open, tr.Polarity.WrongGaps, tr.Polarity.WrongRails) {
		g, ok := p.gapAt(tr, w)
		if !ok {
			return nil, false
		}
		i := slices.IndexFunc(after.gaps, func(o planGap) bool { return after.samePlace(g, o) })
		if i < 0 {
			i = len(after.gaps)
			after.gaps = append(after.gaps, g)
		}
		after.gaps[i].left, after.gaps[i].right, after.gaps[i].excused = true, true, true
	}
	return &after, true
}

func (p *plan) feederNamed(name string) int {
	n := 0
	if _, err := fmt.Sscanf(name, "f%d", &n); err != nil {
		panic(err)
	}
	return n
}

func (p *plan) samePlace(a, b planGap) bool {
	if a.foot < 0 || b.foot < 0 {
		return a.foot < 0 && b.foot < 0 && p.sameJoint(a.at, b.at)
	}
	return a.track == b.track && math.Abs(a.foot-b.foot) < 1e-6
}

// gapAt is a gap where a way lies: in the middle of a length of track, at the joint or at the
// gap. Not ok inside a turnout.
func (p *plan) gapAt(tr *districts.Trace, way int32) (planGap, bool) {
	w := &tr.C.Ways[way]
	if w.Kind == circuit.WayThrough {
		return planGap{}, false
	}
	var ends []planEnd
	track, feet := -1, []float64{}
	for _, s := range []int32{w.A, w.B} {
		spot := &tr.C.Spots[s]
		piece := tr.C.Layout.Pieces[spot.Piece]
		n := 0
		if _, err := fmt.Sscanf(piece.Name[1:], "%d", &n); err != nil {
			panic(err)
		}
		if piece.Kind == layout.TrackPiece {
			track, feet = n, append(feet, spot.At/0.3048)
		}
		if end := slices.Index(tr.C.EndSpot[spot.Piece], s); end >= 0 {
			ends = append(ends, planEnd{piece.Kind != layout.TrackPiece, n, end})
		}
	}
	switch {
	case w.Kind == circuit.WayTrack:
		return planGap{track: track, foot: (feet[0] + feet[1]) / 2}, true
	case len(feet) == 2 && p.tracks[track].closed && len(ends) == 2:
		return planGap{track: track, foot: 0}, true
	case len(ends) == 2 || (len(ends) == 1 && ends[0].turnout):
		return planGap{foot: -1, at: ends[0]}, true
	default:
		return planGap{track: track, foot: feet[0]}, true
	}
}

const rounds = 30

func checkOften(t *testing.T, law func(t *rapid.T)) {
	t.Helper()
	for range rounds {
		rapid.Check(t, law)
	}
}
