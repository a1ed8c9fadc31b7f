package proof

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
)

// likes are ways to write the same layout down differently. plain gives the old name of a piece.
var likes = []struct {
	name  string
	like  func(l *layout.Layout, track int) bool
	plain func(string) string
}{
	{"walked the other way", Turned, func(s string) string { return s }},
	{"cut in two", Halved, func(s string) string { return strings.TrimSuffix(s, CutSuffix) }},
	{"renamed", func(l *layout.Layout, track int) bool {
		if track == 0 {
			Renamed(l)
		}
		return track == 0
	}, func(s string) string {
		if s == "" {
			return s
		}
		b := []byte(strings.TrimPrefix(s, "z"))
		slices.Reverse(b)
		return string(b)
	}},
}

// TestLikeLayoutsSayTheSame writes every layout down in other ways, track by track, and expects
// the same findings at the same pieces.
func TestLikeLayoutsSayTheSame(t *testing.T) {
	ctx := context.Background()
	for _, like := range likes {
		t.Run(like.name, func(t *testing.T) {
			t.Parallel()
			turned := 0
			for n, file := range layoutFiles(t) {
				if testing.Short() && n%6 != 0 {
					continue
				}
				l, problems, err := reader.ReadFile(ctx, file, rules.ReaderOptions())
				if err != nil {
					t.Fatal(err)
				}
				if len(problems) > 0 || l.IsModule || len(l.Accepts) > 0 || len(l.UncertainOrders) > 0 {
					continue
				}
				text := Flat(l)
				base, err := Read(ctx, text)
				if err != nil {
					t.Fatalf("%s: %v", file, err)
				}
				want := saidAt(t, base, func(s string) string { return s })
				for track := range base.Tracks {
					again, err := Read(ctx, text)
					if err != nil {
						t.Fatal(err)
					}
					if !like.like(again, track) {
						continue
					}
					other := Flat(again)
					read, err := Read(ctx, other)
					if err != nil {
						t.Errorf("%s, %s: %v\n%s", file, base.Tracks[track].Name, err, other)
						continue
					}
					turned++
					if got := saidAt(t, read, like.plain); !slices.Equal(got, want) {
						t.Errorf("%s, %s: found %q, want %q", file, base.Tracks[track].Name, got, want)
					}
				}
			}
			if turned < 150 && !testing.Short() {
				t.Errorf("only %d layouts written in another way", turned)
			}
		})
	}
}

// equals are rules whose place may be a choice among places that serve alike.
var equals = []string{"gap-missing-between-districts", "loop-ungapped", "reversing-section-short"}

// saidAt is what a check says, by rule and piece.
func saidAt(t *testing.T, l *layout.Layout, plain func(string) string) []string {
	t.Helper()
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range r.Findings {
		piece := plain(f.Place.Piece)
		if slices.Contains(equals, f.Rule) {
			piece = "one of several"
		}
		out = append(out, fmt.Sprintf("%s %s %s", f.Severity, f.Rule, piece))
	}
	slices.Sort(out)
	return out
}
