package generate_test

import (
	"context"
	"math"
	"reflect"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
)

func circuitOf(t testing.TB, l *layout.Layout) *circuit.Circuit {
	t.Helper()
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestSize builds the circuit of each size and compares its conductors with what was
// asked for.
func TestSize(t *testing.T) {
	for _, size := range []struct {
		conductors int
		within     float64 // share by which the count may differ
	}{{1000, 0.3}, {10_000, 0.06}, {100_000, 0.02}} {
		for seed := range uint64(3) {
			got := len(circuitOf(t, generate.Layout(size.conductors, seed)).Conductors)
			if share := math.Abs(float64(got)/float64(size.conductors) - 1); share > size.within {
				t.Errorf("asked for %d conductors with seed %d, got %d", size.conductors, seed, got)
			}
		}
	}
}

// TestLeast asks for less than one town has.
func TestLeast(t *testing.T) {
	for _, conductors := range []int{-1, 0, 1} {
		l := generate.Layout(conductors, 1)
		if len(l.Boosters) != 1 || len(l.Tracks) < 4 || len(l.Turnouts) < 2 {
			t.Errorf("asked for %d: %d boosters, %d tracks, %d turnouts; want one town", conductors, len(l.Boosters), len(l.Tracks), len(l.Turnouts))
		}
	}
}

// TestSameNumbersSameLayout makes layouts twice, and with another seed.
func TestSameNumbersSameLayout(t *testing.T) {
	for _, conductors := range []int{1000, 20_000} {
		first, again, other := generate.Layout(conductors, 7), generate.Layout(conductors, 7), generate.Layout(conductors, 8)
		if !reflect.DeepEqual(first, again) {
			t.Errorf("%d conductors: two layouts of seed 7 differ", conductors)
		}
		if reflect.DeepEqual(first, other) {
			t.Errorf("%d conductors: seeds 7 and 8 give one layout", conductors)
		}
	}
}

// TestVariety looks for everything that a layout of this size is meant to have.
func TestVariety(t *testing.T) {
	l := generate.Layout(10_000, 1)
	has := map[string]bool{
		"several boosters":             len(l.Boosters) > 2,
		"more breakers than boosters":  len(l.Breakers) > len(l.Boosters),
		"reversers":                    len(l.Reversers) > 2,
		"detectors":                    len(l.Detectors) > 10,
		"boosters' commons tied":       len(l.Commons) == 1 && len(l.Commons[0].Joins) == len(l.Boosters),
		"blocks with and without them": false,
	}
	for i := range l.Turnouts {
		has["turnout wired "+l.Turnouts[i].Wiring.Preset.String()] = true
		has["turnout on a track"] = has["turnout on a track"] || l.Turnouts[i].OnTrack >= 0
	}
	kinds := []string{"", "cut", "sliding", "bonded"}
	for i := range l.Gaps {
		has["gap "+kinds[l.Gaps[i].Joint]] = true
	}
	for i := range l.Joints {
		has["joint "+layout.JointKindWords[l.Joints[i].Kind]] = true
	}
	for i := range l.Tracks {
		has["track for "+l.Tracks[i].Use.String()] = true
	}
	var joined [3]int // track ends that meet a start, an end, nothing
	for i := range l.Joins {
		a, b := l.Joins[i].Ends[0], l.Joins[i].Ends[1]
		if l.Pieces[a.Piece].Ends[a.End].Facing == l.Pieces[b.Piece].Ends[b.End].Facing {
			joined[0]++
		} else {
			joined[1]++
		}
		if l.Pieces[b.Piece].Kind == layout.TrackPiece {
			joined[2]++
		}
	}
	has["like ends joined"], has["unlike ends joined"], has["track joined to track"] = joined[0] > 10, joined[1] > 10, joined[2] > 1
	detected := 0
	for i := range l.Blocks {
		if l.Blocks[i].Detector >= 0 {
			detected++
		}
	}
	has["blocks with and without them"] = detected > 10 && detected < len(l.Blocks)-10
	has["both rails carry leg A somewhere"] = false
	for i := range l.Feeders {
		if l.Feeders[i].ARail != l.Feeders[0].ARail {
			has["both rails carry leg A somewhere"] = true
		}
	}
	for _, want := range []string{
		"turnout wired dead-frog", "turnout wired switched-frog", "turnout on a track", "gap ", "gap cut", "gap sliding", "gap bonded",
		"joint soldered", "joint plain", "track for main", "track for siding", "track for yard", "track for industry", "track for staging",
	} {
		has[want] = has[want] || false
	}
	for what, is := range has {
		if !is {
			t.Errorf("no %s", what)
		}
	}
}
