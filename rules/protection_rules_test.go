package rules_test

import (
	"slices"
	"strings"
	"testing"
)

// TestProtectionLeavesOpen changes one word of a layout so that a rule about what trips, or what
// gives, cannot tell, and holds what it then lists as not checked: "" is nothing at all.
func TestProtectionLeavesOpen(t *testing.T) {
	for _, c := range []struct {
		name, file, old, now, open string
	}{
		{"breaker's current unsaid", "breaker-not-before-booster/near-miss-lower-and-faster", "east: {from: main @ 2 ft, trips-at: 3 A, ", "east: {from: main @ 2 ft, ", "whether breaker east acts before booster one trips"},
		{"breaker's time unsaid", "breaker-not-before-booster/near-miss-lower-and-faster", "main @ 2 ft, trips-at: 3 A, trip-time: 10 ms", "main @ 2 ft, trips-at: 3 A", "whether breaker east acts before booster one trips"},
		{"fuse says no current", "breaker-not-before-booster/near-miss-slow-fuse-that-blows-lower", "kind: fuse, leg: A, rating: 2 A, ", "kind: fuse, leg: A, ", "whether fuse old acts before breaker west trips"},
		{"a train's current unsaid", "district-overloaded/near-miss-few-move-at-once", "current: 1.2 A, ", "", "whether what runs at once is too much"},
		{"a breaker says nothing", "district-overloaded/near-miss-few-move-at-once", "west: {from: main @ 1 ft, trips-at: 3 A, trip-time: 10 ms}", "west: {from: main @ 1 ft}", "whether breaker west is overloaded"},
		{"a lamp's current unsaid", "district-overloaded/near-miss-few-move-at-once", "trains:", "loads:\n  - {at: west @ 3 ft, kind: lamp}\ntrains:", "what standing loads take of it"},
		{"a bumper draws nothing", "district-overloaded/near-miss-few-move-at-once", "trains:", "loads:\n  - {at: line @ end, kind: bumper, resistance: 1 MΩ}\ntrains:", ""},
		{"supply's rating unknown", "supply-undersized/near-miss-just-enough", "rating: 5 A, listed", "rating: unknown, listed", "whether supply brick can trip booster one"},
		{"booster's volts unknown", "supply-undersized/near-miss-just-enough", "volts: 15 V", "volts: unknown", "whether supply brick has volts enough for booster one"},
		{"volts of no booster known", "booster-volts-out-of-range/near-miss-at-the-limits", "8.5 .. 22 V", "unknown", "whether booster one keeps within the volts"},
		{"23 V in an unknown scale", "booster-volts-out-of-range/near-miss-scale-not-said", "brick: {", "brick: {tolerance: 1 %, ", "whether booster one may drive 23 V"},
		{"household volts belong to another rule", "booster-volts-out-of-range/raises-too-high", "volts: 24 V", "volts: 120 V", ""},
		{"no inrush at all", "breaker-trips-at-inrush/near-miss-enough-left", ", inrush: 0.5 A", "", "whether a breaker trips again when power returns"},
		{"no inrush and no breakers", "supply-undersized/near-miss-just-enough", "volts: 16 V", "volts: 16 V, tolerance: 1 %", ""},
		{"one train without inrush", "breaker-trips-at-inrush/near-miss-enough-left", "trains:\n", "trains:\n  goods: {length: 3 ft, current: 0.4 A}\n", "whether breaker west trips again when power returns"},
	} {
		t.Run(c.name, func(t *testing.T) {
			id, _, _ := strings.Cut(c.file, "/")
			if c.name == "no inrush and no breakers" {
				id = "breaker-trips-at-inrush"
			}
			findings, open := checkChanged(t, c.file, c.old, c.now, id)
			if len(findings) > 0 {
				t.Errorf("found %q", findings)
			}
			if c.open == "" && len(open) > 0 || c.open != "" && !slices.ContainsFunc(open, func(s string) bool { return strings.HasPrefix(s, c.open) }) {
				t.Errorf("not checked: %q, want %q", open, c.open)
			}
		})
	}
}

// TestProtectionSpeaks changes one value so that what was sound is not, just beyond the limit.
func TestProtectionSpeaks(t *testing.T) {
	for _, c := range []struct{ name, file, old, now, want string }{
		{"a range that ends at the booster's time", "breaker-not-before-booster/near-miss-lower-though-as-long-a-range-ends-below", "5 .. 30 ms", "5 .. 40 ms", "takes 5 .. 40 ms to trip"},
		{"a train more", "district-overloaded/near-miss-few-move-at-once", "at-once: 2,", "at-once: 3,", "up to 3.6 A may be drawn at once behind breaker west"},
		{"a block more", "district-overloaded/near-miss-one-train-in-each-block", "  west: {covers: line @ 0 .. 10 ft}", "  west: {covers: line @ 0 .. 3 ft}\n  mid: {covers: line @ 3 .. 6 ft}\n  rest: {covers: line @ 6 .. 10 ft}", "up to 3.6 A may be drawn at once behind breaker west"},
		{"a tolerance", "supply-undersized/near-miss-just-enough", "volts: 16 V", "volts: 16 V, tolerance: 2 %", "hardly more than"},
		{"a tenth of an ampere less", "supply-undersized/near-miss-just-enough", "rating: 5 A, listed", "rating: 4.9 A, listed", "supply brick gives 4.9 A, and booster one trips at 5 A"},
		{"a booster for programming", "booster-volts-out-of-range/near-miss-other-than-usual", "volts: 12 V", "use: programming, volts: 8 V", "booster one puts 8 V on the rails"},
		{"25 V in a large scale", "booster-volts-out-of-range/raises-large-scale-between-table-and-revisions", "volts: 23 V", "volts: 25 V", "more than the 22 V"},
		{"a train that comes here", "breaker-trips-at-inrush/near-miss-trains-stay-out", ", trains: goods", "", "behind breaker west in the first moments"},
	} {
		t.Run(c.name, func(t *testing.T) {
			id, _, _ := strings.Cut(c.file, "/")
			findings, _ := checkChanged(t, c.file, c.old, c.now, id)
			if !slices.ContainsFunc(findings, func(s string) bool { return strings.Contains(s, c.want) }) {
				t.Errorf("found %q, want %q", findings, c.want)
			}
		})
	}
}
