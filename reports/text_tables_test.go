package reports

import (
	"slices"
	"strings"
	"testing"
)

// TestBlockTells: a gap a little off a block's bound is no missing gap, and a block in several
// stretches shows the longest.
func TestBlockTells(t *testing.T) {
	off := checkedView(t, strings.Replace(twoBlocks, "at: 6 ft,", "at: 6 ft 3 in,", 1))
	if got := blockRow(&off.Blocks[0])[1]; !slices.Contains(got, "with 3 in (76 mm) of B2, up to its gap") || slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "no gap") }) {
		t.Errorf("B1 is told as %q", got)
	}
	for parts, want := range map[int]string{1: "9 ft", 2: "9 ft, the longer of its 2 stretches between gaps", 3: "9 ft, the longest of its 3 stretches between gaps"} {
		if got := strings.Join(blockRow(&Block{Track: "9 ft", Parts: parts})[1], ", "); got != want {
			t.Errorf("%d parts are told as %q, want %q", parts, got, want)
		}
	}
}
