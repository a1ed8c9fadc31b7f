package reports

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"gapwise/netlist/source"
)

func TestWrap(t *testing.T) {
	for _, tt := range []struct {
		name, text   string
		taken, width int
		want         []string
	}{
		{"fits", "one two", 0, 7, []string{"one two"}},
		{"breaks at a blank", "one two three", 0, 8, []string{"one two", "three"}},
		{"empty", "", 0, 8, []string{""}},
		{"first line is shorter", "one two three", 4, 9, []string{"one", "two three"}},
		{"nothing fits on the first line", "seventeen", 7, 10, []string{"", "seventeen"}},
		{"a number keeps its unit", "it is 4 ft 8 in (1.42 m) long", 0, 14, []string{"it is", "4 ft 8 in", "(1.42 m) long"}},
		{"a fraction too", "at 12 ft 6 1/2 in", 0, 16, []string{"at", "12 ft 6 1/2 in"}},
		{"a place keeps its measure", "see M1 @ 4 ft now", 0, 12, []string{"see", "M1 @ 4 ft", "now"}},
		{"what belongs together breaks when it must", "M1 @ 4 ft 8 in", 0, 10, []string{"M1 @ 4 ft", "8 in"}},
		{"a long word is cut", "abcdefghijkl", 0, 8, []string{"abcdefgh", "ijkl"}},
		{"wide characters", "鉄道模型 鉄道", 0, 9, []string{"鉄道模型", "鉄道"}},
		{"unsafe characters are escaped", "a\x1b[31m\nb", 0, 20, []string{`a\x1b[31m\nb`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := wrap(tt.text, tt.taken, tt.width); !slices.Equal(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// TestWrapLaws: every line fits, nothing but blanks is lost, nothing unsafe remains.
func TestWrapLaws(t *testing.T) {
	word := rapid.OneOf(rapid.SampledFrom([]string{"@", "4", "ft", "8 1/2", "in", "(1.42", "m)", "M1", "鉄道", "e\u0301", "\x1b[2J", "\u202e", strings.Repeat("x", 50)}), rapid.String())
	rapid.Check(t, func(r *rapid.T) {
		text := strings.Join(rapid.SliceOfN(word, 0, 12).Draw(r, "words"), " ")
		width := rapid.IntRange(leastColumn, 60).Draw(r, "width")
		taken := rapid.IntRange(0, width).Draw(r, "taken")
		lines := wrap(text, taken, width)
		for i, line := range lines {
			room := width
			if i == 0 {
				room -= taken
			}
			if cells(line) > room && len([]rune(line)) > 1 {
				r.Fatalf("line %d, %q, takes %d cells of %d", i, line, cells(line), room)
			}
			for _, c := range line {
				if !unicode.IsPrint(c) {
					r.Fatalf("line %d, %q, has %U", i, line, c)
				}
			}
		}
		if got, want := unspaced(strings.Join(lines, "")), unspaced(source.Safe(text)); got != want {
			r.Fatalf("%q became %q", want, got)
		}
	})
}

func unspaced(s string) string { return strings.ReplaceAll(s, " ", "") }
