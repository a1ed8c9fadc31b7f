package districts

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestPlacingAgainstEveryChoice compares the heaviest trains that fit with every choice of how
// many of each kind stand inside and how many at an entrance.
func TestPlacingAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := placing{work: placingWork, room: Room{
			Metres:    float64(rapid.IntRange(0, 12).Draw(t, "metres")),
			Entrances: rapid.IntRange(0, 3).Draw(t, "entrances"),
		}}
		p.room.Longest = min(p.room.Metres, float64(rapid.IntRange(0, 12).Draw(t, "longest")))
		for range rapid.IntRange(0, 3).Draw(t, "kinds") {
			p.kinds = append(p.kinds, kindOfTrain{
				count:  rapid.IntRange(1, 3).Draw(t, "count"),
				amps:   float64(rapid.IntRange(1, 5).Draw(t, "amps")),
				metres: float64(rapid.IntRange(0, 6).Draw(t, "length")),
			})
		}
		slices.SortStableFunc(p.kinds, func(x, y kindOfTrain) int { return int(y.amps - x.amps) })
		all := rapid.IntRange(0, 6).Draw(t, "all")
		got := 0.0
		for i, n := range p.most(all) {
			got += float64(n) * p.kinds[i].amps
		}
		if want := everyChoice(p.room, p.kinds, all, p.room.Entrances, p.room.Metres); got != want {
			t.Errorf("%g A, want %g A", got, want)
		}
	})
}

// everyChoice is the most that any choice takes, -1 for a choice that does not fit.
func everyChoice(r Room, kinds []kindOfTrain, all, entrances int, metres float64) float64 {
	if all < 0 || entrances < 0 || metres < 0 {
		return -1
	}
	if len(kinds) == 0 {
		return 0
	}
	k, best := kinds[0], -1.0
	for inside := range k.count + 1 {
		if inside > 0 && k.metres > r.Longest {
			break
		}
		for over := range k.count + 1 - inside {
			rest := everyChoice(r, kinds[1:], all-inside-over, entrances-over, metres-float64(inside)*k.metres)
			if rest >= 0 {
				best = max(best, rest+float64(inside+over)*k.amps)
			}
		}
	}
	return best
}

// TestPlacingGivesUpSafely: beyond its bound on work no less is counted, but lengths no longer.
func TestPlacingGivesUpSafely(t *testing.T) {
	p := placing{room: Room{Metres: 10, Longest: 10}, kinds: []kindOfTrain{{count: 5, amps: 2, metres: 9}, {count: 5, amps: 1, metres: 9}}}
	if got := p.most(7); !slices.Equal(got, []int{5, 2}) {
		t.Errorf("%v of each kind, want 5 and 2", got)
	}
	p = placing{room: Room{Metres: math.Inf(1), Longest: math.Inf(1)}, work: placingWork, kinds: []kindOfTrain{{count: 5, amps: 2, metres: 9}}}
	if got := p.most(3); !slices.Equal(got, []int{3}) {
		t.Errorf("%v on track without bound, want 3", got)
	}
}
