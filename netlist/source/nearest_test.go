package source

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	edlib "github.com/hbollon/go-edlib"
	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	trackKeys := []string{"from", "to", "length", "rail", "use", "straight", "hidden", "lift-out", "cab", "closed"}
	for _, tt := range []struct {
		word  string
		among []string
		want  string
	}{
		// language.md section 10
		{"lenght", trackKeys, "length"},
		{"lefft", []string{"right", "left", "wye", "curved-left", "curved-right"}, "left"},
		{"streight", []string{"points", "straight", "curved"}, "straight"},
		{"T11", []string{"T12", "T2", "T1", "M1"}, "T1"},
		{"insulted", []string{"insulated", "expansion"}, "insulated"},
		{"gap-stagered", []string{"gap-one-rail", "gap-staggered"}, "gap-staggered"},

		{"true", []string{"yes", "no", "unknown"}, ""},
		{"", trackKeys, ""},
		{"x", []string{"a", "b"}, ""},
		{"a", []string{"A", "B"}, "A"},
		{"LENGTH", trackKeys, "length"},
		{"lentgh", trackKeys, "length"},
		{"colour", []string{"color"}, "color"},
		{"from", nil, ""},
		{"from", []string{""}, ""},
		{"T2", []string{"T9", "T7", "T8"}, "T7"},
		{"日本線路", []string{"日本路線", "日本"}, "日本路線"},
	} {
		if got := Nearest(tt.word, tt.among); got != tt.want {
			t.Errorf("Nearest(%q) is %q, want %q", tt.word, got, tt.want)
		}
	}
}

// TestNearestIsNearest compares with looking at every word, in any order.
func TestNearestIsNearest(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abAé-1")), 0, 12, -1)
	rapid.Check(t, func(r *rapid.T) {
		typed := word.Draw(r, "typed")
		among := rapid.SliceOfN(word, 0, 8).Draw(r, "among")
		got := Nearest(typed, among)
		want, least := "", allowedSlips(len([]rune(typed)))
		for _, w := range slices.Sorted(slices.Values(among)) {
			slips := edlib.OSADamerauLevenshteinDistance(strings.ToLower(typed), strings.ToLower(w))
			if w != "" && (slips < least || slips == least && want == "") {
				want, least = w, slips
			}
		}
		if got != want {
			r.Fatalf("Nearest(%q, %q) is %q, want %q", typed, among, got, want)
		}
		slices.Reverse(among)
		if again := Nearest(typed, among); again != got {
			r.Fatalf("turned round it is %q, not %q", again, got)
		}
	})
}

func TestNearestRefusesLongWords(t *testing.T) {
	long := strings.Repeat("x", 10000)
	allocated := testing.AllocsPerRun(10, func() {
		if Nearest(long, []string{long, "x"}) != "" || Nearest("x", []string{long}) != "" {
			t.Error("a long word is near")
		}
	})
	if allocated > 0 {
		t.Errorf("%v allocations for a word that is too long to look at", allocated)
	}
}

// BenchmarkNearest looks for one name among 10,000.
func BenchmarkNearest(b *testing.B) {
	var among []string
	for i := range 10000 {
		among = append(among, fmt.Sprintf("yard-lead-%d", i))
	}
	for _, word := range []string{"yard-laed-5000", "station", "T1"} {
		b.Run(word, func(b *testing.B) {
			for b.Loop() {
				Nearest(word, among)
			}
		})
	}
}
